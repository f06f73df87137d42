"""Wheels, their legs, and what else an aircraft may stand on, as written down."""

from __future__ import annotations

import math

from pydantic import Field, field_validator

from planform.design.fields import (
    ZERO_LENGTH,
    Angle,
    Length,
    LengthOrZero,
    Model,
    Point,
    PositiveLength,
    Side,
    refuse,
)
from planform.design.reading import Reading


class Leg(Model):
    """The straight leg between a wheel's axle and the airframe."""

    top: Point
    thickness: PositiveLength


class Wheel(Model):
    """A wheel with its tyre; flat_drop is how much lower the axle sits on a flat tyre.

    steers is how far it can be steered each way; without it, it casters or is braked.
    """

    side: Side = "centre"
    fs: Length
    bl: Length
    wl: Length
    diameter: PositiveLength
    width: PositiveLength
    flat_drop: LengthOrZero = Field(default=ZERO_LENGTH, validate_default=True)
    steers: Angle | None = None
    leg: Leg | None = None

    @field_validator("steers")
    @classmethod
    def _forward(cls, given: Reading | None) -> Reading | None:
        if given is not None and not 0.0 < given < 0.5 * math.pi:
            allowed = "allowed: more than 0 and less than 90 deg; leave it out where it casters"
            raise refuse(repr(given.text), allowed)
        return given


class Pad(Model):
    """A point the aircraft may stand on that is no wheel: bumper, jack pad, cradle point."""

    side: Side = "centre"
    fs: Length
    bl: Length
    wl: Length
