"""The JSON Schema of numbers that may be one for each side."""

from __future__ import annotations

from typing import Any

from planform.design.pairs import Sideable
from planform.design.sided import SIDES

EACH_SIDE = "EachSide"
TOLD = "left and right of a part with side = 'both', where they differ"


def with_sides(schema: dict[str, Any]) -> dict[str, Any]:
    """A file's schema, with a left and a right number allowed in what may be a pair."""
    defs = schema.get("$defs", {})
    pairs = {one.__name__ for one in _kinds_of(Sideable)}
    todo, done = [name for name in defs if name in pairs], set[str]()
    while todo:
        name = todo.pop()
        if name in done:
            continue
        done.add(name)
        for field, one in defs[name].get("properties", {}).items():
            todo += _named_in(one)
            defs[name]["properties"][field] = _either(one)
    if done:
        defs[EACH_SIDE] = {
            "type": "object",
            "description": TOLD,
            "properties": {side: {} for side in SIDES},
            "required": list(SIDES),
            "additionalProperties": False,
        }
    return schema


def _kinds_of(model: type[Sideable]) -> list[type[Sideable]]:
    return [one for sub in model.__subclasses__() for one in (sub, *_kinds_of(sub))]


def _named_in(one: object) -> list[str]:
    """The definitions that a field refers to."""
    if isinstance(one, dict):
        found = [one["$ref"].rpartition("/")[2]] if "$ref" in one else []
        return found + [name for inner in one.values() for name in _named_in(inner)]
    return [name for inner in one for name in _named_in(inner)] if isinstance(one, list) else []


def _either(one: dict[str, Any]) -> dict[str, Any]:
    """A field's schema; of a number or a point, with that of one for each side beside it."""
    choices = one.get("anyOf", [one])
    if not any(
        "$ref" in choice or "examples" in choice or choice.get("type") in ("number", "integer")
        for choice in choices
    ):
        return one
    each = {"$ref": f"#/$defs/{EACH_SIDE}"}
    if "anyOf" in one:
        return one | {"anyOf": [*choices[:1], each, *choices[1:]]}
    beside: dict[str, Any] = {key: one[key] for key in ("default", "title") if key in one}
    inner = {key: value for key, value in one.items() if key not in beside}
    return {"anyOf": [inner, each], **beside}
