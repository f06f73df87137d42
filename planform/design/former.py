"""Keys of design files that were renamed: each is told with its new name, and never just taken."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from planform.design.naming import path_of, path_text
from planform.design.problems import Problem

EACH = "*"
"""Any name, or any place of a list."""

RENAMED: tuple[tuple[tuple[str, ...], str], ...] = (
    (("surfaces",), "lifting"),
    (("lifting", EACH, "sections"), "cuts"),
    (("bodies", EACH, "stations"), "cuts"),
    (("bodies", EACH, "cuts", EACH, "exponent"), "boxiness"),
    (("propeller", "plane_fs"), "disc_fs"),
)
"""Where a former key stood, and its name now; what it stands in is called as it is now."""


def in_new_keys(table: dict[str, Any]) -> tuple[dict[str, Any], list[Problem]]:
    """The table with every former key under its new name, and the problem that there were some.

    So the rest of a file is checked in the same go; the problem keeps it from being used.
    """
    told: dict[str, str] = {}
    for path, new in RENAMED:
        renamed = _renamed(table, path, new)
        if isinstance(renamed, dict) and renamed is not table:
            table = renamed
            told[path[-1]] = new
    if not told:
        return table, []
    words = ", ".join(f"{new} for {' and '.join(old)}" for new, old in _by_new(told))
    return table, [Problem("", ", ".join(told), f"these keys have new names; write {words}")]


def _by_new(told: dict[str, str]) -> Iterator[tuple[str, list[str]]]:
    for new in dict.fromkeys(told.values()):
        yield new, [old for old, name in told.items() if name == new]


def _renamed(item: object, path: tuple[str, ...], new: str) -> object:
    """A table or list with one key renamed wherever it stands in it; itself where it does not.

    Where both names stand, what stands under the new one counts.
    """
    key, rest = path[0], path[1:]
    if isinstance(item, list) and key == EACH:
        inner = [_renamed(one, rest, new) for one in item]
        return inner if any(a is not b for a, b in zip(inner, item, strict=True)) else item
    if not isinstance(item, dict):
        return item
    if rest:
        keys = list(item) if key == EACH else [key] * (key in item)
        below = {name: _renamed(item[name], rest, new) for name in keys}
        return item | below if any(below[name] is not item[name] for name in keys) else item
    if key not in item:
        return item
    return {new if name == key else name: value for name, value in item.items()} | {
        name: value for name, value in item.items() if name == new
    }


def new_path(path: str) -> str | None:
    """The path of a field by the names of now; None where it has no former one in it."""
    try:
        now = list(path_of(path))
    except LookupError:
        return None
    renamed = False
    for pattern, new in RENAMED:
        here = now[: len(pattern)]
        if len(here) == len(pattern) and all(
            a in (EACH, b) for a, b in zip(pattern, here, strict=True)
        ):
            now[len(pattern) - 1], renamed = new, True
    return path_text(now) if renamed else None


def no_such_field(path: str) -> str:
    """What is said of a path that names no field; of a former one, what it is called now."""
    now = new_path(path)
    return f"no such field; its name is now {now}" if now else "no such field"
