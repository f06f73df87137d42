"""Every field of a file that holds a number, with what it may be."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import get_args

from pydantic import BaseModel

from planform.design.bounds import LEAST_LENGTH, MOST, SIZES
from planform.design.changing import Source, written_at
from planform.design.fields import Kind
from planform.design.naming import Path
from planform.design.reading import Reading
from planform.design.sided import SIDES, Sided
from planform.design.vary import VALUES


@dataclass(frozen=True)
class NumberField:
    """A number that is written in a file.

    number : a reading, or a plain number
    least, most : what is allowed [SI]; None where nothing says so
    says : what the thing that it belongs to is, in one sentence
    """

    path: Path
    number: float
    least: float | None
    most: float | None
    says: str


@dataclass(frozen=True)
class _Allowed:
    """What a field may be: its bounds, and what it belongs to."""

    least: float | None = None
    most: float | None = None
    says: str = ""


def number_fields(source: Source) -> tuple[NumberField, ...]:
    """The numbers of a file and of what it includes, in the order of its models.

    What is not written there, but taken, is none of them.
    """
    return tuple(_in(source.model, (), source.whole.table, _Allowed()))


def _in(item: object, path: Path, table: object, allowed: _Allowed) -> Iterator[NumberField]:
    if isinstance(item, int | float):
        if not isinstance(item, bool) and math.isfinite(item) and _written(table, path):
            yield _field(path, item, allowed)
        return
    for step, one in _inner(item):
        below = _allowed(type(item), str(step)) if isinstance(item, BaseModel) else allowed
        yield from _in(one, (*path, step), table, below)


def _inner(item: object) -> Iterable[tuple[str | int, object]]:
    """What stands in a model, table or list; of a model what is written."""
    if isinstance(item, BaseModel):
        fields = type(item).model_fields
        return [(name, getattr(item, name)) for name in fields if name in item.model_fields_set]
    if isinstance(item, dict):
        return item.items()
    if isinstance(item, tuple):
        return enumerate(item)
    return [(side, getattr(item, side)) for side in SIDES] if isinstance(item, Sided) else ()


def _field(path: Path, number: float, allowed: _Allowed) -> NumberField:
    least, most = allowed.least, allowed.most
    if isinstance(number, Reading) and number.kind in MOST:
        widest = MOST[number.kind]
        least = -widest if least is None else least
        most = widest if most is None else most
    return NumberField(path, number, least, most, allowed.says)


def _written(table: object, path: Path) -> bool:
    try:
        found = written_at(table, path)
    except LookupError:
        return False
    return isinstance(found, str | int | float)


def _allowed(model: type[BaseModel], name: str) -> _Allowed:
    """What a field of a model may be, as its annotation and the bounds of sizes say."""
    field = model.model_fields[name]
    least: float | None = None
    most: float | None = None
    for mark in (*field.metadata, *_marks(field.annotation)):
        if isinstance(mark, Kind) and name != VALUES:
            if mark.above is not None:
                least = LEAST_LENGTH if mark.kind == "length" else mark.above
            elif mark.least is not None:
                least = mark.least
        for key in ("ge", "gt"):
            least = getattr(mark, key, least)
        for key in ("le", "lt"):
            most = getattr(mark, key, most)
    if (model.__name__, name) in SIZES:
        least, most = SIZES[model.__name__, name]
    says = (model.__doc__ or "").strip().split("\n")[0]
    return _Allowed(least, most, says)


def _marks(annotation: object) -> Iterator[object]:
    """Everything that an annotation is marked with, however deep."""
    for part in get_args(annotation):
        yield part
        yield from _marks(part)
