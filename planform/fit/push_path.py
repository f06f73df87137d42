"""The path of a push over uneven ground: poses on its wheels, and the least gap along it.

At every place the pose is solved from the wheels; between places it is bounded, so that no lip is
stepped over.
"""

from __future__ import annotations

import heapq
import itertools
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from planform.airframe.stance import Standing
from planform.core.halting import look
from planform.core.motion.contacts import CannotStand
from planform.core.motion.uneven_ground import (
    GroundPose,
    Play,
    RollingWheel,
    axle_height,
    blocking_step,
    play,
    settle,
)
from planform.core.quantity import DoorPoint, Metres
from planform.design.doors import Door
from planform.design.units import show
from planform.fit.met import WHEELS
from planform.fit.push_gaps import KINDS, DoorGaps, Found, LookedAt, PushedPart
from planform.fit.ramped import ahead_of
from planform.fit.room import Room

Array = NDArray[np.float64]

NEAR_ENOUGH = 1e-3
"""How closely the least clearance along the way is bracketed [m]."""
FIRST = 0.4
"""Length of the pieces the way is first cut into [m]; assumption."""
SHORTEST = 1e-5
"""Pieces of the way are not cut shorter than twice this [m]."""
MOST = 4000
"""Pieces of the way looked at for one kind of clearance before the bracket is left as it is."""
SPARE = 0.3
"""What the push begins before and goes on after the aircraft is clear of the wall [m]."""


@dataclass(frozen=True, eq=False)
class Tightest:
    """The least clearance of one kind along the way.

    gap : [m], proved: nowhere along the way is there less; below zero it strikes
    bracket : how much more there may truly be [m]
    pose : the instant it was found at; `pose.along` is where the parking point then is
    at_part, at_thing : along, across and height of the two points [m]
    """

    kind: str
    gap: Metres
    bracket: Metres
    part: str
    thing: str
    pose: GroundPose
    at_part: DoorPoint
    at_thing: DoorPoint


class PushPath(DoorGaps):
    """One way out of a door for one standing aircraft: poses and gaps at any place along it."""

    def __init__(
        self, standing: Standing, room: Room, door: Door, ahead: int = 1, across: float = 0.0
    ) -> None:
        super().__init__(standing, room, door, ahead, across)
        self._poses: dict[float, GroundPose] = {}
        self._plays: dict[tuple[float, float], Play | None] = {}

    @cached_property
    def wheels(self) -> tuple[RollingWheel, ...]:
        """The wheels that carry; CannotStand where it stands on anything else or is blocked."""
        units, out = self.room.place.units, self._carrying
        if self.ground.ramped:
            start = self.begin
            out = tuple(replace(w, tops=ahead_of(w.tops, self._at(w, start))) for w in out)
        for wheel in out:
            step = blocking_step(wheel.tops, wheel.radius)
            if step is not None:
                raise CannotStand(
                    f"{wheel.name} cannot roll over a step that reaches its axle "
                    f"({show(wheel.radius, 'length', units)}), {self._where(step[0])}; ramp it"
                )
        return out

    def _at(self, wheel: RollingWheel, along: float) -> float:
        """Where a wheel is with the parking point at a place along the way [m]."""
        return along - self.ahead * wheel.arm[0]

    @cached_property
    def _carrying(self) -> tuple[RollingWheel, ...]:
        """The wheels that carry, over the ground as it is everywhere."""
        parked = self.standing.parked
        out = []
        for contact in self.standing.settled.contacts:
            if contact.radius <= 0.0 or contact.support != 0.0:
                raise CannotStand(
                    f"it stands on {contact.name}, which is no wheel on the floor; a push over "
                    "uneven ground is followed on its own wheels only"
                )
            x, y, z = contact.point
            left, right = self._track(y - parked[1], contact.width)
            tops = self.ground.under(left, right)
            self._check_strips(contact.name, left, right)
            arm = (x - parked[0], y - parked[1], z - parked[2])
            out.append(RollingWheel(contact.name, arm, contact.radius, contact.width, tops))
        return tuple(out)

    def _check_strips(self, wheel: str, left: float, right: float) -> None:
        """CannotStand where a wheel cannot be followed between the floors of a room."""
        under = [s for s in self.ground.strips if s.left < right and s.right > left]
        rough = next((s for s in under if s.rough), None)
        if rough is not None:
            raise CannotStand(f"{wheel} would run over {rough.name}, {rough.rough}")
        if self.ground.ramped and not any(s.ramp for s in under):
            raise CannotStand(f"no ramp is under {wheel} on a straight push to {self.door.name}")

    def _where(self, along: float) -> str:
        side = "outside" if along >= 0.0 else "inside"
        told = show(abs(along), "length", self.room.place.units)
        return f"{told} {side} the inner wall line"

    def _track(self, butt: float, width: float) -> tuple[float, float]:
        middle = self.across + self.ahead * butt
        return middle - 0.5 * width, middle + 0.5 * width

    def remarks(self) -> tuple[str, ...]:
        """Tyres that run only partly on a plank."""
        out = []
        for wheel in self.wheels:
            left, right = self._track(wheel.arm[1], wheel.width)
            for strip in self.ground.strips:
                on = min(right, strip.right) - max(left, strip.left)
                if 0.0 < on < wheel.width - 1e-9:
                    out.append(
                        f"{self.door.name}: {wheel.name} has only {100.0 * on / wheel.width:.0f} % "
                        f"of its tyre on {strip.name}; it is taken as carried by it"
                    )
        return tuple(out)

    def pose(self, along: float) -> GroundPose:
        """The pose with the parking point at a place along the way."""
        if along not in self._poses:
            self._poses[along] = settle(self.wheels, along, self.ahead)
        return self._poses[along]

    def _play(self, pose: GroundPose, half: float) -> Play | None:
        key = pose.along, half
        if key not in self._plays:
            self._plays[key] = play(self.wheels, pose, self.ahead, half)
        return self._plays[key]

    @cached_property
    def reach(self) -> tuple[float, float]:
        """First and last place of the parking point: inside, as far as the room lets; outside."""
        ends = self.ahead * np.concatenate([p.box for p in self.pieces])[:, 0]
        depth = float(((self.middle - self.room.floor) @ self.outward).max())
        if self.ground.ramped:
            if self.begin + float(ends.min()) < -depth - 1e-9:
                raise CannotStand("it has no room behind it before the ramp")
            return self.begin, float(ends.max()) + self.thickness + SPARE
        start = max(float(ends.min()), -depth + float(ends.max()))
        return start - SPARE, float(ends.max()) + self.thickness + SPARE

    @cached_property
    def begin(self) -> float:
        """The place of the parking point where a push begins before the ramps under its wheels.

        Raises CannotStand where it does not stand there on its own floor.
        """
        edges = []
        for wheel in self._carrying:
            left, right = self._track(wheel.arm[1], wheel.width)
            under = (s for s in self.ground.strips if s.ramp and s.left < right and s.right > left)
            edges += [top.start for strip in under for top in strip.tops]
        start = min(edges) - SPARE + min(self.ahead * w.arm[0] for w in self._carrying)
        for wheel in self._carrying:
            over = axle_height(wheel.tops, self._at(wheel, start), wheel.radius) - wheel.radius
            if abs(over - self.ground.floor) > 1e-6:
                raise CannotStand(f"{wheel.name} has no room before the ramp on that floor")
        return start

    def stretch(self, kind: str) -> tuple[float, float]:
        """Between which places of the parking point a kind counts [m].

        What is not of the door counts from wholly inside to wholly outside, and no farther.
        """
        start, end = self.reach
        return (start + SPARE, end - SPARE) if kind in self.met else (start, end)

    @cached_property
    def looked_at(self) -> dict[str, LookedAt]:
        """The parts that each kind of clearance looks at, likely ones first, and their boxes."""
        gear = {wheel.name for wheel in self.wheels}
        hung = [p for p in reversed(self.pieces) if p.part.name not in gear]
        out: dict[str, list[PushedPart]] = {kind: list(self.pieces) for kind in KINDS}
        out["ground"] = [p for p in hung if p.part.role != "leg"]
        out["legs"] = [p for p in hung if p.part.role == "leg"]
        for side, kind in ((-1.0, "left jamb"), (1.0, "right jamb")):
            out[kind].sort(key=lambda p: -float((side * self.ahead * p.box[:, 1]).max()))
        out |= {kind: list(self.pieces) for kind in self.met}
        if WHEELS in self.met:
            out[WHEELS] = [p for p in self.pieces if p.part.role == "wheel"]
        return {
            kind: (tuple(pieces), np.array([p.box for p in pieces]).reshape(-1, 8, 3))
            for kind, pieces in out.items()
        }

    def gap(
        self,
        kind: str,
        along: float,
        part: str | None = None,
        beside: float = 0.0,
        under: float = np.inf,
    ) -> float:
        """The gap of a kind with the parking point at one place [m]; infinite where none.

        part : the part alone
        beside : points this far beside the thing along the way count as well [m]
        under : only a gap below this is wanted [m]; infinite where there is none
        """
        look()
        pieces, boxes = self.looked_at[kind]
        chosen = [k for k, p in enumerate(pieces) if part in (None, p.part.name)]
        looked_at = tuple(pieces[k] for k in chosen), boxes[chosen]
        play = np.tile([beside, 0.0, 0.0], (len(chosen), 1))
        found = [f[0] for f, _ in self.gaps(kind, looked_at, self.pose(along), play, under)]
        return float(found[-1]) if found else np.inf

    def least(
        self,
        kind: str,
        start: float,
        end: float,
        near_enough: float = NEAR_ENOUGH,
    ) -> Tightest | None:
        """The least gap of a kind along a stretch of the way; None where nothing is met.

        The stretch is cut where a bound allows less than the least found, until the two agree.
        """
        looked_at = self.looked_at[kind]
        still = np.zeros((len(looked_at[0]), 3))
        best: tuple[Found, PushedPart] | None = None
        where: GroundPose | None = None
        waiting: list[tuple[float, float, float]] = []
        proved = np.inf

        def bounded(a: float, b: float, floor: float) -> None:
            nonlocal best, where
            look()
            pose = self.pose(0.5 * (a + b))
            under = np.inf if best is None else best[0][0]
            for found in self.gaps(kind, looked_at, pose, still, under):
                best, where, under = found, pose, found[0][0]
            near = self._play(pose, 0.5 * (b - a))
            least = -np.inf if near is None else under
            if near is not None:
                for bound, _ in self.gaps(kind, looked_at, pose, near.of(looked_at[1]), under):
                    least = bound[0]
            heapq.heappush(waiting, (max(floor, least), a, b))

        count = max(1, int(np.ceil((end - start) / FIRST)))
        edges = np.linspace(start, end, count + 1)
        for a, b in itertools.pairwise(edges):
            bounded(float(a), float(b), -np.inf)
        for _ in range(MOST):
            proved, a, b = waiting[0]
            under = np.inf if best is None else best[0][0]
            if proved >= under - near_enough or b - a < 2.0 * SHORTEST:
                break
            heapq.heappop(waiting)
            middle = 0.5 * (a + b)
            bounded(a, middle, proved)
            bounded(middle, b, proved)
        proved = waiting[0][0]
        if proved == -np.inf:
            raise CannotStand(
                f"its pose jumps {self._where(0.5 * sum(waiting[0][1:]))}; "
                "the ground there is too rough"
            )
        if best is None or where is None:
            return None
        (gap, point, other, thing), piece = best
        proved = min(proved, gap)
        return Tightest(kind, proved, gap - proved, piece.part.name, thing, where, point, other)
