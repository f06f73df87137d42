"""The limits of a design file: weights, and where the CG may lie, along and across."""

from __future__ import annotations

from typing import Literal

from pydantic import model_validator

from planform.design.fields import (
    Length,
    Model,
    Moment,
    Percent,
    PositiveMass,
    Text,
)
from planform.design.weights import one_of


class LimitPoint(Model):
    """One point of a CG limit: a station, or a percentage of the reference MAC, at a mass."""

    mass: PositiveMass | None = None
    fs: Length | None = None
    percent_mac: Percent | None = None

    @model_validator(mode="after")
    def _one_station(self) -> LimitPoint:
        one_of("fs, percent_mac", self.fs, self.percent_mac)
        return self


class Limits(Model):
    """The envelope, from the designer or from flight test; `between` says what runs straight."""

    record: Text = ""
    max_mass: PositiveMass | None = None
    min_mass: PositiveMass | None = None
    max_zero_fuel_mass: PositiveMass | None = None
    forward: tuple[LimitPoint, ...] = ()
    aft: tuple[LimitPoint, ...] = ()
    between: Literal["station", "moment", "smooth"] = "station"
    left: Length | None = None
    right: Length | None = None
    lateral_moment: Moment | None = None
