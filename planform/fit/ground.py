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
    """

    name: str
    tops: Tops
    left: float = -FAR
    right: float = FAR


@dataclass(frozen=True)
class Ground:
    """The ground of one door: the floor, its threshold, and planks.

    line : the floor's corners, inside to outside (distance, height) [m]
    """

    line: tuple[Corner, ...]
    strips: tuple[Strip, ...]

    @property
    def level(self) -> bool:
        """Whether all of it is at the height of the room's floor."""
        return all(top.start_height == top.end_height == 0.0 for top in self.under(-FAR, FAR))

    def under(self, left: float, right: float) -> Tops:
        """What a wheel between two lines across the way runs on: the highest at any place."""
        return tuple(
            top
            for strip in self.strips
            if strip.left < right and strip.right > left
            for top in strip.tops
        )


def ground_of(door: Door, thickness: float) -> Ground:
    """The ground of a door in a wall of a thickness [m]."""
    line = _line(door)
    strips = [Strip("the ground", _tops(line))]
    if door.threshold > 0.0:
        height = float(door.threshold)
        strips.append(Strip("the threshold", (Top(0.0, thickness, height, height),)))
    floor = strips[-1].tops + strips[0].tops if len(strips) > 1 else strips[0].tops
    for k, plank in enumerate(door.planks):
        name = "the plank" if len(door.planks) == 1 else f"plank {k + 1}"
        half = 0.5 * float(plank.width)
        middle = float(plank.middle)
        strips.append(Strip(name, _laid(plank, floor), middle - half, middle + half))
    return Ground(line, tuple(strips))


def _line(door: Door) -> tuple[Corner, ...]:
    points = [(float(p.at), float(p.height)) for p in door.ground or ()]
    if not points:
        return ((-FAR, 0.0), (FAR, 0.0))
    points.sort(key=lambda point: point[0])
    return ((-FAR, points[0][1]), *points, (FAR, points[-1][1]))


def _tops(corners: tuple[Corner, ...]) -> Tops:
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
    return _tops(tuple((along, height + thick) for along, height in hull))


def _left_of(a: Corner, b: Corner, c: Corner) -> bool:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]) >= 0.0
