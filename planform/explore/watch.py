"""The files on disk: read again at once where an editor writes them; the last good ones stay."""

from __future__ import annotations

import os
from dataclasses import dataclass, replace
from pathlib import Path

from planform.design.changing import DESIGN, PLACE, Source, source_of
from planform.design.problems import InputError, Problem
from planform.explore.read import Files, problem_line
from planform.report.record import Record

Mark = tuple[int, int, int] | None


@dataclass(frozen=True)
class News:
    """What was found on disk.

    changed : the sorts of the files that changed
    problems : what is wrong with them now, each with its sort; none where all are read
    """

    version: int
    changed: tuple[str, ...]
    problems: tuple[tuple[str, Problem], ...]

    def record(self) -> Record:
        """The news as JSON has them."""
        problems = [problem_line(sort, one) for sort, one in self.problems]
        return {"version": self.version, "changed": list(self.changed), "problems": problems}


def mark_of(path: Path) -> Mark:
    """What tells that a file was written anew; None where there is none."""
    try:
        found = os.stat(path)
    except OSError:
        return None
    return found.st_mtime_ns, found.st_size, found.st_ino


class Watch:
    """Looks at the files again and again; `files` are those that were last read well."""

    def __init__(self, design: Path, place: Path | None, system: str | None) -> None:
        """Read both files. Raises InputError with all the problems of one of them."""
        self._system = system
        first = source_of(design, DESIGN)
        there = None if place is None else source_of(place, PLACE)
        self.files = Files(first, there, 0, system or first.design.units)
        self.wrong: dict[str, tuple[Problem, ...]] = {}
        self._doubtful: dict[str, tuple[Problem, ...]] = {}
        self._marks = {sort: self._marked(sort) for sort in self._sorts}

    @property
    def _sorts(self) -> tuple[str, ...]:
        return (DESIGN,) if self.files.place is None else (DESIGN, PLACE)

    def _source(self, sort: str) -> Source:
        found = self.files.of(sort)
        assert found is not None
        return found

    def _marked(self, sort: str) -> tuple[tuple[Path, Mark], ...]:
        return tuple((path, mark_of(path)) for path in self._source(sort).files)

    def look(self) -> News | None:
        """What changed since the last look; None where nothing did.

        A file that is wrong is told at the next look, where it is still the same: an editor may
        have been in the midst of writing it.
        """
        told = []
        for sort in self._sorts:
            marks = self._marked(sort)
            if marks != self._marks[sort]:
                self._marks[sort] = marks
                if self._read(sort):
                    told.append(sort)
            elif sort in self._doubtful:
                self.wrong[sort] = self._doubtful.pop(sort)
                told.append(sort)
        return self.news(tuple(told)) if told else None

    def news(self, changed: tuple[str, ...] = ()) -> News:
        """How the files are now."""
        told = tuple((sort, one) for sort, found in self.wrong.items() for one in found)
        return News(self.files.version, changed, told)

    def _read(self, sort: str) -> bool:
        """Read one file again; where it cannot be, the last good one stays. Whether it could."""
        try:
            source = source_of(self._source(sort).path, sort)
        except InputError as error:
            self._doubtful[sort] = error.problems
            return False
        self._doubtful.pop(sort, None)
        self.wrong.pop(sort, None)
        files = self.files
        if sort == DESIGN:
            system = self._system or source.design.units
            files = replace(files, design=source, system=system)
        else:
            files = replace(files, place=source)
        self.files = replace(files, version=files.version + 1)
        self._marks[sort] = self._marked(sort)
        return True
