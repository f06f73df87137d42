"""How a standing aircraft carries its weight, stage by stage: an estimate that plans a lift."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planform.airframe.build import Airframe, Part
from planform.airframe.stance import Standing, covers, on_stage, touching
from planform.balance.items import Item, summed
from planform.core.contacts import Contact
from planform.core.frames import about_line
from planform.core.support import (
    Edge,
    edges,
    hold_down,
    lift_to_tip,
    overturn_angle,
    push_to_tip,
    reactions,
    tip_angle,
)
from planform.design.hinges import hinge_frame
from planform.design.models import Mass, Stage

Array = NDArray[np.float64]

LENGTHWISE = 0.7
"""An edge whose normal points this much fore or aft is one to tip back or forward over."""

TEXTBOOK_TIP_BACK = float(np.radians(15.0))
"""Least tip-back angle that textbooks ask for (from memory)."""
TEXTBOOK_OVERTURN = float(np.radians(63.0))
"""Greatest overturn angle of a land aircraft that textbooks allow (from memory)."""


@dataclass(frozen=True)
class Support:
    """One wheel or pad and what it carries [kg]; at its place on the floor [m]."""

    name: str
    fs: float
    bl: float
    load: float


@dataclass(frozen=True)
class Force:
    """A push or lift [kg] at a named point that starts a tip, or ends one."""

    at: str
    mass: float


@dataclass(frozen=True)
class Ballast:
    """Ground ballast at a named station [kg]; None where that place cannot hold it."""

    place: str
    mass: float | None


@dataclass(frozen=True, eq=False)
class Balanced:
    """Weight, CG and stability of one standing aircraft.

    total : in aircraft axes; over_floor : the CG in floor axes (x aft, y right, z height) [m]
    tip_back, overturn : angles [rad]; tip_back below zero: it sits on its tail
    front, front_load : the supports ahead of the aft tipping line, and what they carry [kg]
    shared : more than three supports carry, so their shares are an assumption
    tips_without : parts that hold the nose down: with one of them off, it would sit on its tail
    """

    standing: Standing
    items: tuple[Item, ...]
    total: Item
    over_floor: Array
    supports: tuple[Support, ...]
    shared: bool
    tip_back: float
    tip_forward: float | None
    overturn: float
    side: str
    front: tuple[str, ...]
    front_load: float
    push: Force | None
    lift: Force | None
    set_down: Force | None
    ballast: tuple[Ballast, ...]
    wanted: float | None
    weightless: tuple[str, ...]
    tips_without: tuple[str, ...]

    @property
    def stands(self) -> bool:
        """Whether every support carries something."""
        return all(s.load >= 0.0 for s in self.supports) and self.tip_back > 0.0


def items_on(airframe: Airframe, stage: Stage) -> tuple[Item, ...]:
    """The mass items aboard at a stage; those of an open panel swing with it.

    Of an item for a pair of which one side is on, half counts, at that side's middle.
    """
    out = []
    for mass in airframe.design.masses:
        wl, point = float(mass.wl), np.array([float(mass.fs), float(mass.bl), float(mass.wl)])
        share = 1.0
        note = ""
        if mass.part is not None:
            everywhere = _parts_of(airframe, mass)
            on = [part for part in everywhere if on_stage(stage, part)]
            share = len(on) / len(everywhere) if everywhere else 1.0
            if not on and everywhere:
                continue
            if 0.0 < share < 1.0:
                point[1] = float(np.mean([_middle(part) for part in on]))
                note = f"{len(on)} of {len(everywhere)}"
            if mass.part in stage.open:
                panel = airframe.design.panels[mass.part]
                start, axis, _, _ = hinge_frame(panel)
                turn, shift = about_line(start, axis, airframe.open_angles[mass.part])
                point, note = turn @ point + shift, "open"
        fs, bl, wl = (float(v) for v in point)
        out.append(Item(mass.name, float(mass.mass) * share, fs, bl, wl, note, mass.part))
    return tuple(out)


def _parts_of(airframe: Airframe, mass: Mass) -> list[Part]:
    name = mass.part or ""
    return [p for p in airframe.parts if covers(name, p) and p.role != "leg"]


def _middle(part: Part) -> float:
    across = part.points[:, 1]
    return float(0.5 * (across.min() + across.max()))


def weightless(airframe: Airframe, stage: Stage) -> tuple[str, ...]:
    """Parts on the aircraft at a stage that no mass item names."""
    groups = dict.fromkeys(
        part.group for part in airframe.parts if part.role != "leg" and on_stage(stage, part)
    )
    named = {mass.part for mass in airframe.design.masses}
    sided = {part.group for part in airframe.parts if part.name in named}
    return tuple(group for group in groups if group not in named | sided)


def stage_balance(standing: Standing) -> Balanced | None:
    """Balance of a stage from the design's mass items, or None where none is aboard."""
    items = items_on(standing.airframe, standing.stage)
    return balanced(standing, items) if items else None


def balanced(standing: Standing, items: Sequence[Item]) -> Balanced:
    """Balance of a standing aircraft with these items aboard, each with its waterline.

    Plain statics in the attitude it stands in; wheels push straight up under their axles.
    """
    design = standing.airframe.design
    whole = summed(standing.title, items)
    assert whole.wl is not None
    centre = standing.to_floor(np.array([[whole.fs, whole.bl, whole.wl]]))[0]
    contacts = touching(standing)
    points = standing.to_floor(np.array([c.point for c in contacts]))
    heights = np.array([c.support for c in contacts])
    plan = points[:, :2]
    loads = reactions(plan, whole.mass, centre[:2])
    outline = edges(plan)

    def angle(edge: Edge) -> float:
        level = 0.5 * float(heights[edge.first] + heights[edge.second])
        return tip_angle(edge.inside(centre[:2]), float(centre[2]) - level)

    aft = max(outline, key=lambda e: e.normal[0])
    ahead = [e for e in outline if e.normal[0] < -LENGTHWISE]
    sides = [e for e in outline if abs(e.normal[0]) <= LENGTHWISE] or list(outline)
    worst = min(sides, key=angle)
    inside = aft.inside(centre[:2])
    reach = np.array([aft.inside(p) for p in plan])
    front = [k for k in range(len(plan)) if reach[k] > 1e-6]
    front_load = float(loads[front].sum())
    arm = float(loads[front] @ reach[front] / front_load) if front_load > 0.0 else 0.0
    if arm <= 0.0:
        arm = float(reach[front].mean())
    tail_name, tail = _tail_end(standing)
    nose_name, nose = _nose_end(standing)
    push = push_to_tip(whole.mass, inside, -aft.inside(tail[:2]))
    lift = lift_to_tip(whole.mass, inside, aft.inside(nose[:2]))
    falls = inside < 0.0
    wanted = None
    if design.balance is not None and design.balance.nose_load is not None:
        wanted = float(design.balance.nose_load)
    ballast = []
    for name, place in (design.balance.ground_ballast if design.balance else {}).items():
        at = standing.to_floor(np.array([[float(place.fs), float(place.bl), float(place.wl)]]))[0]
        mass = hold_down(whole.mass, inside, wanted or 0.0, arm, aft.inside(at[:2]))
        ballast.append(Ballast(name, mass))
    return Balanced(
        standing=standing,
        items=tuple(items),
        total=whole,
        over_floor=centre,
        supports=tuple(
            Support(c.name, float(p[0]), float(p[1]), float(load))
            for c, p, load in zip(contacts, plan, loads, strict=True)
        ),
        shared=len(contacts) > 3,
        tip_back=angle(aft),
        tip_forward=min((angle(e) for e in ahead), default=None),
        overturn=overturn_angle(
            worst.inside(centre[:2]),
            float(centre[2]) - 0.5 * float(heights[worst.first] + heights[worst.second]),
        ),
        side="right" if worst.normal[1] > 0.0 else "left",
        front=tuple(contacts[k].name for k in front),
        front_load=front_load,
        push=None if falls or push is None else Force(tail_name, push),
        lift=None if falls or lift is None else Force(nose_name, lift),
        set_down=None if not falls or lift is None else Force(nose_name, -lift),
        ballast=tuple(ballast),
        wanted=wanted,
        weightless=weightless(standing.airframe, standing.stage),
        tips_without=() if falls else tuple(_holding(standing, items, contacts, aft)),
    )


def _holding(
    standing: Standing, items: Sequence[Item], contacts: Sequence[Contact], aft: Edge
) -> Iterator[str]:
    """Parts without which the rest would tip back; its hull and what it stands on apart."""
    bodies = standing.airframe.design.bodies
    standing_on = " ".join(c.name for c in contacts)
    hulls = [name for name, body in bodies.items() if body.role == "fuselage"]
    for name in dict.fromkeys(item.part for item in items if item.part is not None):
        rest = [item for item in items if item.part != name]
        if name in standing_on or name in hulls or not rest:
            continue
        left = summed("the rest", rest)
        centre = standing.to_floor(np.array([[left.fs, left.bl, float(left.wl or 0.0)]]))[0]
        if aft.inside(centre[:2]) <= 0.0:
            yield name


def _tail_end(standing: Standing) -> tuple[str, Array]:
    """The propeller's hub where it is on, else the aftmost point of a body."""
    propeller = standing.airframe.design.propeller
    if propeller is not None and any(p.role == "propeller" for p in standing.parts):
        hub = np.array([[float(propeller.plane_fs), float(propeller.bl), float(propeller.wl)]])
        return "propeller hub", standing.to_floor(hub)[0]
    return _end(standing, "aft end", 1.0)


def _nose_end(standing: Standing) -> tuple[str, Array]:
    return _end(standing, "nose", -1.0)


def _end(standing: Standing, words: str, sign: float) -> tuple[str, Array]:
    bodies = [p for p in standing.parts if p.role in ("fuselage", "cowl", "spinner", "boom")]
    found = [(p, p.points[np.argmax(sign * p.points[:, 0])]) for p in bodies or standing.parts]
    part, point = max(found, key=lambda pair: sign * float(pair[1][0]))
    return f"{words} of the {part.name}", np.array([float(point[0]), 0.0, float(point[2])])
