"""Results as JSON: one walk over result dataclasses; the units stand in their annotations."""

from __future__ import annotations

import json
import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import is_dataclass
from functools import cached_property
from operator import attrgetter
from typing import TypeAlias, get_args, get_type_hints

import numpy as np

from planform.core.quantity import OuterUnit, Unit, UnitOf
from planform.core.spread import Spread
from planform.design.texts import shown
from planform.design.told import plain_kind
from planform.design.units import SI_UNIT

Json: TypeAlias = "str | float | Sequence[Json] | Mapping[str, Json] | None"
Record: TypeAlias = dict[str, Json]

SCHEMA = "planform answer 1"

Told = str | Callable[..., Record]
"""What is told of a class of results: a function of the result and the recorder, or words, each a
key and where it is from: `name`, `key=name`, `key=name.name`. `name?` is null where it is empty;
`name!` a bare number, whose unit stands beside it; `name{field` is a mapping of several things by
that field of theirs; `*name` has no key of its own, and what is told of it stands beside the rest.
"""

AnyUnit = Unit | UnitOf | OuterUnit | None

BARE = Unit("")
"""Of a number whose unit stands beside it."""


def document(kind: str, content: Mapping[str, Json]) -> str:
    """A whole JSON answer; refuses anything that is not a finite number.

    What cannot be seen stands as its escape, so that the text may go to a terminal too.
    """
    from planform import __version__

    head = {"schema": SCHEMA, "answer": kind, "tool_version": __version__}
    text = json.dumps({**head, **content}, indent=2, allow_nan=False, ensure_ascii=False)
    return shown(text)


def number(value: float, kind: str) -> Record:
    """One value with its SI unit by its kind of quantity."""
    return {"value": float(value), "unit": SI_UNIT[plain_kind(kind)]}


def known(value: float | None, kind: str) -> Record | None:
    """The same; None where there is no value, or none that ends."""
    return None if value is None or not math.isfinite(value) else number(value, kind)


def tolerance(spread: Spread, kind: str = "length") -> Record:
    """What the inputs' tolerances do, and which input does it."""
    return {
        "worst_case": spread.worst,
        "within_99": spread.within_99,
        "root_sum_square": spread.rss,
        "unit": SI_UNIT[plain_kind(kind)],
        "by_input": {name: change for name, change in spread.by_input},
    }


class Recorder:
    """Walks results by what is told of each of their classes.

    shapes : by class, what is told of it; a table for each capability
    """

    def __init__(self, shapes: Mapping[type, Told]) -> None:
        self.shapes = shapes
        self._units: dict[tuple[type, str], AnyUnit] = {}

    def of(self, result: object, unit: AnyUnit = None) -> Record:
        """What is told of a result. Raises TypeError for a class that no table has.

        unit : of its numbers that are in the unit of whoever holds it
        """
        told = self.shapes.get(type(result))
        if told is None:
            raise TypeError(f"nothing says what is told of a {type(result).__name__}")
        return self.told(result, told, unit) if isinstance(told, str) else told(result, self)

    def told(self, result: object, words: str, unit: AnyUnit = None) -> Record:
        """What these words say of a result; see `Told`."""
        out: Record = {}
        for word in words.split():
            key, _, name = word.rpartition("=")
            path, _, by = name.strip("*?!").partition("{")
            value = self._at(result, path, by, BARE if name.endswith("!") else unit)
            if not word.startswith("*"):
                out[key or path] = value or None if name.endswith("?") else value
            elif isinstance(value, Mapping):
                out |= value
        return out

    def all(self, results: Sequence[object]) -> list[Json]:
        """What is told of each of several results."""
        return [self.of(one) for one in results]

    def _at(self, result: object, path: str, by: str, outer: AnyUnit) -> Json:
        *way, name = path.split(".")
        for step in way:
            result = getattr(result, step)
            if result is None:
                return None
        key = type(result), name
        if key not in self._units:
            self._units[key] = unit_of(*key)
        own = self._units[key]
        found = getattr(result, name)
        if by:
            found = {getattr(one, by): one for one in found}
        held = isinstance(own, OuterUnit) or outer is BARE
        return self._value(found, outer if held else own, result)

    def _value(self, value: object, unit: AnyUnit, beside: object) -> Json:
        if value is None or isinstance(value, str | bool):
            return value
        if isinstance(value, int) and unit is None:
            return value
        if isinstance(value, int | float | np.floating):
            return _number(float(value), unit, beside)
        if is_dataclass(value):
            return self.of(value, unit)
        if isinstance(value, Mapping):
            return {str(k): self._value(v, unit, beside) for k, v in value.items()}
        if isinstance(value, np.ndarray | tuple | list):
            if isinstance(unit, Unit) and unit.axes:
                return {"value": [float(v) for v in value], "unit": unit.name, "axes": unit.axes}
            return [self._value(one, unit, beside) for one in value]
        raise TypeError(f"a {type(value).__name__} cannot be told as JSON")


def _number(value: float, unit: AnyUnit, beside: object) -> Json:
    if isinstance(unit, UnitOf):
        return number(value, attrgetter(unit.field)(beside))
    if unit is BARE:
        return value
    if not isinstance(unit, Unit):
        raise TypeError(f"a number of {type(beside).__name__} has no unit in its annotation")
    return {"value": value, "unit": unit.name}


def unit_of(owner: type, name: str) -> AnyUnit:
    """The unit in the annotation of a field or property; None where it has none."""
    member = getattr(owner, name, None)
    if isinstance(member, property):
        hint = get_type_hints(member.fget, include_extras=True).get("return")
    elif isinstance(member, cached_property):
        hint = get_type_hints(member.func, include_extras=True).get("return")
    else:
        hint = get_type_hints(owner, include_extras=True).get(name)
    return next(_units_in(hint), None)


def _units_in(hint: object) -> Iterator[AnyUnit]:
    for one in getattr(hint, "__metadata__", ()):
        if isinstance(one, Unit | UnitOf | OuterUnit):
            yield one
    for inner in get_args(hint):
        yield from _units_in(inner)
