"""The table that readings stand in: lines, cells, and what is said above it."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from planform.airframe.build import Airframe
from planform.design.problems import InputError, Problem
from planform.rigging.points import NamedPoint
from planform.rigging.reading_checks import commas_are_points, near_setting, with_points

COLUMNS = (
    *("what", "point", "to", "line", "read", "x", "y", "z", "tolerance", "instrument"),
    *("reversed", "side", "stage", "stance", "date", "note"),
)
SETTINGS = ("units", "stage", "stance", "date", "instrument", "tolerance")
"""What a line such as `# units: mm` says for all rows that do not say it themselves."""
UNITS = ("in", "ft", "mm", "cm", "m")
SAME = {
    "diagonal": "distance",
    "tape": "distance",
    "plumb distance": "floor distance",
    "water level": "height difference",
    "name": "point",
    "target": "point",
    "from": "point",
    "value": "read",
    "reading": "read",
}
"""Other words for what may be read, and for columns."""
ERRORS = re.compile(r"#(?:REF!|VALUE!|N/A|NAME\?|DIV/0!|NUM!|NULL!)", re.IGNORECASE)
BARE = re.compile(r"[+-]?[0-9.]+(?:[eE][+-]?[0-9]+)?|[+-]?(?:[0-9]+[ -])?[0-9]+/[0-9]+")
MOST_ROWS = 20_000


@dataclass
class ShopTable:
    """A table being read: what is wrong, what was taken as something, what was looked up."""

    source: str
    airframe: Airframe
    points: Sequence[NamedPoint]
    settings: dict[str, str] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    taken: dict[str, int] = field(default_factory=dict)
    stages: dict[str, tuple[str, str] | InputError] = field(default_factory=dict)
    on: dict[str, set[str]] = field(default_factory=dict)

    def wrong(self, row: int, column: str, given: str, allowed: str) -> None:
        """Keep a problem of a line and column."""
        self.problems.append(
            Problem(f"line {row}, {column}", repr(given) if given else "", allowed)
        )


def rows_of_table(text: str, sheet: ShopTable) -> Iterator[tuple[int, list[str]]]:
    """Lines with something on them, in cells; settings are taken out."""
    lines = text.removeprefix("\ufeff").splitlines()
    mark = _mark(lines)
    out: list[tuple[int, list[str]]] = []
    for number, line in enumerate(lines, 1):
        plain = line.strip().strip(",;\t ")
        if not plain:
            continue
        if plain.startswith("#") and not ERRORS.match(plain):
            _setting(plain.lstrip("# "), number, sheet)
            continue
        if len(out) >= MOST_ROWS:
            sheet.problems.append(Problem("", "", f"more than {MOST_ROWS} lines; is it a scan?"))
            break
        try:
            cells = _cells(line, mark)
        except csv.Error:
            sheet.wrong(number, "cells", line[:40] + "…", "allowed: a quotation mark at both ends")
            continue
        out.append((number, [" ".join(cell.split()) for cell in cells]))
    if not commas_are_points([cells for _, cells in out], mark):
        yield from out
        return
    sheet.taken["commas in numbers are decimal commas"] = len(out) - 1
    for number, cells in out:
        yield number, [with_points(cell) for cell in cells]


def _cells(line: str, mark: str) -> list[str]:
    """A line in cells; of blanks, a name of several words before three numbers is one."""
    if mark != " ":
        return next(csv.reader(io.StringIO(line), delimiter=mark, strict=True))
    cells = line.split()
    if len(cells) > 4 and all(BARE.fullmatch(with_points(cell)) for cell in cells[-3:]):
        return [" ".join(cells[:-3]).strip('"'), *cells[-3:]]
    return cells


ROW_OF_POINT = re.compile(r"[^\s,;](?:\s+[+-]?[0-9]+(?:\.[0-9]*)?(?:[eE][+-]?[0-9]+)?){3}\s*$")
"""A name that may have commas, and three numbers with nothing but blanks between."""


def _mark(lines: Sequence[str]) -> str:
    """What parts the cells: that of which the first line has most."""
    first = next((x for x in lines if x.strip(" ,;\t") and not x.lstrip().startswith("#")), "")
    if ROW_OF_POINT.search(first) and ";" not in first and "\t" not in first:
        return " "
    counts = {mark: first.count(mark) for mark in ("\t", ";", ",")}
    best = max(counts, key=lambda mark: counts[mark])
    return best if counts[best] else " "


def _setting(line: str, row: int, sheet: ShopTable) -> None:
    name, colon, value = line.partition(":")
    name = name.strip().lower()
    if not colon:
        return
    if name not in SETTINGS:
        near = near_setting(name, SETTINGS)
        if near:
            sheet.wrong(row, "setting", name, f"did you mean {near!r}?")
        return
    value = value.strip()
    if name == "units" and value not in UNITS:
        sheet.wrong(row, "units", value, f"allowed: {', '.join(UNITS)}")
        return
    sheet.settings[name] = value
