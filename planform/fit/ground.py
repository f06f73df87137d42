"""The ground along the way through a door: what the wheels run on and the rest must clear."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from planform.core.motion.uneven_ground import Top, Tops
from planform.design.doors import Door, Plank

FAR = 1000.0
"""How far the level ends of the ground go on [m]; beyond any push."""

Corner = tuple[float, float]


@dataclass(frozen=True)
class Strip:
    """Ground between two lines along the way [m]; outward from the inner wall line.

    left, right : across, to the right of the door's middle looking out
    ramp : whether it is a ramp inside the room
    rough : why no wheel is followed over it; '' where one is
    """

    name: str
    tops: Tops
    left: float = -FAR
    right: float = FAR
    ramp: bool = False
    rough: str = ""


@dataclass(frozen=True)
class Ground:
    """The ground of one door: the floor, its threshold, and planks.

    line : the floor's corners, inside to outside (distance, height) [m]
    floor : height of the floor that a push begins on [m]
    ramped : whether it begins on another floor than the door's, and goes over a ramp
    """

    line: tuple[Corner, ...]
    strips: tuple[Strip, ...]
    floor: float = 0.0
    ramped: bool = False

    @property
    def level(self) -> bool:
        """Whether all of it is at the height of the floor that a push begins on."""
        tops = self.under(-FAR, FAR)
        return all(top.start_height == top.end_height == self.floor for top in tops)

    def under(self, left: float, right: float) -> Tops:
        """What a wheel between two lines across the way runs on: the highest at any place."""
        return tuple(
            top
            for strip in self.strips
            if strip.left < right and strip.right > left
            for top in strip.tops
        )


def ground_of(door: Door, thickness: float, floor: float = 0.0) -> Ground:
    """The ground of a door in a wall of a thickness [m], on a floor of a height [m]."""
    line = tuple((along, height + floor) for along, height in _line(door))
    strips = [Strip("the ground", tops(line))]
    if door.threshold > 0.0:
        height = floor + float(door.threshold)
        strips.append(Strip("the threshold", (Top(0.0, thickness, height, height),)))
    under = strips[-1].tops + strips[0].tops if len(strips) > 1 else strips[0].tops
    for k, plank in enumerate(door.planks):
        name = "the plank" if len(door.planks) == 1 else f"plank {k + 1}"
        half = 0.5 * float(plank.width)
        middle = float(plank.middle)
        strips.append(Strip(name, _laid(plank, under), middle - half, middle + half))
    return Ground(line, tuple(strips), floor)


def _line(door: Door) -> tuple[Corner, ...]:
    points = [(float(p.at), float(p.height)) for p in door.ground or ()]
    if not points:
        return ((-FAR, 0.0), (FAR, 0.0))
    points.sort(key=lambda point: point[0])
    return ((-FAR, points[0][1]), *points, (FAR, points[-1][1]))


def tops(corners: tuple[Corner, ...]) -> Tops:
    """The straight pieces of a line of corners (distance, height) [m]; steps have none."""
    return tuple(Top(a[0], b[0], a[1], b[1]) for a, b in pairwise(corners) if b[0] > a[0])


def _laid(plank: Plank, floor: Tops) -> Tops:
    """The plank's upper side: over humps it lies on, hollows it bridges (the upper hull)."""
    start, end, thick = float(plank.start), float(plank.end), float(plank.height)
    corners: list[Corner] = []
    for top in floor:
        a, b = max(start, top.start), min(end, top.end)
        if a <= b:
            corners += [(a, top.height(a)), (b, top.height(b))]
    hull: list[Corner] = []
    for corner in sorted(set(corners)):
        while len(hull) > 1 and _left_of(hull[-2], hull[-1], corner):
            hull.pop()
        if hull and hull[-1][0] == corner[0]:
            hull.pop()
        hull.append(corner)
    return tops(tuple((along, height + thick) for along, height in hull))


def _left_of(a: Corner, b: Corner, c: Corner) -> bool:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]) >= 0.0
