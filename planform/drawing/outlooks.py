"""Where one stands to look: through a door, and inside at the height of the eyes."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planform.design.doors import Door
from planform.design.units import INCH
from planform.drawing.scene import Camera
from planform.fit.room import Room

Array = NDArray[np.float64]

EYE_HEIGHT = 66.0 * INCH
"""Of a standing person's eyes over the floor [m], 5 ft 6 in: common practice, no source."""
INSIDE = float(np.radians(62.0))
"""Upright angle of view inside, as one sees without turning the head; assumption."""
BACK, PER_WIDTH = 4.0, 1.1
"""How far one stands from a door, to look through it: so far [m], or so many times its width where
that is more; assumption."""
WIDE, HIGH = 0.6, 0.62
"""Half of what is then in the picture, as shares of the door's width and height; assumption."""
INWARD = 0.4
"""How far from the door to the aircraft's middle one then looks, as a share; assumption."""
STEPS = 14
"""Places on the floor that are tried each way, to stand and look; assumption."""
BESIDE = 0.4
"""What one keeps to things and to the aircraft [m]; assumption."""


@dataclass(frozen=True, eq=False)
class Outlook:
    """From where to where one looks, place axes, shape (3,) [m].

    half : what is to be in the picture at the least, as the tangents of half the angle of view
        across and upright
    """

    key: str
    words: str
    eye: Array
    target: Array
    half: tuple[float, float]

    def angle(self, aspect: float) -> float:
        """The upright angle of view [rad] of a picture so many times as wide as high."""
        return 2.0 * float(np.arctan(max(self.half[0] / aspect, self.half[1])))

    def camera(self, aspect: float) -> Camera:
        """The same as a camera of a scene."""
        door = self.key.removeprefix("through ")
        name = self.key if door == self.key else f"through-{int(door) + 1}"
        up = np.array([0.0, 0.0, 1.0])
        away, angle = self.eye - self.target, self.angle(aspect)
        return Camera(name, away, up, False, self.words, eye=self.eye, angle=angle)


def outlooks(
    room: Room, ways: list[tuple[Array, Array]], low: Array, high: Array
) -> tuple[Outlook, ...]:
    """Through each door, from outside and from inside, and across the room.

    ways : the middle of each door and the way out of it, each (2,)
    low, high : between what the aircraft is, place axes (3,) [m]
    """
    pairs = enumerate(zip(room.place.doors, ways, strict=True))
    doors = [_at_door(k, door, *way, 0.5 * (low + high)) for k, (door, way) in pairs]
    return (*doors, _across(room, low, high))


def _at_door(k: int, door: Door, middle: Array, out: Array, aim: Array) -> Outlook:
    """In through a door, the whole opening in sight."""
    wide, high = float(door.clear_width), float(door.clear_height)
    far = max(BACK, PER_WIDTH * wide)
    eye = np.array([*(middle + far * out), EYE_HEIGHT])
    target = np.array([*(INWARD * aim[:2] + (1.0 - INWARD) * middle), 0.5 * high])
    half = WIDE * wide / far, HIGH * high / far
    return Outlook(f"through {k}", f"through {door.name}", eye, target, half)


def _across(room: Room, low: Array, high: Array) -> Outlook:
    """From where on the floor most of the aircraft is in sight: the free place farthest from it."""
    import shapely

    floor = shapely.polygons(room.floor)
    ends = room.floor.min(axis=0), room.floor.max(axis=0)
    shares = np.arange(1, STEPS) / STEPS
    grid = np.stack(np.meshgrid(shares, shares, indexing="ij"), axis=-1).reshape(-1, 2)
    spots = ends[0] + grid * (ends[1] - ends[0])
    free = shapely.contains(floor, shapely.points(spots))
    for thing in room.fixed:
        if thing.kind not in WALLS and thing.low < EYE_HEIGHT:
            shape = shapely.polygons(thing.outline)
            free &= shapely.distance(shape, shapely.points(spots)) > BESIDE
    clear = ((spots < low[:2] - BESIDE) | (spots > high[:2] + BESIDE)).any(axis=1)
    chosen = spots[free & clear] if (free & clear).any() else spots[free]
    aim = 0.5 * (low + high)
    if not len(chosen):
        chosen = aim[None, :2]
    best = chosen[int(np.argmax(np.linalg.norm(chosen - aim[:2], axis=1)))]
    target = np.array([aim[0], aim[1], max(0.6, aim[2])])
    words, half = "inside, eye at 5 ft 6 in", float(np.tan(0.5 * INSIDE))
    return Outlook("inside", words, np.array([*best, EYE_HEIGHT]), target, (0.0, half))


WALLS = ("wall", "door head", "threshold", "ceiling", "pit", "kept free", "kept off")
"""Kinds of things that do not stand on the floor inside."""
