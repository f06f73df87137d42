"""The file of readings: a table as spreadsheets write it, every mistake told at once."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from pathlib import Path

from planform.airframe.build import Airframe
from planform.airframe.stages import stage_meant
from planform.design.files import Unreadable, text_of
from planform.design.notation import NotationError, read
from planform.design.problems import InputError, Problem, unknown
from planform.rigging.instruments_assumed import assumed_tolerance
from planform.rigging.points import find_point, named_points, unknown_point
from planform.rigging.reading_checks import (
    YES,
    beyond,
    gathered,
    needless,
    too_loose,
    unseen,
)
from planform.rigging.reading_table import (
    BARE,
    COLUMNS,
    ERRORS,
    SAME,
    ShopTable,
    rows_of_table,
)
from planform.rigging.readings import (
    ANGLES,
    FROM_TO,
    ON_A_LINE,
    SORTS,
    ReadingList,
    ShopReading,
)


def read_readings(path: Path, airframe: Airframe) -> ReadingList:
    """The readings of a file, their points found on a drawn airframe.

    Raises InputError with every mistake of the file.
    """
    try:
        text = text_of(path)
    except Unreadable as error:
        raise InputError(str(path), [Problem("", error.given, error.allowed)]) from None
    return readings_in(text, str(path), airframe)


def readings_in(text: str, source: str, airframe: Airframe) -> ReadingList:
    """As `read_readings`, of a text."""
    sheet = ShopTable(source, airframe, named_points(airframe))
    rows = list(rows_of_table(text, sheet))
    if not rows:
        sheet.problems.append(Problem("", "", _empty()))
        raise InputError(source, gathered(sheet.problems))
    (_, head), *body = rows
    names, listed = _columns(head, sheet)
    if listed:
        body = rows if not names else body
        names = names or ["point", "x", "y", "z"]
    if sheet.problems:
        raise InputError(source, gathered(sheet.problems))
    if not body:
        raise InputError(source, [Problem("", "", _empty())])
    found = [_reading(dict(zip(names, cells, strict=False)), row, sheet, listed)
             for row, cells in body if _fits(names, cells, row, sheet)]  # fmt: skip
    readings = tuple(one for one in found if one is not None)
    _repeated(readings, sheet)
    if sheet.problems:
        raise InputError(source, gathered(sheet.problems))
    free = listed and "units" not in sheet.settings
    taken = [
        f"{words} ({count} reading{'s' if count > 1 else ''})"
        for words, count in sheet.taken.items()
    ]
    if free:
        taken.append("the points have no unit: their scale is found from the named points")
    return ReadingList(source, readings, free, tuple(taken))


def _empty() -> str:
    return (
        "no readings; allowed: a first line that names columns, such as "
        "what,point,to,read,tolerance, and a line for each reading"
    )


def _columns(head: list[str], sheet: ShopTable) -> tuple[list[str], bool]:
    """The names of the columns, and whether the file is a list of points."""
    names = [SAME.get(cell.lower(), cell.lower()) for cell in head]
    if "what" in names:
        for name, count in Counter(n for n in names if n).items():
            if name not in COLUMNS:
                sheet.problems.append(unknown("line 1, columns", name, COLUMNS))
            elif count > 1:
                sheet.problems.append(Problem("line 1, columns", name, "allowed: each column once"))
        return names, False
    if {"point", "x", "y", "z"} <= set(names):
        return names, True
    if len(head) >= 4 and all(BARE.fullmatch(cell) for cell in head[-3:]):
        return [], True
    sheet.problems.append(
        Problem(
            "line 1",
            repr(", ".join(head)[:60]),
            f"allowed: names of columns, {', '.join(COLUMNS)}; or a list of points with name, x, y "
            "and z",
        )
    )
    return names, False


def _fits(names: list[str], cells: list[str], row: int, sheet: ShopTable) -> bool:
    more = [cell for cell in cells[len(names) :] if cell]
    if more:
        hint = "; a decimal comma? write 12.5, or part the cells by semicolons"
        allowed = f"allowed: {len(names)} cells{hint if ',' in ','.join(cells) else ''}"
        sheet.wrong(row, "cells", str(len(cells)), allowed)
        return False
    before = len(sheet.problems)
    for cell in cells:
        if ERRORS.search(cell):
            allowed = "a spreadsheet's error stands here; write what was read"
            sheet.wrong(row, "cells", cell, allowed)
    for column, given, allowed in unseen(cells):
        sheet.wrong(row, column, given, allowed)
    return len(sheet.problems) == before


def _reading(cells: dict[str, str], row: int, sheet: ShopTable, listed: bool) -> ShopReading | None:
    """One row; None where something in it is wrong, which is told."""
    before = len(sheet.problems)
    what = (
        "point"
        if listed
        else SAME.get(cells.get("what", "").lower(), cells.get("what", "").lower())
    )
    if what not in SORTS:
        sheet.problems.append(unknown(f"line {row}, what", cells.get("what", ""), SORTS))
        return None
    for column, given, allowed in needless(cells, what):
        sheet.wrong(row, column, given, allowed)
    named = _names(cells, what, row, sheet)
    value = _value(cells, what, row, sheet, listed)
    instrument = cells.get("instrument") or sheet.settings.get("instrument", "")
    tolerance, assumed = _tolerance(cells, what, row, sheet, value)
    stage, stance = _standing(cells, row, sheet)
    for point in (named[0], named[1], *(named[2] or ())):
        _on_stage(point, stage, row, sheet)
    if len(sheet.problems) > before:
        return None
    if assumed:
        sheet.taken[assumed] = sheet.taken.get(assumed, 0) + 1
    return ShopReading(
        *(what, named[0], named[1], named[2], value, tolerance, assumed, instrument),
        reversed=cells.get("reversed", "").lower() in YES,
        stage=stage,
        stance=stance,
        date=cells.get("date") or sheet.settings.get("date", ""),
        row=row,
        note=cells.get("note", ""),
    )


Names = tuple[str, str, tuple[str, str] | None]


def _names(cells: dict[str, str], what: str, row: int, sheet: ShopTable) -> Names:
    """The points of a reading, by their real names."""
    side = cells.get("side", "").lower()
    if side not in ("", "left", "right"):
        sheet.wrong(row, "side", side, "allowed: left or right, or nothing")
    point = _named(cells.get("point", ""), side, row, "point", sheet)
    to = ""
    if what in FROM_TO:
        to = _named(cells.get("to", ""), side, row, "to", sheet)
        if to and to == point:
            sheet.wrong(row, "to", to, "allowed: another point than the first")
    line = None
    if what in ON_A_LINE:
        ends = [end.strip() for end in cells.get("line", "").split(">")]
        if len(ends) != 2:
            allowed = "allowed: two points, such as nose tip > spinner tip"
            sheet.wrong(row, "line", cells.get("line", ""), allowed)
        else:
            line = (
                _named(ends[0], "", row, "line", sheet),
                _named(ends[1], "", row, "line", sheet),
            )
            if all(line) and len({point, *line}) < 3:
                allowed = "allowed: two points, and a third one read off their line"
                sheet.wrong(row, "line", cells.get("line", ""), allowed)
    return point, to, line


def _named(given: str, side: str, row: int, column: str, sheet: ShopTable) -> str:
    if not given:
        sheet.wrong(row, column, "", "allowed: the name of a point, such as nose tip")
        return ""
    found = find_point(sheet.points, f"{side} {given}") if side else None
    found = found or find_point(sheet.points, given)
    if found is None:
        wanted = f"{side} {given}".strip()
        sheet.problems.append(unknown_point(sheet.points, wanted, f"line {row}, {column}"))
        return ""
    return found.name


def _value(
    cells: dict[str, str], what: str, row: int, sheet: ShopTable, listed: bool
) -> tuple[float, ...]:
    """What was read, in SI; points of a list without a unit as they stand."""
    names = ("x", "y", "z") if what == "point" else ("read",)
    out = []
    for name in names:
        given = cells.get(name, "")
        if not given:
            sheet.wrong(row, name, "", "nothing was read here; allowed: what was read")
            continue
        if listed and "units" not in sheet.settings and BARE.fullmatch(given) and "/" not in given:
            out.append(float(given))
            continue
        got = _quantity(given, what, row, name, sheet)
        if got is not None:
            out.append(got[0])
    if len(out) < len(names):
        return (0.0,) * len(names)
    allowed = beyond(what, out, scaled=not listed or "units" in sheet.settings)
    if allowed:
        sheet.wrong(row, names[0], cells.get(names[0], ""), allowed)
    return tuple(out)


def _quantity(
    given: str, what: str, row: int, column: str, sheet: ShopTable
) -> tuple[float, float] | None:
    """A quantity and its tolerance in SI; None where it cannot be read, which is told."""
    kind = "angle" if what in ANGLES else "length"
    text = given
    unit = "deg" if kind == "angle" else sheet.settings.get("units", "")
    if unit and BARE.fullmatch(given):
        text = f"{given} {unit}"
    try:
        got = read(text, kind)
    except NotationError as error:
        more = "; or say # units: mm above the table" if BARE.fullmatch(given) else ""
        sheet.wrong(row, column, given, error.allowed + more)
        return None
    return float(got), got.tolerance


def _tolerance(
    cells: dict[str, str], what: str, row: int, sheet: ShopTable, value: tuple[float, ...]
) -> tuple[float, str]:
    """How far a reading may be off, and where that is assumed."""
    given = cells.get("tolerance") or sheet.settings.get("tolerance", "")
    if given:
        plain = re.sub(r"^(±|\+/-|\+-|\+)\s*", "", given)
        got = _quantity(plain, what, row, "tolerance", sheet)
        allowed = too_loose(what, got[0]) if got is not None else ""
        if allowed:
            sheet.wrong(row, "tolerance", given, allowed)
        return (got[0], "") if got is not None else (1.0, "")
    own = cells.get("read", "")
    if "±" in own:
        got = _quantity(own, what, row, "read", sheet)
        if got is not None and got[1] > 0.0:
            return got[1], ""
    instrument = cells.get("instrument") or sheet.settings.get("instrument", "")
    return assumed_tolerance(what, instrument, value)


def _standing(cells: dict[str, str], row: int, sheet: ShopTable) -> tuple[str, str]:
    """The stage and stance at which it was read."""
    stage = cells.get("stage") or sheet.settings.get("stage", "")
    stance = cells.get("stance") or sheet.settings.get("stance", "")
    if stage not in sheet.stages:
        try:
            met, _ = stage_meant(sheet.airframe, stage or None)
            sheet.stages[stage] = (met.name, met.stance)
        except InputError as error:
            sheet.stages[stage] = error
    found = sheet.stages[stage]
    if isinstance(found, InputError):
        for problem in found.problems:
            sheet.wrong(row, "stage", stage, problem.allowed)
        return stage, stance
    if stance and stance not in sheet.airframe.design.stances:
        sheet.problems.append(unknown(f"line {row}, stance", stance, sheet.airframe.design.stances))
    return found[0], stance or found[1]


def _on_stage(point: str, stage: str, row: int, sheet: ShopTable) -> None:
    """A point whose part is not on the aircraft at the stage is told."""
    found = next((one for one in sheet.airframe.design.stages if one.name == stage), None)
    if not point or found is None:
        return
    if stage not in sheet.on:
        sheet.on[stage] = {one.name for one in named_points(sheet.airframe, found)}
    if point not in sheet.on[stage]:
        allowed = f"its part is not on at the stage “{stage}”; name the stage at which it was read"
        sheet.wrong(row, "point", point, allowed)


def _repeated(readings: Sequence[ShopReading], sheet: ShopTable) -> None:
    """The very same line twice is told; a reading taken again has a date or a note of its own."""
    seen: dict[tuple[object, ...], int] = {}
    for one in readings:
        key = (one.sort, one.point, one.to, one.line, one.value, one.reversed, one.instrument,
               one.stage, one.stance, one.date, one.note)  # fmt: skip
        if key in seen:
            allowed = (
                f"the same as line {seen[key]}; allowed: a reading taken again, with a note or "
                "date of its own"
            )
            sheet.wrong(one.row, "reading", "", allowed)
        seen.setdefault(key, one.row)
