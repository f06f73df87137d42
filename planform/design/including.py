"""One file with parts of others: what they hold is put together by name before it is checked.

Only .toml files in the folder of the file itself or below it are read.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any, get_args, get_origin

from pydantic import BaseModel

from planform.design.files import table_of
from planform.design.naming import Path as Place
from planform.design.naming import path_of, path_text
from planform.design.problems import InputError, Problem

MOST_FILES = 20
"""Files that one file may include, those that they include counted; assumption."""
DEEPEST = 4
"""Files that include one another in a row, the first one counted; assumption."""
INCLUDE = "include"
WANTED = 'allowed: a list of .toml files in the folder of this file or below it, as ["gear.toml"]'


@dataclass
class Whole:
    """The tables of a file with those of the files that it includes.

    origins : the file that a place of the tables comes from, and its place there
    faults : what is wrong with the files themselves and how they go together
    files : the files that it includes
    """

    table: dict[str, Any]
    origins: dict[Place, tuple[str, Place]] = field(default_factory=dict)
    faults: list[Problem] = field(default_factory=list)
    files: list[Path] = field(default_factory=list)

    def told(self, problem: Problem) -> Problem:
        """A problem with the name of the included file that it is in."""
        if not self.origins or problem.file or not problem.path:
            return problem
        try:
            path = path_of(problem.path)
        except LookupError:
            return problem
        origin = self.origin(path)
        if origin is None:
            return problem
        name, own = origin[0], path_text(origin[1])
        return replace(problem, file=name if own == problem.path else f"{name}, {own}")

    def origin(self, path: Place) -> tuple[str, Place] | None:
        """The included file that a place of the tables comes from, and its place there."""
        for length in range(len(path), 0, -1):
            if path[:length] in self.origins:
                name, there = self.origins[path[:length]]
                return name, (*there, *path[length:])
        return None

    def told_all(self, error: InputError) -> InputError:
        """The error with each problem's file."""
        return InputError(error.origin, [self.told(problem) for problem in error.problems])


def whole_of(path: Path, model: type[BaseModel]) -> Whole:
    """The tables of a file and of what it includes. Raises InputError where it cannot be read."""
    return _Reader(path, model).whole(table_of(path))


class _Reader:
    """Puts the files of one file together."""

    def __init__(self, path: Path, model: type[BaseModel]) -> None:
        self.model = model
        self.first = path
        self.base = path.parent.resolve()
        self.read: set[Path] = set()
        self.out = Whole({})

    def whole(self, table: dict[str, Any]) -> Whole:
        """The tables of the file with those of all that it includes."""
        self.out.table = {key: one for key, one in table.items() if key != INCLUDE}
        start = self.base / self.first.name
        if INCLUDE in table:
            self._take(table[INCLUDE], self.first.name, (start,))
        return self.out

    def _take(self, given: object, owner: str, row: tuple[Path, ...]) -> None:
        """Put the files of one list of names into the whole.

        owner : the file that has the list ; row : the files that led to it, itself the last
        """

        def fault(what: object, allowed: str) -> None:
            where = "" if owner == self.first.name else owner
            self.out.faults.append(Problem(INCLUDE, repr(what), allowed, file=where))

        if not isinstance(given, list) or not all(isinstance(one, str) for one in given):
            fault(given, WANTED)
            return
        for name in given:
            found = self._found(name, row[-1].parent)
            if found is None:
                fault(name, "allowed: a .toml file in the folder of this file or below it")
            elif found in row:
                around = " → ".join(one.name for one in (*row[row.index(found) :], found))
                fault(name, f"a file that includes itself ({around})")
            elif found in self.read:
                fault(name, "this file is included already; once is enough")
            elif len(row) >= DEEPEST:
                fault(name, f"allowed: at most {DEEPEST} files in a row that include one another")
            elif len(self.read) >= MOST_FILES:
                fault(name, f"allowed: at most {MOST_FILES} files in all")
            else:
                self.read.add(found)
                self.out.files.append(found)
                self._add(found, (*row, found), fault_at=(name, owner))

    def _found(self, name: str, folder: Path) -> Path | None:
        """The file that a name means; None where it is none that may be read."""
        if not name.endswith(".toml") or "\\" in name or Path(name).is_absolute():
            return None
        if ".." in Path(name).parts:
            return None
        try:
            found = (folder / name).resolve()
        except (OSError, ValueError, RuntimeError):
            return None
        return found if found.is_relative_to(self.base) else None

    def _add(self, path: Path, row: tuple[Path, ...], fault_at: tuple[str, str]) -> None:
        """Put one included file into the whole, and what it includes after it."""
        name, owner = fault_at
        try:
            table = table_of(path)
        except InputError as error:
            where = "" if owner == self.first.name else owner
            told = error.problems[0]
            given = f"{name!r}, {told.given}" if told.given else repr(name)
            self.out.faults.append(Problem(INCLUDE, given, told.allowed, file=where))
            return
        label = path.relative_to(self.base).as_posix()
        own = {key: one for key, one in table.items() if key != INCLUDE}
        if own.get("format") == self.out.table.get("format"):
            own.pop("format", None)
        self._merge(self.out.table, own, self.model, (), label)
        if INCLUDE in table:
            self._take(table[INCLUDE], label, row)

    def _merge(
        self,
        into: dict[str, Any],
        given: dict[str, Any],
        model: type[BaseModel] | None,
        path: Place,
        label: str,
    ) -> None:
        """Put tables into others, things by name, lists one after the other, and nothing twice.

        model : whose fields these are; None where they are names
        """
        for key, one in given.items():
            here = (*path, key)
            if key not in into:
                into[key] = _copied(one)
                self.out.origins[here] = (label, here)
                continue
            had, below = into[key], _holds(model, key)
            if isinstance(had, dict) and isinstance(one, dict) and below is not None:
                inner = below if isinstance(below, type) and issubclass(below, BaseModel) else None
                self._merge(had, one, inner, here, label)
            elif isinstance(had, list) and isinstance(one, list) and below == LISTED:
                for k, item in enumerate(one):
                    self.out.origins[(*here, len(had))] = (label, (*here, k))
                    had.append(item)
            else:
                origin = self.out.origin(here)
                before = origin[0] if origin else self.first.name
                allowed = f"given in {before} and in {label}; allowed: in one of them"
                self.out.faults.append(Problem(path_text(here), "twice", allowed, file=label))


NAMED, LISTED = "named", "listed"


def _holds(model: type[BaseModel] | None, key: str) -> object:
    """What a field holds: things by name, a list of things, or one thing, which is its model."""
    if model is None or key not in model.model_fields:
        return None
    annotation = model.model_fields[key].annotation
    options = [annotation, *get_args(annotation)]
    if any(get_origin(one) is dict for one in options):
        return NAMED
    if any(isinstance(one, type) and issubclass(one, BaseModel) for one in options):
        inner = next(o for o in options if isinstance(o, type) and issubclass(o, BaseModel))
        return LISTED if get_origin(annotation) is tuple else inner
    return None


def _copied(item: object) -> object:
    """Tables that may be added to without changing those of the file."""
    if isinstance(item, dict):
        return {key: _copied(one) for key, one in item.items()}
    return list(item) if isinstance(item, list) else item


def in_files(path: Path, model: type[BaseModel], problems: Iterable[Problem]) -> list[Problem]:
    """Problems of a file that was read already, each with the included file that it is in."""
    found = whole_of(path, model)
    return [found.told(problem) for problem in problems]
