"""Field types of the files: text with a unit on paper, a float in SI inside."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, GetJsonSchemaHandler, StringConstraints
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from planform.design.notation import NotationError, read
from planform.design.reading import Reading

EXAMPLES = {
    "length": ["11'-4 1/2\"", "136.5 in", "1250 mm ± 3 mm (measured)"],
    "angle": ["2.5 deg", "2° 30'"],
    "mass": ["1854 lb", "396 kg"],
}


def _a(kind: str) -> str:
    return f"{'an' if kind[0] in 'aeiou' else 'a'} {kind}"


class Kind:
    """Marks a field as a quantity of one kind, with an optional bound on its value."""

    def __init__(self, kind: str, above: float | None = None, least: float | None = None) -> None:
        self.kind = kind
        self.above = above
        self.least = least

    def _read(self, value: Any) -> Reading:
        if isinstance(value, Reading):
            reading = value
        else:
            try:
                reading = read(value, self.kind)
            except NotationError as error:
                detail = {"given": error.given, "allowed": error.allowed}
                raise PydanticCustomError("notation", "{allowed}", detail) from None
        allowed = None
        if self.above is not None and not reading > self.above:
            allowed = f"allowed: {_a(self.kind)} above zero"
        elif self.least is not None and reading < self.least:
            allowed = f"allowed: {_a(self.kind)} of zero or more"
        if allowed:
            raise PydanticCustomError(
                "bound", "{allowed}", {"given": repr(reading.text), "allowed": allowed}
            )
        return reading

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(
            self._read,
            serialization=core_schema.plain_serializer_function_ser_schema(
                lambda reading: reading.text
            ),
        )

    def __get_pydantic_json_schema__(
        self, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        bound = ", above zero" if self.above is not None else ""
        return {
            "type": "string",
            "description": f"{self.kind} as text with its unit{bound}",
            "examples": EXAMPLES[self.kind],
        }


Length = Annotated[Reading, Kind("length")]
PositiveLength = Annotated[Reading, Kind("length", above=0.0)]
LengthOrZero = Annotated[Reading, Kind("length", least=0.0)]
Angle = Annotated[Reading, Kind("angle")]
PositiveMass = Annotated[Reading, Kind("mass", above=0.0)]
Name = Annotated[str, StringConstraints(min_length=1, max_length=60, strip_whitespace=True)]
UnitSystem = Literal["ft-in", "in", "mm", "m"]
Side = Literal["both", "right", "left", "centre"]


class Model(BaseModel):
    """A frozen piece of a file; unknown keys are mistakes."""

    model_config = ConfigDict(
        frozen=True, extra="forbid", arbitrary_types_allowed=True, defer_build=True
    )


class Point(Model):
    """A point in aircraft axes."""

    fs: Length
    bl: Length
    wl: Length
