"""The aircraft's outline from above, to scale, to cut out and lay on a plan."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from planform.drawing.paper.marks import Area, Array, Circle, Lettering, Mark, line
from planform.fit.swept import contact_marks, plan_outline
from planform.report.sheets.aircraft_views import Aircraft

INCH_CUTS = ((50.0, "1:50"), (96.0, "1/8 in = 1 ft (1:96)"), (192.0, "1/16 in = 1 ft (1:192)"))
METRIC_CUTS = ((50.0, "1:50"), (100.0, "1:100"), (200.0, "1:200"))
"""Scales that plans of buildings are commonly drawn to (common practice, no source)."""
CAPTION = 1.7
HEAD = 4.5
"""Room for the words over it [mm]."""


@dataclass(frozen=True, eq=False)
class Silhouette:
    """The outline at one scale, the nose down the page.

    rings : of the plan outline, the outer ones and the holes, shape (n, 2) each [mm]
    feet : where wheels and pads stand, shape (n, 2) [mm]
    """

    words: str
    rings: tuple[Array, ...]
    feet: Array

    @property
    def low(self) -> Array:
        """Its lower left corner, shape (2,) [mm]."""
        return np.asarray(np.concatenate(self.rings).min(axis=0))

    @property
    def size(self) -> tuple[float, float]:
        """Width and height with the words over it [mm]."""
        wide, high = np.ptp(np.concatenate(self.rings), axis=0)
        return max(float(wide), 62.0), float(high) + HEAD

    def drawn(self, corner: tuple[float, float]) -> Iterator[Mark]:
        """Its marks, the lower left corner at a point [mm]."""
        shift = np.array(corner) - self.low
        yield Area(tuple(ring + shift for ring in self.rings), "part", "joint")
        for foot in self.feet + shift:
            yield Circle(foot, 0.6, "joint")
        high = float(np.ptp(np.concatenate(self.rings), axis=0)[1])
        for arm in (np.array([1.5, 0.0]), np.array([0.0, 1.5])):
            yield line([shift - arm, shift + arm], "joint")
        at = np.array([corner[0], corner[1] + high + 1.6])
        yield Lettering(at, f"cut out, lay on a plan at {self.words}", CAPTION, "start")


def silhouette(aircraft: Aircraft) -> tuple[Silhouette, ...]:
    """The silhouette at each scale of the reader's plans, the largest first."""
    import shapely

    outline = plan_outline(aircraft.standing)
    polygons = [one for one in shapely.get_parts(outline) if one.geom_type == "Polygon"]
    rings = [np.array(ring.coords) for one in polygons for ring in (one.exterior, *one.interiors)]
    feet = np.array([mark.point[:2] for mark in contact_marks(aircraft.standing)]).reshape(-1, 2)
    inches = aircraft.teller.system in ("ft-in", "in")
    return tuple(
        Silhouette(
            words,
            tuple(_turned(ring) * 1000.0 / ratio for ring in rings),
            _turned(feet) * 1000.0 / ratio,
        )
        for ratio, words in (INCH_CUTS if inches else METRIC_CUTS)
    )


def _turned(plan: Array) -> Array:
    """Plan points of floor axes as seen from above with the nose down the page."""
    return np.column_stack([-plan[:, 1], plan[:, 0]])
