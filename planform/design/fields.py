"""Field types of the files: text with a unit on paper, a float in SI inside."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import (
    AfterValidator,
    BaseModel,
    ConfigDict,
    Field,
    GetJsonSchemaHandler,
    StringConstraints,
)
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from planform.design.bounds import LEAST_LENGTH, SLIP, said, too_large
from planform.design.notation import NotationError, read
from planform.design.reading import Reading, Shared
from planform.design.sided import SIDES, Sided
from planform.design.texts import hidden, named, shown
from planform.design.values import ANY_KIND, KINDS, NAME, NAMED, Sum, ValueProblem, of_any_kind

EXAMPLES = {
    "length": ["11'-4 1/2\"", "136.5 in", "1250 mm ± 3 mm (measured)"],
    "angle": ["2.5 deg", "2° 30'"],
    "mass": ["1854 lb", "396 kg ± 0.5 kg (measured)"],
    "volume": ["60 gal (US)", "20 L"],
    "density": ["6 lb/gal (US)", "0.72 kg/L"],
    "moment": ["12391 lb in", "142.8 kg m"],
    "percent": ["18.5 %", "-40 % MAC"],
    "force": ["80 lbf", "350 N"],
    "mass or volume": ["170 lb", "20 gal (US)"],
}


def shortened(given: object) -> str:
    """What was given, as far as a sentence holds it."""
    text = repr(given)
    return text if len(text) <= 60 else f"{text[:57]}..."


def refuse(given: str, allowed: str) -> PydanticCustomError:
    """The error of fields that do not go together: what was given, what is allowed."""
    return PydanticCustomError("cross", "{allowed}", {"given": given, "allowed": allowed})


def _a(kind: str) -> str:
    return f"{'an' if kind[0] in 'aeiou' else 'a'} {kind}"


NO_SIDES = (
    'allowed: one value here; a left and a right one go with a number of a part with side = "both"'
)
BOTH_SIDES = 'allowed: one value, or both sides: { left = "26 in", right = "25 7/8 in" }'


def _as_text(given: object) -> object:
    """What a file has for a reading, or for one of each side."""
    if isinstance(given, Sided):
        if _of_sided_values(given):
            return _as_text(given.left)
        return {side: _as_text(getattr(given, side)) for side in SIDES}
    return given.text if isinstance(given, Reading) else given


def _of_sided_values(given: Sided) -> bool:
    """Whether it is one sum in the file, which differs because its values do."""
    left, right = given.left, given.right
    return (
        isinstance(left, Shared)
        and isinstance(right, Shared)
        and left.text == right.text
        and any(share.path[-1] in SIDES for share in left.shares)
    )


class Kind:
    """Marks a field as a quantity of one kind, with an optional bound on its value.

    leans : an angle that is outboard positive, which may be written inboard or outboard
    """

    def __init__(
        self,
        kind: str,
        above: float | None = None,
        least: float | None = None,
        hint: str = "",
        *,
        leans: bool = False,
    ) -> None:
        self.kind = kind
        self.above = above
        self.least = least
        self.hint = hint
        self.leans = leans

    def _parsed(self, value: object) -> Reading:
        return read(value, self.kind, leans=self.leans)

    @property
    def kinds(self) -> tuple[str, ...]:
        """The kinds that a value of it may be of."""
        return (self.kind,)

    def _given(self, value: object) -> Reading:
        """What is written, as a quantity or as a sum with shared values in it."""
        try:
            return value.reading(self.kinds) if isinstance(value, Sum) else self._parsed(value)
        except NotationError as error:
            detail = {"given": error.given, "allowed": error.allowed}
            raise PydanticCustomError("notation", "{allowed}", detail) from None
        except ValueProblem as error:
            told = {"given": repr(str(value)), "allowed": error.allowed, "rests": error.rests}
            raise PydanticCustomError("cross", "{allowed}", told) from None

    def _read(self, value: object) -> Reading:
        if isinstance(value, dict) and set(value) & set(SIDES):
            both = set(value) == set(SIDES)
            shared = both and all(isinstance(one, Sum) for one in value.values())
            given = repr(str(value["left"])) if shared else shortened(value)
            raise refuse(given, NO_SIDES if both else BOTH_SIDES)
        reading = value if isinstance(value, Reading) else self._given(value)
        allowed = too_large(reading)
        if self.above is not None and self.kind == "length" and 0.0 < reading < LEAST_LENGTH:
            allowed = f"allowed: at least {said(LEAST_LENGTH)}; {SLIP}"
        if self.above is not None and not reading > self.above:
            allowed = f"allowed: {_a(self.kind)} above zero{self.hint}"
        elif self.least is not None and reading < self.least:
            allowed = f"allowed: {_a(self.kind)} of zero or more{self.hint}"
        elif self.above is not None and not reading - reading.whole_tolerance > self.above:
            allowed = f"allowed: a tolerance of less than the {self.kind} itself; measure it"
        if allowed:
            raise PydanticCustomError(
                "bound", "{allowed}", {"given": repr(reading.text), "allowed": allowed}
            )
        return reading

    def __get_pydantic_core_schema__(self, source: object, handler: object) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(
            self._read,
            serialization=core_schema.plain_serializer_function_ser_schema(_as_text),
        )

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        bound = ", above zero" if self.above is not None else ""
        bound += "; outboard positive, or with inboard or outboard" if self.leans else ""
        bare = {} if self.above is not None else {"minimum": 0, "maximum": 0}
        return {
            "type": ["string", "number"] if bare else "string",
            "description": f"{self.kind} as text with its unit{bound}",
            "examples": EXAMPLES[self.kind],
            **bare,
        }


class Amount(Kind):
    """Marks a field that takes a mass or a volume; the reading tells which it was."""

    def __init__(self) -> None:
        super().__init__("mass or volume", least=0.0)

    @property
    def kinds(self) -> tuple[str, ...]:
        """A mass or a volume."""
        return ("mass", "volume")

    def _parsed(self, value: object) -> Reading:
        try:
            return read(value, "mass")
        except NotationError as as_mass:
            try:
                return read(value, "volume")
            except NotationError as as_volume:
                told = as_volume if as_volume.allowed.startswith("which ") else as_mass
                allowed = told.allowed.replace(
                    "such as 1854 lb or 396 kg", "or a volume (gal (US), qt (US), L)"
                )
                raise NotationError(told.given, allowed) from None


class AnyKind(Kind):
    """Marks a shared value: a quantity of any kind, or one for each side."""

    def __init__(self) -> None:
        super().__init__("length")

    @property
    def kinds(self) -> tuple[str, ...]:
        """All kinds; the unit tells which."""
        return KINDS

    def _parsed(self, value: object) -> Reading:
        found = of_any_kind(value)
        if found is None:
            raise NotationError(shortened(value), ANY_KIND)
        return found

    def _of_sides(self, value: object) -> Reading | Sided:
        if not isinstance(value, dict):
            return self._read(value)
        if set(value) != set(SIDES):
            raise refuse(shortened(value), BOTH_SIDES)
        left, right = (self._read(value[side]) for side in SIDES)
        if left.kind != right.kind:
            raise refuse(shortened(value), "allowed: a left and a right one of the same kind")
        return Sided(left, right)

    def __get_pydantic_core_schema__(self, source: object, handler: object) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(
            self._of_sides,
            serialization=core_schema.plain_serializer_function_ser_schema(_as_text),
        )

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return {
            "type": ["string", "object"],
            "description": "a quantity as text with its unit, or one for left and one for right",
            "examples": EXAMPLES["length"],
        }


NOT_LESS = "; what comes off is listed under off or deduct, with its mass as it is"

Length = Annotated[Reading, Kind("length")]
PositiveLength = Annotated[Reading, Kind("length", above=0.0)]
LengthOrZero = Annotated[Reading, Kind("length", least=0.0)]
Angle = Annotated[Reading, Kind("angle")]
Cant = Annotated[Reading, Kind("angle", leans=True)]
PositiveMass = Annotated[Reading, Kind("mass", above=0.0, hint=NOT_LESS)]
MassOrZero = Annotated[Reading, Kind("mass", least=0.0)]
PositiveVolume = Annotated[Reading, Kind("volume", above=0.0, hint=NOT_LESS)]
PositiveDensity = Annotated[Reading, Kind("density", above=0.0)]
PositiveForce = Annotated[Reading, Kind("force", above=0.0)]
Moment = Annotated[Reading, Kind("moment")]
SharedValue = Annotated[Reading, AnyKind()]
Percent = Annotated[Reading, Kind("percent")]
MassOrVolume = Annotated[Reading, Amount()]


def _seen(text: str) -> str:
    """The text itself; refused where a character of it cannot be seen."""
    return _without_hidden(text, lines=False)


def seen_lines(text: str) -> str:
    """The text itself, which may run over several lines."""
    return _without_hidden(text, lines=True)


def _without_hidden(text: str, *, lines: bool) -> str:
    mark = hidden(text, lines=lines)
    if mark is not None:
        allowed = (
            f"it holds {named(mark)}, which cannot be seen; allowed: letters, digits, signs and "
            "spaces" + (", line ends" if lines else ", on one line")
        )
        raise refuse(repr(shown(text[:60])), allowed)
    return text


def _trimmed(text: str) -> str:
    if text != text.strip():
        raise refuse(repr(text), f"allowed: no spaces at its ends; write {text.strip()!r}")
    return text


Name = Annotated[
    str,
    StringConstraints(min_length=1, max_length=60),
    AfterValidator(_seen),
    AfterValidator(_trimmed),
]


def _named_plainly(text: str) -> str:
    if not NAME.fullmatch(text):
        raise refuse(repr(shown(text[:60])), NAMED)
    return text


ValueName = Annotated[str, StringConstraints(max_length=40), AfterValidator(_named_plainly)]
Text = Annotated[str, StringConstraints(max_length=200), AfterValidator(_seen)]
Prose = Annotated[str, StringConstraints(max_length=4000), AfterValidator(seen_lines)]


def _read_already(names: tuple[str, ...]) -> tuple[str, ...]:
    if names:
        raise refuse(repr(list(names)), "allowed: in a file, with which its files are read")
    return names


Included = Annotated[
    tuple[Annotated[str, Field(description="a .toml file in this folder or below it")], ...],
    AfterValidator(_read_already),
]
UnitSystem = Literal["ft-in", "in", "mm", "m"]
Side = Literal["both", "right", "left", "centre"]


class Model(BaseModel):
    """A frozen piece of a file; unknown keys are mistakes."""

    model_config = ConfigDict(
        frozen=True, extra="forbid", arbitrary_types_allowed=True, defer_build=True
    )

    def model_dump(self, **how: Any) -> dict[str, Any]:
        """As pydantic has it; a plain number may be one of each side (`Sided`)."""
        return super().model_dump(**({"warnings": False} | how))

    def model_dump_json(self, **how: Any) -> str:
        """As pydantic has it; a plain number may be one of each side (`Sided`)."""
        return super().model_dump_json(**({"warnings": False} | how))


class Point(Model):
    """A point in aircraft axes."""

    fs: Length
    bl: Length
    wl: Length


ZERO_LENGTH = "0 in"


ZERO_ANGLE = "0 deg"
