"""Steps of a route in words, in the reader's units."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from planform.airframe.stance import Standing
from planform.design.told import said
from planform.design.units import INCH
from planform.fit.moves import Move, Pose
from planform.fit.room import Room, wall_name
from planform.fit.steps import LEVEL_TURN, Step, bearing
from planform.fit.swept import contact_marks, end_marks, main_pair, parking_travel

Array = NDArray[np.float64]

AT_WHEEL = 0.03
"""A turn whose middle is this near to where a wheel stands is told as about that wheel [m]."""


def degrees(angle: float) -> str:
    """An angle as it is paced out: whole degrees, halves under ten."""
    value = abs(math.degrees(angle))
    if value < 10.0:
        value = round(2.0 * value) / 2.0
        return "under half a degree" if value == 0.0 else f"{value:g} deg"
    return f"{value:.0f} deg"


def paced(length: float, system: str) -> str:
    """A length as it is pushed: to 1/4 in, or to 5 mm."""
    least = 0.25 * INCH if system in ("ft-in", "in") else 0.005
    return said(max(1.0, round(length / least)) * least, "length", system)


def nose_to(turn: float) -> str:
    """Which way the nose goes in a turn."""
    return f"nose to the {'right' if turn > 0.0 else 'left'}"


def faced(room: Room, start: Array, way: Array) -> str:
    """What a way over the floor leads to: a door or a wall, '' from outside the room.

    start, way : a point and a direction of the place, shape (2,)
    """
    best: tuple[float, str] | None = None
    for name, ends in room.place.floor.walls.items():
        a, b = np.array(ends[0]), np.array(ends[1])
        run = b - a
        across = float(way[0] * run[1] - way[1] * run[0])
        if abs(across) < 1e-12:
            continue
        gap = a - start
        far = float(gap[0] * run[1] - gap[1] * run[0]) / across
        share = float(gap[0] * way[1] - gap[1] * way[0]) / across
        if far > 0.0 and 0.0 <= share <= 1.0 and (best is None or far < best[0]):
            best = far, _wall_or_door(room, name, share * float(np.linalg.norm(run)))
    return best[1] if best else ""


def _wall_or_door(room: Room, wall: str, along: float) -> str:
    for door in room.place.doors:
        first = float(door.from_corner)
        if door.wall == wall and first <= along <= first + float(door.clear_width):
            return f"the {door.name}"
    name = wall_name(wall)
    return name if name == wall else f"the {name}"


def toward(room: Room, start: Array, end: Array) -> str:
    """What a straight way over the floor leads through or toward; '' where nothing is named.

    start, end : points of the place, shape (2,)
    """
    if float(np.linalg.norm(end - start)) < 1e-9:
        return ""
    inside = [_indoors(room, point) for point in (start, end)]
    ahead = faced(room, start, end - start)
    if not ahead or inside == [False, False]:
        return ""
    if inside == [True, True]:
        return f"toward {ahead}"
    return f"{'out' if inside[0] else 'in'} through {ahead}"


def _indoors(room: Room, point: Array) -> bool:
    import shapely

    return bool(shapely.polygons(room.floor).covers(shapely.points(point)))


def turning_about(standing: Standing, step: Step, system: str) -> str:
    """The middle of a turn in words: a wheel, or so far to a side of the main wheels."""
    assert step.plain.centre is not None
    centre = np.array(step.plain.centre)
    for mark in contact_marks(standing):
        if math.dist(mark.at(step.start)[:2], centre) <= AT_WHEEL:
            return f"the {mark.name}"
    right, ahead = _off(standing, step)
    where = _beside(standing, right, ahead, system)
    at_middle = max(abs(right), abs(ahead)) <= AT_WHEEL
    return where if at_middle else f"the floor mark {where}"


def _off(standing: Standing, step: Step) -> tuple[float, float]:
    """How far to the right and ahead of the main wheels' middle a turn has its own [m]."""
    assert step.plain.centre is not None
    own = np.array(step.plain.centre) - [step.start.x, step.start.y]
    h = step.start.heading
    aft_right = np.array([[-math.sin(h), -math.cos(h)], [math.cos(h), -math.sin(h)]]) @ own
    aft, right = aft_right - _middle(standing)[1]
    return float(right), -float(aft)


def _beside(standing: Standing, right: float, ahead: float, system: str) -> str:
    """A point so far to the right and ahead of the middle between the main wheels, in words."""
    name = _middle(standing)[0]
    words = []
    if abs(right) > AT_WHEEL:
        side = "right" if right > 0.0 else "left"
        words.append(f"{paced(abs(right), system)} {side}")
    if abs(ahead) > AT_WHEEL:
        words.append(f"{paced(abs(ahead), system)} {'ahead' if ahead > 0.0 else 'aft'}")
    return f"{' and '.join(words)} of {name}" if words else name


def _middle(standing: Standing) -> tuple[str, Array]:
    """The middle between the main wheels in floor axes, or the parking point without any."""
    pair = main_pair(standing)
    if pair is None:
        return "the parking point", np.zeros(2)
    points = standing.to_floor(np.array([c.point for c in pair]))
    return "the main wheels' middle", points[:, :2].mean(axis=0)


def instruction(standing: Standing, room: Room, step: Step, system: str) -> str:
    """One line to call out, without the step's number."""
    plain = step.plain
    carried = np.array([plain.carried])
    start, end = plain.start.place(carried)[0], plain.end.place(carried)[0]
    length = paced(math.dist(start, end), system)
    kind = step.kind
    where = toward(room, start, end)
    if kind in ("ahead", "back"):
        return f"Push straight {kind} {length}" + _behind(where)
    if kind in ("left", "right"):
        own = f"to the aircraft's own {kind}"
        return f"Slide sideways {length} {where or own}"
    if kind == "across":
        return f"Slide {length} {_slanted(start, end, plain.start)}" + _behind(where)
    turn = f"{degrees(plain.turn)} {nose_to(plain.turn)}"
    if kind == "slide and turn":
        way = where or _slanted(start, end, plain.start)
        return f"Slide {length} {way} while turning {turn}"
    about = turning_about(standing, step, system)
    right, ahead = _off(standing, step)
    if "floor mark" in about and abs(ahead) <= AT_WHEEL:
        fore = "ahead" if (plain.turn > 0.0) == (right > 0.0) else "back"
        rolled = paced(abs(plain.turn * right), system)
        return f"Roll {fore} {rolled} in a curve, {turn}, about {about}"
    return f"Turn {turn} about {about}"


def _behind(words: str) -> str:
    return f", {words}" if words else ""


def _slanted(start: Array, end: Array, pose: Pose) -> str:
    """A slanting way by the aircraft's own sides."""
    (x0, y0), (x1, y1) = start.tolist(), end.tolist()
    off = bearing(Move(Pose(x0, y0, pose.heading), Pose(x1, y1, pose.heading)))
    fore = "ahead" if abs(off) <= 0.5 * math.pi else "back"
    side = "right" if off > 0.0 else "left"
    slant = abs(off) if fore == "ahead" else math.pi - abs(off)
    return f"{fore} and to its {side}, {degrees(slant)} off its length"


def detail(standing: Standing, step: Step, system: str) -> str:
    """A second line: how far the ends go, so that people know what to expect."""
    plain = step.plain
    if abs(plain.turn) < LEVEL_TURN:
        return ""
    ways = []
    for mark in end_marks(standing):
        if mark.kind in ("tip", "nose"):
            ways.append(f"{mark.name} {paced(_way_of(step, mark.point), system)}")
    if plain.centre is not None and parking_travel(plain) > AT_WHEEL:
        ways.append(f"middle of the axle {paced(parking_travel(plain), system)}")
    told = "On the way: " + ", ".join(ways) + "."
    if plain.centre is None and plain.carried != (0.0, 0.0):
        aft, right = np.array(plain.carried) - _middle(standing)[1]
        where = _beside(standing, float(right), -float(aft), system)
        return f"The point {where} goes straight: hang a plumb line there. {told}"
    return told


def _way_of(step: Step, point: Array) -> float:
    """Length of the way of a point of the aircraft in a step [m], to 40 chords."""
    track = np.array([step.plain.at(k / 40).place(point[None, :2])[0] for k in range(41)])
    return float(np.linalg.norm(np.diff(track, axis=0), axis=1).sum())
