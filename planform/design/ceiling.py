"""The ceiling of a place, as written down."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from planform.design.fields import (
    ZERO_LENGTH,
    Length,
    LengthOrZero,
    Model,
    PositiveLength,
    refuse,
)

Along = Literal["width", "depth"]

SHAPES = ("height", "profile", "gable", "hip", "arch")
"""The ways a ceiling is written; a place gives one."""


class Level(Model):
    """The ceiling's height at one distance along its slope."""

    at: Length
    height: PositiveLength


class Gable(Model):
    """Two slopes from the eaves to a ridge, which runs along the depth or the width.

    ridge_at : distance of the ridge from the left or the front wall; the middle where not given
    """

    eaves: PositiveLength
    ridge: PositiveLength
    ridge_along: Along = "depth"
    ridge_at: PositiveLength | None = None


class Hip(Gable):
    """A gable roof whose ends slope too: four slopes.

    near_hip, far_hip : how far the ridge ends short of the wall at either end, from the front or
    the left wall; zero is an upright gable end there
    """

    near_hip: LengthOrZero = Field(default=ZERO_LENGTH, validate_default=True)
    far_hip: LengthOrZero = Field(default=ZERO_LENGTH, validate_default=True)


class Arch(Model):
    """A round roof: an arc from wall to wall over the eaves, by its rise or its radius."""

    eaves: LengthOrZero = Field(default=ZERO_LENGTH, validate_default=True)
    rise: PositiveLength | None = None
    radius: PositiveLength | None = None
    ridge_along: Along = "depth"

    @model_validator(mode="after")
    def _one_way(self) -> Arch:
        if (self.rise is None) == (self.radius is None):
            given = "neither" if self.rise is None else "both"
            raise refuse(given, "allowed: the arch's rise over its eaves, or its radius")
        return self


class Ceiling(Model):
    """Flat (height), sloped (a profile of heights along the width or the depth) or a roof shape."""

    height: PositiveLength | None = None
    along: Along = "depth"
    profile: Annotated[tuple[Level, ...], Field(min_length=2)] | None = None
    gable: Gable | None = None
    hip: Hip | None = None
    arch: Arch | None = None

    @model_validator(mode="after")
    def _one_way(self) -> Ceiling:
        given = [name for name in SHAPES if getattr(self, name) is not None]
        if len(given) != 1:
            said = "neither" if not given else "both" if len(given) == 2 else ", ".join(given)
            raise refuse(
                said,
                "allowed: one height (flat), or a profile (sloped), or one of gable, hip and arch",
            )
        if "along" in self.model_fields_set and given[0] in ("gable", "hip", "arch"):
            raise refuse(
                f"along = {self.along!r}",
                f"allowed: along beside a profile only; a roof written as {given[0]} says "
                "ridge_along",
            )
        return self
