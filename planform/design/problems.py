"""What is wrong with a file, said so that a builder can mend it in one go."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from planform.design.texts import shown

ALIKE = 0.6
"""From this likeness on a name is taken for a mistyped one (0 nothing alike, 1 the same).
Assumption: 'wyng' is 0.75 like 'wing', 'east' 0.5 like 'left'."""
MOST_TOLD = 100
"""Problems of one file that are told; nobody mends more in one go."""


@dataclass(frozen=True)
class Problem:
    """One mistake: the field's path, what was given, what is allowed, what to try.

    rests : paths of the other fields that this was judged by, `*` for any name or number; a mistake
        told of one of them explains this one
    file : the included file that it is in, and its path there where that is another; '' for the
        file itself
    """

    path: str
    given: str
    allowed: str
    rests: tuple[str, ...] = ()
    file: str = ""

    def __str__(self) -> str:
        given = f"given {self.given}; " if self.given else ""
        where = f"{self.path} (in {self.file})" if self.file else self.path
        whole = f"{where}: {given}{self.allowed}" if where else f"{given}{self.allowed}"
        return shown(whole)


@lru_cache(maxsize=1024)
def _field(rest: str) -> re.Pattern[str]:
    """Any path at or below a field, `*` for any name or number."""
    return re.compile(re.escape(rest).replace(r"\*", ".+?") + r"(?:[.\[].*)?")


def _follows(one: Problem, other: Problem) -> bool:
    path = other.path.replace('"', "")
    return any(_field(rest.replace('"', "")).fullmatch(path) for rest in one.rests)


def told_once(problems: Sequence[Problem]) -> list[Problem]:
    """The problems without those that follow from another one: a mistake is told once.

    Of two that rest on each other the first is told.
    """
    return [
        one
        for k, one in enumerate(problems)
        if not any(
            _follows(one, other) and (j < k or not _follows(other, one))
            for j, other in enumerate(problems)
            if one.rests and j != k
        )
    ]


def unknown(path: str, name: str, known: Iterable[str], rests: tuple[str, ...] = ()) -> Problem:
    """The problem of a name that does not exist, with the nearest real one.

    rests : as `Problem.rests`: the fields that the known names come from
    """
    names = list(known)
    plain = {one.lower(): one for one in reversed(names)}
    given = name.strip().lower()
    near = [one for one in plain if given and one.startswith(given)]
    near = near or difflib.get_close_matches(given, plain, n=1, cutoff=ALIKE)
    hint = f"did you mean {plain[near[0]]!r}? " if near else ""
    listed = [repr(one) for one in names] if any("," in one for one in names) else names
    allowed = f"no such name; {hint}names: {', '.join(listed) or 'none'}"
    return Problem(path, repr(name), allowed, rests)


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
