"""Left and right different: a number of a paired part that is two numbers, one a side."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeVar, cast

from pydantic import BaseModel

SIDES = ("left", "right")

T = TypeVar("T")
M = TypeVar("M", bound=BaseModel)


@dataclass(frozen=True)
class Sided:
    """What stands for one number in the model of a pair: that of its left and of its right side.

    It is no number itself, so that nobody takes one side for both: `on_side` gives the model as
    it stands on a side.
    left, right : readings, or plain numbers
    """

    left: float
    right: float


def side_of(sign: float) -> str:
    """The side of the aircraft by the sign of its butt lines."""
    return "left" if sign < 0 else "right"


def on_side(item: T, side: str) -> T:
    """A model, list or table as it stands on one side; the very same where its sides are alike.

    side : 'left' or 'right'
    """
    if _ALIKE.get(id(item)) is item:
        return item
    found = cast(T, _on_side(item, side))
    if found is item and isinstance(item, BaseModel):
        if len(_ALIKE) >= MOST_ALIKE:
            _ALIKE.clear()
        _ALIKE[id(item)] = item
    return found


MOST_ALIKE = 2_000
_ALIKE: dict[int, BaseModel] = {}
"""Models whose sides are known to be alike, by what `id` says of them; they are frozen."""


def _on_side(item: object, side: str) -> object:
    if isinstance(item, Sided):
        return item.left if side == "left" else item.right
    if isinstance(item, BaseModel | dict):
        inner = item.__dict__ if isinstance(item, BaseModel) else item
        there = {name: _on_side(one, side) for name, one in inner.items()}
        update = {name: one for name, one in there.items() if one is not inner[name]}
        if not update:
            return item
        return item.model_copy(update=update) if isinstance(item, BaseModel) else inner | update
    if isinstance(item, tuple):
        found = tuple(_on_side(one, side) for one in item)
        same = all(a is b for a, b in zip(item, found, strict=True))
        return item if same else found
    return item


def differs(item: object) -> bool:
    """Whether some number of a model is given for each side apart."""
    return on_side(item, "left") is not item


def hands(model: M) -> tuple[tuple[str, M], ...]:
    """A file as if both sides were as one of them, for each of them; once where they are alike.

    What must hold on both sides is asked of each. The name of the side is '' where they are alike.
    """
    left = on_side(model, "left")
    return (("", model),) if left is model else (("left", left), ("right", on_side(model, "right")))
