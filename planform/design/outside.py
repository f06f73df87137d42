"""What is outside the doors of a place, as written down."""

from __future__ import annotations

from typing import Literal

from planform.design.fields import Model, Name, PositiveLength
from planform.design.things import Line, Obstacle
from planform.design.units import FOOT

Voltage = Literal[
    "up to 50 kV", "up to 200 kV", "up to 350 kV", "up to 500 kV", "up to 750 kV", "up to 1000 kV"
]

LINE_SOURCE = "29 CFR 1926.1408 Table A"
"""Least clearance of equipment to power lines; its figures here are from memory."""

LINE_DISTANCE: dict[str, float] = {
    "up to 50 kV": 10 * FOOT,
    "up to 200 kV": 15 * FOOT,
    "up to 350 kV": 20 * FOOT,
    "up to 500 kV": 25 * FOOT,
    "up to 750 kV": 35 * FOOT,
    "up to 1000 kV": 45 * FOOT,
}
"""Least distance to a power line by its nominal voltage [m]; `LINE_SOURCE`, from memory."""


class Apron(Model):
    """The ground before a door that wheels may stand on, as deep and wide as it is.

    Its middle is before the door's middle; the wheels stay on it.
    """

    door: Name
    depth: PositiveLength
    width: PositiveLength


class Fence(Model):
    """A fence, wall or kerb along a line outside."""

    name: Name
    line: Line
    height: PositiveLength
    thickness: PositiveLength


class PowerLine(Model):
    """A power line over the ground outside: its lowest wire and the distance kept from it.

    distance : by the utility; else `voltage` takes it from a published table
    """

    name: Name
    line: Line
    height: PositiveLength
    distance: PositiveLength | None = None
    voltage: Voltage | None = None

    @property
    def kept(self) -> float:
        """The distance kept from the line all round [m]."""
        if self.distance is not None:
            return float(self.distance)
        return LINE_DISTANCE[str(self.voltage)]


class Surroundings(Model):
    """What is outside the walls: aprons, fences and kerbs, things, power lines."""

    aprons: tuple[Apron, ...] = ()
    fences: tuple[Fence, ...] = ()
    things: tuple[Obstacle, ...] = ()
    power_lines: tuple[PowerLine, ...] = ()
