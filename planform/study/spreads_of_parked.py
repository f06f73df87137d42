"""What the inputs' tolerances do to parts carried out and to aircraft parked together.

Each input is moved up and down alone and everything is built again; the way carried, the roll and
the places are held, and the pair that was nearest is measured again. First order, as it says.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from planform.airframe.build import build
from planform.airframe.stance import Standing, stage_named, stand_on
from planform.core.spread import Spread, Values, spreads
from planform.design.models import Design
from planform.design.naming import field_name
from planform.design.place import Place
from planform.design.vary import shifted
from planform.fit.berth import Berth
from planform.fit.carrying import Carried, Through, one_piece, spare_of
from planform.fit.clearance import clearances
from planform.fit.packing import Packing
from planform.fit.parked_gaps import least_between, spot_at
from planform.fit.room import Room, build_room
from planform.study.inputs import Input, buildable, given_inputs


def carried_spreads(
    design: Design, place: Place, one: Carried, doors: Sequence[Through]
) -> dict[str, Spread]:
    """What each input does to what is left in each door [m], by the door's name."""
    names = [part.name for part in one.parts]
    base = {door.opening: spare_of(one, door, place) for door in doors}
    changes: list[tuple[str, Values]] = []
    for given in given_inputs(design, place):
        for side in (1.0, -1.0):
            with buildable(design.name, [given.name]):
                moved = _moved(design, place, given, side)
                there = one if given.of_place else one_piece(build(moved[0]), names)
            values = {door.opening: spare_of(there, door, moved[1]) for door in doors}
            changes.append((given.name, values))
    return spreads(base, changes)


def _moved(design: Design, place: Place, given: Input, side: float) -> tuple[Design, Place]:
    step = side * given.step
    if given.of_place:
        return design, shifted(place, given.path, step)
    return shifted(design, given.path, step), place


def packed_spreads(found: Packing) -> dict[str, Spread]:
    """What each input does to the gaps as parked [m], by `key_between` and `key_room`.

    Two aircraft of one design are built apart: the tolerances of each count on their own.
    """
    place = found.room.place
    base = _gaps(found, found.berths, found.room)
    changes: list[tuple[str, Values]] = []
    for k, berth in enumerate(found.berths):
        design = berth.standing.airframe.design
        for given in given_inputs(design, place):
            if given.of_place and k > 0:
                continue
            for side in (1.0, -1.0):
                with buildable(place.name, [given.name]):
                    moved, there = _moved(design, place, given, side)
                    room = build_room(there) if given.of_place else found.room
                    standing = berth.standing if given.of_place else _stood(berth.standing, moved)
                berths = list(found.berths)
                berths[k] = replace(berth, standing=standing)
                named = given.of_place or berth.name == design.name
                name = given.name if named else field_name(design, given.path, berth.name)
                changes.append((name, _gaps(found, berths, room)))
    return spreads(base, changes)


def _stood(standing: Standing, design: Design) -> Standing:
    airframe = build(design, like=standing.airframe)
    return stand_on(airframe, stage_named(design, standing.stage.name), standing.stance_name)


def key_between(first: str, second: str) -> str:
    """The key of the gap between two aircraft."""
    return f"{first} / {second}"


def key_room(name: str) -> str:
    """The key of an aircraft's gap to the room."""
    return f"{name} / room"


def _gaps(found: Packing, berths: Sequence[Berth], room: Room) -> Values:
    """The gaps between the parts that were nearest, as they are now [m]."""
    by_name = {berth.name: berth for berth in berths}
    out: Values = {}
    for one in found.between:
        pair = (by_name[one.first], one.part), (by_name[one.second], one.other)
        solids = [[s for s in berth.solids if s[0] == part] for berth, part in pair]
        out[key_between(one.first, one.second)] = least_between(*solids)[0]
    for name, near in found.walls:
        berth = by_name[name]
        only = replace(room, fixed=tuple(t for t in room.fixed if t.name == near.thing))
        part = tuple(p for p in berth.standing.parts if p.name == near.part)
        alone = replace(berth.standing, parts=part)
        there = clearances(alone, only, spot_at(berth.pose, name), 20.0)
        gaps = [c.gap for c in there if c.thing == near.thing]
        if gaps:
            out[key_room(name)] = min(gaps)
    return out
