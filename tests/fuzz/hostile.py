"""A file with every name and free text in it made hostile, and still good."""

from __future__ import annotations

import copy
from collections.abc import Sequence
from typing import Any, get_origin

from planform.design.kinds import KINDS
from planform.design.models import Design

NAMED = (
    *(k.field for k in KINDS if get_origin(Design.model_fields[k.field].annotation) is dict),
    "stances",
)
NAMED_IN_BALANCE = ("places", "ground_ballast")
FREE = ("name", "datum", "story", "text", "record", "source", "date", "place", "instruments",
        "permanent", "joint")  # fmt: skip


def hostile(table: dict[str, Any], evil: Sequence[str]) -> dict[str, Any]:
    """A copy in which each name is one of `evil` with a number, wherever it is spoken of.

    evil : texts of at most 50 characters, so that a name has room for its number
    """
    new: dict[str, str] = {}
    for group in NAMED:
        _renamed(table.get(group, {}), evil, new)
    for group in NAMED_IN_BALANCE:
        _renamed(table.get("balance", {}).get(group, {}), evil, new)
    out = copy.deepcopy(table)
    _free(out, evil, new)
    return _spoken(out, new)


def _renamed(names: dict[str, Any], evil: Sequence[str], new: dict[str, str]) -> None:
    for name in names:
        new.setdefault(name, f"{evil[len(new) % len(evil)]}{len(new)}")


def _free(node: Any, evil: Sequence[str], new: dict[str, str]) -> None:
    """Names in lists, joints, and texts that nothing refers to."""
    for key, value in list(node.items()) if isinstance(node, dict) else enumerate(node):
        if isinstance(value, dict | list):
            _free(value, evil, new)
        elif key in FREE and isinstance(value, str):
            _renamed({value: 0}, evil, new)


FIXED = ("format", "units", "role", "kind", "fluid", "wall", "side", "profile", "guide")
"""Fields whose words are ours."""


def _spoken(node: Any, new: dict[str, str]) -> Any:
    if isinstance(node, dict):
        return {
            _word(key, new): value if key in FIXED else _spoken(value, new)
            for key, value in node.items()
        }
    if isinstance(node, list):
        return [_spoken(value, new) for value in node]
    return _word(node, new) if isinstance(node, str) else node


def _word(text: str, new: dict[str, str]) -> str:
    side, _, name = text.partition(" ")
    if side in ("left", "right") and name in new:
        return f"{side} {new[name]}"
    return new.get(text, text)
