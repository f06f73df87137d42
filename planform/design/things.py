"""What stands and hangs in a place, as written down."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from planform.design.fields import (
    ZERO_LENGTH,
    Angle,
    LengthOrZero,
    Model,
    Name,
    PositiveLength,
)
from planform.design.floor import Corner

Line = Annotated[tuple[Corner, ...], Field(min_length=2)]
Ring = Annotated[tuple[Corner, ...], Field(min_length=3)]

Movable = Literal["no", "away", "anywhere", "along the width", "along the depth"]
"""How a thing may be moved to let an aircraft out."""

RIGHT_ANGLE = "90 deg"


class Repeat(Model):
    """The same thing again and again: a step from one to the next, and how many or to the end."""

    step: Corner
    count: Annotated[int, Field(ge=1, le=100)] | None = None


class Incline(Model):
    """A top or an underside that slopes evenly: its height at the end that it goes toward."""

    toward: Literal["front", "back", "left", "right"]
    bottom: LengthOrZero | None = None
    top: LengthOrZero | None = None


class Swing(Model):
    """A door of a cupboard: where its hinge is, where its free edge is when shut, how far it opens.

    It opens away from the thing it is on.
    """

    hinge: Corner
    shut: Corner
    opens: Angle = Field(default=RIGHT_ANGLE, validate_default=True)


class Obstacle(Model):
    """A thing that hangs or stands: its plan, and the heights it fills.

    plan : an outline; a centre and diameter; a line with a width, or with a diameter if round
    drop : how far its underside hangs below the ceiling over it
    legs : size of a leg under each corner of the outline; free beneath but for these
    rows : one repeats it in a row, two in a grid
    """

    name: Name
    kind: Literal["hanging", "standing"]
    outline: Ring | None = None
    centre: Corner | None = None
    line: Line | None = None
    width: PositiveLength | None = None
    diameter: PositiveLength | None = None
    bottom: LengthOrZero = Field(default=ZERO_LENGTH, validate_default=True)
    top: LengthOrZero | None = None
    drop: PositiveLength | None = None
    incline: Incline | None = None
    legs: PositiveLength | None = None
    swings: tuple[Swing, ...] = ()
    rows: Annotated[tuple[Repeat, ...], Field(max_length=2)] = ()
    movable: Movable | None = None


class Hook(Model):
    """The trolley and hook of a hoist; without a place it may be anywhere along its rail.

    at : distance of its middle from the rail's first end
    """

    bottom: PositiveLength
    length: PositiveLength
    width: PositiveLength
    at: LengthOrZero | None = None


class Hoist(Model):
    """A hoist rail along a line under the ceiling, with a hook that runs on it."""

    name: Name
    line: Annotated[tuple[Corner, ...], Field(min_length=2, max_length=2)]
    width: PositiveLength
    bottom: PositiveLength
    hook: Hook | None = None


class Bonnet(Model):
    """The lower front end of a car."""

    length: PositiveLength
    height: PositiveLength


class Car(Model):
    """A car that stands in the place: the sizes of its box, mirrors in, and its lower bonnet.

    at : its middle ; heading : the way it faces, 0 deg away from the front wall, clockwise
    """

    name: Name
    at: Corner
    heading: Angle
    length: PositiveLength
    width: PositiveLength
    height: PositiveLength
    bonnet: Bonnet | None = None
    movable: Movable = "away"


class KeptFree(Model):
    """Room kept free for people beside a parked aircraft; what is moved may pass through it.

    guide : a published source that gives the width and the top that are not given here
    """

    name: Name
    outline: Ring | None = None
    centre: Corner | None = None
    line: Line | None = None
    width: PositiveLength | None = None
    diameter: PositiveLength | None = None
    bottom: LengthOrZero = Field(default=ZERO_LENGTH, validate_default=True)
    top: PositiveLength | None = None
    guide: Literal["29 CFR 1910.36(g)"] | None = None
