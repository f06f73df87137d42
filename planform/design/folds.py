"""Joints of a surface that fold, as written down."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, model_validator

from planform.design.fields import ZERO_LENGTH, Angle, Length, Model, Point, refuse


class Fold(Model):
    """The hinge on which what is outboard of a joint folds, which way, and how far.

    goes : the way the tip first moves
    angle : how far it is turned where a stance has it folded
    above : the hinge stands so far above the chord line of the joint's cut, along which it runs
    hinge_from, hinge_to : of a hinge that runs another way, two points, butt lines outboard
    """

    angle: Angle
    goes: Literal["up", "down", "ahead", "aft", "inboard", "outboard"] = "up"
    above: Length = Field(default=ZERO_LENGTH, validate_default=True)
    hinge_from: Point | None = None
    hinge_to: Point | None = None

    @model_validator(mode="after")
    def _whole_line(self) -> Fold:
        if (self.hinge_from is None) != (self.hinge_to is None):
            given = "hinge_from alone" if self.hinge_from else "hinge_to alone"
            raise refuse(given, "allowed: both ends of the hinge, or none: along the chord line")
        if self.hinge_from is not None and "above" in self.model_fields_set:
            raise refuse("above and a hinge", "allowed: only one; above is over the chord line")
        return self
