"""The ceiling of a place, as written down."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from planform.design.fields import (
    Length,
    Model,
    PositiveLength,
    refuse,
)


class Level(Model):
    """The ceiling's height at one distance along its slope."""

    at: Length
    height: PositiveLength


class Ceiling(Model):
    """Flat (height) or sloped (a profile of heights along the width or the depth)."""

    height: PositiveLength | None = None
    along: Literal["width", "depth"] = "depth"
    profile: Annotated[tuple[Level, ...], Field(min_length=2)] | None = None

    @model_validator(mode="after")
    def _one_way(self) -> Ceiling:
        if (self.height is None) == (self.profile is None):
            given = "both" if self.profile else "neither"
            raise refuse(given, "allowed: one height (flat), or a profile (sloped)")
        return self
