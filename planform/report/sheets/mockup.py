"""A mock-up of sticks: the outline of parts at an opening, its lengths, and what to buy and cut."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np

from planform.airframe.part import Part
from planform.airframe.presence import covers
from planform.airframe.stance import Standing
from planform.core.shape.enclosing import few_corners
from planform.core.stock import CutPlan, cut_plan
from planform.design.problems import InputError, Problem, unknown
from planform.design.told import said
from planform.drawing.paper.marks import Array
from planform.report.sheets.aircraft_views import ABOVE, AHEAD, FROM_LEFT
from planform.report.sheets.templates.stretches import quantity, refused

VIEWS = {"ahead": AHEAD, "above": ABOVE, "side": FROM_LEFT}
"""The views that an outline may be taken in: the picture's right and up in floor axes."""
FEW, MANY = 3, 16
CORNERS = 6
"""Corners of the outline where nothing is said; assumption."""
KERFS = {"ft-in": "1/8 in", "in": "1/8 in", "mm": "3 mm", "m": "3 mm"}
STOCKS = {"ft-in": "8 ft, 10 ft", "in": "8 ft, 10 ft", "mm": "2.4 m, 3 m", "m": "2.4 m, 3 m"}
"""A saw's kerf and sticks commonly sold, where nothing is said (common practice, no source)."""
SHORTEST = 0.05
LONGEST = 20.0
"""Stock may be so long [m]."""
MOST_STICKS = 200


@dataclass(frozen=True)
class MockupAsked:
    """What the options say, as given."""

    parts: tuple[str, ...] = ()
    view: str = "ahead"
    corners: int | None = None
    stock: str | None = None
    kerf: str | None = None


@dataclass(frozen=True)
class StickPiece:
    """One piece of lumber: its mark, its length along its outer edge [m], the cut at each end.

    cuts : off square [rad]; a butted end is square
    """

    mark: str
    length: float
    cuts: tuple[float, float]


@dataclass(frozen=True, eq=False)
class Mockup:
    """The outline as it is built of sticks.

    ring : (n, 2), counter-clockwise in the view [m]: what the frame's outer edges run along
    hulls : of each part in the view, shape (k, 2) each [m]
    """

    title: str
    view: str
    ring: Array
    hulls: tuple[Array, ...]
    stock: tuple[float, ...]
    kerf: float

    @cached_property
    def lengths(self) -> Array:
        """Of each side, from its corner on, shape (n,) [m]."""
        sides = np.roll(self.ring, -1, axis=0) - self.ring
        return np.asarray(np.linalg.norm(sides, axis=1))

    @cached_property
    def angles(self) -> Array:
        """Inside each corner, shape (n,) [rad]."""
        back, on = np.roll(self.ring, 1, axis=0) - self.ring, np.roll(self.ring, -1, axis=0)
        on = on - self.ring
        cross = on[:, 0] * back[:, 1] - on[:, 1] * back[:, 0]
        return np.asarray(np.arctan2(cross, (on * back).sum(axis=1)))

    @cached_property
    def pieces(self) -> tuple[StickPiece, ...]:
        """Every piece; a side longer than the longest stick is of several, butted."""
        out = []
        for k, length in enumerate(self.lengths):
            count = int(np.ceil(length / max(self.stock) - 1e-9))
            square = 0.5 * np.pi
            ends = [square - 0.5 * self.angles[k], *[0.0] * (count - 1),
                    square - 0.5 * self.angles[(k + 1) % len(self.angles)]]  # fmt: skip
            mark = side_mark(k)
            for j, cuts in enumerate(pairwise(ends)):
                own = f"{mark}{j + 1}" if count > 1 else mark
                out.append(StickPiece(own, float(length) / count, (float(cuts[0]), float(cuts[1]))))
        return tuple(out)

    @cached_property
    def plan(self) -> CutPlan:
        """What to buy and how to cut it."""
        return cut_plan([one.length for one in self.pieces], self.stock, self.kerf)


ROUND = 32
"""Corners round a circle that holds how far a curve may stand outside its facets."""


def side_mark(k: int) -> str:
    """The letter of a side."""
    return chr(ord("A") + k)


def mockup(standing: Standing, asked: MockupAsked, system: str) -> Mockup:
    """The mock-up of parts as they stand.

    Raises InputError for what is not there or cannot be built so.
    """
    if asked.view not in VIEWS:
        raise refused("--view", asked.view, f"allowed: {', '.join(VIEWS)}")
    count = CORNERS if asked.corners is None else asked.corners
    if not FEW <= count <= MANY:
        raise refused("--corners", str(asked.corners), f"allowed: {FEW} to {MANY}")
    stock, kerf = _stock(asked, system)
    parts = _parts(standing, asked.parts)
    frame = VIEWS[asked.view][:2]
    flats = [part.points @ frame.T for part in parts]
    true = [_grown(_hull(flat), part.bulge) for flat, part in zip(flats, parts, strict=True)]
    ring = _outline(true, count, str(asked.corners))
    named = " and ".join(asked.parts) if asked.parts else "the whole aircraft"
    found = Mockup(
        f"{named} from {'the side' if asked.view == 'side' else asked.view}; {standing.title}",
        asked.view,
        ring,
        tuple(_hull(flat) for flat in flats),
        stock,
        kerf,
    )
    if found.lengths.sum() / max(stock) > MOST_STICKS:
        allowed = f"allowed: longer sticks; these would be more than {MOST_STICKS}"
        raise refused("--stock", asked.stock, allowed)
    return found


def _parts(standing: Standing, names: Sequence[str]) -> list[Part]:
    """The parts meant, which are on the aircraft as it stands; all where none is named."""
    if not names:
        return list(standing.parts)
    out, problems = [], []
    for name in names:
        found = [part for part in standing.parts if covers(name, part)]
        if not found:
            known = {n for part in standing.parts for n in (part.name, part.group)}
            problems.append(unknown("--part", name, sorted(known)))
        out += found
    if problems:
        raise InputError("option", problems)
    return out


def _stock(asked: MockupAsked, system: str) -> tuple[tuple[float, ...], float]:
    """Lengths that can be bought, and the kerf [m]."""
    problems = []
    text = asked.stock or STOCKS[system]
    lengths = [quantity("--stock", one.strip()) for one in text.split(",")]
    if not all(SHORTEST <= one <= LONGEST for one in lengths):
        ends = f"{said(SHORTEST, 'length', system)} to {said(LONGEST, 'length', system)}"
        problems.append(Problem("--stock", repr(text), f"allowed: lengths from {ends}"))
    kerf = quantity("--kerf", asked.kerf or KERFS[system])
    if not 0.0 <= kerf < SHORTEST:
        most = said(SHORTEST, "length", system)
        problems.append(Problem("--kerf", repr(asked.kerf), f"allowed: 0 to less than {most}"))
    if problems:
        raise InputError("option", problems)
    return tuple(sorted(set(lengths))), kerf


def _hull(flat: Array) -> Array:
    """The convex outline of points in a plane, counter-clockwise, shape (n, 2)."""
    import shapely

    hull = shapely.MultiPoint(flat).convex_hull
    return np.array(shapely.geometry.polygon.orient(hull).exterior.coords)[:-1]


def _grown(ring: Array, bulge: float) -> Array:
    """Points round those of a convex outline that hold all within so much of it, shape (n, 2)."""
    if bulge <= 0.0:
        return ring
    turns = np.arange(ROUND) * 2.0 * np.pi / ROUND
    off = bulge / np.cos(np.pi / ROUND) * np.column_stack([np.cos(turns), np.sin(turns)])
    return np.asarray((ring[:, None] + off[None]).reshape(-1, 2))


def _outline(flats: Sequence[Array], count: int, given: str) -> Array:
    """The outline of few corners that holds all these points."""
    ring = _hull(np.concatenate(flats))
    try:
        return few_corners(ring, count)
    except ValueError as error:
        raise refused("--corners", given, f"{error}; allowed: more corners") from None
