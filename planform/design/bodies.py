"""Bodies, as written down: hull, cowl, spinner, boom."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from planform.design.fields import (
    ZERO_LENGTH,
    Length,
    Model,
    PositiveLength,
    Side,
    refuse,
)
from planform.design.pairs import Pair


class BodyCut(Model):
    """One cut through a body: a superellipse between two waterlines.

    boxiness : the exponent of the superellipse; 2 is an ellipse, more is nearer to a rectangle
    """

    fs: Length
    half_width: PositiveLength
    bottom: Length
    top: Length
    boxiness: Annotated[float, Field(ge=1.5, le=12.0)] = 2.5

    @model_validator(mode="after")
    def _upright(self) -> BodyCut:
        if not self.top > self.bottom:
            raise refuse(
                f"bottom {self.bottom.text!r}, top {self.top.text!r}",
                "allowed: a top above the bottom",
            )
        return self


class Body(Pair):
    """A body lofted straight from cut to cut: pod, cowl, spinner, boom."""

    role: Literal["fuselage", "cowl", "spinner", "boom"] = "fuselage"
    side: Side = "centre"
    bl: Length = Field(default=ZERO_LENGTH, validate_default=True)
    cuts: Annotated[tuple[BodyCut, ...], Field(min_length=2)]
