"""A swing panel's opening angle from the length of its gas strut."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def _polar(hinge: Array, axis: Array, across: Array, point: Array) -> tuple[float, float]:
    """Distance from the hinge line, and angle from `across` toward the way it opens."""
    up = np.cross(axis, across)
    u, v = (point - hinge) @ across, (point - hinge) @ up
    return float(np.hypot(u, v)), float(np.arctan2(v, u))


def strut_lengths(
    hinge: Array, axis: Array, across: Array, frame: Array, mount: Array, angles: Array
) -> Array:
    """Distances of the strut's mounts with the panel open at angles (n,) [m]; see `strut_angle`."""
    along = float((frame - mount) @ axis)
    r_frame, a_frame = _polar(hinge, axis, across, frame)
    r_mount, a_mount = _polar(hinge, axis, across, mount)
    apart = np.cos(angles + a_mount - a_frame)
    flat = r_frame**2 + r_mount**2 - 2.0 * r_frame * r_mount * apart
    return np.asarray(np.sqrt(along**2 + np.maximum(flat, 0.0)))


def strut_angle(
    hinge: Array, axis: Array, across: Array, frame: Array, mount: Array, length: float
) -> float:
    """Opening angle [rad] at which the strut between frame and panel has this length.

    hinge, frame, mount : array, shape (3,)   a point of the hinge, the strut's mount on the frame,
        and its mount on the panel with the panel shut [m]
    axis : array, shape (3,)     unit vector of the hinge line; the panel turns about it by the
        right-hand rule
    across : array, shape (3,)   unit vector from the hinge to the free edge, panel shut
    The smallest angle from 0 to 2 pi. Cosine rule in the plane across the hinge.
    Raises ValueError where no angle gives this length.
    """
    along = float((frame - mount) @ axis)
    r_frame, a_frame = _polar(hinge, axis, across, frame)
    r_mount, a_mount = _polar(hinge, axis, across, mount)
    shortest = float(np.hypot(along, r_frame - r_mount))
    longest = float(np.hypot(along, r_frame + r_mount))
    if not shortest <= length <= longest or r_frame * r_mount == 0.0:
        raise ValueError(f"these mounts allow a strut from {shortest:.3f} m to {longest:.3f} m")
    cosine = (along**2 + r_frame**2 + r_mount**2 - length**2) / (2.0 * r_frame * r_mount)
    half = float(np.arccos(np.clip(cosine, -1.0, 1.0)))
    turn = 2.0 * np.pi
    return float(min((a_frame - a_mount + sign * half) % turn for sign in (-1.0, 1.0)))


STANDARD_GRAVITY = 9.80665
"""Standard acceleration of free fall [m/s2] (3rd CGPM, 1901; NIST SP 330)."""


def moment_about(origin: Array, axis: Array, force: Array, at: Array) -> float:
    """Moment [N m] of a force (3,) [N] at a point (3,) [m] about a line, by the right-hand rule."""
    return float(axis @ np.cross(at - origin, force))


def off_line(origin: Array, axis: Array, points: Array) -> Array:
    """Distances of points (n, 3) from a line through `origin` along the unit vector `axis` [m]."""
    away = points - origin
    return np.asarray(np.linalg.norm(away - np.outer(away @ axis, axis), axis=1))


def spring_force(length: float, out: float, pushed_in: float, rated: float, most: float) -> float:
    """What a gas spring pushes with [N], straight between its two ratings.

    length, out, pushed_in : its length, that pushed out, and that with the panel shut [m]
    rated, most : its force at those two [N]
    """
    stroke = out - pushed_in
    share = 0.0 if stroke <= 0.0 else (out - length) / stroke
    return rated + share * (most - rated)
