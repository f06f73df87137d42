"""A thing with a mass and a place on paper, and what fluids weigh."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, model_validator

from planform.design.fields import (
    ZERO_LENGTH,
    Length,
    Model,
    Name,
    PositiveDensity,
    PositiveMass,
    PositiveVolume,
    refuse,
)

FLUIDS = {
    "avgas": "6 lb/gal (US)",
    "turbine fuel": "6.7 lb/gal (US)",
    "oil": "7.5 lb/gal (US)",
    "water": "8.35 lb/gal (US)",
}
"""Standard weights, FAA-H-8083-30 (2008), chapter 4; a convention, about 2 % off either way."""

Fluid = Literal["avgas", "turbine fuel", "oil", "water"]


def one_of(names: str, *given: object) -> None:
    """Refuse fields of which not exactly one is given."""
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
        one_of("mass, volume", self.mass, self.volume)
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
