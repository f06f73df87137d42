"""The three views of an aircraft on a page, by first or third angle, at the largest scale."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from planform.drawing.paper.marks import Array, Box
from planform.drawing.paper.page import PlacedView
from planform.drawing.paper.placing import Seen, around, at_scale, margins, taken_at
from planform.drawing.paper.sizes import DrawingScale
from planform.report.sheets.aircraft_views import Aircraft, from_above, from_ahead, from_side

Angle = Literal["first", "third"]

BETWEEN = 6.0
"""Free paper between two views with their dimensions [mm]."""


@dataclass(frozen=True, eq=False)
class ThreeViews:
    """Front view, side view and plan, placed as the projection asks.

    third: the plan over the front view, the left side on its right. first: the plan under it, and
    on its right the view from the left of the page, which is the aircraft's right side.
    """

    front: Seen
    side: Seen
    plan: Seen
    angle: Angle

    @property
    def seen(self) -> tuple[Seen, Seen, Seen]:
        """Front, side and plan."""
        return self.front, self.side, self.plan

    def bare(self, scale: DrawingScale) -> tuple[float, float]:
        """Width and height of the views alone, side by side without dimensions [mm]."""
        front, side, plan = (scale.mm * one.size for one in self.seen)
        return float(max(front[0], plan[0]) + side[0]), float(max(front[1], side[1]) + plan[1])

    def size(self, scale: DrawingScale) -> tuple[float, float]:
        """Width and height that they take at a scale, dimensions included [mm]."""
        left, bottom, right, top = self._taken(scale)[1]
        return right - left, top - bottom

    def at(self, scale: DrawingScale, corner: tuple[float, float]) -> tuple[PlacedView, ...]:
        """The views with the lower left corner of all of them at a point [mm]."""
        spots, (left, bottom, _, _) = self._taken(scale)
        shift = np.array(corner) - np.array([left, bottom])
        return tuple(
            at_scale(one, scale, spot + shift) for one, spot in zip(self.seen, spots, strict=True)
        )

    def _taken(self, scale: DrawingScale) -> tuple[tuple[Array, ...], Box]:
        """Where the origins of the views lie, that of the front view at 0, and what all take."""
        mm = scale.mm
        front, side, plan = (margins(one, scale) for one in self.seen)
        column = max(front[2], plan[2]) + BETWEEN + side[0]
        x_side = float(mm * (self.front.high[0] - self.side.low[0])) + column
        if self.angle == "third":
            gap = max(front[3], side[3]) + BETWEEN + plan[1]
            y_plan = float(mm * (self.front.high[1] - self.plan.low[1])) + gap
        else:
            gap = max(front[1], side[1]) + BETWEEN + plan[3]
            y_plan = float(mm * (self.front.low[1] - self.plan.high[1])) - gap
        spots = (np.zeros(2), np.array([x_side, 0.0]), np.array([0.0, y_plan]))
        boxes = [
            np.array(taken_at(one, scale)) + np.tile(spot, 2)
            for one, spot in zip(self.seen, spots, strict=True)
        ]
        left, bottom, right, top = around(tuple(box.tolist()) for box in boxes)
        return spots, (left, bottom, right, top)


def three_views(aircraft: Aircraft, angle: Angle) -> ThreeViews:
    """The three views of an aircraft."""
    side = from_side(aircraft, left=angle == "third")
    return ThreeViews(from_ahead(aircraft), side, from_above(aircraft), angle)
