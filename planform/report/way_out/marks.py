"""Floor marks as tables: wheels, tips, stop board, turning points and chalk line by two tapes."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planform.airframe.outlines import Shape
from planform.airframe.stance import Standing
from planform.core.quantity import Metres
from planform.core.shape.tapes import moved_by
from planform.design.units import INCH
from planform.fit.moves import Move, Pose
from planform.fit.room import Room
from planform.fit.steps import Step
from planform.fit.swept import (
    Mark,
    StopLine,
    at_pose,
    contact_marks,
    end_marks,
    plan_outline,
    simplified_outward,
    stop_line,
    swept_outline,
)
from planform.fit.taping import Pair, Taped, best_wall, tape
from planform.report.table import Quantity, Table, Words

Array = NDArray[np.float64]

CHALK_SLACK = 0.04
"""How coarsely the chalk line is simplified [m]."""
MISREAD = 0.125 * INCH
"""What a tape on a shop floor may be out [m]: 1/8 in. Assumption."""
COLUMNS = (
    "mark",
    "over the floor",
    "a tape from",
    "reads",
    "one from",
    "it reads",
    "crossing",
    "mind",
)
POOR = "tapes cross under 30 deg: check it from a third corner"


@dataclass(frozen=True, eq=False)
class MarkGroup:
    """Marks that belong together: at one pose, or of one line; `heights` in step with `taped`."""

    key: str
    title: str
    taped: tuple[Taped, ...]
    heights: tuple[Metres, ...]
    pose: Pose | None = None
    outside: int = 0
    remarks: tuple[str, ...] = ()


@dataclass(frozen=True, eq=False)
class FloorMarks:
    """All marks of one aircraft on one floor.

    One wall is the base of all of them, as far as it serves.

    spot : the parked pose; chalk : the line to keep clear, a shapely shape in place axes, clipped
    to the floor; stops : where the main wheels are stopped at the spot
    """

    spot: Pose
    groups: tuple[MarkGroup, ...]
    chalk: Shape
    stops: tuple[StopLine, ...]

    def group(self, key: str) -> MarkGroup | None:
        """The group with this key, or None."""
        return next((g for g in self.groups if g.key == key), None)


def comes_in(steps: Sequence[Step], spot: Pose, room: Room) -> str | None:
    """Which way the aircraft comes onto its spot: 'ahead' or 'back'; None where nothing tells.

    From the steps that touch the spot, in either direction; without any, away from the door.
    """
    h = spot.heading
    nose = np.array([math.sin(h), math.cos(h)])
    for step, share in ((steps[0], 0.05), (steps[-1], 0.95)) if steps else ():
        near = step.plain.at(share)
        end = step.start if share < 0.5 else step.end
        if math.dist((end.x, end.y), (spot.x, spot.y)) < 1e-6:
            way = np.array([spot.x - near.x, spot.y - near.y])
            if np.linalg.norm(way) > 1e-6:
                return "ahead" if float(way @ nose) > 0.0 else "back"
    doors = [f.outline.mean(axis=0) for f in room.fixed if f.kind == "door head"]
    if not doors:
        return None
    here = np.array([spot.x, spot.y])
    door = min(doors, key=lambda d: float(np.linalg.norm(d - here)))
    return "ahead" if float((here - door) @ nose) > 0.0 else "back"


def _group(
    room: Room, wall: Pair, key: str, title: str, marks: Sequence[Mark], pose: Pose
) -> MarkGroup:
    points = [(m.name, m.at(pose)) for m in marks]
    taped = tape(room, [(name, p[:2]) for name, p in points], wall)
    height = {name: float(p[2]) for name, p in points}
    kept = tuple(height[t.name] for t in taped)
    return MarkGroup(key, title, taped, kept, pose, len(points) - len(taped))


def _line_group(
    room: Room,
    wall: Pair,
    key: str,
    title: str,
    points: Sequence[tuple[str, Array]],
    *remarks: str,
) -> MarkGroup:
    taped = tape(room, points, wall)
    return MarkGroup(
        key, title, taped, (0.0,) * len(taped), None, len(points) - len(taped), remarks
    )


def chalk_points(chalk: Shape) -> list[tuple[str, Array]]:
    """The corners of a chalk line, numbered round from the one nearest the front left corner."""
    import shapely

    out: list[tuple[str, Array]] = []
    for piece in shapely.get_parts(chalk):
        ring = np.array(shapely.Polygon(piece.exterior).normalize().exterior.coords)[:-1]
        ring = np.roll(ring, -int(np.argmin(ring.sum(axis=1))), axis=0)
        out += [(f"C{len(out) + 1 + k}", point) for k, point in enumerate(ring)]
    return out


def floor_marks(
    standing: Standing,
    room: Room,
    spot: Pose,
    steps: Sequence[Step] = (),
    title: str = "parked",
) -> FloorMarks:
    """Every mark of an aircraft parked on a spot, and of its way where steps are given."""
    import shapely

    shape = plan_outline(standing)
    wheels, ends = contact_marks(standing), end_marks(standing)
    tips = tuple(m for m in ends if m.kind == "tip")
    poses = [spot, *(step.end for step in steps)]
    wall = best_wall(room, [m.at(pose)[:2] for pose in poses for m in (*wheels, *tips)])
    groups = [_group(room, wall, "parked", f"Wheels and ends, {title}", (*wheels, *ends), spot)]
    way = comes_in(steps, spot, room)
    sides = {"ahead": ("ahead of",), "back": ("behind",), None: ("ahead of", "behind")}[way]
    stops = tuple(s for s in (stop_line(standing, side) for side in sides) if s is not None)
    for stop in stops:
        left, right = stop.at(spot)
        words = (
            "Stop board, face to the tyres: a timber on edge that stops a tyre, fixed or chocked"
            if stop.on_floor
            else "Edge of the tyres, plumbed down: they stand above the floor"
        )
        side = stop.side.replace(" of", "")
        points = [("left end", left), ("right end", right)]
        name = f"Stop line {stop.side} the {stop.wheels}"
        groups.append(_line_group(room, wall, f"stop {side}", name, points, words + "."))
    for step in steps:
        name = f"Wheels and tips after step {step.number}"
        groups.append(_group(room, wall, f"step {step.number}", name, (*wheels, *tips), step.end))
    pivots = _pivots(wheels, steps)
    if pivots:
        name = "Points to turn about beside the wheels, and lines of slides with a turn"
        groups.append(_line_group(room, wall, "turning points", name, pivots))
    moves = [move for step in steps for move in step.moves]
    chalk = _chalk(shape, moves, spot).intersection(shapely.polygons(room.floor))
    what = "The way to keep clear" if moves else "The floor it covers"
    groups.append(
        _line_group(
            room,
            wall,
            "chalk",
            f"{what}: corners of the chalk line",
            chalk_points(chalk),
            "Straight lines from one corner to the next; all that the aircraft covers on the way "
            "lies inside, whatever its height: what stands lower than a wing may stay.",
        )
    )
    return FloorMarks(spot, tuple(g for g in groups if g.taped), chalk, stops)


def _chalk(shape: Shape, moves: Sequence[Move], spot: Pose) -> Shape:
    covered = swept_outline(shape, moves) if moves else at_pose(shape, spot)
    return simplified_outward(covered, CHALK_SLACK)


def _pivots(wheels: Sequence[Mark], steps: Sequence[Step]) -> list[tuple[str, Array]]:
    """The turning points that are not under a wheel, and the lines of slides with a turn."""
    out = []
    for step in steps:
        if step.plain.centre is None:
            if step.kind == "slide and turn":
                carried = np.array([step.plain.carried])
                for word, pose in (("from", step.start), ("to", step.end)):
                    out.append((f"step {step.number} {word}", pose.place(carried)[0]))
            continue
        centre = np.array(step.plain.centre)
        if min(math.dist(m.at(step.start)[:2], centre) for m in wheels) > 0.03:
            out.append((f"step {step.number} about", centre))
    return out


def tables(marks: FloorMarks, room: Room) -> tuple[Table, ...]:
    """The marks as tables."""
    return tuple(_table(group, room) for group in marks.groups)


def _table(group: MarkGroup, room: Room) -> Table:
    rows = []
    for taped, height in zip(group.taped, group.heights, strict=True):
        rows.append(
            (
                taped.name,
                Quantity(height, "length") if height > 1e-4 else "on it",
                taped.first.name,
                Quantity(taped.from_first, "length"),
                taped.second.name,
                Quantity(taped.from_second, "length"),
                Quantity(taped.crossing, "angle"),
                _mind(taped, room),
            )
        )
    remarks = list(group.remarks)
    if group.outside:
        gone = "One mark lies" if group.outside == 1 else f"{group.outside} marks lie"
        remarks.append(f"{gone} off the floor of the room and cannot be taped.")
    return Table(f"marks {group.key}", group.title, COLUMNS, tuple(rows), tuple(remarks))


def _mind(taped: Taped, room: Room) -> Words | str:
    import shapely

    words = []
    point = shapely.points(taped.point)
    for thing in room.fixed:
        stands = thing.kind == "obstacle" and thing.low <= 0.0
        if stands and shapely.polygons(thing.outline).covers(point):
            words.append(f"lies on the {thing.name}")
    if taped.blocked:
        words.append(f"{taped.blocked} is in the way of a tape")
    if taped.poor:
        words.append(POOR)
    return "; ".join(words)


def baselines(marks: FloorMarks) -> Table:
    """The corners used and what a tape between them must read: to be checked first."""
    seen: dict[tuple[str, str], tuple[Taped, int]] = {}
    for group in marks.groups:
        for taped in group.taped:
            key = (taped.first.name, taped.second.name)
            first, count = seen.get(key, (taped, 0))
            worse = taped if taped.crossing < first.crossing else first
            seen[key] = worse, count + 1
    rows = [
        (
            a,
            b,
            Quantity(math.dist(worst.first.point, worst.second.point), "length"),
            str(count),
            Quantity(moved_by(worst.crossing, MISREAD), "fine"),
        )
        for (a, b), (worst, count) in seen.items()
    ]
    return Table(
        "marks corners",
        "The corners the tapes start from",
        ("corner", "and corner", "tape between them reads", "marks", "a misreading moves"),
        tuple(rows),
        (
            "Measure between the corners first. If it does not read so, the room is not as it was "
            "written down: mend the place file and print again.",
            "Every mark lies inside the room, seen from the wall of its two corners. Tapes lie "
            "level, on the floor. The last column is the farthest that any of the marks would be "
            "out with both tapes misread by what a tape is commonly read to.",
        ),
    )
