"""The weighing in a design file: scales, level and lean, a second attitude."""

from __future__ import annotations

from math import radians
from typing import Annotated

from pydantic import Field, model_validator

from planform.design.fields import (
    ZERO_ANGLE,
    Angle,
    Length,
    MassOrZero,
    Model,
    Name,
    Text,
    refuse,
)
from planform.design.weights import Weight

LEAST_TILT = radians(3.0)
"""Radians by which two attitudes must differ for the CG height to be told. Assumption: there a
tenth of a degree moves it by some 3 %, and what a scale is off by counts 19 times."""


class Scale(Model):
    """One scale: the wheel or pad on it, what it shows, and the tare that stood on it too."""

    at: Name
    reading: MassOrZero
    tare: MassOrZero | None = None
    arm: Length | None = None
    bl: Length | None = None
    wl: Length | None = None

    @model_validator(mode="after")
    def _more_than_tare(self) -> Scale:
        if self.tare is not None and self.tare > self.reading:
            raise refuse(
                f"reading {self.reading.text!r}, tare {self.tare.text!r}",
                "allowed: a tare of at most the reading; are the two swapped?",
            )
        return self


class TiltedWeighing(Model):
    """The same aircraft weighed again at another attitude, which tells the height of its CG."""

    scales: Annotated[tuple[Scale, ...], Field(min_length=1)]
    level: Angle
    lean: Angle = Field(default=ZERO_ANGLE, validate_default=True)


class Weighing(Model):
    """A weighing as it was done; level and lean are what the level showed on the day."""

    date: Text = ""
    place: Text = ""
    instruments: Text = ""
    scales: Annotated[tuple[Scale, ...], Field(min_length=1)]
    level: Angle = Field(default=ZERO_ANGLE, validate_default=True)
    lean: Angle = Field(default=ZERO_ANGLE, validate_default=True)
    cg_wl: Length | None = None
    tilted: TiltedWeighing | None = None
    deduct: tuple[Weight, ...] = ()
    add: tuple[Weight, ...] = ()
