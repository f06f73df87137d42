"""What the drawings of an aircraft say and show beside what is worked out, as written down."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from pydantic import Field

from planform.design.fields import LengthOrZero, Model, Name, Point, Text
from planform.design.problems import Problem, unknown

DIMENSIONS = (
    "width",
    "length",
    "height",
    "tip_height",
    "right_tip_height",
    "wheel_track",
    "wheel_base",
    "foreplane_span",
    "nose_to_spot",
    "spot_to_tail",
    "hull_top",
    "nose_height",
    "propeller_ground_clearance",
    "propeller_top",
)
"""What the three views show of themselves; a file hides or moves them by these names."""


class AskedDimension(Model):
    """A dimension that a view shall show, between two points of the aircraft.

    along : level and upright as the aircraft stands, or straight from point to point
    """

    name: Name
    view: Literal["ahead", "side", "above"]
    start: Point
    end: Point
    along: Literal["level", "upright", "straight"] = "level"


class DrawingNotes(Model):
    """What the title block says, and which dimensions are asked for, hidden or moved.

    hide : dimensions left out, by the keys of their measures
    move : how much farther off the view a dimension stands, on paper, by its key
    """

    revision: Text = ""
    measured_by: Text = ""
    date: Text = ""
    hide: tuple[Name, ...] = ()
    move: dict[Name, LengthOrZero] = Field(default_factory=dict)
    ask: tuple[AskedDimension, ...] = ()


def check_drawings(drawings: DrawingNotes | None) -> Iterator[Problem]:
    """Names of dimensions that no view has."""
    if drawings is None:
        return
    known = [*DIMENSIONS, *(one.name for one in drawings.ask)]
    for k, name in enumerate(drawings.hide):
        if name not in known:
            yield unknown(f"drawings.hide[{k + 1}]", name, known)
    for name in drawings.move:
        if name not in known:
            yield unknown(f"drawings.move.{name}", name, known)
