"""Stage and stance: what is on, what is open, and how it stands over the floor."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from planform.airframe.build import Airframe
from planform.airframe.gear_state import GearState
from planform.airframe.part import Part
from planform.airframe.presence import covers, on_stage
from planform.airframe.settling import Settled, settled
from planform.airframe.sweeping import swept
from planform.airframe.turns import Turns, turned, turns_of
from planform.core.frames import body2floor
from planform.core.motion.contacts import LEVEL_ENOUGH, Attitude, Contact, lowest
from planform.core.shown import Brief, Shown
from planform.design.models import Design, Stage, Stance
from planform.design.parking import main_axle
from planform.design.problems import InputError, Problem, unknown
from planform.design.standing import contacts_of
from planform.design.told import said, stage_title

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False, repr=False)
class Standing(Shown):
    """The aircraft at one stage in one stance, over the floor.

    parts : their points in floor axes: the parking point over the origin, z is height [m]
    attitude : pitch, roll and the height of the aircraft's origin
    turns : by how much hinged parts are turned from how they are built [rad], by the part's name
    parked : the parking point, shape (3,), aircraft axes [m]
    settled : what it stands on, with tyres and struts as they give under its weight
    floor : how high the floor that it stands on is over the room's floor [m], which is in the
        heights of its parts, but not in `attitude` and `settled`
    """

    airframe: Airframe
    stage: Stage
    stance_name: str
    attitude: Attitude
    parts: tuple[Part, ...]
    turn: Array
    shift: Array
    parked: Array
    turns: Mapping[str, float]
    settled: Settled
    floor: float = 0.0

    @property
    def title(self) -> str:
        """Stage and stance in words; stands beside every height."""
        return stage_title(self.stage.name, self.stance_name)

    def to_floor(self, points: Array) -> Array:
        """Points (n, 3) from aircraft axes to floor axes [m]."""
        return np.asarray(points @ self.turn.T + self.shift)

    @property
    def remarks(self) -> tuple[str, ...]:
        """How its tyres and struts were taken to stand, where they give under a load."""
        if self.settled.withheld:
            return (f"{self.title}: tyres and struts stand unloaded, as {self.settled.withheld}",)
        if not self.settled.gives:
            return ()
        return (
            f"{self.title}: tyres and struts give in proportion to their loads (assumption), by "
            f"the stage's weight: {self.settled.source}",
        )

    @property
    def bulge(self) -> float:
        """How far a true shape may stand outside the facets [m]; taken off every clearance."""
        return max((part.bulge for part in self.parts), default=0.0)

    def all_points(self) -> Array:
        """The points of all parts, shape (n, 3) [m]."""
        return np.concatenate([part.points for part in self.parts])

    def triangles(self) -> Array:
        """The facets of all parts, shape (n, 3, 3) [m]."""
        return np.concatenate([part.points[part.faces] for part in self.parts])

    def brief(self) -> Brief:
        """What stands, and how much room it takes."""
        design, points = self.airframe.design, self.all_points()
        (length, width, _), top = np.ptp(points, axis=0), float(points[:, 2].max()) - self.floor
        sizes = {"length": float(length), "width": float(width), "height over the floor": top}
        rows = tuple((what, said(v, "length", design.units)) for what, v in sizes.items())
        pitch = ("nose up", said(self.attitude.pitch, "angle", design.units))
        return Brief(f"{design.name}, {self.title}", (*rows, pitch))


def shaped(design: Design) -> Design:
    """The design itself; InputError where it is weights alone and there is nothing to build."""
    if not design.stages:
        allowed = "this design is weights alone; give lifting or bodies, stances and stages"
        raise InputError(design.name, [Problem("stages", "", allowed)])
    return design


def stage_named(design: Design, name: str) -> Stage:
    """The stage with this name; InputError with the nearest real name otherwise."""
    for stage in design.stages:
        if stage.name == name:
            return stage
    raise InputError("stage", [unknown("stage", name, [s.name for s in design.stages])])


def stance_named(design: Design, name: str) -> Stance:
    """The stance with this name; InputError with the nearest real name otherwise."""
    if name not in design.stances:
        raise InputError("stance", [unknown("stance", name, design.stances)])
    return design.stances[name]


def parking_point(design: Design, stance: Stance, on: Sequence[Contact] = ()) -> Array:
    """The point that stands on a spot, shape (3,), aircraft axes [m]; see `parked_by`.

    The middle of the main axle with its struts as they are in this stance; without one, the
    middle of the points that it stands on. A station given takes the place of the point's own,
    on the centre line and at its height.
    on : the contacts of the stance, where they are known
    """
    axle = main_axle(design)
    names = [contact.name for contact in on] if axle is None and on else list(axle or stance.on)
    found = {contact.name: contact for contact in on}
    if not all(name in found for name in names):
        loose = stance.model_copy(update={"on": tuple(names), "heights": {}})
        found = {contact.name: contact for contact in contacts_of(design, loose)}
        names = list(found)
    middle = np.array([found[name].point for name in names]).mean(axis=0)
    if design.spot_station is not None:
        return np.array([float(design.spot_station), 0.0, middle[2]])
    return np.asarray(middle)


def _on(airframe: Airframe, stage: Stage, stance: Stance) -> list[Part]:
    def gone(part: Part) -> bool:
        """Whether it is retracted, or stands on what is, to nobody knows where."""
        if not any(covers(given, part) or given in part.hosts for given in stance.retracted):
            return False
        found = (airframe.by_name.get(name) for name in (part.name, *part.hosts))
        return not any(one is not None and one.hinge is not None for one in found)

    def shown(part: Part) -> bool:
        return on_stage(stage, part) and not gone(part)

    return [part for part in airframe.parts if shown(part)]


def _in_sight(parts: Sequence[Part], turns: Turns) -> list[Part]:
    """The parts without those that lie inside skins which are on, and turn with them."""
    on = {part.name: part for part in parts}
    moved = {name for name, angle in turns.items() if angle}

    def hidden(part: Part) -> bool:
        skins = [on.get(name) for name in part.within]
        turned = moved & {part.name, *part.hosts}
        return bool(skins) and all(
            skin is not None and moved & {skin.name, *skin.hosts} == turned for skin in skins
        )

    return [part for part in parts if not hidden(part)]


def touching(standing: Standing) -> tuple[Contact, ...]:
    """The contacts of a standing aircraft that rest on their supports."""
    return tuple(
        c
        for c in standing.settled.contacts
        if lowest(c, standing.turn) + standing.attitude.height - c.support < LEVEL_ENOUGH
    )


def stand_on(airframe: Airframe, stage: Stage, stance_name: str | None = None) -> Standing:
    """Stand the aircraft at a stage in a stance (the stage's own where none is named)."""
    design = airframe.design
    name = stance_name or stage.stance
    stance = stance_named(design, name)
    under = settled(airframe, stage, name)
    contacts, attitude = under.contacts, under.attitude
    turn = body2floor(attitude.pitch, attitude.roll)
    parked = parking_point(design, stance, contacts)
    origin = turn @ parked
    shift = np.array([-origin[0], -origin[1], attitude.height])
    state = GearState.of(design, stance, under)
    turns = turns_of(airframe, stage, stance)
    on = [replace(part, points=state.points(part)) for part in _on(airframe, stage, stance)]
    on = [swept(p) if p.hinge and p.hinge.free and p.name not in turns else p for p in on]
    parts = tuple(
        state.standing(replace(part, points=part.points @ turn.T + shift))
        for part in turned(_in_sight(on, turns), turns, airframe.by_name)
    )
    return Standing(airframe, stage, name, attitude, parts, turn, shift, parked, turns, under)


def stand_all(airframe: Airframe) -> tuple[Standing, ...]:
    """Every stage of the design in its own stance, in build order."""
    return tuple(stand_on(airframe, stage) for stage in airframe.design.stages)
