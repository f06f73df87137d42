"""How a standing aircraft carries its weight, stage by stage: an estimate that plans a lift."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from planform.airframe.build import Airframe, Part
from planform.airframe.stages import missing_at
from planform.airframe.stance import Standing, covers, on_stage, touching
from planform.balance.items import Item, summed
from planform.balance.record import ESTIMATE, EmptyRecord, empty_record
from planform.core.frames import about_line
from planform.core.mass.support import (
    TOUCHES,
    Edge,
    edges,
    hold_down,
    lift_to_tip,
    overturn_angle,
    push_to_tip,
    reactions,
    tip_angle,
)
from planform.core.motion.contacts import Contact
from planform.core.quantity import Kilograms, Metres, Radians
from planform.design.hinges import hinge_frame
from planform.design.kinds import roles_in
from planform.design.models import Design, Mass, Stage

Array = NDArray[np.float64]

LENGTHWISE = 0.7
"""An edge whose normal points this much fore or aft is one to tip back or forward over."""

USUAL_TIP_BACK = float(np.radians(15.0))
"""Least tip-back angle; common practice, no source."""
USUAL_OVERTURN = float(np.radians(63.0))
"""Greatest overturn angle of a land aircraft; common practice, no source."""


@dataclass(frozen=True)
class Support:
    """One wheel, pad or end and what it carries [kg]; at its place on the floor [m].

    load : never below zero; None where it tips over and no load can be told
    """

    name: str
    fs: float
    bl: float
    load: Kilograms | None


@dataclass(frozen=True)
class Force:
    """A push or lift [kg] at a named point that starts a tip, or ends one."""

    at: str
    mass: Kilograms


@dataclass(frozen=True)
class Ballast:
    """Ground ballast at a named station [kg]; None where that place cannot hold it."""

    place: str
    mass: Kilograms | None


@dataclass(frozen=True, eq=False)
class Balanced:
    """Weight, CG and stability of one standing aircraft.

    total : in aircraft axes; over_floor : the CG in floor axes (x aft, y right, z height) [m]
    source : where the weight is from, in words
    tip_back, overturn : angles [rad]; tip_back below zero: it sits on its tail
    front, front_load : the supports ahead of the aft tipping line, and what they carry [kg];
        nothing where it sits on its tail
    sits_on : what its tail end rests on the floor with where it sits on its tail, else ''
    shared : more than three supports carry, so their shares are an assumption
    tips_without : parts that hold the nose down: with one of them off, it would sit on its tail
    """

    standing: Standing
    items: tuple[Item, ...]
    total: Item
    source: str
    over_floor: Array
    supports: tuple[Support, ...]
    shared: bool
    tip_back: Radians
    tip_forward: Radians | None
    overturn: Radians
    side: str
    front: tuple[str, ...]
    front_load: Kilograms
    sits_on: str
    push: Force | None
    lift: Force | None
    set_down: Force | None
    ballast: tuple[Ballast, ...]
    wanted: Kilograms | None
    weightless: tuple[str, ...]
    tips_without: tuple[str, ...]

    @property
    def height(self) -> Metres:
        """Of the CG over the floor [m]."""
        return float(self.over_floor[2])

    @property
    def stands(self) -> bool:
        """Whether every support carries something."""
        return stands(self.supports, self.tip_back)


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
        out.append(Item(mass.name, float(mass.mass) * share, fs, bl, wl, note, mass.part, mass))
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
    """Balance of a stage with nobody aboard, or None where no weight or no height is known.

    What is weighed or recorded comes first; see `stage_weight`.
    """
    weight = stage_weight(standing.airframe, standing.stage)
    if weight is None:
        return None
    items, source = weight
    parts = items_on(standing.airframe, standing.stage)
    return balanced(standing, items, source=source, parts=parts)


ITEMS = "mass items"


def stage_weight(airframe: Airframe, stage: Stage) -> tuple[tuple[Item, ...], str] | None:
    """What an aircraft weighs at a stage, line by line, and where that is from; None if unknown.

    The weighing or the recorded empty weight is that of the aircraft with every part on; the mass
    items of parts that are off are taken from it. Where more is off than on by the mass items, the
    few items that are on are the nearer estimate, and are used alone.
    """
    design = airframe.design
    record = empty_record(design, None)
    on = items_on(airframe, stage)
    if record is None or record.source == ESTIMATE:
        changes = _changes(record) if record is not None else ()
        return ((*on, *changes), ITEMS) if on else None
    aboard = sum(item.mass for item in on)
    off = sum(float(mass.mass) for mass in design.masses) - aboard
    known = record.base.mass + sum(line.mass for line in _changes(record))
    if off > aboard or not known > off:
        return (on, ITEMS) if on else None
    if record.base.wl is None:
        return None
    lines: list[Item] = [record.base, *_changes(record)]
    names: list[str] = []
    stays = {id(item.of): item for item in on}
    for mass in design.masses:
        here, whole = stays.get(id(mass)), _whole(mass)
        if here is None:
            lines.append(replace(whole.less(), note="off"))
            names.append(mass.name)
        elif here.note:  # one of a pair is off, or its panel stands open
            lines += [replace(whole.less(), note="as recorded"), here]
            names += [mass.name] if here.mass < whole.mass else []
    source = record.source + (", with changes since" if record.changes else "")
    if names:
        source += f", less {', '.join(dict.fromkeys(names))}"
    unnamed = [
        name for name in missing_at(airframe, stage) if not _is_named(airframe, name)
    ]  # fmt: skip
    if unnamed:
        source += f"; off too, and in no mass item: {', '.join(unnamed)}"
    return tuple(lines), source


def _changes(record: EmptyRecord) -> tuple[Item, ...]:
    """The lines of every change since the record; at the CG's height where none is given."""
    lines = [line for sheet in record.changes for line in sheet.lines]
    return tuple(
        line if line.wl is not None else replace(line, wl=record.base.wl) for line in lines
    )


def _whole(mass: Mass) -> Item:
    fs, bl, wl = float(mass.fs), float(mass.bl), float(mass.wl)
    return Item(mass.name, float(mass.mass), fs, bl, wl, "", mass.part, mass)


def _is_named(airframe: Airframe, part: str) -> bool:
    """Whether a mass item names a part, or the pair that it is one of."""
    named = {mass.part for mass in airframe.design.masses}
    return any(part in (p.name, p.group) and named & {p.name, p.group} for p in airframe.parts)


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
    """What a standing aircraft stands on, and the lines over which it could tip; floor axes [m]."""

    standing: Standing
    contacts: tuple[Contact, ...]
    plan: Array
    heights: Array
    outline: tuple[Edge, ...]
    aft: Edge

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
    heights = np.array([c.support for c in contacts])
    return Footing(standing, contacts, plan, heights, outline, aft)


def stands(supports: Sequence[Support], tip_back: float) -> bool:
    """Whether every support carries something and the tail stays up."""
    return tip_back > 0.0 and all(s.load is not None for s in supports)


@dataclass(frozen=True, eq=False)
class Carried:
    """What carries a weight at a place: loads, and how near it is to its tail; see `Balanced`."""

    centre: Array
    inside: Metres
    tip_back: Radians
    supports: tuple[Support, ...]
    front_load: Kilograms
    arm: Metres
    sits_on: str

    @property
    def stands(self) -> bool:
        """Whether every support carries something and the tail stays up."""
        return stands(self.supports, self.tip_back)


def carried(on: Footing, whole: Item) -> Carried:
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
    return Carried(centre, inside, tip_back, supports, max(0.0, ahead), arm, sits_on)


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
        names.append(f"tail ({on.tail.name})")
    else:
        names += [f"tail ({side} {on.tail.name})" for side in ("left", "right")]
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


def balanced(
    standing: Standing,
    items: Sequence[Item],
    *,
    source: str = ITEMS,
    parts: Sequence[Item] | None = None,
    on: Footing | None = None,
) -> Balanced:
    """Balance of a standing aircraft with these items aboard, each with its waterline.

    source : where the weight is from, in words
    parts : the mass items of parts that could come off; those of `items` where none are given
    on : what it stands on, where that is known already
    Plain statics in the attitude it stands in; wheels push straight up under their axles.
    """
    design = standing.airframe.design
    whole = summed(standing.title, items)
    on = footing(standing) if on is None else on
    found = carried(on, whole)
    centre, inside = found.centre, found.inside
    ahead = [e for e in on.outline if e.normal[0] < -LENGTHWISE]
    sides = [e for e in on.outline if abs(e.normal[0]) <= LENGTHWISE] or list(on.outline)
    worst = min(sides, key=lambda e: on.angle(e, centre))
    tail_name, tail = _tail_end(standing)
    nose_name, nose = _nose_end(standing)
    push = push_to_tip(whole.mass, inside, -on.aft.inside(tail[:2]))
    lift = lift_to_tip(whole.mass, inside, on.aft.inside(nose[:2]))
    falls = inside < 0.0
    holding = [i for i in items if i.part] if parts is None else parts
    return Balanced(
        standing=standing,
        items=tuple(items),
        total=whole,
        source=source,
        over_floor=centre,
        supports=found.supports,
        shared=len(on.contacts) > 3,
        tip_back=found.tip_back,
        tip_forward=min((on.angle(e, centre) for e in ahead), default=None),
        overturn=overturn_angle(worst.inside(centre[:2]), on.over(worst, centre)),
        side="right" if worst.normal[1] > 0.0 else "left",
        front=tuple(c.name for c, r in zip(on.contacts, on.reach, strict=True) if r > 1e-6),
        front_load=found.front_load,
        sits_on=found.sits_on,
        push=None if falls or push is None else Force(tail_name, push),
        lift=None if falls or lift is None else Force(nose_name, lift),
        set_down=_set_down(on, whole.mass, centre) if falls else None,
        ballast=ground_ballast(on, whole.mass, found),
        wanted=nose_load_wanted(design),
        weightless=weightless(standing.airframe, standing.stage) if source == ITEMS else (),
        tips_without=() if falls else tuple(_holding(on, whole, holding)),
    )


def _set_down(on: Footing, mass: float, centre: Array) -> Force | None:
    """The push down at the nose that sets it back on its nose from where it lies on its tail.

    The most that is needed on the way: as it lies, or level where nothing rests.
    """
    name, nose = _nose_end(on.standing)
    ways = [(np.eye(3), np.zeros(3))]
    if on.tail is not None:
        ways.append((on.tail.turn, on.tail.shift))
    needed = []
    for turn, shift in ways:
        behind = -on.aft.inside((turn @ centre + shift)[:2])
        arm = on.aft.inside((turn @ nose + shift)[:2])
        if arm <= 0.0:
            return None
        needed.append(mass * behind / arm)
    return Force(name, max(needed))


def nose_load_wanted(design: Design) -> float | None:
    """What the user wants on the front supports [kg]."""
    paper = design.balance
    return None if paper is None or paper.nose_load is None else float(paper.nose_load)


def ground_ballast(on: Footing, mass: float, found: Carried) -> tuple[Ballast, ...]:
    """What it takes at each place for ground ballast to hold the nose load wanted."""
    design = on.standing.airframe.design
    wanted = nose_load_wanted(design) or 0.0
    out = []
    for name, place in (design.balance.ground_ballast if design.balance else {}).items():
        where = np.array([[float(place.fs), float(place.bl), float(place.wl)]])
        at = on.aft.inside(on.standing.to_floor(where)[0][:2])
        out.append(Ballast(name, hold_down(mass, found.inside, wanted, found.arm, at)))
    return tuple(out)


def nose_hold(on: Footing, mass: float, found: Carried) -> Force | None:
    """The least hand on the nose [kg] that keeps the nose load wanted; None where none is needed.

    Pushing down at the nose while the tail would otherwise drop.
    """
    name, nose = _nose_end(on.standing)
    wanted = nose_load_wanted(on.standing.airframe.design) or 0.0
    need = hold_down(mass, found.inside, wanted, found.arm, on.aft.inside(nose[:2]))
    return Force(name, need) if need else None


def _holding(on: Footing, whole: Item, parts: Sequence[Item]) -> Iterator[str]:
    """Parts without which the rest would tip back; its hull and what it stands on apart."""
    bodies = on.standing.airframe.design.bodies
    standing_on = " ".join(c.name for c in on.contacts)
    hulls = [name for name, body in bodies.items() if body.role == "fuselage"]
    for name in dict.fromkeys(item.part for item in parts if item.part is not None):
        rest = [whole, *(item.less() for item in parts if item.part == name)]
        if name in standing_on or name in hulls or not sum(i.mass for i in rest) > TOUCHES:
            continue
        left = summed("the rest", rest)
        centre = on.standing.to_floor(np.array([[left.fs, left.bl, float(left.wl or 0.0)]]))[0]
        if on.aft.inside(centre[:2]) <= 0.0:
            yield name


def _tail_end(standing: Standing) -> tuple[str, Array]:
    """The propeller's hub where it is on, else the aftmost point of a body."""
    propeller = standing.airframe.design.propeller
    if propeller is not None and any(p.role == "propeller" for p in standing.parts):
        hub = np.array([[float(propeller.disc_fs), float(propeller.bl), float(propeller.wl)]])
        return "propeller hub", standing.to_floor(hub)[0]
    return _end(standing, "aft end", 1.0)


def _nose_end(standing: Standing) -> tuple[str, Array]:
    return _end(standing, "nose", -1.0)


def _end(standing: Standing, words: str, sign: float) -> tuple[str, Array]:
    bodies = [p for p in standing.parts if p.role in roles_in("bodies")]
    found = [(p, p.points[np.argmax(sign * p.points[:, 0])]) for p in bodies or standing.parts]
    part, point = max(found, key=lambda pair: sign * float(pair[1][0]))
    return f"{words} of the {part.name}", np.array([float(point[0]), 0.0, float(point[2])])
