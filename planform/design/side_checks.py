"""Checks and questions of a file whose sides differ: asked of each side, told with the side."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from typing import TypeVar

from pydantic import BaseModel

from planform.design.naming import Path, path_of, value_at
from planform.design.problems import Problem
from planform.design.sided import Sided, hands

M = TypeVar("M", bound=BaseModel)


def on_each_side(model: M, check: Callable[[M], Iterable[Problem]]) -> Iterator[Problem]:
    """Problems of a file as they are on each side, each told once.

    check : takes the file as if both sides were as one of them
    """
    found = {side: list(check(one)) for side, one in hands(model)}
    for side, problems in found.items():
        others = [p for other, told in found.items() if other != side for p in told]
        for problem in problems:
            sided = _sided_path(model, problem.path)
            if side and sided:
                yield replace(problem, path=f"{problem.path}.{side}")
            elif side and problem not in others:
                yield replace(problem, given=f"{problem.given} on the {side}")
            elif side != "right":
                yield problem


def _sided_path(model: BaseModel, path: str) -> bool:
    try:
        return sided_at(model, path_of(path))
    except LookupError:
        return False


def sided_at(model: BaseModel, path: Path) -> bool:
    """Whether a number for each side stands at this path."""
    return isinstance(value_at(model, path), Sided)
