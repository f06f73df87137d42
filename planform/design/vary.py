"""Small changes of one reading of a design or place, for what tolerances do to results."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, TypeVar

from pydantic import BaseModel

from planform.design.naming import Path
from planform.design.reading import Reading
from planform.design.sided import SIDES, Sided

M = TypeVar("M", bound=BaseModel)


def toleranced(model: BaseModel) -> tuple[tuple[Path, Reading], ...]:
    """Every reading of the model that carries a tolerance, with its path."""
    return tuple((path, r) for path, r in readings(model) if r.tolerance > 0.0)


WEIGHTS = ("masses", "balance")
"""Fields of a design that change no shape and no stance."""


def toleranced_shape(design: BaseModel) -> tuple[tuple[Path, Reading], ...]:
    """Those of the design's toleranced readings that change how it is built or stands."""
    return tuple((path, r) for path, r in toleranced(design) if path[0] not in WEIGHTS)


def readings(item: object, path: Path = ()) -> list[tuple[Path, Reading]]:
    """Every reading of the model, with its path."""
    if isinstance(item, Reading):
        return [(path, item)]
    children: list[tuple[str | int, Any]] = []
    if isinstance(item, BaseModel):
        children = [(name, getattr(item, name)) for name in type(item).model_fields]
    elif isinstance(item, dict):
        children = list(item.items())
    elif isinstance(item, tuple):
        children = list(enumerate(item))
    elif isinstance(item, Sided):
        children = [(side, getattr(item, side)) for side in SIDES]
    return [found for key, child in children for found in readings(child, (*path, key))]


def shifted(model: M, path: Path, delta: float) -> M:
    """The model with one reading moved by `delta` (SI); not checked again."""
    return _moved(model, path, delta)  # type: ignore[no-any-return]


def _moved(item: Any, path: Path, delta: float) -> Any:
    if not path:
        return item.with_value(float(item) + delta)
    key, rest = path[0], path[1:]
    if isinstance(item, BaseModel):
        name = str(key)
        return item.model_copy(update={name: _moved(getattr(item, name), rest, delta)})
    if isinstance(item, dict):
        return {**item, key: _moved(item[key], rest, delta)}
    if isinstance(item, Sided):
        side = str(key)
        return replace(item, **{side: _moved(getattr(item, side), rest, delta)})
    index = int(key)
    return (*item[:index], _moved(item[index], rest, delta), *item[index + 1 :])
