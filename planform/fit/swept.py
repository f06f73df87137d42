"""What a standing aircraft covers and touches along its way: outlines, sweep, wheels and tips."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from planform.airframe.outlines import Shape, outline
from planform.airframe.part import Part
from planform.airframe.stance import Standing, touching
from planform.core.frames import floor2place
from planform.core.motion.contacts import Contact
from planform.design.units import INCH
from planform.fit.moves import Move, Pose

Array = NDArray[np.float64]

SAMPLE_STEP = 0.05
"""Farthest that a point of the outline moves from one sample of a sweep to the next [m]."""
BOARD = 3.5 * INCH
"""Height of the stop board over the floor [m]: a 3 1/2 in timber on edge. Assumption."""
ARC = 16
"""Straight pieces of a quarter circle in a grown outline."""


@dataclass(frozen=True, eq=False)
class Mark:
    """A point of the aircraft that is marked on the floor or watched by a person.

    kind : 'wheel', 'pad', 'tip', 'nose', 'tail', 'propeller'
    point : in floor axes, shape (3,) [m]; height over the floor last
    """

    name: str
    kind: str
    point: Array
    part: str = ""

    def at(self, pose: Pose) -> Array:
        """The point in place axes at a pose, shape (3,) [m]."""
        return np.asarray(pose.place(self.point[None, :])[0])


def spoken(contact: Contact) -> str:
    """The contact as people at the aircraft call it."""
    name = contact.name.replace("_", " ")
    return f"{name} wheel" if contact.radius > 0.0 and "wheel" not in name else name


def contact_marks(standing: Standing) -> tuple[Mark, ...]:
    """Where every wheel and pad that carries stands on the floor, under its axle or point."""
    out = []
    for contact in touching(standing):
        point = standing.to_floor(np.array([contact.point]))[0]
        kind = "wheel" if contact.radius > 0.0 else "pad"
        foot = np.array([point[0], point[1], contact.support])
        out.append(Mark(spoken(contact), kind, foot, contact.name))
    return tuple(out)


def _outermost(parts: Iterable[Part], axis: int, sign: float) -> tuple[Array, str]:
    """The outermost point of the parts along an axis; the middle where several are as far out."""
    best: tuple[float, Array, str] | None = None
    for part in parts:
        reach = sign * part.points[:, axis]
        far = float(reach.max())
        if best is None or far > best[0] + 1e-9:
            ends = part.points[reach > far - 1e-6]
            best = far, 0.5 * (ends.min(axis=0) + ends.max(axis=0)), part.name
    assert best is not None
    return best[1], best[2]


def end_marks(standing: Standing) -> tuple[Mark, ...]:
    """The tips (farthest left and right), the nose, the tail, and the propeller where it is on.

    Nose and tail are the ends of what lies across the centre line, where anything does.
    """
    parts = standing.parts
    middle_parts = [p for p in parts if p.points[:, 1].min() < 0.0 < p.points[:, 1].max()] or parts
    ends = [
        ("left tip", "tip", *_outermost(parts, 1, -1.0)),
        ("right tip", "tip", *_outermost(parts, 1, 1.0)),
        ("nose", "nose", *_outermost(middle_parts, 0, -1.0)),
        ("tail", "tail", *_outermost(middle_parts, 0, 1.0)),
    ]
    for part in parts:
        if part.role == "propeller":
            middle = 0.5 * (part.points.min(axis=0) + part.points.max(axis=0))
            ends.append(("propeller", "propeller", middle, part.name))
    return tuple(Mark(name, kind, point, part) for name, kind, point, part in ends)


def watched(standing: Standing) -> tuple[Mark, ...]:
    """The points that a walker goes with: both tips, the nose, and the propeller or else the tail.

    One walker watches the aft end: the propeller where it is on, whatever ends farthest aft.
    """
    ends = end_marks(standing)
    aft = "propeller" if any(m.kind == "propeller" for m in ends) else "tail"
    return tuple(m for m in ends if m.kind in ("tip", "nose", aft))


@lru_cache(maxsize=32)
def _plan(parts: tuple[Part, ...], bulge: float) -> Shape:
    import shapely

    return grown(shapely.union_all([outline(part) for part in parts]), bulge)


def plan_outline(standing: Standing) -> Shape:
    """All that the aircraft covers seen from above, in floor axes [m]; the true shape is within."""
    return _plan(standing.parts, standing.bulge)


def grown(shape: Shape, by: float) -> Shape:
    """A shape grown by at least so much [m] all round; the rounding of its arcs lies outside."""
    if by <= 0.0:
        return shape
    return shape.buffer(by / math.cos(math.pi / (4.0 * ARC)), quad_segs=ARC)


def at_pose(shape: Shape, pose: Pose) -> Shape:
    """A plan shape of floor axes in place axes."""
    from shapely.affinity import affine_transform

    (a, b, _), (c, d, _), _ = floor2place(pose.heading)
    return affine_transform(shape, [a, b, c, d, pose.x, pose.y])


def corners_of(shape: Shape) -> Array:
    """The corners of the convex hull of a plan shape, shape (n, 2) [m]: no point moves farther."""
    return np.array(shape.convex_hull.exterior.coords)[:-1]


def farthest_travel(move: Move, corners: Array) -> float:
    """The longest way that a point within the corners (floor axes, (n, 2)) goes in a move [m].

    Exact for a turn about a point; for a slide with a turn the sum of both, an upper bound.
    """
    turn = abs(move.turn)
    if move.centre is not None:
        reach = np.linalg.norm(move.start.place(corners) - np.array(move.centre), axis=1)
        return turn * float(reach.max())
    carried = np.array([move.carried])
    shift = np.linalg.norm(move.end.place(carried)[0] - move.start.place(carried)[0])
    reach = np.linalg.norm(corners - carried, axis=1)
    return float(shift) + turn * float(reach.max())


def parking_travel(move: Move) -> float:
    """Length of the way of the parking point in a move [m]; to 64 chords where it is curved."""
    if move.centre is not None:
        return abs(move.turn) * math.dist((move.start.x, move.start.y), move.centre)
    if move.turn == 0.0 or move.carried == (0.0, 0.0):
        return math.dist((move.start.x, move.start.y), (move.end.x, move.end.y))
    poses = [move.at(k / 64) for k in range(65)]
    points = np.array([[p.x, p.y] for p in poses])
    return float(np.linalg.norm(np.diff(points, axis=0), axis=1).sum())


def path_length(moves: Iterable[Move]) -> float:
    """Length of the way of the parking point [m]."""
    return sum(parking_travel(move) for move in moves)


def samples(moves: Sequence[Move], corners: Array, step: float) -> list[Pose]:
    """Poses along the moves, so near that no point within the corners goes farther than `step`."""
    poses = [moves[0].start] if moves else []
    for move in moves:
        count = max(1, math.ceil(farthest_travel(move, corners) / step))
        poses += [move.at(k / count) for k in range(1, count + 1)]
    return poses


def swept_outline(shape: Shape, moves: Sequence[Move], step: float = SAMPLE_STEP) -> Shape:
    """All that a plan shape (floor axes) covers on its way, a shapely geometry in place axes [m].

    Between two samples no point goes farther than `step`, so each is within half of it of where
    it is at one of them: the union of the samples, grown by step / 2, holds the whole sweep. It
    reaches beyond the sweep by no more than that (and 0.13 % of it).
    """
    import shapely

    if not moves:
        raise ValueError("Expected at least one move, got none")
    if not step > 0.0:
        raise ValueError(f"Expected a step above zero, got {step!r}")
    poses = samples(moves, corners_of(shape), step)
    return grown(shapely.union_all([at_pose(shape, pose) for pose in poses]), 0.5 * step)


def filled(shape: Shape) -> Shape:
    """A shape without its holes: nobody stands between two booms and a tailplane."""
    import shapely

    pieces = [shapely.Polygon(piece.exterior) for piece in shapely.get_parts(shape)]
    return shapely.union_all(pieces)


def simplified_outward(shape: Shape, slack: float) -> Shape:
    """A shape of fewer corners that holds the given one; its edge is at most 2.5 slack outside.

    Holes are dropped: what is inside a chalk line is kept free.
    """
    whole = filled(shape)
    for by in (1.0, 1.25, 1.5):
        simple = whole.buffer(by * slack, join_style="mitre", mitre_limit=2.0).simplify(slack)
        if simple.covers(whole):
            return simple
    raise ArithmeticError("a simplified outline does not hold the one it stands for")


@dataclass(frozen=True, eq=False)
class StopLine:
    """Where a board across the floor stops the main wheels.

    side : 'behind' or 'ahead of' the wheels
    ends : left and right end in floor axes, shape (2, 2) [m]
    on_floor : whether the tyres stand on the floor; else the line is plumbed from their edge
    """

    wheels: str
    side: str
    ends: Array
    on_floor: bool

    def at(self, pose: Pose) -> Array:
        """The ends in place axes at a pose, shape (2, 2) [m]."""
        return pose.place(self.ends)


def main_pair(standing: Standing) -> tuple[Contact, Contact] | None:
    """The left and right wheel of the pair nearest to the parking point."""
    by_name = {c.name: c for c in touching(standing) if c.radius > 0.0}
    pairs = [
        (by_name[name], by_name["right " + name.removeprefix("left ")])
        for name in by_name
        if name.startswith("left ") and "right " + name.removeprefix("left ") in by_name
    ]
    return min(pairs, key=lambda p: abs(_on_floor(standing, p[0])[0]), default=None)


def _on_floor(standing: Standing, contact: Contact) -> Array:
    return np.asarray(standing.to_floor(np.array([contact.point]))[0])


def board_offset(radius: float, board: float = BOARD) -> float:
    """How far ahead of the axle a tyre meets a board standing on the floor [m].

    A circle over a chord: sqrt(h (2 r - h)); a board above the axle is met at the full radius.
    """
    return radius if board >= radius else math.sqrt(board * (2.0 * radius - board))


def stop_line(standing: Standing, side: str, margin: float = 0.1) -> StopLine | None:
    """The stop line of the main wheels, square to the aircraft; None where there is no pair.

    side : 'behind' or 'ahead of'; margin : how far it reaches beyond the tyres [m]
    """
    if side not in ("behind", "ahead of"):
        raise ValueError(f"Expected 'behind' or 'ahead of', got {side!r}")
    pair = main_pair(standing)
    if pair is None:
        return None
    left, right = pair
    on_floor = max(left.support, right.support) <= 0.0
    sign = 1.0 if side == "behind" else -1.0
    ends = []
    for contact, out in ((left, -1.0), (right, 1.0)):
        foot = _on_floor(standing, contact)
        offset = board_offset(contact.radius) if on_floor else contact.radius
        ends.append((foot[0] + sign * offset, foot[1] + out * (0.5 * contact.width + margin)))
    name = left.name.removeprefix("left ").replace("_", " ")
    return StopLine(f"{name} wheels", side, np.array(ends), on_floor)
