"""Wheels that roll over uneven ground, and the pose of the aircraft they carry.

The ground under one wheel is a set of straight tops; between them stand upright faces. A wheel
cannot enter the ground, so its axle follows the offset curve: over every point within the
wheel's reach the axle stands at least `height + sqrt(radius^2 - distance^2)` high.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from planform.core.frames import body2floor
from planform.core.motion.contacts import CannotStand
from planform.core.quantity import Metres, Radians

Array = NDArray[np.float64]

STEEPEST = 1.0
"""Largest pitch or roll looked for [rad]; as in `planform.core.motion.contacts`."""
SETTLED = 1e-12
"""A pose is found when its axles are within this of the offset curves [m]."""


@dataclass(frozen=True)
class Top:
    """A straight piece of ground from one distance along the way to another [m]."""

    start: float
    end: float
    start_height: float
    end_height: float

    @cached_property
    def slope(self) -> float:
        """Rise per run."""
        run = self.end - self.start
        return (self.end_height - self.start_height) / run if run > 0.0 else 0.0

    def height(self, along: float) -> float:
        """Height at a distance along the way [m], which is brought within the piece."""
        along = min(max(along, self.start), self.end)
        return self.start_height + self.slope * (along - self.start)

    @cached_property
    def highest(self) -> float:
        """The higher end [m]."""
        return max(self.start_height, self.end_height)


Tops = tuple[Top, ...]


def _within_reach(top: Top, start: float, end: float, radius: float) -> bool:
    """Whether a wheel anywhere between two places along the way may be over a piece of ground."""
    return top.start <= end + radius and top.end >= start - radius


def _over(top: Top, along: float, radius: float, squash: float) -> float:
    """Axle height over one piece of ground [m]; minus infinity where it is out of reach."""
    if not _within_reach(top, along, along, radius):
        return -math.inf
    slope = top.slope
    low, high = max(top.start, along - radius), min(top.end, along + radius)
    touch = along + slope * radius / math.hypot(squash, slope)
    touch = min(max(touch, low), high)
    rest = max(0.0, radius * radius - (touch - along) ** 2)
    return top.height(touch) + squash * math.sqrt(rest)


def axle_height(tops: Tops, along: float, radius: float, squash: float = 1.0) -> float:
    """Height of a wheel's axle over ground made of tops [m].

    along : where the axle is along the way [m]
    squash : the wheel's height over its length seen from the side: below one where it leans
    Closed form: on a slope m the wheel touches `radius * m / sqrt(squash^2 + m^2)` uphill.
    """
    best = -math.inf
    for top in tops:
        if top.start <= along + radius and top.end >= along - radius:
            best = max(best, _over(top, along, radius, squash))
    return best


def axle_range(
    tops: Tops, start: float, end: float, radius: float, squash: float = 1.0
) -> tuple[float, float]:
    """Bounds of the axle's height anywhere between two places along the way [m].

    Over one piece the offset curve is concave: its least is at an end, its greatest where the
    axle is over the piece's higher end, or as near to that as it comes.
    """
    tops = tuple(top for top in tops if _within_reach(top, start, end, radius))
    joints = {along for top in tops for along in (top.start, top.end) if start < along < end}
    low = math.inf
    high = -math.inf
    places = [start, *sorted(joints), end]
    over = [[_over(top, along, radius, squash) for top in tops] for along in places]
    for here, there in pairwise(over):
        low = min(low, max(map(min, here, there), default=-math.inf))
    for top in tops:
        if top.slope:
            crest = top.end if top.slope > 0.0 else top.start
        else:
            crest = min(max(start, top.start), top.end)
        high = max(high, _over(top, min(max(crest, start), end), radius, squash))
    return low, high


def blocking_step(tops: Tops, radius: float) -> tuple[float, float] | None:
    """Place and height [m] of an upright face that a wheel of this radius cannot roll over.

    A face blocks where its top is level with the axle of the wheel that stands against it, or
    higher.
    """
    first, last = min(top.start for top in tops), max(top.end for top in tops)
    for top in tops:
        for along, height in ((top.start, top.start_height), (top.end, top.end_height)):
            if along in (first, last):
                continue
            for side in (-1.0, 1.0):
                beside = along + side * radius * (1.0 + 1e-9)
                if axle_height(tops, beside, radius) < height - 1e-9:
                    return along, height
    return None


@dataclass(frozen=True, eq=False)
class RollingWheel:
    """A wheel that carries: its axle's middle from the parking point [m], and its ground."""

    name: str
    arm: tuple[float, float, float]
    radius: float
    width: float
    tops: Tops


@dataclass(frozen=True, eq=False)
class GroundPose:
    """How the aircraft stands at one place along the way.

    along : of the parking point, outward from the inner wall line [m]
    pitch : nose up [rad]; roll : right wing down [rad]
    height : of the parking point over the room's floor [m]
    """

    along: Metres
    pitch: Radians
    roll: Radians
    height: Metres

    @cached_property
    def turn(self) -> Array:
        """Rotation from aircraft axes to floor axes, shape (3, 3)."""
        return body2floor(self.pitch, self.roll)


def _slopes(pose: GroundPose, arms: Array) -> Array:
    """Change of the arms' heights with height, pitch and roll; arms (n, 3), gives (n, 3)."""
    ct, st = math.cos(pose.pitch), math.sin(pose.pitch)
    cr, sr = math.cos(pose.roll), math.sin(pose.roll)
    by_pitch = arms @ np.array([-ct, st * sr, -st * cr])
    by_roll = arms @ np.array([0.0, -ct * cr, -ct * sr])
    return np.column_stack([np.ones(len(arms)), by_pitch, by_roll])


def _lean(turn: Array) -> tuple[float, float]:
    """The axles' lean out of the level, and how that squashes a wheel seen from the side."""
    axle = abs(float(turn[2, 1]))
    return axle, math.sqrt(max(0.0, 1.0 - axle * axle))


def settle(wheels: tuple[RollingWheel, ...], along: float, ahead: float) -> GroundPose:
    """The pose in which three wheels rest on their ground.

    along : of the parking point [m]
    ahead : 1 where the nose leads the way, -1 where the tail does
    Raises CannotStand where three wheels have no such pose, or are not three.
    """
    if len(wheels) != 3:
        raise CannotStand(
            f"it stands on {len(wheels)} wheels; over uneven ground only three say how it stands"
        )
    arms = np.array([wheel.arm for wheel in wheels])
    pose = GroundPose(along, 0.0, 0.0, 0.0)
    back = np.linalg.inv(_slopes(pose, arms))
    step = 1.0
    for count in range(200):
        turn = pose.turn
        lean, squash = _lean(turn)
        centres = arms @ turn.T
        error = np.empty(3)
        for k, wheel in enumerate(wheels):
            at = along - ahead * float(centres[k, 0])
            wanted = axle_height(wheel.tops, at, wheel.radius, squash) + 0.5 * wheel.width * lean
            error[k] = pose.height + float(centres[k, 2]) - wanted
        if float(np.abs(error).max()) < SETTLED:
            return pose
        if count in (40, 100):
            step *= 0.4
        if count % 8 == 7:
            back = np.linalg.inv(_slopes(pose, arms))
        move = step * (back @ error)
        height, pitch, roll = pose.height - move[0], pose.pitch - move[1], pose.roll - move[2]
        if max(abs(pitch), abs(roll)) > STEEPEST:
            break
        pose = GroundPose(along, float(pitch), float(roll), float(height))
    names = ", ".join(wheel.name for wheel in wheels)
    raise CannotStand(f"no attitude within 57 deg puts {names} on this ground")


@dataclass(frozen=True, eq=False)
class Play:
    """How far the pose may be from `pose` while the parking point is within `half` of it.

    half : [m]
    lift : array, shape (3,)   how far each carrying axle's height may be off [m]
    pitch, roll : how far the angles may be off [rad]
    back : array, shape (3, 3)   height, pitch and roll from the axles' heights
    """

    pose: GroundPose
    half: float
    lift: Array
    pitch: float
    roll: float
    back: Array

    def of(self, boxes: Array) -> Array:
        """How far any point within each box may move along, across and up [m], shape (n, 3).

        boxes : array, shape (n, 8, 3)   corners, from the parking point, aircraft axes
        """
        corners = boxes.reshape(-1, 3)

        def most(values: Array) -> Array:
            return np.asarray(np.abs(values).reshape(-1, 8).max(axis=1))

        second = 0.5 * most(np.linalg.norm(corners, axis=1)) * (self.pitch + self.roll) ** 2
        up = most(np.abs(_slopes(self.pose, corners) @ self.back) @ self.lift)
        aside, upright = most(corners[:, 1]), most(corners[:, 2])
        along = self.half + most(corners @ self.pose.turn[2]) * self.pitch
        along += abs(math.sin(self.pose.pitch)) * (aside + upright) * self.roll
        across = (aside * abs(math.sin(self.pose.roll)) + upright) * self.roll
        return np.column_stack([along, across, up]) + second[:, None]


def play(
    wheels: tuple[RollingWheel, ...], pose: GroundPose, ahead: float, half: float
) -> Play | None:
    """Bounds of the pose within `half` of a settled pose; None where they could not be proved.

    A box of poses is guessed and its axle heights are bounded from the ground. Where these give a
    smaller box than was guessed, the pose cannot have left it: it changes without jumps.
    """
    arms = np.array([wheel.arm for wheel in wheels])
    turn = pose.turn
    lean, squash = _lean(turn)
    centres = arms @ turn.T
    back = np.linalg.inv(_slopes(pose, arms))
    size = np.linalg.norm(arms, axis=1)
    pitch = roll = 0.0
    for _ in range(12):
        second = 0.5 * (pitch + roll) ** 2
        tilt = roll + abs(math.sin(pose.roll)) * pitch + second
        flatter = (lean + tilt) * tilt / max(0.5, squash)
        lift = np.empty(3)
        for k, wheel in enumerate(wheels):
            off = half + abs(float(centres[k, 2])) * pitch
            off += abs(math.sin(pose.pitch)) * 2.0 * size[k] * roll + size[k] * second
            at = pose.along - ahead * float(centres[k, 0])
            low, high = axle_range(wheel.tops, at - off, at + off, wheel.radius, squash)
            here = axle_height(wheel.tops, at, wheel.radius, squash)
            lift[k] = max(high - here, here - low)
            lift[k] += 0.5 * wheel.width * tilt + wheel.radius * flatter + size[k] * second
        if not np.isfinite(lift).all():
            return None
        found = np.abs(back) @ lift
        if max(found[1], found[2]) > 0.3:
            return None
        if found[1] <= pitch and found[2] <= roll:
            return Play(pose, half, lift, pitch, roll, np.asarray(back, dtype=float))
        pitch, roll = 1.3 * float(found[1]) + 1e-15, 1.3 * float(found[2]) + 1e-15
    return None
