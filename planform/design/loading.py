"""Places to load, what they carry together, the burn and the loading cases of a design file."""

from __future__ import annotations

from functools import cache
from typing import Annotated, Any, Literal

from pydantic import Field, GetJsonSchemaHandler, model_validator
from pydantic_core import CoreSchema

from planform.design.fields import (
    ZERO_LENGTH,
    Length,
    MassOrVolume,
    Model,
    Name,
    PositiveDensity,
    refuse,
)
from planform.design.notation import read
from planform.design.reading import Reading
from planform.design.weights import FLUIDS, Fluid, need_density


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
    unusable: MassOrVolume | None = None

    @model_validator(mode="after")
    def _bounds(self) -> LoadPlace:
        if self.kind == "fuel":
            need_density("a fuel tank", self.density, self.fluid)
        return self


def density_of(place: LoadPlace) -> Reading | None:
    """Density of what a place holds: as given, or the named fluid's standard one."""
    if place.density is not None:
        return place.density
    return _standard(place.fluid) if place.fluid is not None else None


@cache
def _standard(fluid: str) -> Reading:
    return read(FLUIDS[fluid], "density")


def kilograms(amount: Reading, place: LoadPlace) -> float:
    """A mass, or a volume of what the place holds, as a mass [kg]."""
    if amount.kind == "mass":
        return float(amount)
    density = density_of(place)
    assert density is not None
    return float(amount) * float(density)


class JointLimit(Model):
    """The most that several places may carry together."""

    places: Annotated[tuple[Name, ...], Field(min_length=2)]
    limit: MassOrVolume


class BurnStep(Model):
    """A step of the burn: tanks that feed together, each down to what is left in it."""

    tanks: Annotated[tuple[Name, ...], Field(min_length=1)]
    down_to: MassOrVolume | None = None
    share: Literal["equal", "in proportion"] = "equal"

    @model_validator(mode="before")
    @classmethod
    def _tanks_alone(cls, given: object) -> object:
        if isinstance(given, str):
            return {"tanks": [given]}
        if isinstance(given, list):
            return {"tanks": given}
        if not isinstance(given, dict | BurnStep):
            allowed = "allowed: a tank's name, a list of tanks that feed together, or a table"
            raise refuse(repr(given), f"{allowed} with tanks, down_to and share")
        return given

    @classmethod
    def __get_pydantic_json_schema__(
        cls, schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        table = handler(schema)
        tank = {"type": "string", "description": "a tank that is burnt alone"}
        several = {"type": "array", "items": tank, "description": "tanks that feed together"}
        return {"anyOf": [tank, several, table]}


class LoadingCase(Model):
    """A loading case: how much is in each place, in which order it burns and what is kept."""

    name: Name
    loads: dict[Name, MassOrVolume] = Field(default_factory=dict)
    burn: tuple[BurnStep, ...] | None = None
    kept: dict[Name, MassOrVolume] = Field(default_factory=dict)
