"""The floor of a place, as written down."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, model_validator

from planform.design.fields import (
    ZERO_LENGTH,
    Length,
    LengthOrZero,
    Model,
    Name,
    PositiveLength,
    refuse,
)

Corner = tuple[Length, Length]


Wall = tuple[tuple[float, float], tuple[float, float]]


WALL_THICKNESS = 0.1
"""Thickness of a wall [m] where the place gives none; it reaches outward and takes no space from
the room. Assumption."""


class Fall(Model):
    """How far an even floor falls over its whole run, and toward which side of the room."""

    toward: Literal["front", "back", "left", "right"]
    drop: PositiveLength


class Pit(Model):
    """A pit or hole in the floor: no wheel stands in it or rolls over it; all else passes over."""

    name: Name
    outline: Annotated[tuple[Corner, ...], Field(min_length=3)]


class Drain(Model):
    """A channel, drain or grate along a line: nothing in the way, but a wheel may drop into it.

    width : of its slot, or of the widest gap of its grate
    """

    name: Name
    line: Annotated[tuple[Corner, ...], Field(min_length=2)]
    width: PositiveLength


class RaisedFloor(Model):
    """A part of the floor that is higher than the rest, all at one height.

    height : over the room's floor
    """

    name: Name
    outline: Annotated[tuple[Corner, ...], Field(min_length=3)]
    height: PositiveLength


class Ramp(Model):
    """A ramp from the room's floor up to a level, straight from its foot to its head.

    foot, head : the middle of its lower and of its upper edge; the head is at the level's edge
    """

    name: Name
    level: Name
    foot: Corner
    head: Corner
    width: PositiveLength


class Floor(Model):
    """A rectangle (width along the front wall, depth away from it) or an outline of corners."""

    width: PositiveLength | None = None
    depth: PositiveLength | None = None
    outline: Annotated[tuple[Corner, ...], Field(min_length=3)] | None = None
    wall_thickness: LengthOrZero = Field(default=ZERO_LENGTH, validate_default=True)
    fall: Fall | None = None
    second_fall: Fall | None = None
    pits: tuple[Pit, ...] = ()
    drains: tuple[Drain, ...] = ()
    levels: tuple[RaisedFloor, ...] = ()
    ramps: tuple[Ramp, ...] = ()

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

    @model_validator(mode="after")
    def _two_ways(self) -> Floor:
        first, second = self.fall, self.second_fall
        if second is not None and first is None:
            raise refuse("second_fall and no fall", "allowed: fall, and second_fall across it")
        if first is not None and second is not None:
            pairs = ({"front", "back"}, {"left", "right"})
            if any({first.toward, second.toward} <= pair for pair in pairs):
                allowed = f"allowed: a fall across that toward the {first.toward}"
                raise refuse(f"second_fall toward the {second.toward}", allowed)
        return self

    @model_validator(mode="after")
    def _level_floors(self) -> Floor:
        if self.levels and self.fall is not None:
            raise refuse("levels and a fall", "allowed: levels of a floor that does not fall")
        return self

    @property
    def falls(self) -> tuple[Fall, ...]:
        """How it falls: no way, one, or two across each other, in either order."""
        return tuple(one for one in (self.fall, self.second_fall) if one is not None)

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
