"""The aircraft as built, where it differs from the drawing: what was found, part by part."""

from __future__ import annotations

import math
from typing import Literal

from pydantic import model_validator

from planform.design.fields import Angle, Length, Model, Name, Prose, refuse
from planform.design.reading import Reading

LENGTHS = ("fs", "bl", "wl", "span", "chord", "bend_sideways", "bend_up")
ANGLES = ("twist", "incidence", "toe", "dihedral", "cant", "tilt", "sweep", "skew", "hull_twist")

LARGE_ANGLE = math.radians(5.0)
LARGE_LENGTH = 0.15
"""Largest that a difference from the drawing may be [rad], [m]; what is more is another design.
Assumption."""


class AsBuilt(Model):
    """How one part was built otherwise than drawn.

    Positive: tip aft (sweep), tip up (dihedral), nose up (incidence; twist: at the tip), leaning
    outboard (cant), leading edge inboard (toe); of a surface in one piece right tip aft (skew),
    right tip up (tilt); longer (span, chord); aft, right (of one side: outboard), up (fs, bl, wl);
    of the hull nose to the right, nose up, right side of the nose up.
    side : left out for a surface in one piece over both sides, and for what is on the centre line
    """

    of: Name
    side: Literal["left", "right"] | None = None
    fs: Length | None = None
    bl: Length | None = None
    wl: Length | None = None
    span: Length | None = None
    chord: Length | None = None
    bend_sideways: Length | None = None
    bend_up: Length | None = None
    twist: Angle | None = None
    incidence: Angle | None = None
    toe: Angle | None = None
    dihedral: Angle | None = None
    cant: Angle | None = None
    tilt: Angle | None = None
    sweep: Angle | None = None
    skew: Angle | None = None
    hull_twist: Angle | None = None
    text: Prose = ""

    @model_validator(mode="after")
    def _says_something(self) -> AsBuilt:
        if not self.given():
            allowed = f"allowed: one or more of {', '.join(sorted((*LENGTHS, *ANGLES)))}"
            raise refuse("no difference", allowed)
        return self

    def given(self) -> dict[str, Reading]:
        """The differences that are given, by kind."""
        found = ((kind, getattr(self, kind)) for kind in (*LENGTHS, *ANGLES))
        return {kind: value for kind, value in found if value is not None}
