"""How far tyres and struts give under a stage's weight: attitude and loads solved together."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import numpy as np

from planform.airframe.build import Airframe
from planform.airframe.weight.items import Item, summed
from planform.airframe.weight.stage_weight import stage_weight
from planform.core.frames import body2floor
from planform.core.mass.support import reactions
from planform.core.motion.contacts import (
    LEVEL_ENOUGH,
    Attitude,
    CannotStand,
    Contact,
    lowest,
    rest_on,
)
from planform.design.gear import Wheel
from planform.design.models import Stage
from planform.design.standing import Give, contacts_of, gives_of, support_of

SAME = 1e-12
"""Gives that change by less than this from one round to the next are settled [m]."""
ROUNDS = 100
MOST = 0.5
"""A tyre that gives more than this share of its radius is not followed. Assumption."""


@dataclass(frozen=True, eq=False)
class Settled:
    """What an aircraft stands on, and how, with its tyres and struts under their loads.

    gives, loads : by the contact's name [m], [kg]; empty where nothing gives
    source : where the weight is from, in words
    withheld : why wheels that would give stand as unloaded; '' where they do not
    """

    contacts: tuple[Contact, ...]
    attitude: Attitude
    gives: dict[str, Give] = field(default_factory=dict)
    loads: dict[str, float] = field(default_factory=dict)
    source: str = ""
    withheld: str = ""


def settled(airframe: Airframe, stage: Stage, stance_name: str) -> Settled:
    """The contacts of a stance under the weight of a stage, and the attitude they give.

    Each tyre and strut is a spring. The loads follow from the attitude and the attitude from how
    far each gives, so both are solved by going round until nothing changes.
    """
    stance = airframe.design.stances[stance_name]
    contacts = _as_built(airframe, contacts_of(airframe.design, stance))
    bare = Settled(contacts, rest_on(contacts))
    found = (support_of(airframe.design, c.name) for c in contacts)
    if not any(one and isinstance(one[1], Wheel) and one[1].gives for one in found):
        return bare
    weight = stage_weight(airframe, stage, stance_name)
    known = None if weight is None else _whole(stage, weight[0])
    if weight is None or known is None:
        return _unloaded(bare, "no weight and height of the CG are known at this stage")
    gives: dict[str, Give] = {}
    for _ in range(ROUNDS):
        try:
            contacts = _as_built(airframe, contacts_of(airframe.design, stance, gives))
            attitude = rest_on(contacts)
        except CannotStand as error:
            return _unloaded(bare, str(error))
        loads = _loads(contacts, attitude, known)
        if min(loads.values()) < 0.0:
            return _unloaded(bare, "by its weight it does not stay on what it stands on")
        then = gives_of(airframe.design, stance, loads)
        if any(g.tyre > MOST * (c.radius + g.tyre) for c in contacts if (g := then.get(c.name))):
            return _unloaded(bare, "a tyre would give more than half its radius")
        if gives and _apart(gives, then) < SAME:
            return Settled(contacts, attitude, gives, loads, weight[1])
        gives = then
    return _unloaded(bare, "attitude and loads do not settle")


def _as_built(airframe: Airframe, contacts: tuple[Contact, ...]) -> tuple[Contact, ...]:
    """Contacts where they are as built."""
    if airframe.moved is None:
        return contacts
    points = (airframe.carried(c.name, np.array(c.point)) for c in contacts)
    return tuple(
        replace(c, point=(float(p[0]), float(p[1]), float(p[2])))
        for c, p in zip(contacts, points, strict=True)
    )


def _unloaded(bare: Settled, why: str) -> Settled:
    return Settled(bare.contacts, bare.attitude, withheld=why)


def _whole(stage: Stage, items: tuple[Item, ...]) -> Item | None:
    """All the items as one, with its waterline; None where they weigh nothing or have none."""
    if not sum(item.mass for item in items) > 0.0:
        return None
    whole = summed(stage.name, items)
    return None if whole.wl is None else whole


def _loads(contacts: tuple[Contact, ...], attitude: Attitude, whole: Item) -> dict[str, float]:
    """What each contact carries [kg]; nothing where it does not touch."""
    turn = body2floor(attitude.pitch, attitude.roll)
    on = [c for c in contacts if lowest(c, turn) + attitude.height - c.support < LEVEL_ENOUGH]
    plan = np.array([c.point for c in on]) @ turn.T
    centre = turn @ np.array([whole.fs, whole.bl, float(whole.wl or 0.0)])
    shares = reactions(plan[:, :2], whole.mass, centre[:2])
    out = dict.fromkeys((c.name for c in contacts), 0.0)
    return out | {c.name: float(load) for c, load in zip(on, shares, strict=True)}


def _apart(a: dict[str, Give], b: dict[str, Give]) -> float:
    return max(max(abs(a[n].tyre - b[n].tyre), abs(a[n].strut - b[n].strut)) for n in b)
