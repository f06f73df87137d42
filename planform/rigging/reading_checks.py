"""What one line of a table of readings may hold: cells it does not take, sizes nothing has."""

from __future__ import annotations

import difflib
import math
import re
from collections.abc import Iterator, Sequence

from planform.design.bounds import MOST, SLIP, TOLERANCE
from planform.design.problems import Problem
from planform.design.texts import hidden, named
from planform.rigging.readings import ANGLES, FROM_TO, ON_A_LINE

Wrong = tuple[str, str, str]
"""A column, what was given, what is allowed."""

YES = ("yes", "y", "true", "1", "x", "reversed")
NO = ("", "no", "n", "false", "0")
LONGEST_CELL = 300
"""Letters of a cell; assumption."""
MOST_OFF = math.radians(10.0)
"""The greatest tolerance of an angle [rad]; assumption. More is no measurement."""
COMMA = re.compile(r"[+-]?\d+,\d+")


def unseen(cells: Sequence[str]) -> Iterator[Wrong]:
    """Cells that are too long, or hold what cannot be seen."""
    for cell in cells:
        if len(cell) > LONGEST_CELL:
            allowed = (
                f"allowed: at most {LONGEST_CELL} letters a cell; is a quotation mark missing?"
            )
            yield "cells", cell[:40] + "…", allowed
            continue
        mark = hidden(cell)
        if mark is not None:
            yield (
                "cells",
                cell,
                f"{named(mark)} cannot be seen; allowed: what can be; write it anew",
            )


def needless(cells: dict[str, str], what: str) -> Iterator[Wrong]:
    """Cells that say something of which this sort of reading has none."""
    takes = {
        "to": what in FROM_TO,
        "line": what in ON_A_LINE,
        "read": what != "point",
        **dict.fromkeys("xyz", what == "point"),
        "reversed": what in ANGLES,
    }
    for column, taken in takes.items():
        given = cells.get(column, "")
        if not given or taken or (column == "reversed" and given.lower() in NO):
            continue
        hint = "; is it a height difference?" if (what, column) == ("height", "to") else ""
        yield column, given, f"allowed: nothing here for “{what}”{hint}"
    if takes["reversed"] and cells.get("reversed", "").lower() not in (*YES, *NO):
        yield "reversed", cells["reversed"], "allowed: yes, no or nothing"


def beyond(what: str, value: Sequence[float], scaled: bool = True) -> str:
    """What is allowed where a reading is of a size that nothing has; empty where it may be.

    value : [m] or [rad] ; scaled : it has a unit
    """
    if any(not math.isfinite(v) or abs(v) > 1e9 for v in value):
        return "allowed: a plain number"
    if not scaled:
        return ""
    if what in ANGLES:
        return "" if abs(value[0]) < 0.5 * math.pi else "allowed: between -90 deg and 90 deg"
    if what == "distance" and not value[0] > 0.0:
        return "allowed: more than zero; a tape has no minus"
    if what == "floor distance" and value[0] < 0.0:
        return "allowed: zero or more; a tape has no minus"
    most = MOST["length"]
    far = what != "point" and abs(value[0]) > most
    return f"allowed: at most {most:g} m; {SLIP}" if far else ""


def too_loose(what: str, tolerance: float) -> str:
    """What is allowed where a tolerance is none; empty where it may be [m] or [rad]."""
    if not tolerance > 0.0:
        return "allowed: more than zero"
    if what in ANGLES:
        return "" if tolerance <= MOST_OFF else "allowed: at most 10 deg; more is no measurement"
    return "" if tolerance <= TOLERANCE else f"allowed: at most {TOLERANCE:g} m; {SLIP}"


def near_setting(name: str, settings: Sequence[str]) -> str:
    """The setting that a word above the table was likely meant for; empty where it is a note."""
    near = difflib.get_close_matches(name, settings, n=1, cutoff=0.75)
    return near[0] if near else ""


def commas_are_points(rows: Sequence[Sequence[str]], mark: str) -> bool:
    """Whether a comma in a number can only be a decimal one.

    The cells are not parted by commas, and some number has other than three digits behind it.
    """
    if mark == ",":
        return False
    found = [one for row in rows for cell in row for one in COMMA.findall(cell)]
    return any(len(one.partition(",")[2]) != 3 for one in found)


def with_points(cell: str) -> str:
    """A cell with its decimal commas as points."""
    return COMMA.sub(lambda one: one[0].replace(",", "."), cell)


ALIKE_TOLD = 3
"""Lines with one mistake that are told each; of more, their numbers. Assumption."""


def gathered(problems: Sequence[Problem]) -> list[Problem]:
    """The problems, of those that are one mistake in many lines the first and the others' lines."""
    groups: dict[tuple[str, str], list[Problem]] = {}
    for one in problems:
        column = one.path.rpartition(", ")[2]
        words = re.sub(r"[0-9]+(?:[ .,/][0-9]+)*", "#", one.allowed.partition("; nearest")[0])
        groups.setdefault((column, words.partition("; did you")[0]), []).append(one)
    out: list[Problem] = []
    for (column, _), alike in groups.items():
        if len(alike) <= ALIKE_TOLD:
            out += alike
            continue
        rows = [one.path.partition(", ")[0].removeprefix("line ") for one in alike[1:]]
        listed = ", ".join(rows[:8]) + (" and more" if len(rows) > 8 else "")
        out += [alike[0], Problem(column, "", f"the same in {len(rows)} more lines: {listed}")]
    return out
