"""Parts that may be a pair, and the one rule by which their sides may differ.

Wherever a number or a point stands in a part with side = "both", a table of a left and a right
one may stand. Each side is then read as a whole part, with every bound and every check between
fields, and the two are joined.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from pydantic import BaseModel, GetCoreSchemaHandler, ValidationError
from pydantic_core import (
    CoreSchema,
    ErrorDetails,
    InitErrorDetails,
    PydanticCustomError,
    core_schema,
)

from planform.design.fields import Model, refuse, shortened
from planform.design.sided import SIDES, Sided

Path = tuple[str | int, ...]

NUMBERS_ONLY = (
    "allowed: left and right for a number or a point; where more differs, write a part for each "
    "side"
)


class Sideable(Model):
    """A part that may stand on both sides, mirrored, with numbers of each side where given.

    A model of one has a field `side`.
    """

    @classmethod
    def __get_pydantic_core_schema__(
        cls, source: object, handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        """Read a whole part of each side where some number is given for each."""
        whole: dict[str, Any] = {**handler.resolve_ref_schema(handler(source))}
        inner: dict[str, Any] = {key: one for key, one in whole.items() if key != "ref"}
        return core_schema.no_info_wrap_validator_function(
            cls._each_side,
            inner,
            ref=whole.get("ref"),
        )

    @classmethod
    def _each_side(cls, given: object, read: Callable[[Any], Any]) -> object:
        if not isinstance(given, dict):
            return read(given)
        side = given.get("side", cls.model_fields["side"].default)
        if side != "both" or not any(_sided(given)):
            return read(given)
        found: dict[str, Any] = {}
        faults: dict[str, list[InitErrorDetails]] = {}
        for name in SIDES:
            try:
                found[name] = cls.model_validate(_as_on(given, name))
            except ValidationError as error:
                faults[name] = [_detail(one) for one in error.errors(include_url=False)]
        if faults:
            raise ValidationError.from_exception_data(cls.__name__, list(_told(given, faults)))
        try:
            return _joined(given, found["left"], found["right"], ())
        except _NotNumbersError as error:
            raise ValidationError.from_exception_data(cls.__name__, [error.detail]) from None


class _NotNumbersError(Exception):
    def __init__(self, path: Path, given: object) -> None:
        self.detail = InitErrorDetails(
            type=refuse(shortened(given), NUMBERS_ONLY), loc=path, input=given
        )


def each_side(given: object) -> bool:
    """Whether something written is a table of a left and a right one."""
    return isinstance(given, Sided) or (isinstance(given, dict) and set(given) == set(SIDES))


def _as_on(given: object, side: str) -> object:
    """What is written as it stands on one side."""
    if isinstance(given, Sided):
        return getattr(given, side)
    if isinstance(given, dict):
        if each_side(given):
            return given[side]
        return {key: _as_on(one, side) for key, one in given.items()}
    if isinstance(given, list | tuple):
        return type(given)(_as_on(one, side) for one in given)
    return given


def _sided(given: object) -> Iterator[bool]:
    """True for every table of a left and a right one in what is written."""
    if each_side(given):
        yield True
    elif isinstance(given, dict | list | tuple):
        for one in given.values() if isinstance(given, dict) else given:
            yield from _sided(one)


def _joined(given: object, left: object, right: object, path: Path) -> object:
    """The part of both sides, from what is written and what was read for each."""
    if each_side(given):
        return _both(left, right, path, given)
    if isinstance(given, dict) and isinstance(right, BaseModel):
        update = {
            name: _joined(one, getattr(left, name), getattr(right, name), (*path, name))
            for name, one in given.items()
            if any(_sided(one))
        }
        return right.model_copy(update=update) if update else right
    if isinstance(given, list | tuple) and isinstance(left, tuple) and isinstance(right, tuple):
        triples = enumerate(zip(given, left, right, strict=True))
        return tuple(_joined(one, a, b, (*path, k)) for k, (one, a, b) in triples)
    return right


def _both(left: object, right: object, path: Path, given: object) -> object:
    """One value of both sides: numbers, or points and lists of numbers."""
    if type(left) is type(right):
        if isinstance(left, bool):
            raise _NotNumbersError(path, given)
        if isinstance(left, float | int) and isinstance(right, float | int):
            return Sided(left, right)
        if isinstance(left, BaseModel) and isinstance(right, BaseModel):
            names = right.model_fields_set
            if names == left.model_fields_set:
                update = {
                    name: _both(getattr(left, name), getattr(right, name), (*path, name), given)
                    for name in sorted(names)
                }
                return right.model_copy(update=update)
        if isinstance(left, tuple) and isinstance(right, tuple) and 0 < len(left) == len(right):
            return tuple(_both(a, b, path, given) for a, b in zip(left, right, strict=True))
    raise _NotNumbersError(path, given)


def _detail(error: ErrorDetails) -> InitErrorDetails:
    """One mistake of a side, as it was told."""
    context = error.get("ctx", {})
    kind: str | PydanticCustomError = error["type"]
    if kind in ("notation", "bound", "cross"):
        kind = PydanticCustomError(error["type"], "{allowed}", context)
    elif kind in ("value_error", "assertion_error"):
        kind = PydanticCustomError("cross", "{allowed}", {"given": "", "allowed": error["msg"]})
    return InitErrorDetails(type=kind, loc=error["loc"], input=error["input"], ctx=context)


def _told(given: object, faults: dict[str, list[InitErrorDetails]]) -> Iterator[InitErrorDetails]:
    """Mistakes of both sides, each once: with its side where it is in a number of that side."""
    marks = {side: [_mark(one) for one in details] for side, details in faults.items()}
    for side, details in faults.items():
        other = marks.get("right" if side == "left" else "left", [])
        for one, mark in zip(details, marks[side], strict=True):
            path = tuple(one.get("loc", ()))
            loc = located(given, path, side)
            kind = one["type"]
            if loc == path and mark in other and side == "right":
                continue  # told of the left
            if loc == path and mark not in other and isinstance(kind, PydanticCustomError):
                context: dict[str, Any] = dict(kind.context or {})
                context["given"] = f"{context.get('given', '')} on the {side}".strip()
                kind = PydanticCustomError(kind.type, "{allowed}", context)
            yield InitErrorDetails(type=kind, loc=loc, input=one["input"], ctx=one.get("ctx", {}))


def _mark(one: InitErrorDetails) -> tuple[Any, ...]:
    kind = one["type"]
    context = kind.context if isinstance(kind, PydanticCustomError) else None
    return one.get("loc", ()), str(context or kind)


def located(given: object, path: Path, side: str) -> Path:
    """A path of one side's part as it is in what is written of both."""
    for k, step in enumerate(path):
        if each_side(given):
            return (*path[:k], side, *path[k:])
        try:
            given = _below(given, step)
        except LookupError:
            return path
    return (*path, side) if each_side(given) else path


def _below(given: object, step: str | int) -> object:
    """What is written at one step; LookupError where nothing is."""
    if isinstance(given, dict):
        return given[step]
    if isinstance(given, list | tuple) and isinstance(step, int):
        return given[step]
    raise LookupError(step)
