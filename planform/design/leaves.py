"""The leaves of doors as they are when open: how each kind moves, as written down."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from planform.design.fields import (
    ZERO_LENGTH,
    Angle,
    LengthOrZero,
    Model,
    PositiveLength,
)

HandOf = Literal["left", "right"]
FaceOf = Literal["inside", "outside"]


class Opener(Model):
    """The opener of a sectional door, a box in the middle of the door under the ceiling.

    from_wall : from the inner wall line to the side of the box that is nearer to the door
    """

    from_wall: LengthOrZero
    length: PositiveLength
    width: PositiveLength
    underside: PositiveLength
    height: PositiveLength


class Sectional(Model):
    """A leaf in sections that runs up and lies in its rails under the ceiling when open.

    leaf_height : of the whole leaf, as it covers the opening from the floor when shut
    track_radius : of the curve from upright to level ; track_height : of the level part's underside
    """

    leaf_height: PositiveLength
    thickness: PositiveLength
    track_radius: PositiveLength
    track_height: PositiveLength
    opener: Opener | None = None


class Bifold(Model):
    """A leaf of two panels that folds at its middle as it is lifted, hinged at its upper edge.

    leaf_height : of the whole leaf, as it covers the opening from the floor when shut
    """

    leaf_height: PositiveLength
    thickness: PositiveLength
    folds: FaceOf


class SlidingLeaf(Model):
    """A sliding leaf as it stands open beside the opening, left or right as seen looking out.

    past_jamb : from the jamb to its near edge ; off_wall : from the wall's face to the leaf
    """

    beside: HandOf
    face: FaceOf
    width: PositiveLength
    height: PositiveLength
    thickness: PositiveLength
    past_jamb: LengthOrZero = Field(default=ZERO_LENGTH, validate_default=True)
    off_wall: LengthOrZero = Field(default=ZERO_LENGTH, validate_default=True)


class HingedLeaf(Model):
    """A hinged leaf and how far it is swung open, hinged left or right as seen looking out."""

    hinge: HandOf
    swings: FaceOf
    open: Angle
    width: PositiveLength
    height: PositiveLength
    thickness: PositiveLength


class Roller(Model):
    """The box of a roller door's drum at the head of the opening.

    underside : over the floor; that of the opening where it is not given
    past_jambs : how far the box reaches past each jamb
    """

    face: FaceOf
    depth: PositiveLength
    height: PositiveLength
    underside: PositiveLength | None = None
    past_jambs: LengthOrZero = Field(default=ZERO_LENGTH, validate_default=True)


class StripCurtain(Model):
    """A curtain of soft strips in the opening, and how high over the floor it ends."""

    lower_end: LengthOrZero
