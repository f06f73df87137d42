"""Wheels, what belongs to them, and what else an aircraft may stand on, as written down."""

from __future__ import annotations

import math
from typing import Literal

from pydantic import Field, field_validator, model_validator

from planform.design.fields import (
    ZERO_LENGTH,
    Angle,
    Length,
    LengthOrZero,
    Model,
    Point,
    PositiveLength,
    PositiveMass,
    Side,
    refuse,
)
from planform.design.pairs import Sideable
from planform.design.reading import Reading


class Leg(Model):
    """The straight leg between a wheel's axle and the airframe."""

    top: Point
    thickness: PositiveLength


class Fairing(Model):
    """A fairing round a wheel, from its nose aft, on and off by a name of its own.

    It has its full section from 15 to 55 % of its length, 0.6 of it at its nose, 0.2 at its tail.
    """

    fs: Length
    length: PositiveLength
    width: PositiveLength
    bottom: Length
    top: Length


class Brake(Model):
    """A brake's disc and caliper as one round block about the axle, at a butt line of its own."""

    bl: Length
    diameter: PositiveLength
    width: PositiveLength


class Retraction(Model):
    """The hinge that a retracted leg turns about: by the right-hand rule from one end to the other.

    angle : from gear down to gear up
    """

    hinge_from: Point
    hinge_to: Point
    angle: Angle

    @field_validator("angle")
    @classmethod
    def _turns(cls, given: Reading) -> Reading:
        if not 0.0 < abs(given) <= math.pi + 1e-9:
            allowed = "allowed: up to 180 deg either way, and not zero"
            raise refuse(repr(given.text), allowed)
        return given


class Squash(Model):
    """How far a tyre gives under a load; in proportion to it."""

    load: PositiveMass
    by: PositiveLength


class StrutStroke(Model):
    """How far a wheel's strut travels at most, and by how much under a load, in proportion to it.

    The wheel is written down with the strut at its full length.
    """

    full: PositiveLength
    load: PositiveMass | None = None
    by: PositiveLength | None = None

    @model_validator(mode="after")
    def _both_or_none(self) -> StrutStroke:
        if (self.load is None) != (self.by is None):
            given = "load alone" if self.by is None else "by alone"
            raise refuse(given, "allowed: load and by together, or neither")
        return self


class TowBar(Model):
    """A bar fixed at a wheel while the aircraft is moved, and who pulls it.

    length : from the axle to the handle ; width : of the handle ; height : of it over the floor
    """

    length: PositiveLength
    width: PositiveLength
    height: PositiveLength
    toward: Literal["ahead", "aft"] = "ahead"


class Wheel(Sideable):
    """A wheel with its tyre; flat_drop is how much lower the axle sits on a flat tyre.

    steers is how far it can be steered each way; without it, it casters or is braked. trail is
    how far its axle trails its upright swivel, drawn as it stands with the aircraft parked.
    """

    side: Side = "centre"
    fs: Length
    bl: Length
    wl: Length
    diameter: PositiveLength
    width: PositiveLength
    flat_drop: LengthOrZero = Field(default=ZERO_LENGTH, validate_default=True)
    steers: Angle | None = None
    trail: PositiveLength | None = None
    tow_bar: TowBar | None = None
    leg: Leg | None = None
    fairing: Fairing | None = None
    brake: Brake | None = None
    retraction: Retraction | None = None
    squash: Squash | None = None
    stroke: StrutStroke | None = None

    @property
    def gives(self) -> bool:
        """Whether it stands lower under more load."""
        return self.squash is not None or bool(self.stroke and self.stroke.load)

    @model_validator(mode="after")
    def _swings_or_steers(self) -> Wheel:
        if self.trail is not None and self.steers is not None:
            allowed = "allowed: trail of a wheel that casters, or steers of one that does not"
            raise refuse("trail and steers", allowed)
        return self

    @field_validator("steers")
    @classmethod
    def _forward(cls, given: Reading | None) -> Reading | None:
        if given is not None and not 0.0 < given < 0.5 * math.pi:
            allowed = "allowed: more than 0 and less than 90 deg; leave it out where it casters"
            raise refuse(repr(given.text), allowed)
        return given


def retracting(wheel: Wheel) -> tuple[float, float]:
    """The least and the most that a wheel with a hinge turns [rad]; nothing where it has none."""
    up = float(wheel.retraction.angle or 0.0) if wheel.retraction is not None else 0.0
    return min(0.0, up), max(0.0, up)


class Pad(Sideable):
    """A point the aircraft may stand on that is no wheel: bumper, jack pad, cradle point."""

    side: Side = "centre"
    fs: Length
    bl: Length
    wl: Length
