"""The place file: the room or hangar, as it is with its doors open."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from planform.core.shown import Brief, Shown
from planform.design.ceiling import Ceiling
from planform.design.clearances import Clearances
from planform.design.doors import Door
from planform.design.fields import (
    Angle,
    Included,
    Model,
    Name,
    Prose,
    SharedValue,
    UnitSystem,
    ValueName,
)
from planform.design.floor import Corner, Floor
from planform.design.outside import Surroundings
from planform.design.things import Car, Hoist, KeptFree, Obstacle


class Spot(Model):
    """Where an aircraft is parked.

    at is where its parking point stands; heading is the way its nose points: 0 deg away from
    the front wall, clockwise seen from above.
    """

    name: Name
    at: Corner
    heading: Angle


class Place(Shown, Model):
    """The whole place file."""

    format: Literal["planform place 1"]
    name: Name
    units: UnitSystem
    story: Prose = ""
    include: Included = ()
    values: dict[ValueName, SharedValue] = Field(default_factory=dict)
    floor: Floor
    ceiling: Ceiling | None = None
    doors: tuple[Door, ...] = ()
    obstacles: tuple[Obstacle, ...] = ()
    hoists: tuple[Hoist, ...] = ()
    cars: tuple[Car, ...] = ()
    kept_free: tuple[KeptFree, ...] = ()
    outside: Surroundings | None = None
    clearances: Clearances = Clearances()
    spots: tuple[Spot, ...] = ()

    def brief(self) -> Brief:
        """Its doors, things and spots by name."""
        doors = (
            f"{d.name}, {d.clear_width.text} wide, {d.clear_height.text} high" for d in self.doors
        )
        rows = (
            ("doors", "; ".join(doors)),
            ("obstacles", ", ".join(thing.name for thing in self.obstacles)),
            ("spots", ", ".join(spot.name for spot in self.spots)),
            ("units", self.units),
        )
        return Brief(self.name, tuple(row for row in rows if row[1]))
