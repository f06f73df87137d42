"""The front view of a propeller: its blades and hub as one outline about the shaft.

A blade is bounded by the strip that its chord, laid flat, covers on either side of its own line;
at any pitch the true blade lies within, as long as it is no wider than that on either side. Round
ends are drawn around the true arc.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

ARC_STEPS = 8
"""Facets of a blade's tip, and of the hub between two blades; an even number, so that the middle of
an arc is where a facet touches it."""


def _around(radius: float, start: float, end: float) -> Array:
    """Corners (n, 2) of a polygon line around an arc: it touches the arc at both ends and between.

    start, end : angles [rad]
    """
    step = (end - start) / ARC_STEPS
    middles = start + step * (np.arange(ARC_STEPS) + 0.5)
    angles = np.concatenate([[start], middles, [end]])
    radii = np.concatenate([[radius], np.full(ARC_STEPS, radius / np.cos(0.5 * step)), [radius]])
    return np.stack([radii * np.cos(angles), radii * np.sin(angles)], axis=1)


def _where_round(half_root: float, slope: float, radius: float) -> float:
    """The angle off a blade's line at which its edge is at a distance from the shaft [rad].

    The edge stands half_root + slope a from the line, a along it; it meets the round where
    a^2 + (half_root + slope a)^2 = radius^2.
    """
    a, b = 1.0 + slope * slope, half_root * slope
    along = (-b + np.sqrt(b * b - a * (half_root * half_root - radius * radius))) / a
    return float(np.arctan2(half_root + slope * along, along))


def meeting(count: int, half_root: float, half_tip: float, radius: float) -> float:
    """Distance from the shaft at which the edges of neighbouring blades meet [m]; inf: nowhere."""
    turn = np.pi / count
    slope = (half_tip - half_root) / radius
    apart = np.sin(turn) - slope * np.cos(turn)
    return float(half_root / apart) if apart > 0.0 else np.inf


def front_view(
    count: int, radius: float, half_root: float, half_tip: float, hub: float = 0.0
) -> Array:
    """Outline (n, 2) of a propeller seen along its shaft, counter-clockwise, round the origin.

    count : blades, 2 or more; the first lies along the first axis
    radius : of the disc [m]; half_root, half_tip : half chords at the shaft and at the tip [m]
    hub : radius of the hub [m]; where blades meet farther out than it, there is none to be seen
    Every point of it is seen from the origin. Raises ValueError where blades meet all the way out.
    """
    slope = (half_tip - half_root) / radius
    met = meeting(count, half_root, half_tip, radius)
    if not max(met, hub) < radius:
        raise ValueError("blades of this chord fill the whole disc")
    nearest = half_root / np.hypot(1.0, slope)
    seen = hub > nearest
    hub = max(hub, 1.001 * met) if seen else hub
    tip = _where_round(half_root, slope, radius)
    blade = _around(radius, -tip, tip)
    turn = 2.0 * np.pi / count
    if seen:
        root = _where_round(half_root, slope, hub)
        between = _around(hub, root, turn - root)
    else:
        between = met * np.array([[np.cos(0.5 * turn), np.sin(0.5 * turn)]])
    one = np.concatenate([blade, between])
    rings = []
    for k in range(count):
        c, s = np.cos(k * turn), np.sin(k * turn)
        rings.append(one @ np.array([[c, s], [-s, c]]))
    return np.concatenate(rings)


def plate_about_shaft(outline: Array, centre: Array, depth: float, angle: float) -> Array:
    """Rings (2, n, 3) of an outline stood up about a shaft that runs along the aircraft.

    centre : the middle of the disc, shape (3,) [m] ; depth : how thick fore and aft [m]
    angle : of the outline's first axis from straight up, clockwise as seen from behind [rad]
    """
    c, s = np.cos(angle), np.sin(angle)
    right = outline @ np.array([s, -c])
    up = outline @ np.array([c, s])
    rings = np.empty((2, len(outline), 3))
    rings[:, :, 0] = centre[0] + 0.5 * depth * np.array([[-1.0], [1.0]])
    rings[:, :, 1] = centre[1] + right
    rings[:, :, 2] = centre[2] + up
    return rings
