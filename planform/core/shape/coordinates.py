"""Sections as two columns of numbers: read, checked and put in one order.

Allowed: one run from the trailing edge round the leading edge and back (over the top first or
below first), or two runs from the leading edge to the trailing edge, in chords or in percent. Lines
before the first two numbers are a heading. Common practice for such files, no source.
"""

from __future__ import annotations

import itertools
import math
import re

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

LEAST_POINTS = 12
"""Fewer points say nothing of a leading edge; assumption."""
MOST_POINTS = 1000
"""Assumption."""
OFF_SCALE = 0.02
"""How far the ends of the x column may be off 0 and 1 chord; assumption."""
BLUNT = 0.02
"""How far ahead of the greatest x a run may begin or end, in chords; assumption."""
THIN, THICK = 0.005, 0.5
"""Least and greatest thickness, in chords; assumption."""
SHUT = 1e-5
"""A trailing edge less open than this counts as closed, in chords; assumption."""


class BadCoordinates(ValueError):
    """What is wrong with the coordinates: the line (0 where it is none), what stands there."""

    def __init__(self, line: int, given: str, allowed: str) -> None:
        super().__init__(allowed)
        self.line, self.given, self.allowed = line, given, allowed


Rows = list[tuple[int, float, float]]


def contour(text: str) -> Array:
    """The points of a section, shape (n, 2), in chords from the leading edge.

    They run from the trailing edge over the top to the leading edge and back below; x is 0 at the
    foremost point and 1 at the trailing edge, y as written over the same chord. Raises
    BadCoordinates.
    """
    rows, breaks = _rows(text)
    if len(rows) > MOST_POINTS:
        allowed = f"allowed: at most {MOST_POINTS} points; is this the right file?"
        raise BadCoordinates(0, f"{len(rows)} points", allowed)
    if len(rows) < LEAST_POINTS:
        allowed = f"allowed: at least {LEAST_POINTS} points, two numbers a line"
        raise BadCoordinates(0, f"{len(rows)} points", allowed)
    rows = _scaled(rows)
    rows = _one_run(rows, breaks)
    _no_repeats(rows)
    rows = _over_the_top_first(rows)
    _no_turns(rows)
    points = np.array([[x, y] for _, x, y in rows])
    foremost = points[:, 0].min()
    points = (points - [foremost, 0.0]) / (0.5 * (points[0, 0] + points[-1, 0]) - foremost)
    if np.linalg.norm(points[0] - points[-1]) <= SHUT:
        points[0] = points[-1] = 0.5 * (points[0] + points[-1])
    _not_crossed(rows, points)
    return np.asarray(points)


def _rows(text: str) -> tuple[Rows, list[int]]:
    """The points with their lines, and before which of them an empty line stands."""
    rows: Rows = []
    breaks: list[int] = []
    for k, line in enumerate(text.splitlines(), start=1):
        bare = line.split("#")[0].strip()
        if not bare:
            breaks += [len(rows)] if rows else []
            continue
        two = _two_numbers(bare)
        if two is None:
            if rows:
                shown = bare if len(bare) <= 40 else f"{bare[:37]}..."
                allowed = "allowed: two numbers a line, x and y, such as 0.25 0.0594"
                raise BadCoordinates(k, repr(shown), allowed)
            continue
        rows.append((k, *two))
    if rows and _counts(rows):
        breaks = [int(rows[0][1])]
        rows = rows[1:]
    return rows, breaks


def _two_numbers(line: str) -> tuple[float, float] | None:
    parts = [part for part in re.split(r"[\s,;]+", line) if part]
    try:
        x, y = (float(part) for part in parts)
    except ValueError:
        return None
    return (x, y) if math.isfinite(x) and math.isfinite(y) else None


def _counts(rows: Rows) -> bool:
    """Whether the first line says how many points each of two runs has."""
    _, one, two = rows[0]
    whole = one == int(one) and two == int(two) and min(one, two) >= 2.0
    return whole and int(one + two) == len(rows) - 1


def _scaled(rows: Rows) -> Rows:
    """The points in chords."""
    low, high = min(x for _, x, _ in rows), max(x for _, x, _ in rows)
    for scale in (1.0, 100.0):
        if max(abs(low), abs(high - scale)) <= OFF_SCALE * scale:
            return [(k, x / scale, y / scale) for k, x, y in rows]
    allowed = (
        "allowed: x from 0 at the leading edge to 1 at the trailing edge, or to 100 in percent; "
        "divide both columns by the chord"
    )
    raise BadCoordinates(0, f"x from {low:g} to {high:g}", allowed)


def _one_run(rows: Rows, breaks: list[int]) -> Rows:
    """One run from trailing edge to trailing edge."""
    most = max(x for _, x, _ in rows)
    least = min(x for _, x, _ in rows)
    if rows[0][1] - least <= BLUNT and most - rows[-1][1] <= BLUNT:
        drops = [k for k in range(1, len(rows)) if rows[k - 1][1] - rows[k][1] > 0.5]
        found = [k for k in drops if k in breaks or not breaks]
        if len(found) == 1:
            one, two = rows[: found[0]], rows[found[0] :]
            same = one[0][1:] == two[0][1:]
            return one[::-1] + (two[1:] if same else two)
        line = rows[drops[-1]][0] if drops else rows[0][0]
        allowed = (
            "allowed: from the trailing edge round the leading edge and back, or two runs from "
            "the leading edge to the trailing edge"
        )
        given = f"{len(drops) + 1} run{'s' if drops else ''} from the leading edge"
        raise BadCoordinates(line, given, allowed)
    for end, word in ((rows[0], "begins"), (rows[-1], "ends")):
        if most - end[1] > BLUNT:
            allowed = (
                f"allowed: a run that begins and ends at the trailing edge; this one {word} "
                f"{100.0 * (most - end[1]):.0f} % of the chord ahead of it"
            )
            raise BadCoordinates(end[0], f"x {end[1]:g}", allowed)
    return rows


def _no_repeats(rows: Rows) -> None:
    for (before, *one), (line, *two) in itertools.pairwise(rows):
        if one == two:
            allowed = f"the same point as line {min(before, line)}; allowed: each point once"
            raise BadCoordinates(max(before, line), f"{two[0]:g} {two[1]:g}", allowed)


def _over_the_top_first(rows: Rows) -> Rows:
    x = np.array([row[1] for row in rows])
    y = np.array([row[2] for row in rows])
    return rows if float((x * np.roll(y, -1) - np.roll(x, -1) * y).sum()) > 0.0 else rows[::-1]


def _no_turns(rows: Rows) -> None:
    """Refuses a run that goes back before it is at the leading edge, or on its way aft."""
    nose = min(range(len(rows)), key=lambda k: rows[k][1])
    for k in range(1, len(rows)):
        step = rows[k][1] - rows[k - 1][1]
        here = rows[k][1] - rows[nose][1]
        flat = step == 0.0 and (here <= BLUNT or here >= 1.0 - 2.0 * BLUNT)
        back = step >= 0.0 if k <= nose else step <= 0.0
        if back and not flat:
            way = "toward the leading edge" if k <= nose else "toward the trailing edge"
            allowed = f"x turns back; allowed: x that goes on {way} from point to point"
            raise BadCoordinates(rows[k][0], f"x {rows[k][1]:g}", allowed)


def _not_crossed(rows: Rows, points: Array) -> None:
    nose = int(points[:, 0].argmin())
    over, under = points[: nose + 1][::-1], points[nose:]
    x = np.unique(points[:, 0])
    x = x[(x > 1e-3) & (x < min(over[-1, 0], under[-1, 0]) - 1e-9)]
    thick = np.interp(x, *over.T) - np.interp(x, *under.T)
    if len(x) and thick.min() <= 0.0:
        at = float(x[thick.argmin()])
        k = int(np.abs(points[:, 0] - at).argmin())
        allowed = "the upper and the lower side cross or touch; allowed: an upper side above it"
        raise BadCoordinates(rows[k][0], f"x {at:.4g} of the chord", allowed)
    most = float(thick.max()) if len(x) else 0.0
    if not THIN <= most <= THICK:
        allowed = (
            f"allowed: {100.0 * THIN:g} to {100.0 * THICK:g} % of the chord; "
            "are x and y on one scale?"
        )
        raise BadCoordinates(0, f"a thickness of {100.0 * most:.3g} %", allowed)
