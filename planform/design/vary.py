"""Small changes of one reading of a design or place, for what tolerances do to results."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, TypeVar, cast

from pydantic import BaseModel

from planform.design.naming import Path
from planform.design.reading import Reading, Shared
from planform.design.sided import SIDES, Sided

M = TypeVar("M", bound=BaseModel)


def toleranced(model: BaseModel) -> tuple[tuple[Path, Reading], ...]:
    """Every reading of the model that carries a tolerance, with its path."""
    return tuple((path, r) for path, r in readings(model) if r.tolerance > 0.0)


WEIGHTS = ("masses", "balance")
"""Fields of a design that change no shape, and no stance where nothing gives under a load."""


def weights_apart(design: BaseModel) -> tuple[str, ...]:
    """The fields of a design that change neither how it is built nor how it stands."""
    wheels = getattr(design, "wheels", {})
    return () if any(wheel.gives for wheel in wheels.values()) else WEIGHTS


def toleranced_shape(design: BaseModel) -> tuple[tuple[Path, Reading], ...]:
    """Those of the design's toleranced readings that change how it is built or stands."""
    apart = weights_apart(design)
    return tuple((path, r) for path, r in toleranced(design) if path[0] not in apart)


DRAWINGS = "drawings"
"""The field of a design that says what its drawings show; nothing in it changes the aircraft."""

VALUES = "values"
"""The field of a file that holds its shared values."""


def own_readings(model: BaseModel) -> list[tuple[Path, Reading]]:
    """The readings without those that are but sums of shared values."""
    return [
        (path, r) for path, r in readings(model) if not isinstance(r, Shared) or r.tolerance > 0.0
    ]


def unused_values(model: BaseModel) -> tuple[str, ...]:
    """The names of shared values that no field stands on."""
    found = readings(model)
    used = {
        share.path[1]
        for path, r in found
        if path[0] != VALUES and isinstance(r, Shared)
        for share in r.shares
    }
    names = dict.fromkeys(str(path[1]) for path, _ in found if path[0] == VALUES)
    return tuple(name for name in names if name not in used)


def readings(item: object, path: Path = ()) -> list[tuple[Path, Reading]]:
    """Every reading of the model, with its path; not those of its drawings alone."""
    if isinstance(item, Reading):
        return [(path, item)]
    if path == (DRAWINGS,):
        return []
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
    moved = _moved(model, path, delta)
    if path[0] == VALUES:
        moved = _with_shared_moved(moved, path, delta)
    return cast(M, moved)


def _with_shared_moved(item: object, path: Path, delta: float) -> object:
    """All that stands on a shared value, moved with it; what does not is the very same."""
    if isinstance(item, Shared):
        times = sum(one.times for one in item.shares if one.path == path)
        return item.with_value(float(item) + times * delta) if times else item
    if isinstance(item, Sided):
        each = {side: _with_shared_moved(getattr(item, side), path, delta) for side in SIDES}
        same = each["left"] is item.left and each["right"] is item.right
        return item if same else replace(item, **each)  # type: ignore[arg-type]
    if isinstance(item, BaseModel | dict):
        inner = item.__dict__ if isinstance(item, BaseModel) else item
        there = {name: _with_shared_moved(one, path, delta) for name, one in inner.items()}
        update = {name: one for name, one in there.items() if one is not inner[name]}
        if not update:
            return item
        return item.model_copy(update=update) if isinstance(item, BaseModel) else inner | update
    if isinstance(item, tuple):
        found = tuple(_with_shared_moved(one, path, delta) for one in item)
        return found if any(a is not b for a, b in zip(item, found, strict=True)) else item
    return item


def _moved(item: Any, path: Path, delta: float) -> object:
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
        there = cast(float, _moved(getattr(item, side), rest, delta))
        return replace(item, **{side: there})
    index = int(key)
    return (*item[:index], _moved(item[index], rest, delta), *item[index + 1 :])
