"""What a standing aircraft stands on, and what each of it carries."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from planform.airframe.stance import Standing, touching
from planform.airframe.weight.items import Item
from planform.balance.ends import BACK, OVER, Ends
from planform.core.frames import about_line
from planform.core.mass.support import (
    TOUCHES,
    Edge,
    edges,
    reactions,
    tip_angle,
)
from planform.core.motion.contacts import Contact
from planform.core.quantity import Kilograms, Metres, Radians

LENGTHWISE = 0.7
"""An edge whose normal points this much fore or aft is one to tip back or forward over."""

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Support:
    """One wheel, pad or end and what it carries [kg]; at its place on the floor [m].

    load : never below zero; None where it tips over and no load can be told
    """

    name: str
    fs: float
    bl: float
    load: Kilograms | None


@dataclass(frozen=True, eq=False)
class TailRest:
    """How an aircraft lies once it has sat back about its aft supports.

    turn, shift : from its stance to there, floor axes; angle : how far the nose rises [rad]
    name : the part that rests on the floor; points : where, shape (k, 3), k = 1 or 2 [m]
    """

    name: str
    angle: float
    turn: Array
    shift: Array
    points: Array


@dataclass(frozen=True, eq=False)
class Footing:
    """What a standing aircraft stands on, and the lines over which it could tip; floor axes [m].

    aft : the line of the main supports, over which it would tip back; with a tail wheel, where no
        line lies aft, the fore line, over which it would go onto its nose
    """

    standing: Standing
    contacts: tuple[Contact, ...]
    plan: Array
    heights: Array
    outline: tuple[Edge, ...]
    aft: Edge

    @property
    def ends(self) -> Ends:
        """Which end comes down where it tips over its main supports."""
        return OVER if self.aft.normal[0] < 0.0 else BACK

    def angle(self, edge: Edge, centre: Array) -> float:
        """Angle of a line of supports and the CG from upright, as seen along the line [rad]."""
        return tip_angle(edge.inside(centre[:2]), self.over(edge, centre))

    def over(self, edge: Edge, centre: Array) -> float:
        """Height of the CG over a line of supports [m]."""
        return float(centre[2]) - 0.5 * float(self.heights[edge.first] + self.heights[edge.second])

    @cached_property
    def reach(self) -> Array:
        """How far each support is inside the aft line, shape (n,) [m]."""
        return np.array([self.aft.inside(p) for p in self.plan])

    @cached_property
    def tail(self) -> TailRest | None:
        """How it lies when it has sat back: turned about its aft axles until something rests.

        Closed form: a point at (u, w) from an axis h over the floor touches where
        u sin - w cos = h.
        """
        standing = self.standing
        start, end = standing.to_floor(
            np.array([self.contacts[k].point for k in (self.aft.first, self.aft.second)])
        )
        axis = (end - start) * np.sign(end[1] - start[1])
        axis *= 1.0 if self.ends is BACK else -1.0
        axis /= np.linalg.norm(axis)
        aftward = np.cross(axis, [0.0, 0.0, 1.0])
        aftward /= np.linalg.norm(aftward)
        upward = np.cross(aftward, axis)
        on = {c.name for c in self.contacts}
        parts = [p for p in standing.parts if p.name not in on]
        if not parts:
            return None
        points = np.concatenate([p.points for p in parts])
        owner = np.repeat(np.arange(len(parts)), [len(p.points) for p in parts])
        away = points - start
        u, w = away @ aftward, away @ upward
        high = (points[:, 2] - w * upward[2]) / upward[2]
        radius = np.hypot(u, w)
        touches = (u > 0.0) & (radius > np.abs(high)) & (points[:, 2] > 0.0)
        if not touches.any():
            return None
        angles = np.full(len(points), np.inf)
        angles[touches] = np.arctan2(w[touches], u[touches]) + np.arcsin(
            high[touches] / radius[touches]
        )
        first = int(np.argmin(angles))
        angle = float(angles[first])
        if angle > STEEPEST:
            return None
        same = np.flatnonzero(angles < angle + 1e-6)
        ends = same[[np.argmin(points[same, 1]), np.argmax(points[same, 1])]]
        apart = float(np.ptp(points[ends, 1])) > 1e-3
        turn, shift = about_line(start, axis, angle)
        resting = points[ends if apart else [first]] @ turn.T + shift
        name = parts[int(owner[first])].group if apart else parts[int(owner[first])].name
        return TailRest(name, angle, turn, shift, resting)


STEEPEST = float(np.radians(80.0))
"""An aircraft that would sit back further than this is taken to go over. Assumption."""


def footing(standing: Standing) -> Footing:
    """The supports of a standing aircraft and its tipping lines."""
    contacts = touching(standing)
    plan = standing.to_floor(np.array([c.point for c in contacts]))[:, :2]
    outline = edges(plan)
    aft = max(outline, key=lambda e: e.normal[0])
    fore = min(outline, key=lambda e: e.normal[0])
    if aft.normal[0] <= LENGTHWISE < -fore.normal[0]:
        aft = fore
    heights = np.array([c.support for c in contacts])
    return Footing(standing, contacts, plan, heights, outline, aft)


def stands(supports: Sequence[Support], tip_back: float) -> bool:
    """Whether every support carries something and the tail stays up."""
    return tip_back > 0.0 and all(s.load is not None for s in supports)


@dataclass(frozen=True, eq=False)
class Borne:
    """What carries a weight at a place: loads, and how near it is to its tail; see `Balanced`."""

    centre: Array
    inside: Metres
    tip_back: Radians
    supports: tuple[Support, ...]
    front_load: Kilograms
    arm: Metres
    sits_on: str
    ends: Ends = BACK

    @property
    def stands(self) -> bool:
        """Whether every support carries something and the tail stays up."""
        return stands(self.supports, self.tip_back)


def carried(on: Footing, whole: Item) -> Borne:
    """How a weight, its waterline known, is carried; plain statics in the attitude it stands in.

    Where it sits on its tail the loads are those of the aft supports and of what rests on the
    floor behind them, in that attitude. Where it tips over otherwise there are none to tell.
    """
    assert whole.wl is not None
    centre = on.standing.to_floor(np.array([[whole.fs, whole.bl, whole.wl]]))[0]
    loads = reactions(on.plan, whole.mass, centre[:2])
    inside = on.aft.inside(centre[:2])
    front = on.reach > 1e-6
    ahead = float(loads[front].sum())
    arm = float(loads[front] @ on.reach[front] / ahead) if ahead > 0.0 else 0.0
    if arm <= 0.0:
        arm = float(on.reach[front].mean())
    tip_back = on.angle(on.aft, centre)
    rests = _on_its_tail(on, whole.mass, centre) if inside <= 0.0 else None
    names = [c.name for c in on.contacts]
    sits_on = ""
    if rests is not None and on.tail is not None:
        supports, sits_on = rests, on.tail.name
    else:
        falls = inside <= 0.0 or float(loads.min()) < -TOUCHES * whole.mass
        supports = tuple(
            Support(name, float(p[0]), float(p[1]), None if falls else max(0.0, float(load)))
            for name, p, load in zip(names, on.plan, loads, strict=True)
        )
    return Borne(centre, inside, tip_back, supports, max(0.0, ahead), arm, sits_on, on.ends)


def _on_its_tail(on: Footing, mass: float, centre: Array) -> tuple[Support, ...] | None:
    """The loads of an aircraft that has sat back; None where it would not stay so either."""
    if on.tail is None:
        return None
    sunk = on.tail.turn @ centre + on.tail.shift
    aft = [k for k in range(len(on.plan)) if on.reach[k] <= 1e-6]
    plan = np.concatenate([on.plan[aft], on.tail.points[:, :2]])
    loads = reactions(plan, mass, sunk[:2])
    if float(loads.min()) < -TOUCHES * mass:
        return None
    names = [on.contacts[k].name for k in aft]
    if len(on.tail.points) == 1:
        names.append(f"{on.ends.down} ({on.tail.name})")
    else:
        names += [f"{on.ends.down} ({side} {on.tail.name})" for side in ("left", "right")]
    lifted = [
        Support(c.name, float(p[0]), float(p[1]), 0.0)
        for k, (c, p) in enumerate(zip(on.contacts, on.plan, strict=True))
        if k not in aft
    ]
    return (
        *lifted,
        *(
            Support(name, float(p[0]), float(p[1]), max(0.0, float(load)))
            for name, p, load in zip(names, plan, loads, strict=True)
        ),
    )
