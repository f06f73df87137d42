"""What is read at a joint: the rows of its card, and how each moves with how the part is set."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from planform.airframe.freedoms import Freedom
from planform.airframe.stance import Standing
from planform.core.vectors import Array
from planform.design.problems import InputError, Problem
from planform.rigging.card import Sort
from planform.rigging.joints import RigJoint, freedoms_of, parts_set
from planform.rigging.points import NamedPoint, named_points

SIDES = ("left", "right")
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


def rows_of(setting: Setting) -> tuple[RigRow, ...]:
    """The readings of a joint in the order they stand on the card: the reference first."""
    rows = list(_references(setting))
    if setting.joint.pads:
        rows += _of_pads(setting)
    kinds = {one.kind for one in setting.freedoms}
    sides = [side for side in ("left", "right", "") if _own(setting, side)]
    if "tilt" in kinds:
        rows += _of_whole(setting)
    elif "cant" in kinds:
        rows += _of_upright(setting, sides)
    elif "dihedral" in kinds:
        rows += _of_panels(setting, sides)
    else:
        rows += _of_placed(setting, sides)
    rows += _blocks(setting)
    return tuple(rows)


def _own(setting: Setting, side: str) -> list[NamedPoint]:
    """The named points of the part on one side, from its root outward."""
    name = f"{side} {setting.joint.part}".strip()
    return [p for p in setting.points if p.part == name and p.part in setting.parts]


def _edge(setting: Setting, side: str, edge: str, *, root: bool = False) -> NamedPoint | None:
    """The end of an edge of the part, outermost where `root` is not wanted."""
    found = [p for p in _own(setting, side) if p.name.endswith(edge) and p.side == side]
    return (found[0] if root else found[-1]) if found else None


def _references(setting: Setting) -> Iterator[RigRow]:
    """What tells how the aircraft stands: across, along, and over the floor."""
    pair = reference_pair(setting)
    ahead, aft = setting.base
    if pair is not None:
        left, right = pair
        words = f"reference: {right.name}, over {left.name}"
        yield RigRow("height difference", words, (right, left), reference=True)
    words = f"reference: {ahead.name} over {aft.name}"
    yield RigRow("height difference", words, (ahead, aft), reference=True)
    low = aft if pair is None else pair[0]
    yield RigRow("height", f"reference: {low.name}", (low,), reference=True)


def reference_pair(setting: Setting) -> tuple[NamedPoint, NamedPoint] | None:
    """The outermost pair of points of the reference that the joint does not move, left first.

    Where none is named: of a spar, else of a surface, else of the hull.
    """
    declared = setting.joint.declared
    named = None if declared is None else declared.reference
    by_name = {p.name: p for p in setting.points}
    pairs = [
        (p, by_name[p.mirrored_name])
        for p in setting.points
        if p.side == "left"
        and p.part not in setting.carried
        and p.mirrored_name in by_name
        and abs(float(p.at[1] + by_name[p.mirrored_name].at[1])) < 1e-6
    ]
    if named is not None:
        mine = (named, f"left {named}")
        pairs = [pair for pair in pairs if pair[0].part in mine]
    for sorts in (("spar end",), ("tip", "outer", "bend", "root"), ("corner", "axle")):
        of_sort = [pair for pair in pairs if pair[0].sort in sorts]
        if of_sort:
            return max(of_sort, key=lambda pair: (abs(round(float(pair[0].at[1]), 2)),
                       round(float(pair[0].at[2]), 3), -float(pair[0].at[0])))  # fmt: skip
    return pairs[0] if pairs else None


def _of_whole(setting: Setting) -> Iterator[RigRow]:
    """A surface in one piece over both sides."""
    left, right = (_edge(setting, side, "leading edge") for side in ("left", "right"))
    if left is None or right is None:
        return
    yield RigRow("height difference", f"{right.name}, over the left one", (right, left))
    for point in (left, right):
        yield RigRow("height", point.name, (point,), side=point.side)
    yield from _levels(setting, ("left", "right"))
    for point in (left, right):
        yield RigRow("station", f"station: {point.name}", (point,), side=point.side)
    for point in (left, right):
        yield RigRow("offset", f"from the base line: {point.name}", (point,), side=point.side)
    yield from _diagonals(setting, ("left", "right"))


def _of_panels(setting: Setting, sides: Sequence[str]) -> Iterator[RigRow]:
    """Panels or wing halves that are set each by itself, or a fin."""
    tips = [_edge(setting, side, "leading edge") for side in sides]
    for tip in tips:
        if tip is not None:
            yield RigRow("height", tip.name, (tip,), side=tip.side)
    yield from _levels(setting, sides)
    for tip in tips:
        if tip is not None:
            yield RigRow("station", f"station: {tip.name}", (tip,), side=tip.side)
    yield from _diagonals(setting, sides)


def _of_upright(setting: Setting, sides: Sequence[str]) -> Iterator[RigRow]:
    """Winglets: by the marks under their tips."""
    for edge, sorts in (("leading edge", ("offset", "station")), ("trailing edge", ("offset",))):
        for sort in sorts:
            for side in sides:
                tip = _edge(setting, side, edge)
                if tip is not None:
                    words = "station" if sort == "station" else "from the base line"
                    chosen: Sort = "station" if sort == "station" else "offset"
                    yield RigRow(chosen, f"{words}: {tip.name}", (tip,), side=side)
    kinds = {one.kind for one in setting.freedoms}
    for side in sides:
        root = _edge(setting, side, "leading edge", root=True)
        if root is not None and "fs" in kinds:
            yield RigRow("station", f"station: {root.name}", (root,), side=side)
    for side in sides:
        tip = _edge(setting, side, "leading edge")
        if tip is not None:
            yield RigRow("height", tip.name, (tip,), side=side)
    yield from _diagonals(setting, sides)


def _of_placed(setting: Setting, sides: Sequence[str]) -> Iterator[RigRow]:
    """Any other part: where its first named point stands."""
    firsts = [_own(setting, side)[0] for side in sides]
    for sort, words in (
        ("height", ""),
        ("station", "station: "),
        ("offset", "from the base line: "),
    ):
        for point in firsts:
            chosen: Sort = READ_AS[sort]
            yield RigRow(chosen, f"{words}{point.name}", (point,), side=point.side)


def _of_pads(setting: Setting) -> Iterator[RigRow]:
    """The pads of a cradle: how high, and where."""
    groups = {pad.replace("_", " ") for pad in setting.joint.pads}
    pads = [
        p
        for p in setting.points
        if p.sort == "pad" and p.name.removeprefix(f"{p.side} ").removesuffix(" pad") in groups
    ]
    for sort, words in (
        ("height", ""),
        ("station", "station: "),
        ("offset", "from the base line: "),
    ):
        for point in pads:
            yield RigRow(READ_AS[sort], f"{words}{point.name}", (point,), side=point.side)


READ_AS: dict[str, Sort] = {"height": "height", "station": "station", "offset": "offset"}


def _levels(setting: Setting, sides: Sequence[str]) -> Iterator[RigRow]:
    """A level along the outermost chord of each side, on a straight edge from edge to edge."""
    for side in sides:
        ends = _edge(setting, side, "leading edge"), _edge(setting, side, "trailing edge")
        if ends[0] is not None and ends[1] is not None:
            where = ends[0].name.removesuffix(", leading edge")
            yield RigRow(
                "level along", f"level along the chord, {where}", (ends[0], ends[1]), side=side
            )


def _diagonals(setting: Setting, sides: Sequence[str]) -> Iterator[RigRow]:
    """Tapes to each tip: from the nose, or where that sees little, from a tip further aft.

    Where there is no such tip, from the aft base mark's point.
    """
    pair = reference_pair(setting)
    lying = pair is not None and pair[0].sort in ("tip", "outer")
    ahead, aft = setting.base
    for side in sides:
        tip = _edge(setting, side, "leading edge")
        if tip is None:
            continue
        start = ahead
        if abs(float(tip.at[0] - ahead.at[0])) < 0.3 * float(aft.at[0] - ahead.at[0]):
            start = aft
            if pair is not None and lying and side in SIDES:
                start = pair[SIDES.index(side)]
        yield RigRow("distance", f"{start.name} to {tip.name}", (start, tip), side=side)


def _blocks(setting: Setting) -> Iterator[RigRow]:
    """Levels on the incidence blocks of the design."""
    from planform.airframe.sections import along_at, section_at
    from planform.airframe.surfaces import spans

    declared = setting.joint.declared
    for block in () if declared is None else declared.blocks:
        for half in setting.standing.airframe.halves:
            for name, first, _ in spans(half):
                side = name.partition(" ")[0] if name != half.group else ""
                if name.removeprefix(f"{side} ") != block.on:
                    continue
                try:
                    along = (
                        along_at(half, float(block.bl))
                        if block.bl is not None
                        else float(half.developed[first]) + float(block.along or 0.0)
                    )
                    section = section_at(half, along)
                except ValueError as error:
                    where = f'joints."{setting.joint.name}".blocks'
                    raise InputError("joint", [Problem(where, block.on, str(error))]) from None
                ends = (section.leading_edge, section.trailing_edge)
                points = tuple(
                    NamedPoint(f"block on {name}", name, at, "block", side) for at in ends
                )
                yield RigRow("level along", f"level on the block on the {name}", points,
                             added=float(block.angle), side=side)  # fmt: skip
