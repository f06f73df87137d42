"""A reading at a joint: what it is as drawn, and how it moves with how the part is set."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from planform.airframe.freedoms import Freedom
from planform.airframe.stance import Standing
from planform.core.vectors import Array
from planform.design.problems import InputError, Problem
from planform.rigging.card import Sort
from planform.rigging.joints import RigJoint, freedoms_of, parts_set
from planform.rigging.points import NamedPoint, named_points

STANDS = ("roll", "pitch", "height")
"""How the aircraft may stand otherwise than meant: right side up, nose up, higher."""
LEAST_BASE = 1.0
"""The two base marks on the floor are at least this far apart [m]; assumption."""
STEP = 1e-5
"""Of a freedom, for how a reading moves with it [rad] or [m]."""


@dataclass(frozen=True, eq=False)
class RigRow:
    """One reading before it has its number.

    points : from which it is read ; added : what a block under a level adds [rad]
    side : of the part that it tells of
    """

    sort: Sort
    words: str
    points: tuple[NamedPoint, ...]
    reference: bool = False
    added: float = 0.0
    side: str = ""

    @property
    def kind(self) -> str:
        """'angle' of a level, else 'length'."""
        return "angle" if self.sort.startswith("level") else "length"

    @property
    def twice(self) -> bool:
        """Whether it is read a second time, the level turned end for end."""
        return self.kind == "angle"


@dataclass(frozen=True, eq=False)
class Setting:
    """A joint on its stage and stance, with all that readings of it are read from.

    points : named, of what is on, in aircraft axes ; base : the points over the two base marks
    freedoms : in what the part may be set otherwise
    """

    joint: RigJoint
    standing: Standing
    points: tuple[NamedPoint, ...]
    base: tuple[NamedPoint, NamedPoint]
    freedoms: tuple[Freedom, ...]
    parts: tuple[str, ...]

    @property
    def carried(self) -> frozenset[str]:
        """All parts that move with a freedom of the joint."""
        return frozenset(name for one in self.freedoms for name in one.parts)

    def value(self, row: RigRow, moved: Callable[[NamedPoint], Array]) -> float:
        """What a reading is where its points are at `moved(point)`, (3,) floor axes."""
        ends = [moved(point) for point in row.points]
        base = [moved(point) for point in self.base]
        return READ[row.sort](ends, base) + row.added

    def at(self, point: NamedPoint) -> Array:
        """Where a point is as drawn, floor axes [m]."""
        return np.asarray(self.standing.to_floor(point.at[None, :])[0])

    def target(self, row: RigRow) -> float:
        """What a reading is when all is as drawn [m] or [rad]."""
        return self.value(row, self.at)

    def columns(self, row: RigRow) -> tuple[float, ...]:
        """How a reading moves for one of each freedom, then of each way of standing."""
        shifts = [self._by_freedom(one) for one in self.freedoms]
        shifts += [self._by_stand(name) for name in STANDS]
        return tuple(
            (self.value(row, move(STEP)) - self.value(row, move(-STEP))) / (2.0 * STEP)
            for move in shifts
        )

    def survey(self, row: RigRow, instrument: str) -> dict[str, str]:
        """Cells of a survey's table; none where it does not know a point of the reading."""
        line = [one.name for one in self.base] if row.sort in ("station", "offset") else []
        names = [one.name for one in row.points]
        on = {one.name for one in named_points(self.standing.airframe, self.standing.stage)}
        if row.added or not on.issuperset([*names, *line]):
            return {}
        return {
            "what": row.sort,
            "point": names[0],
            "to": names[1] if len(names) > 1 else "",
            "line": " > ".join(line),
            "instrument": instrument,
            "stage": self.standing.stage.name,
            "stance": self.standing.stance_name,
        }

    def _by_freedom(self, one: Freedom) -> Callable[[float], Callable[[NamedPoint], Array]]:
        def move(by: float) -> Callable[[NamedPoint], Array]:
            def moved(point: NamedPoint) -> Array:
                at = point.at[None, :]
                if point.part in one.parts:
                    at = one.displaced(at, by)
                return np.asarray(self.standing.to_floor(at)[0])

            return moved

        return move

    def _by_stand(self, name: str) -> Callable[[float], Callable[[NamedPoint], Array]]:
        def move(by: float) -> Callable[[NamedPoint], Array]:
            return lambda point: _stood(self.at(point), name, by)

        return move


def _stood(at: Array, name: str, by: float) -> Array:
    """A point of the aircraft as it then stands, floor axes."""
    x, y, z = (float(v) for v in at)
    c, s = math.cos(by), math.sin(by)
    if name == "roll":
        return np.array([x, c * y - s * z, s * y + c * z])
    if name == "pitch":
        return np.array([c * x + s * z, y, -s * x + c * z])
    return np.array([x, y, z + by])


def _along(ends: Sequence[Array], base: Sequence[Array]) -> tuple[float, float]:
    """Of the mark under a point: aft along the base line, and to its right [m]."""
    line = (base[1] - base[0])[:2]
    line = line / np.linalg.norm(line)
    away = (ends[0] - base[0])[:2]
    return float(away @ line), float(line[0] * away[1] - line[1] * away[0])


def _slope(ends: Sequence[Array], _: Sequence[Array]) -> float:
    """How much higher the first end is, as an angle."""
    rise = ends[0] - ends[1]
    return math.atan2(float(rise[2]), math.hypot(float(rise[0]), float(rise[1])))


READ: dict[str, Callable[[Sequence[Array], Sequence[Array]], float]] = {
    "height": lambda ends, _: float(ends[0][2]),
    "height difference": lambda ends, _: float(ends[0][2] - ends[1][2]),
    "station": lambda ends, base: _along(ends, base)[0],
    "offset": lambda ends, base: _along(ends, base)[1],
    "distance": lambda ends, _: float(np.linalg.norm(ends[0] - ends[1])),
    "level along": _slope,
    "level across": _slope,
}
"""What each sort of reading is of its ends and of the points over the base marks."""


def setting_of(standing: Standing, joint: RigJoint) -> Setting:
    """A joint with what its readings are read from.

    Raises InputError where there are no two points on the centre line to plumb down.
    """
    pads = (p for p in named_points(standing.airframe) if p.sort == "pad" and joint.pads)
    points = {p.name: p for p in (*named_points(standing.airframe, standing.stage), *pads)}
    found = freedoms_of(standing.airframe, joint)
    carried = {name for one in found for name in one.parts}
    still = [p for p in points.values() if p.part not in carried]
    return Setting(
        joint, standing, tuple(points.values()), _base(still, joint.name), found,
        parts_set(standing.airframe, joint),
    )  # fmt: skip


def _base(still: Sequence[NamedPoint], joint: str) -> tuple[NamedPoint, NamedPoint]:
    """The foremost and aftmost point on the centre line, of those that are not set."""
    middle = [p for p in still if abs(float(p.at[1])) < 1e-6]
    ends = [p for p in middle if p.sort == "end"]
    chosen = sorted(ends if len(ends) > 1 else middle, key=lambda p: float(p.at[0]))
    if not chosen or float(chosen[-1].at[0] - chosen[0].at[0]) < LEAST_BASE:
        allowed = (
            "no two named points on the centre line, a metre apart, that stay where they are; name "
            "another --stage, or give the design [points] of its own there"
        )
        raise InputError("joint", [Problem("--joint", repr(joint), allowed)])
    return chosen[0], chosen[-1]
