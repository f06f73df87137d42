"""The place file: the room or hangar, as it is with its doors open."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, WithJsonSchema, field_validator, model_validator

from planform.core.shown import Brief, Shown
from planform.design.fields import (
    Angle,
    Length,
    LengthOrZero,
    Model,
    Name,
    PositiveLength,
    Prose,
    Text,
    UnitSystem,
    refuse,
)
from planform.design.guidance import guide_names, guided
from planform.design.models import ZERO_LENGTH

Corner = tuple[Length, Length]
Wall = tuple[tuple[float, float], tuple[float, float]]

WALL_THICKNESS = 0.1
"""Thickness of a wall [m] where the place gives none; it reaches outward and takes no space from
the room. Assumption."""


class Fall(Model):
    """How far an even floor falls over its whole run, and toward which side of the room."""

    toward: Literal["front", "back", "left", "right"]
    drop: PositiveLength


class Floor(Model):
    """A rectangle (width along the front wall, depth away from it) or an outline of corners."""

    width: PositiveLength | None = None
    depth: PositiveLength | None = None
    outline: Annotated[tuple[Corner, ...], Field(min_length=3)] | None = None
    wall_thickness: LengthOrZero = Field(default=ZERO_LENGTH, validate_default=True)
    fall: Fall | None = None

    @model_validator(mode="after")
    def _one_way(self) -> Floor:
        rectangle = self.width is not None and self.depth is not None
        partial = (self.width is None) != (self.depth is None)
        if partial or rectangle == (self.outline is not None):
            given = ", ".join(
                name for name in ("width", "depth", "outline") if getattr(self, name) is not None
            )
            raise refuse(given or "nothing", "allowed: width and depth, or an outline of corners")
        return self

    @property
    def thickness(self) -> float:
        """How far the walls reach outward from the inner wall line [m]."""
        return float(self.wall_thickness) or WALL_THICKNESS

    @property
    def walls(self) -> dict[str, Wall]:
        """The walls by name, each from its first corner to its second [m]; the room on the left."""
        if self.outline is None:
            assert self.width is not None
            assert self.depth is not None
            w, d = float(self.width), float(self.depth)
            corners = [(0.0, 0.0), (w, 0.0), (w, d), (0.0, d)]
            names = ["front", "right", "back", "left"]
        else:
            corners = [(float(x), float(y)) for x, y in self.outline]
            names = [f"wall {k + 1}" for k in range(len(corners))]
        return {name: (corners[k], corners[(k + 1) % len(corners)]) for k, name in enumerate(names)}


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


class Obstacle(Model):
    """A thing that hangs or stands: a plan outline and the heights it fills."""

    name: Name
    kind: Literal["hanging", "standing"]
    outline: Annotated[tuple[Corner, ...], Field(min_length=3)]
    bottom: LengthOrZero = Field(default=ZERO_LENGTH, validate_default=True)
    top: PositiveLength | None = None


_NAME = {"type": "string", "enum": list(guide_names())}
GuideNames = Annotated[
    tuple[str, ...], WithJsonSchema({"anyOf": [_NAME, {"type": "array", "items": _NAME}]})
]


class Clearances(Model):
    """What the shop wants to keep free.

    guide : published sources, by name, that give what is not given here; source: where what is
    given here comes from
    """

    guide: GuideNames = ()
    walls: LengthOrZero | None = None
    ceiling: LengthOrZero | None = None
    obstacles: LengthOrZero | None = None
    door_sides: LengthOrZero | None = None
    door_head: LengthOrZero | None = None
    ground: LengthOrZero | None = None
    source: Text = ""

    @field_validator("guide", mode="before")
    @classmethod
    def _one_or_more(cls, given: object) -> object:
        names = [given] if isinstance(given, str) else given
        if not isinstance(names, list | tuple) or not all(isinstance(n, str) for n in names):
            sources = ", ".join(guide_names())
            raise refuse(
                repr(given), f"allowed: the name of a source, or a list of them: {sources}"
            )
        return names

    def wanted(self, field: str) -> tuple[float | None, str]:
        """What is to be kept free by a field's name [m], and in words where that comes from."""
        given = getattr(self, field)
        if given is not None:
            return float(given), self.source
        guide = guided(field, self.guide)
        return (None, "") if guide is None else (guide.metres, f"{guide.source} ({guide.status})")


class Spot(Model):
    """Where an aircraft is parked.

    at is where its parking point stands; heading is the way its nose points: 0 deg away from
    the front wall, clockwise seen from above.
    """

    name: Name
    at: Corner
    heading: Angle


class Place(Shown, Model):
    """The whole place file."""

    format: Literal["planform place 1"]
    name: Name
    units: UnitSystem
    story: Prose = ""
    floor: Floor
    ceiling: Ceiling | None = None
    doors: tuple[Door, ...] = ()
    obstacles: tuple[Obstacle, ...] = ()
    clearances: Clearances = Clearances()
    spots: tuple[Spot, ...] = ()

    def brief(self) -> Brief:
        """Its doors, things and spots by name."""
        doors = (
            f"{d.name}, {d.clear_width.text} wide, {d.clear_height.text} high" for d in self.doors
        )
        rows = (
            ("doors", "; ".join(doors)),
            ("obstacles", ", ".join(thing.name for thing in self.obstacles)),
            ("spots", ", ".join(spot.name for spot in self.spots)),
            ("units", self.units),
        )
        return Brief(self.name, tuple(row for row in rows if row[1]))
