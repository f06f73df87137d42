"""Doors and canopies that swing, as written down."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, model_validator

from planform.design.fields import (
    ZERO_LENGTH,
    Angle,
    LengthOrZero,
    Model,
    Point,
    PositiveLength,
    refuse,
)


class Strut(Model):
    """A gas strut: its length with the panel open, and its two mounts with the panel shut."""

    length: PositiveLength
    frame_mount: Point
    panel_mount: Point


class Panel(Model):
    """A swing panel: a door or canopy on a straight hinge line."""

    hinge_from: Point
    hinge_to: Point
    width: PositiveLength
    toward: Literal["left", "right", "ahead", "aft", "up", "down"]
    opens: Literal["up", "down", "left", "right", "ahead", "aft"] = "up"
    rise: LengthOrZero = Field(default=ZERO_LENGTH, validate_default=True)
    thickness: PositiveLength
    open_angle: Angle | None = None
    strut: Strut | None = None

    @model_validator(mode="after")
    def _one_angle(self) -> Panel:
        if (self.open_angle is None) == (self.strut is None):
            given = "both" if self.strut else "neither"
            raise refuse(given, "allowed: either open_angle or a strut that gives the angle")
        return self
