"""A file with some of its numbers changed: checked again as a whole, and told as `check` tells it.

What is written is kept apart from what is asked about: the file itself stays as it is.
"""

from __future__ import annotations

import copy
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path as FilePath
from typing import cast

from planform.design.including import Whole, whole_of
from planform.design.load import design_from, place_from
from planform.design.models import Design
from planform.design.naming import Path, path_of, path_text, value_at
from planform.design.notation import NotationError, read
from planform.design.place import Place
from planform.design.problems import InputError, Problem
from planform.design.profile_files import with_coordinates
from planform.design.reading import Reading, Shared

DESIGN, PLACE = "design", "place"

Changes = Mapping[str, str]
"""Texts by the paths of the fields that they are to stand in."""


@dataclass(frozen=True, eq=False)
class Source:
    """A design or place file as it was read.

    whole : its tables with those of all that it includes
    model : what they say
    """

    path: FilePath
    sort: str
    whole: Whole
    model: Design | Place

    @property
    def files(self) -> tuple[FilePath, ...]:
        """The file itself, those that it includes, and those of its profiles."""
        profiles = getattr(self.model, "profiles", {}).values()
        beside = [one.file for one in profiles if getattr(one, "file", None)]
        folder = self.path.parent
        return (self.path, *self.whole.files, *(folder / name for name in beside))

    @property
    def design(self) -> Design:
        """The design that it is; TypeError where it is none."""
        if not isinstance(self.model, Design):
            raise TypeError(f"expected a design, got a {self.sort}")
        return self.model

    @property
    def place(self) -> Place:
        """The place that it is; TypeError where it is none."""
        if not isinstance(self.model, Place):
            raise TypeError(f"expected a place, got a {self.sort}")
        return self.model


def source_of(path: FilePath, sort: str) -> Source:
    """Read and check a file. Raises InputError with all its problems.

    sort : DESIGN or PLACE
    """
    whole = whole_of(path, Design if sort == DESIGN else Place)
    return Source(path, sort, whole, _checked(whole, path, sort))


def _checked(whole: Whole, path: FilePath, sort: str) -> Design | Place:
    try:
        if sort == PLACE:
            return place_from(whole.table, str(path), whole.faults)
        table, faults = with_coordinates(whole.table, path.parent)
        return design_from(table, str(path), [*whole.faults, *faults])
    except InputError as error:
        raise whole.told_all(error) from None


_NUMBER = re.compile(r"[+-]?(?:[0-9]{1,9}(?:\.[0-9]{0,9})?|\.[0-9]{1,9})")
NO_NUMBER = "no number stands there in the file; only numbers that are written can be moved"


def meant(source: Source, path: str, text: str) -> str | float:
    """What a text at a field means: itself, with the tolerance and source that the field has.

    Raises as `to_the_letter`.
    """
    found = to_the_letter(source, path, text)
    there = value_at(source.model, path_of(path))
    return carried(text, there) if isinstance(there, Reading) else found


def to_the_letter(source: Source, path: str, text: str) -> str | float:
    """What a text at a field is in the file: itself, or a plain number.

    Raises LookupError where no number stands there, InputError where it stands on shared values.
    """
    place = path_of(path)
    written_at(source.whole.table, place)
    there = value_at(source.model, place)
    if isinstance(there, Shared) and not text.lstrip().startswith("="):
        names = " or ".join(".".join(share.path) for share in there.shares)
        allowed = f"this field is the sum {there.text!r}; change {names}, or write a sum"
        raise InputError(str(source.path), [Problem(path, repr(text), allowed)])
    if isinstance(there, Reading):
        return text
    if isinstance(there, bool) or not isinstance(there, int | float):
        raise LookupError(path)
    if not _NUMBER.fullmatch(text.strip()):
        allowed = f"allowed: a plain number, such as {there:g}"
        raise InputError(str(source.path), [Problem(path, repr(text), allowed)])
    number = float(text)
    return int(number) if isinstance(there, int) and number == int(number) else number


def with_changes(
    source: Source, changes: Changes, meaning: Callable[[Source, str, str], str | float] = meant
) -> Design | Place:
    """What the file says with these texts in it. Raises InputError with all that is wrong.

    meaning : of a text at a path; a text without ± and source keeps those that the field has
    """
    if not changes:
        return source.model
    whole = source.whole
    problems: list[Problem] = []
    table: object = whole.table
    for path, text in changes.items():
        try:
            table = _with(table, path_of(path), meaning(source, path, text))
        except LookupError:
            problems.append(Problem(path, repr(text), NO_NUMBER))
        except InputError as error:
            problems += error.problems
    try:
        found = _checked(
            Whole(cast("dict[str, object]", table), whole.origins), source.path, source.sort
        )
    except InputError as error:
        problems += error.problems
    if problems:
        raise InputError(str(source.path), problems)
    return found


def carried(text: str, there: Reading) -> str:
    """A text with the tolerance and source of the reading that it takes the place of.

    As it is where it tells its own, is a sum, or cannot be read.
    """
    tail = tail_of(there.text)
    if not tail or text.lstrip().startswith("="):
        return text
    try:
        alone = read(text, there.kind, leans=there.kind == "angle")
    except (NotationError, ValueError):
        return text
    return text if alone.tolerance or alone.source else f"{text.strip()} {tail}"


_TAIL = re.compile(r"\s*(?:(?:±|\+/-).*|\((?!\s?(?:us|imp)\s?\))[^()]*\)\s*)$", re.IGNORECASE)
"""The tolerance and the source behind a quantity, with the space before them."""


def tail_of(text: str) -> str:
    """The tolerance and source of a quantity as they are written behind it; '' for none."""
    found = _TAIL.search(text)
    return found[0].strip() if found else ""


def bare(text: str) -> str:
    """A quantity as written, without its tolerance and source."""
    return _TAIL.sub("", text)


def _with(table: object, path: Path, value: object) -> object:
    """The tables with another value at a path; what is not on its way is the very same."""
    if not path:
        return value
    out = copy.copy(table)
    out[path[0]] = _with(written_at(table, path[:1]), path[1:], value)  # type: ignore[index]
    return out


def written_at(table: object, path: Path) -> object:
    """What is written at a path of nested tables; LookupError where nothing is."""
    for key in path:
        try:
            table = table[key]  # type: ignore[index]
        except (KeyError, IndexError, TypeError):
            raise LookupError(path_text(path)) from None
    return table
