"""The three views of an aircraft on a page, by first or third angle, at the largest scale."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from planform.drawing.paper.page import PlacedView
from planform.drawing.paper.placing import Seen, around, at_scale, margins
from planform.drawing.paper.sizes import DrawingScale
from planform.report.sheets.aircraft_views import Aircraft, from_above, from_ahead, from_side

Angle = Literal["first", "third"]

BETWEEN = 6.0
"""Free paper between two views with their dimensions [mm]."""
ZERO = np.zeros(2)


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

    def size(self, scale: DrawingScale) -> tuple[float, float]:
        """Width and height that they take at a scale, dimensions included [mm]."""
        left, bottom, right, top = around(view.box for view in self.at(scale, (0.0, 0.0)))
        return right - left, top - bottom

    def at(self, scale: DrawingScale, corner: tuple[float, float]) -> tuple[PlacedView, ...]:
        """The views with the lower left corner of all of them at a point [mm]."""
        mm, seen = scale.mm, (self.front, self.side, self.plan)
        front, side, plan = (margins(at_scale(one, scale, ZERO), one) for one in seen)
        column = max(front[2], plan[2]) + BETWEEN + side[0]
        x_side = float(mm * (self.front.high[0] - self.side.low[0])) + column
        if self.angle == "third":
            gap = max(front[3], side[3]) + BETWEEN + plan[1]
            y_plan = float(mm * (self.front.high[1] - self.plan.low[1])) + gap
        else:
            gap = max(front[1], side[1]) + BETWEEN + plan[3]
            y_plan = float(mm * (self.front.low[1] - self.plan.high[1])) - gap
        spots = (ZERO, np.array([x_side, 0.0]), np.array([0.0, y_plan]))
        views = [at_scale(one, scale, spot) for one, spot in zip(seen, spots, strict=True)]
        left, bottom, _, _ = around(view.box for view in views)
        shift = np.array(corner) - np.array([left, bottom])
        return tuple(
            at_scale(one, scale, spot + shift) for one, spot in zip(seen, spots, strict=True)
        )


def three_views(aircraft: Aircraft, angle: Angle) -> ThreeViews:
    """The three views of an aircraft."""
    side = from_side(aircraft, left=angle == "third")
    return ThreeViews(from_ahead(aircraft), side, from_above(aircraft), angle)
