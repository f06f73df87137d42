"""The readings a fit stands on, and the aircraft in its room with some of them moved."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

from planform.airframe.build import build
from planform.airframe.on_the_move import on_the_move
from planform.airframe.stance import Standing, stage_named, stand_on
from planform.core.halting import look
from planform.core.quantity import OfReading
from planform.design.kinds import INNER, KINDS
from planform.design.models import Design
from planform.design.naming import Path, field_name
from planform.design.place import Place, Spot
from planform.design.problems import InputError, Problem
from planform.design.reading import Reading
from planform.design.units import DEGREE, INCH
from planform.design.vary import own_readings, shifted, weights_apart
from planform.fit.door import Passage, passages
from planform.fit.own_floor import there
from planform.fit.push import Push
from planform.fit.push_path import PushPath
from planform.fit.room import Room, build_room, spot_point


@dataclass(frozen=True, eq=False)
class Input:
    """One reading of the design or the place and how far it is moved [SI].

    name : the file's name and the field's path; it knows its words for people
    """

    name: str
    path: Path
    reading: Reading
    of_place: bool
    step: OfReading


ASSUMED = {"length": INCH / 8, "angle": 0.1 * DEGREE}
"""How far a reading without a tolerance is moved to see what it matters: 1/8 in, or 0.1 deg.
Common practice, no source."""

WISHES = ("clearances",)
"""Fields of a place that are wishes and not readings."""


def given_inputs(design: Design, place: Place) -> tuple[Input, ...]:
    """Every reading that carries a tolerance and can change a fit, moved by its tolerance."""
    return tuple(one for one in _all(design, place) if one.reading.tolerance > 0.0)


def bare_inputs(design: Design, place: Place) -> tuple[Input, ...]:
    """Every reading without a tolerance that can change a fit, moved by what `ASSUMED` says.

    A reading of zero is a line that others are measured from, and is left out.
    """
    return tuple(
        replace(one, step=ASSUMED[one.reading.kind])
        for one in _all(design, place)
        if not one.step and one.reading.kind in ASSUMED and float(one.reading) != 0.0
    )


def _all(design: Design, place: Place) -> list[Input]:
    found: list[Input] = []
    models: tuple[tuple[Any, tuple[str, ...]], ...] = (
        (design, weights_apart(design)),
        (place, WISHES),
    )
    for model, out in models:
        for path, reading in own_readings(model):
            if path[0] not in out:
                name = field_name(model, path, model.name)
                found.append(Input(name, path, reading, model is place, reading.tolerance))
    return found


@dataclass(frozen=True, eq=False)
class State:
    """The aircraft as it stands, and the room with the spot it stands on."""

    standing: Standing
    room: Room
    spot: Spot | None

    @cached_property
    def ways(self) -> dict[Push, PushPath]:
        """Pushes over uneven ground, as they were followed here; filled as they are asked."""
        return {}

    @cached_property
    def doors(self) -> dict[str, Passage]:
        """The straight push through each door, by its name."""
        return {door.door: door for door in passages(on_the_move(self.standing), self.room)}


def state_of(standing: Standing, room: Room, spot: str | None) -> State:
    """An aircraft as it stands in a room, on the spot with this name or on none."""
    if spot:
        standing, room = there(standing, room, spot)
    return State(standing, room, spot_point(room.place, spot) if spot else None)


def moved(base: State, sides: Mapping[Input, float]) -> State:
    """The aircraft and the room with inputs moved, each by its step times its side, built again.

    Raises InputError, naming the inputs, where there is no such aircraft or room.
    """
    look()
    standing, place = base.standing, base.room.place
    design, unseen = standing.airframe.design, fields_unseen([standing])
    for one, side in sides.items():
        if one.of_place:
            place = shifted(place, one.path, side * one.step)
        elif one.path[0] not in unseen:
            design = shifted(design, one.path, side * one.step)
    with buildable(place.name, [one.name for one in sides]):
        if design is not standing.airframe.design:
            airframe = build(design.model_copy(update=unseen), like=standing.airframe)
            standing = stand_on(
                airframe, stage_named(design, standing.stage.name), standing.stance_name
            )
        room = base.room if place is base.room.place else build_room(place)
        return state_of(standing, room, None if base.spot is None else base.spot.name)


def fields_unseen(standings: Sequence[Standing]) -> dict[str, dict[str, object]]:
    """The fields of a design whose parts are all proved to lie inside skins that are on, emptied.

    They are taken to stay inside when a reading moves by its tolerance, and then move nothing that
    can be seen. None where a tyre or strut gives: the weight of what lies inside counts for that.
    """
    design = standings[0].airframe.design
    if not weights_apart(design) or any(p.role in INNER for s in standings for p in s.parts):
        return {}
    return {kind.field: {} for kind in KINDS if kind.inner}


@contextmanager
def buildable(origin: str, names: Sequence[str]) -> Iterator[None]:
    """Say which readings, moved within their tolerance, leave nothing that can be built."""
    try:
        yield
    except ValueError as error:
        reason = str(error).splitlines()[-1].strip()
        allowed = f"at the end of its tolerance nothing can be built: {reason}; narrow it"
        problem = Problem(", ".join(names), "", allowed)
        raise InputError(origin, [problem]) from None
