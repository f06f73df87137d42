"""Doors and canopies that swing, as written down."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from planform.design.fields import (
    ZERO_LENGTH,
    Angle,
    Length,
    LengthOrZero,
    Model,
    Name,
    Point,
    PositiveForce,
    PositiveLength,
    Side,
    refuse,
)
from planform.design.pairs import Sideable

Way = Literal["left", "right", "ahead", "aft", "up", "down"]


class Strut(Model):
    """A gas strut: its length with the panel open, and its two mounts with the panel shut.

    force : what it pushes with at that length, its rating; force_shut where it is pushed in
    """

    length: PositiveLength
    frame_mount: Point
    panel_mount: Point
    force: PositiveForce | None = None
    force_shut: PositiveForce | None = None

    @model_validator(mode="after")
    def _rated(self) -> Strut:
        if self.force_shut is not None and self.force is None:
            raise refuse("force_shut and no force", "allowed: force too, its rating pushed out")
        if self.force is not None and self.force_shut is not None and self.force_shut < self.force:
            allowed = f"allowed: at least its force pushed out ({self.force.text})"
            raise refuse(repr(self.force_shut.text), allowed)
        return self


class PanelFrame(Model):
    """Where a panel cut from a body's skin has its edges at one station.

    On the centre line lower is its sill on both sides, and it runs over the top; on a side it
    runs from lower up to upper, or to the middle of the top.
    """

    fs: Length
    lower: Length
    upper: Length | None = None

    @model_validator(mode="after")
    def _upright(self) -> PanelFrame:
        if self.upper is not None and not self.upper > self.lower:
            given = f"lower {self.lower.text!r}, upper {self.upper.text!r}"
            raise refuse(given, "allowed: an upper edge above the lower one")
        return self


class Panel(Sideable):
    """A swing panel: a door or canopy on a straight hinge line.

    Its outline is a rectangle (width and toward), or corners, or frames of the skin of a body.
    Of a pair the right one is written. It stands open at open_angle, or as far as its struts
    reach; a stop holds it before that.
    """

    side: Side = "centre"
    hinge_from: Point
    hinge_to: Point
    width: PositiveLength | None = None
    toward: Way | None = None
    corners: Annotated[tuple[Point, ...], Field(min_length=3)] | None = None
    frames: Annotated[tuple[PanelFrame, ...], Field(min_length=2)] | None = None
    body: Name | None = None
    opens: Way = "up"
    rise: LengthOrZero = Field(default=ZERO_LENGTH, validate_default=True)
    thickness: PositiveLength
    open_angle: Angle | None = None
    strut: Strut | None = None
    second_strut: Strut | None = None
    stop: Angle | None = None

    @property
    def struts(self) -> tuple[Strut, ...]:
        """Its gas struts, none to two."""
        return tuple(one for one in (self.strut, self.second_strut) if one is not None)

    @model_validator(mode="after")
    def _one_angle(self) -> Panel:
        if (self.open_angle is None) == (self.strut is None):
            given = "open_angle and strut" if self.strut else "neither open_angle nor strut"
            raise refuse(given, "allowed: either open_angle or a strut that gives the angle")
        if self.second_strut is not None and self.strut is None:
            raise refuse("second_strut and no strut", "allowed: strut first, then second_strut")
        return self

    @model_validator(mode="after")
    def _one_outline(self) -> Panel:
        ways = {
            "width and toward": self.width is not None or self.toward is not None,
            "corners": self.corners is not None,
            "frames": self.frames is not None,
        }
        given = [name for name, there in ways.items() if there]
        if len(given) != 1:
            raise refuse(" and ".join(given) or "none", f"allowed: one of {', '.join(ways)}")
        if ways["width and toward"] and (self.width is None or self.toward is None):
            lone = "width" if self.toward is None else "toward"
            raise refuse(f"{lone} alone", "allowed: width and toward together")
        if self.frames is None and self.body is not None:
            raise refuse("body and no frames", "allowed: body goes with frames of its skin")
        if self.rise > 0.0 and not ways["width and toward"]:
            raise refuse(repr(self.rise.text), f"allowed: rise goes with width, not {given[0]}")
        if self.side == "centre" and any(f.upper is not None for f in self.frames or ()):
            raise refuse("upper", "allowed: lower alone on the centre line; or say which side")
        return self
