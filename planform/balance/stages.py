"""How a standing aircraft carries its weight, stage by stage: an estimate that plans a lift."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planform.airframe.stance import Standing
from planform.airframe.weight.items import Item, summed
from planform.airframe.weight.stage_weight import ITEMS, items_on, stage_weight, weightless
from planform.balance.ends import BACK, Ends
from planform.balance.footing import LENGTHWISE, Borne, Footing, Support, carried, footing, stands
from planform.core.mass.support import (
    TOUCHES,
    hold_down,
    lift_to_tip,
    overturn_angle,
    push_to_tip,
)
from planform.core.quantity import Kilograms, Metres, Radians
from planform.design.kinds import roles_in
from planform.design.models import Design

Array = NDArray[np.float64]


USUAL_TIP_BACK = float(np.radians(15.0))
"""Least tip-back angle; common practice, no source."""
USUAL_OVERTURN = float(np.radians(63.0))
"""Greatest overturn angle of a land aircraft; common practice, no source."""


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
    ends : whether that is so; with a tail wheel nose and tail change places in all of these
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
    ends: Ends = BACK

    @property
    def height(self) -> Metres:
        """Of the CG over the floor [m]."""
        return float(self.over_floor[2])

    @property
    def stands(self) -> bool:
        """Whether every support carries something."""
        return stands(self.supports, self.tip_back)


def stage_balance(standing: Standing) -> Balanced | None:
    """Balance of a stage with nobody aboard, or None where no weight or no height is known.

    What is weighed or recorded comes first; see `stage_weight`.
    """
    weight = stage_weight(standing.airframe, standing.stage, standing.stance_name)
    if weight is None:
        return None
    items, source = weight
    parts = items_on(standing.airframe, standing.stage, standing.stance_name)
    return balanced(standing, items, source=source, parts=parts)


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
    tail_name, tail = _down_end(on)
    nose_name, nose = _up_end(on)
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
        ends=on.ends,
    )


def _set_down(on: Footing, mass: float, centre: Array) -> Force | None:
    """The push down at the nose that sets it back on its nose from where it lies on its tail.

    The most that is needed on the way: as it lies, or level where nothing rests.
    """
    name, nose = _up_end(on)
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


def ground_ballast(on: Footing, mass: float, found: Borne) -> tuple[Ballast, ...]:
    """What it takes at each place for ground ballast to hold the nose load wanted."""
    design = on.standing.airframe.design
    wanted = nose_load_wanted(design) or 0.0
    out = []
    for name, place in (design.balance.ground_ballast if design.balance else {}).items():
        where = np.array([[float(place.fs), float(place.bl), float(place.wl)]])
        at = on.aft.inside(on.standing.to_floor(where)[0][:2])
        out.append(Ballast(name, hold_down(mass, found.inside, wanted, found.arm, at)))
    return tuple(out)


def nose_hold(on: Footing, mass: float, found: Borne) -> Force | None:
    """The least hand on the nose [kg] that keeps the nose load wanted; None where none is needed.

    Pushing down at the nose while the tail would otherwise drop.
    """
    name, nose = _up_end(on)
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


def _down_end(on: Footing) -> tuple[str, Array]:
    """The end that comes down where it tips over its main supports."""
    return _tail_end(on.standing) if on.ends is BACK else _nose_end(on.standing)


def _up_end(on: Footing) -> tuple[str, Array]:
    """The end that rises where it tips over its main supports."""
    return _nose_end(on.standing) if on.ends is BACK else _end(on.standing, "aft end", 1.0)


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
    bodies = [p for p in standing.parts if p.role in (*roles_in("bodies"), *roles_in("bulkheads"))]
    found = [(p, p.points[np.argmax(sign * p.points[:, 0])]) for p in bodies or standing.parts]
    part, point = max(found, key=lambda pair: sign * float(pair[1][0]))
    return f"{words} of the {part.name}", np.array([float(point[0]), 0.0, float(point[2])])
