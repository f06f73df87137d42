"""The angle between a tip and its winglet: a plate for each side of the joint, as the skins run."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planform.airframe.surfaces import Half
from planform.airframe.true_curves import fine_section
from planform.design.told import said
from planform.drawing.paper.marks import Array, Mark, line
from planform.drawing.paper.tables import FactRow
from planform.report.sheets.templates.pattern import MM, Pattern, words
from planform.report.sheets.templates.stretches import quantity, refused

ARM = 150.0
"""How far a plate reaches along each skin [mm]; assumption."""
STRIP = 45.0
"""Width of a plate [mm]."""
RELIEF = 10.0
"""Radius that is cut out of a plate's corner, for glass and filler that round it [mm]."""
PLACES = 13
"""Places of each skin that a plate's edge runs through."""


@dataclass(frozen=True, eq=False)
class JointSides:
    """A tip and its winglet, both on one side of the aircraft."""

    tip: Half
    winglet: Half

    @property
    def arm(self) -> float:
        """How far the plates reach along each [m]."""
        return min(ARM / MM, float(self.tip.developed[-1]), float(self.winglet.developed[-1]))

    def stations(self) -> tuple[float, float]:
        """From which station to which a plate finds both skins all along [m]."""
        end = float(self.tip.developed[-1])
        found = [fine_section(self.tip, s) for s in (end - self.arm, end)]
        found += [fine_section(self.winglet, s) for s in (0.0, self.arm)]
        first = max(float(one.leading_edge[0]) for one in found)
        last = min(float(one.trailing_edge[0]) for one in found)
        return first, last

    def skins(self, fs: float) -> dict[str, tuple[Array, Array]]:
        """Of the upper and the lower skins: the tip's outward, and the winglet's away from it.

        Each shape (n, 2), outboard and up from the tip's leading edge [mm].
        """
        end = float(self.tip.developed[-1])
        at = self.tip.leading_edge[-1, 1:] * MM
        out = {}
        for skin in ("upper", "lower"):
            runs = []
            for half, places in (
                (self.tip, np.linspace(end - self.arm, end, PLACES)),
                (self.winglet, np.linspace(0.0, self.arm, PLACES)),
            ):
                found = (getattr(fine_section(half, float(s)), skin) for s in places)
                runs.append(np.array([_at_station(one, fs) for one in found]) * MM - at)
            out[skin] = (runs[0], runs[1])
        return out

    @property
    def angle(self) -> float:
        """Between the middle planes, on the side that the winglet leans over [rad]."""
        return float(np.pi - abs(self.winglet.angle[-1] - self.tip.angle[-1]))


def _at_station(corners: Array, fs: float) -> Array:
    """Butt line outward and waterline of a skin at a station, shape (2,) [m]."""
    x = np.maximum.accumulate(corners[:, 0])
    return np.array([np.interp(fs, x, np.abs(corners[:, 1])), np.interp(fs, x, corners[:, 2])])


def edge_of(tip: Array, winglet: Array) -> tuple[Array, Array]:
    """One skin line around the joint, shape (n, 2), and its corner: both carried on to meet."""
    import shapely

    far = 10.0 * ARM
    outward = tip[-1] - tip[-2]
    inward = winglet[0] - winglet[1]
    first = np.vstack([tip, tip[-1] + far * outward / np.linalg.norm(outward)])
    second = np.vstack([winglet[0] + far * inward / np.linalg.norm(inward), winglet])
    met = shapely.LineString(first).intersection(shapely.LineString(second))
    points = [p for p in shapely.get_parts(met) if p.geom_type == "Point"]
    if not points:
        raise refused("--of", "joint", "the two skins do not meet; allowed: a winglet that leans")
    corner = np.array(points[0].coords[0])
    before = tip[(tip - corner) @ outward < -1.0]
    after = winglet[(winglet - corner) @ inward < -1.0]
    return np.vstack([before, corner, after]), corner


def plate(edge: Array, corner: Array, side: float) -> Array:
    """A plate along an edge, on its left (side +1) or right, its corner relieved, (n, 2) [mm]."""
    import shapely

    strip = shapely.LineString(edge).buffer(
        side * STRIP, single_sided=True, join_style="mitre", mitre_limit=3.0
    )
    left = strip.difference(shapely.Point(*corner).buffer(RELIEF, quad_segs=32))
    whole = max(shapely.get_parts(left), key=lambda one: one.area)
    return np.array(whole.exterior.coords)[:-1]


def between(edge: Array, corner: Array) -> float:
    """The angle at the corner of an edge between its two ends [rad]."""
    a, b = edge[0] - corner, edge[-1] - corner
    return float(np.arccos(np.clip(a @ b / np.linalg.norm(a) / np.linalg.norm(b), -1.0, 1.0)))


def joint_pattern(sides: JointSides, at: str | None, name: str, system: str) -> Pattern:
    """The template of the joint of a winglet, at a station; in the middle where none is given."""
    first, last = sides.stations()
    if not last > first:
        raise refused("--of", "joint", f"the {name} and its tip share no station all along")
    fs = 0.5 * (first + last) if at is None else quantity("--at", at)
    if not first < fs < last:
        ends = " to ".join(said(one, "station", system) for one in (first, last))
        raise refused("--at", at, f"allowed: a station where both skins are, {ends}")
    marks: list[Mark] = []
    facts = [
        FactRow("station", said(fs, "station", system)),
        FactRow("middle planes, inside", said(sides.angle, "angle", system)),
    ]
    up = sides.winglet.angle[-1] > sides.tip.angle[-1]
    inside = "upper" if up else "lower"
    for skin, (tip, winglet) in sides.skins(fs).items():
        edge, corner = edge_of(tip, winglet)
        marks.append(line(plate(edge, corner, 1.0 if skin == "upper" else -1.0), "outline", True))
        which = "inside" if skin == inside else "outside"
        angle = between(edge, corner)
        told = angle if which == "inside" else 2.0 * np.pi - angle
        facts.append(FactRow(f"skins, {which}, end to end", said(told, "angle", system)))
        across = np.array([0.0, 12.0 if skin == "upper" else -14.0])
        marks.append(words(0.5 * (edge[0] + corner) + across, which, "middle"))
        marks += [line(tip, "hidden"), line(winglet, "hidden")]
    notes = (
        "Seen from behind, outboard to the right. Hold each plate across the joint at the station, "
        "upright and square to the centre line; its edges follow the skins there, its corner is "
        "free for what rounds the joint.",
    )
    where = said(fs, "station", system)
    return Pattern(f"{name}: joint angle at {where}", tuple(marks), tuple(facts), notes)
