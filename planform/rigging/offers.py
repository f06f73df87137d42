"""Readings that could be taken next: between the named points that a builder can reach."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import combinations

import numpy as np

from planform.airframe.build import Airframe
from planform.airframe.stages import stand
from planform.rigging.instruments_assumed import assumed_tolerance
from planform.rigging.points import NamedPoint, buried, named_points
from planform.rigging.readings import ReadingList, ShopReading

REACHED = ("root", "tip", "outer", "end", "axle")
"""Sorts of points that are offered."""

FRAMES = ("bulkhead", "firewall")
"""Roles of parts whose corners are offered too."""

SHORTEST, LONGEST = 0.3, 9.1
"""Lengths between which a tape is offered [m]: 1 and 30 ft."""

MOST = 24
"""Points between which tapes are offered."""

OFFERED = "offered"
"""The instrument of a reading that nobody has taken."""


def offers(airframe: Airframe, given: ReadingList) -> tuple[ShopReading, ...]:
    """Readings that could be taken on the stage and stance of most of those that were.

    Their values are none; their tolerances are those assumed of their instruments.
    """
    usual = Counter((one.stage, one.stance) for one in given.readings).most_common(1)
    if not usual:
        return ()
    stage, stance = usual[0][0]
    known = {name for one in given.readings for name in _names(one)}
    every = named_points(airframe, stand(airframe, stage, stance).stage)
    hidden = buried(airframe, every)
    points = [
        p for p in every if p.name in known or (_reached(airframe, p) and p.name not in hidden)
    ]
    level = next((r.instrument for r in given.readings if r.sort.startswith("level")), "")
    out = []
    for sort, first, second, line in _asked(points, given):
        value = float(np.linalg.norm(first.at - second.at)) if second is not None else 0.0
        instrument = level if sort.startswith("level") else OFFERED
        tolerance, words = assumed_tolerance(sort, "", (value,))
        to = second.name if second is not None else ""
        out.append(
            ShopReading(
                sort, first.name, to, line, (0.0,), tolerance, words, instrument, False, stage,
                stance, "", 0,
            )
        )  # fmt: skip
    return tuple(out)


def _names(one: ShopReading) -> Iterator[str]:
    yield from (name for name in (one.point, one.to, *(one.line or ())) if name)


def _reached(airframe: Airframe, point: NamedPoint) -> bool:
    part = airframe.by_name.get(point.part)
    framed = part is not None and part.role in FRAMES
    return point.sort in REACHED or (framed and point.sort == "corner")


Asked = tuple[str, NamedPoint, NamedPoint | None, tuple[str, str] | None]
"""Sort, point, its second end, and the line that it is plumbed to."""


def _asked(points: Sequence[NamedPoint], given: ReadingList) -> Iterator[Asked]:
    by_name = {point.name: point for point in points}
    line = _line(points, given)
    for point in points:
        yield "height", point, None, None
        if line is not None and point.name not in line:
            yield "station", point, None, line
            yield "offset", point, None, line
        back = by_name.get(point.name.replace("leading edge", "trailing edge"))
        if back is not None and back is not point:
            yield "level along", point, back, None
        other = by_name.get(point.mirrored_name)
        if point.side == "left" and other is not None:
            yield "height difference", point, other, None
            yield "level across", point, other, None
    for first, second in combinations(_ends(points), 2):
        if SHORTEST <= float(np.linalg.norm(first.at - second.at)) <= LONGEST:
            yield "distance", first, second, None


def _line(points: Sequence[NamedPoint], given: ReadingList) -> tuple[str, str] | None:
    """The line that readings were plumbed to; else from the foremost end to the aftmost."""
    used = Counter(one.line for one in given.readings if one.line is not None).most_common(1)
    if used:
        return used[0][0]
    ends = sorted((p for p in points if p.sort == "end"), key=lambda p: float(p.at[0]))
    return (ends[0].name, ends[-1].name) if len(ends) > 1 else None


def _ends(points: Sequence[NamedPoint]) -> list[NamedPoint]:
    """The points between which tapes are offered: tips and ends before all others."""
    worth = {"tip": 0, "end": 1, "outer": 2, "corner": 3, "root": 4, "axle": 5}
    aft = [p.name.endswith("trailing edge") for p in points]
    rank = sorted(range(len(points)), key=lambda k: (worth.get(points[k].sort, 6), aft[k], k))
    return [points[k] for k in sorted(rank[:MOST])]
