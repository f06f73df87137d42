"""The balance part of a design file: weighing, equipment, places to load, cases, limits.

The user gives every limit; none is invented. Arms are stations aft of the datum.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from planform.design.fields import (
    Angle,
    Length,
    MassOrVolume,
    MassOrZero,
    Model,
    Moment,
    Name,
    Percent,
    Point,
    PositiveDensity,
    PositiveLength,
    PositiveMass,
    PositiveVolume,
    Text,
    refuse,
)
from planform.design.notation import read
from planform.design.reading import Reading

ZERO_LENGTH = "0 in"
ZERO_ANGLE = "0 deg"

FLUIDS = {
    "avgas": "6 lb/gal (US)",
    "turbine fuel": "6.7 lb/gal (US)",
    "oil": "7.5 lb/gal (US)",
    "water": "8.35 lb/gal (US)",
}
"""Standard weights, FAA-H-8083-30 (2008), chapter 4; a convention, about 2 % off either way."""

Fluid = Literal["avgas", "turbine fuel", "oil", "water"]


def _one_of(names: str, *given: object) -> None:
    count = sum(item is not None for item in given)
    if count != 1:
        raise refuse("both" if count > 1 else "neither", f"allowed: exactly one of {names}")


class Weight(Model):
    """Something with a mass and a place: given by mass, or by volume and what it weighs."""

    name: Name
    mass: PositiveMass | None = None
    volume: PositiveVolume | None = None
    density: PositiveDensity | None = None
    fluid: Fluid | None = None
    fs: Length
    bl: Length = Field(default=ZERO_LENGTH, validate_default=True)
    wl: Length | None = None

    @model_validator(mode="after")
    def _weighed(self) -> Weight:
        _one_of("mass, volume", self.mass, self.volume)
        if self.volume is not None:
            need_density(self.volume.text, self.density, self.fluid)
        return self


def need_density(given: str, density: object, fluid: object) -> None:
    """Refuse a volume without exactly one of a density and a named fluid."""
    if (density is None) == (fluid is None):
        what = "both a density and a fluid" if density is not None else f"{given} and no density"
        raise refuse(
            what,
            "allowed: one density, such as 6 lb/gal (US) or 0.72 kg/L, or one fluid of "
            + ", ".join(FLUIDS),
        )


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


class Weighing(Model):
    """A weighing as it was done; level and lean are what the level showed on the day."""

    date: Text = ""
    place: Text = ""
    instruments: Text = ""
    scales: Annotated[tuple[Scale, ...], Field(min_length=1)]
    level: Angle = Field(default=ZERO_ANGLE, validate_default=True)
    lean: Angle = Field(default=ZERO_ANGLE, validate_default=True)
    cg_wl: Length | None = None
    deduct: tuple[Weight, ...] = ()
    add: tuple[Weight, ...] = ()


class Empty(Model):
    """Empty weight and CG from an earlier record."""

    mass: PositiveMass
    fs: Length | None = None
    moment: Moment | None = None
    bl: Length | None = None
    wl: Length | None = None
    record: Text = ""

    @model_validator(mode="after")
    def _one_arm(self) -> Empty:
        _one_of("fs, moment", self.fs, self.moment)
        return self


class EquipmentChange(Model):
    """A change of equipment since the empty record: what came off, what went on."""

    name: Name
    off: tuple[Weight, ...] = ()
    on: tuple[Weight, ...] = ()


class LoadPlace(Model):
    """A seat, tank, hold or ballast place, with the least and the most it carries."""

    kind: Literal["seat", "fuel", "fluid", "baggage", "ballast"]
    fs: Length
    bl: Length = Field(default=ZERO_LENGTH, validate_default=True)
    wl: Length | None = None
    least: MassOrVolume | None = None
    limit: MassOrVolume | None = None
    density: PositiveDensity | None = None
    fluid: Fluid | None = None

    @model_validator(mode="after")
    def _bounds(self) -> LoadPlace:
        if self.kind == "fuel":
            need_density("a fuel tank", self.density, self.fluid)
        return self


def density_of(place: LoadPlace) -> Reading | None:
    """Density of what a place holds: as given, or the named fluid's standard one."""
    if place.density is not None:
        return place.density
    return read(FLUIDS[place.fluid], "density") if place.fluid is not None else None


def kilograms(amount: Reading, place: LoadPlace) -> float:
    """A mass, or a volume of what the place holds, as a mass [kg]."""
    if amount.kind == "mass":
        return float(amount)
    density = density_of(place)
    assert density is not None
    return float(amount) * float(density)


class LoadingCase(Model):
    """A loading case: how much is in each place; fuel burns from the tanks in the order given."""

    name: Name
    loads: dict[Name, MassOrVolume] = {}
    burn: tuple[Name, ...] | None = None


class LimitPoint(Model):
    """One point of a CG limit: a station, or a percentage of the reference MAC, at a mass."""

    mass: PositiveMass | None = None
    fs: Length | None = None
    percent_mac: Percent | None = None

    @model_validator(mode="after")
    def _one_station(self) -> LimitPoint:
        _one_of("fs, percent_mac", self.fs, self.percent_mac)
        return self


class Limits(Model):
    """The envelope, from the designer or from flight test; straight between points of mass."""

    record: Text = ""
    max_mass: PositiveMass | None = None
    min_mass: PositiveMass | None = None
    forward: tuple[LimitPoint, ...] = ()
    aft: tuple[LimitPoint, ...] = ()


class GivenMac(Model):
    """A mean aerodynamic chord from the designer's papers."""

    name: Name = "as given"
    lemac_fs: Length
    mac: PositiveLength


class NeutralPoint(Model):
    """The user's own neutral point, and where it comes from."""

    fs: Length
    record: Text


class Balance(Model):
    """Everything about weight and balance that is not a mass item of the airframe."""

    reference: Literal["planform", "trapezoid", "given"] | None = None
    mac: GivenMac | None = None
    neutral_point: NeutralPoint | None = None
    weighing: Weighing | None = None
    empty: Empty | None = None
    changes: tuple[EquipmentChange, ...] = ()
    places: dict[Name, LoadPlace] = {}
    cases: tuple[LoadingCase, ...] = ()
    limits: Limits | None = None
    nose_load: PositiveMass | None = None
    ground_ballast: dict[Name, Point] = {}

    @model_validator(mode="after")
    def _reference_there(self) -> Balance:
        if self.reference == "given" and self.mac is None:
            raise refuse("reference 'given' and no mac", "allowed: give balance.mac with it")
        return self
