"""What is wrong with a file, said so that a builder can mend it in one go."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from dataclasses import dataclass

from planform.design.texts import shown

MOST_TOLD = 100
"""Problems of one file that are told; nobody mends more in one go."""


@dataclass(frozen=True)
class Problem:
    """One mistake: the field's path, what was given, what is allowed, what to try."""

    path: str
    given: str
    allowed: str

    def __str__(self) -> str:
        given = f"given {self.given}; " if self.given else ""
        whole = f"{self.path}: {given}{self.allowed}" if self.path else f"{given}{self.allowed}"
        return shown(whole)


def unknown(path: str, name: str, known: Iterable[str]) -> Problem:
    """The problem of a name that does not exist, with the nearest real one."""
    names = list(known)
    near = difflib.get_close_matches(name, names, n=1, cutoff=0.5)
    hint = f"did you mean {near[0]!r}? " if near else ""
    listed = [repr(one) for one in names] if any("," in one for one in names) else names
    return Problem(path, repr(name), f"no such name; {hint}names: {', '.join(listed) or 'none'}")


class Failure(RuntimeError):
    """Something that no file can mend stopped the work; told in one line."""


class InputError(ValueError):
    """All the problems of one file (or option) at once."""

    def __init__(self, origin: str, problems: list[Problem] | tuple[Problem, ...]) -> None:
        self.origin = origin
        self.problems = tuple(problems)
        count = len(self.problems)
        head = f"{shown(origin)}: {count} problem{'' if count == 1 else 's'}"
        lines = [f"  {problem}" for problem in self.problems[:MOST_TOLD]]
        more = [f"  and {count - MOST_TOLD} more"] if count > MOST_TOLD else []
        super().__init__("\n".join([head, *lines, *more]))
