"""Joints: where a part is set on another one, and how well the designer wants it set."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from planform.design.fields import (
    Angle,
    Kind,
    Length,
    LengthOrZero,
    Model,
    Name,
    PositiveLength,
    Prose,
    refuse,
)
from planform.design.reading import Reading

AngleLimit = Annotated[Reading, Kind("angle", above=0.0)]
"""How far an angle may be off, to either side."""

LIMITED = ("tilt", "skew", "incidence", "sweep", "dihedral", "cant", "toe", "fs", "bl", "wl")
"""What a limit may be of; of an angle first."""
BETWEEN = ("incidence", "sweep", "dihedral", "cant", "toe")
"""In what the left may differ from the right."""
FACES = ("down", "up", "ahead", "aft", "inboard", "outboard")


class JointBolt(Model):
    """The middle of a bolt in the joint's face; one off the centre line stands on both sides."""

    name: Name | None = None
    fs: Length
    bl: LengthOrZero
    wl: Length


class LeftRight(Model):
    """By how much the left may differ from the right."""

    incidence: AngleLimit | None = None
    sweep: AngleLimit | None = None
    dihedral: AngleLimit | None = None
    cant: AngleLimit | None = None
    toe: AngleLimit | None = None


class JointLimits(Model):
    """How far a part may be set from the drawing, to either side; the designer's own numbers."""

    tilt: AngleLimit | None = None
    skew: AngleLimit | None = None
    incidence: AngleLimit | None = None
    sweep: AngleLimit | None = None
    dihedral: AngleLimit | None = None
    cant: AngleLimit | None = None
    toe: AngleLimit | None = None
    fs: PositiveLength | None = None
    bl: PositiveLength | None = None
    wl: PositiveLength | None = None
    left_right: LeftRight = Field(default_factory=LeftRight)
    record: Prose = ""

    def given(self) -> dict[str, Reading]:
        """The limits that are given, by what they are of."""
        found = ((kind, getattr(self, kind)) for kind in LIMITED)
        return {kind: value for kind, value in found if value is not None}

    def between(self) -> dict[str, Reading]:
        """The limits between left and right that are given, by what they are of."""
        found = ((kind, getattr(self.left_right, kind)) for kind in BETWEEN)
        return {kind: value for kind, value in found if value is not None}


class IncidenceBlock(Model):
    """A block on a surface that a level is laid on.

    bl or along : where it stands, on both sides ; angle : how much more nose up its top lies than
        the chord there
    """

    on: Name
    bl: Length | None = None
    along: LengthOrZero | None = None
    angle: Angle

    @model_validator(mode="after")
    def _one_place(self) -> IncidenceBlock:
        if (self.bl is None) == (self.along is None):
            given = "neither bl nor along" if self.bl is None else "bl and along"
            raise refuse(given, "allowed: one of them, where it stands")
        return self


class Joint(Model):
    """Where a part is bolted or bonded to another one.

    part : what is set, without its side ; to : what it is set on
    face : where the part's face looks, toward what it is set on ; bolts : through that face
    reference : a spar or surface across which heights are compared, not over the floor alone
    """

    part: Name
    to: Name | None = None
    stage: Name | None = None
    stance: Name | None = None
    face: Literal["down", "up", "ahead", "aft", "inboard", "outboard"] = "down"
    bolts: tuple[JointBolt, ...] = ()
    reference: Name | None = None
    blocks: tuple[IncidenceBlock, ...] = ()
    limits: JointLimits = Field(default_factory=JointLimits)
    text: Prose = ""
