"""Doors of a place, and the ground along the way through one, as written down."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from planform.design.fields import (
    ZERO_LENGTH,
    Length,
    LengthOrZero,
    Model,
    Name,
    PositiveLength,
)
from planform.design.leaves import (
    Bifold,
    HingedLeaf,
    Roller,
    Sectional,
    SlidingLeaf,
    StripCurtain,
)

LEAVES = ("sectional", "bifold", "sliding", "hinged", "roller", "strip_curtain")
"""The fields of a door that say what kind of leaf it has, one of them at the most."""

NEEDED = {
    f"clear_{size}": f": measure the {size} that is left clear with the door open; it is not taken "
    f"from the nominal {size}, as leaf, rails and stops take some of it"
    for size in ("width", "height")
}
"""What is told beside a size of an opening that is not given."""


class GroundPoint(Model):
    """A point of the ground along the way through a door.

    at : outward from the inner wall line; inside the room it is negative
    height : over the room's floor
    """

    at: Length
    height: Length


class Plank(Model):
    """A plank or block on the ground of the way, for the wheels that run over it.

    start, end : outward from the inner wall line
    middle : of its width, to the right of the door's middle, looking out
    height : its thickness; it bridges the hollows under it
    """

    start: Length
    end: Length
    middle: Length = Field(default=ZERO_LENGTH, validate_default=True)
    width: PositiveLength
    height: PositiveLength


class Door(Model):
    """A door opening: what is left clear with the door open as it will be.

    ground : the floor and ground along the way, straight from point to point; two points at one
    place are a step; level before the first and beyond the last
    """

    name: Name
    wall: Name
    from_corner: LengthOrZero
    clear_width: PositiveLength
    clear_height: PositiveLength
    threshold: LengthOrZero = Field(default=ZERO_LENGTH, validate_default=True)
    nominal_width: PositiveLength | None = None
    nominal_height: PositiveLength | None = None
    ground: Annotated[tuple[GroundPoint, ...], Field(min_length=2)] | None = None
    planks: tuple[Plank, ...] = ()
    sectional: Sectional | None = None
    bifold: Bifold | None = None
    sliding: tuple[SlidingLeaf, ...] = ()
    hinged: tuple[HingedLeaf, ...] = ()
    roller: Roller | None = None
    strip_curtain: StripCurtain | None = None
