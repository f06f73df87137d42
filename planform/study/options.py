"""Options side by side: which fields take which values, and the grid of all of them."""

from __future__ import annotations

import difflib
import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel

from planform.design.former import new_path, no_such_field
from planform.design.kinds import KINDS
from planform.design.load import design_from, put
from planform.design.models import Design
from planform.design.naming import path_of, path_text, words_for
from planform.design.notation import NotationError, read
from planform.design.problems import InputError, Problem
from planform.design.reading import Reading
from planform.design.sided import Sided
from planform.design.vary import readings

MOST = 10_000
"""Options beyond which a grid has to be confirmed."""

MOST_EVER = 200_000
"""Options of the largest grid, which are all kept in memory (about 0.3 GB); assumption."""

SHORT = {
    "cant": "winglets.*.cant",
    "length": "winglets.*.length",
    "toe": "winglets.*.toe",
    "sweep": "winglets.*.sweep_le_panel",
}
"""Fields of every winglet by a word of their own."""


@dataclass(frozen=True)
class Variation:
    """One field (or the same field of every winglet) and the texts it takes."""

    path: str
    values: tuple[str, ...]

    @property
    def word(self) -> str:
        """The field's last word, for headings."""
        return self.path.rpartition(".")[2]


NONE = "none"
"""The length of a winglet that is not there: the option is built without it."""


@dataclass(frozen=True)
class Option:
    """One option: its number in the grid (0 is the base) and what it changes.

    told : what it is in words; made from the changes where empty
    repeats : of the base, the changes asked for that leave everything as designed
    """

    number: int
    changes: tuple[tuple[str, str], ...]
    told: str = ""
    repeats: tuple[tuple[str, str], ...] = ()

    @property
    def name(self) -> str:
        """In words."""
        if not self.number:
            return f"as designed ({self.told})" if self.told else "as designed"
        return self.told or ", ".join(
            f"{path.rpartition('.')[2]} {value}" for path, value in self.changes
        )


def variation(path: str, text: str) -> Variation:
    """A variation from an option's text: values between commas."""
    values = tuple(part.strip() for part in text.split(",") if part.strip())
    if not values:
        problem = Problem(path, repr(text), "allowed: values between commas, as '0 deg, 15 deg'")
        raise InputError("options", [problem])
    return Variation(SHORT.get(path, path), values)


def count_options(variations: Sequence[Variation]) -> int:
    """How many options a grid has, the base included."""
    return 1 + math.prod(len(v.values) for v in variations)


def grid(
    design: Design, variations: Sequence[Variation], *, confirmed: bool = False
) -> tuple[Option, ...]:
    """The base and every combination, in order; each field is checked to exist.

    Without anything to vary it is the base alone. An option is one row: a value that is there
    twice counts once, and a combination that leaves everything as designed is the base.

    Raises InputError for a field that is not there, a value that is not read, or more than
    `MOST` options that nobody confirmed.
    """
    if not variations:
        return (Option(0, ()),)
    count = count_options(variations)
    if count > MOST_EVER:
        allowed = f"allowed: at most {MOST_EVER:,}; fewer values, or one field at a time"
        raise InputError("options", [Problem("", f"{count:,} options", allowed)])
    if count > MOST and not confirmed:
        problem = Problem("", f"{count:,} options", f"more than {MOST:,} need --yes; is it meant?")
        raise InputError("options", [problem])
    problems: list[Problem] = []
    axes = [_axis(design, one, problems) for one in variations]
    if problems:
        raise InputError("options", list(dict.fromkeys(problems)))
    base, out = Option(0, ()), list[Option]()
    seen: set[tuple[tuple[str, str], ...]] = set()
    for combination in itertools.product(*axes):
        told = _kept([(v.change, v.words, v.as_designed) for v in combination])
        changes = tuple(change for change, _, _ in told)
        if changes in seen:
            continue
        seen.add(changes)
        words = ", ".join(name for _, name, _ in told)
        if all(same for _, _, same in told):
            base = Option(0, (), words, changes)
        else:
            out.append(Option(len(out) + 1, changes, words))
    return (base, *out)


@dataclass(frozen=True)
class _Value:
    """A value of a field: the change, in words, and whether it leaves everything as designed."""

    change: tuple[str, str]
    words: str
    as_designed: bool


def _axis(design: Design, one: Variation, problems: list[Problem]) -> list[_Value]:
    """The values of a variation, each once; what cannot be is added to the problems."""
    base = _essence(design)
    found: dict[Any, _Value] = {}
    for value in one.values:
        try:
            changed = changed_design(design, ((one.path, value),))
        except InputError as error:
            problems += [p for p in error.problems if _speaks_of(p, one.path)] or list(
                error.problems
            )
            continue
        essence = _essence(changed)
        words = _words(changed, one, value)
        found.setdefault(essence, _Value((one.path, value), words, essence == base))
    return list(found.values())


def _words(changed: Design, one: Variation, value: str) -> str:
    """What a value is called: the field in a builder's words, and the value."""
    gone = _gone(one.path, value)
    if gone is not None:
        return "no winglets" if gone == "*" else f"no {gone}"
    if one.path == "span" or ".*." in one.path:
        return f"{one.word.replace('_', ' ')} {value}"
    return f"{words_for(changed, path_of(one.path))} {value}"


def _gone(path: str, value: str) -> str | None:
    """The winglet that a change takes away, '*' for every one; None where it takes none."""
    head, _, tail = path.partition(".")
    name, _, field = tail.rpartition(".")
    if head == "winglets" and field == "length" and value.lower() == NONE:
        return name if name == "*" else str(path_of(path)[1])
    return None


Told = tuple[tuple[str, str], str, bool]


def _kept(told: Sequence[Told]) -> list[Told]:
    """The changes without those of winglets that another of them takes away."""
    gone = {g for change, _, _ in told if (g := _gone(*change)) is not None}

    def moot(path: str, value: str) -> bool:
        if not gone or not path.startswith("winglets.") or _gone(path, value) is not None:
            return False
        return "*" in gone or (".*." not in path and path_of(path)[1] in gone)

    return [one for one in told if not moot(*one[0])]


def _essence(item: Any) -> Any:
    """What of a design makes the aircraft: readings by their values, to 9 decimals in SI."""
    if isinstance(item, Reading):
        return round(float(item), 9)
    if isinstance(item, Sided):
        return _essence((item.left, item.right))
    if isinstance(item, BaseModel):
        return tuple(_essence(getattr(item, name)) for name in type(item).model_fields)
    if isinstance(item, dict):
        return tuple((key, _essence(value)) for key, value in item.items())
    if isinstance(item, tuple | list):
        return tuple(_essence(one) for one in item)
    return item


def _speaks_of(problem: Problem, path: str) -> bool:
    return problem.path.rpartition(".")[2] == path.rpartition(".")[2]


def changed_design(design: Design, changes: Sequence[tuple[str, str]]) -> Design:
    """A new design with the fields changed, all at once, checked again as a whole."""
    table = design.model_dump(mode="json", exclude_unset=True)
    gone = [g for change in changes if (g := _gone(*change)) is not None]
    for path, value in changes:
        if _gone(path, value) is None:
            _set(design, table, path, value)
    for name in gone:
        _take_off(design, table, name)
    return design_from(table, "options")


def _take_off(design: Design, table: dict[str, Any], winglet: str) -> None:
    """Take a winglet ('*': every one) out of the tables of a design, and what is said of it.

    What stands on it, such as a rudder or a spar, goes along.
    """
    winglets = table.get("winglets", {})
    names = list(winglets) if winglet == "*" else [winglet]
    if not names or any(name not in winglets for name in names):
        words = "no such winglet" if names else "this design has no winglets"
        raise InputError("options", [Problem("length", NONE, words)])
    parts = {side + name for name in names for side in ("", "left ", "right ")}
    for name in names:
        del winglets[name]
    for kind in KINDS:
        for name, item in kind.of(design).items():
            if parts & set(kind.hosts(design, item)) and name in table.get(kind.field, {}):
                del table[kind.field][name]
                parts |= {side + name for side in ("", "left ", "right ")}
    for one in (*table.get("stages", []), *table.get("stances", {}).values()):
        one |= {key: _without(one[key], parts) for key in SPEAKS if one.get(key) is not None}
    if "masses" in table:
        table["masses"] = [m for m in table["masses"] if m.get("part") not in parts]


def _without(named: dict[str, Any] | list[str], parts: set[str]) -> object:
    """A list or table of parts by name, without some of them."""
    if isinstance(named, dict):
        return {part: one for part, one in named.items() if part not in parts}
    return [part for part in named if part not in parts]


SPEAKS = ("parts", "without", "open", "bare", "turned", "deflected", "folded")
"""Fields of stages and stances that name parts."""


def _set(design: Design, table: dict[str, Any], path: str, value: str) -> None:
    if path == "span":
        _set_span(design, table, value)
        return
    head, star, tail = path.partition(".*.")
    if star:
        if not table.get(head):
            known = head in type(design).model_fields
            words = f"this design has no {head}" if known else no_such_field(path)
            raise InputError("options", [Problem(path, "", words)])
        for name in table[head]:
            _set(design, table, f"{head}.{path_text((name,))}.{tail}", value)
        return
    try:
        put(table, path, value)
    except LookupError:
        raise InputError("options", [Problem(path, "", _not_there(design, path))]) from None


def _not_there(design: Design, path: str) -> str:
    """What is said of a field that is not there: its new name, or the one that is nearest."""
    if new_path(path):
        return no_such_field(path)
    names = [path_text(p) for p, _ in readings(design)]
    near = difflib.get_close_matches(path, names, n=1, cutoff=0.4)
    return f"{no_such_field(path)}; did you mean {near[0]!r}?" if near else no_such_field(path)


def _set_span(design: Design, table: dict[str, Any], value: str) -> None:
    """Put the wing's tip at half a span."""
    try:
        span = read(value, "length")
    except NotationError as error:
        raise InputError("options", [Problem("span", error.given, error.allowed)]) from None
    wings = [name for name, s in design.lifting.items() if s.role == "wing"]
    if not wings or design.lifting[wings[0]].cuts[-1].bl is None:
        allowed = "the wing's tip has no bl to change; vary its own field"
        raise InputError("options", [Problem("span", repr(value), allowed)])
    table["lifting"][wings[0]]["cuts"][-1]["bl"] = f"{float(span) / 2.0!r} m"
