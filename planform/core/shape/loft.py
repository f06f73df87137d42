"""Closed triangle meshes of the aircraft's shapes: panels, wheels, discs, plates.

A mesh is (points, faces): arrays of shape (n, 3) [m] and (m, 3). Curved cross-sections of bodies,
wheels and discs are drawn around the true curve (their facets touch it from outside), so a
clearance to the mesh is never larger than to the true shape. Lifting surfaces have their corners on
the section; how far the true section stands outside the facets is given by `section_bulge`.
"""

from __future__ import annotations

from functools import cache

import numpy as np
from numpy.typing import NDArray

from planform.core.shape.sections import naca4
from planform.core.vectors import cross

Array = NDArray[np.float64]
Faces = NDArray[np.int64]
Mesh = tuple[Array, Faces]

SIDE_POINTS = 21
CIRCLE_SIDES = 48


def oriented(points: Array, faces: Faces) -> Mesh:
    """The same closed mesh with its faces turned outward."""
    corners = points[faces]
    six_volumes = np.einsum("ij,ij->i", corners[:, 0], cross(corners[:, 1], corners[:, 2])).sum()
    return points, (faces[:, ::-1].copy() if six_volumes < 0.0 else faces)


def mirrored(points: Array, faces: Faces) -> Mesh:
    """The mirror image across the centre line, faces still outward."""
    return points * np.array([1.0, -1.0, 1.0]), faces[:, ::-1].copy()


def loft(rings: Array, cap: Faces) -> Mesh:
    """Straight loft through closed rings, with flat caps.

    rings : array, shape (k, m, 3)   k cross-sections of m corresponding points [m]
    cap : array, shape (q, 3)        triangles that fill one ring, by ring index
    """
    count, size = rings.shape[:2]
    first = np.arange(size)
    second = np.roll(first, -1)
    quads = [
        np.concatenate(
            [
                np.stack([first, second, second + size], axis=1),
                np.stack([first, second + size, first + size], axis=1),
            ]
        )
        + k * size
        for k in range(count - 1)
    ]
    faces = np.concatenate([*quads, cap[:, ::-1], cap + (count - 1) * size])
    return oriented(rings.reshape(-1, 3), faces.astype(np.int64))


def fan_cap(size: int) -> Faces:
    """Triangles that fill a convex ring of `size` points."""
    k = np.arange(1, size - 1)
    return np.stack([np.zeros_like(k), k, k + 1], axis=1)


def star(rings: Array) -> Mesh:
    """Straight loft between two rings (2, m, 3), of which the mean of each sees every corner."""
    size = rings.shape[1]
    first = np.arange(size)
    second = np.roll(first, -1)
    faces = [
        np.stack([first, second, second + size], axis=1),
        np.stack([first, second + size, first + size], axis=1),
        np.stack([second, first, np.full(size, 2 * size)], axis=1),
        np.stack([first + size, second + size, np.full(size, 2 * size + 1)], axis=1),
    ]
    points = np.concatenate([rings.reshape(-1, 3), rings.mean(axis=1)])
    return oriented(points, np.concatenate(faces))


@cache
def section_ring(camber: float, camber_position: float, thickness: float, *, closed: bool) -> Array:
    """Closed ring, shape (m, 2), of a unit NACA 4-digit section: over the top, back below."""
    upper, lower = naca4(camber, camber_position, thickness, n=SIDE_POINTS, closed=closed)
    below = lower[1:-1] if closed else lower[1:]
    ring = np.concatenate([upper[::-1], below])
    ring.setflags(write=False)
    return ring


@cache
def section_cap(*, closed: bool) -> Faces:
    """Triangles that fill a `section_ring`, by pairs of upper and lower points."""
    n = SIDE_POINTS
    upper = np.arange(n)[::-1]
    lower = np.concatenate([[n - 1], np.arange(n, 2 * n - 1)])
    if closed:
        lower[-1] = 0
    triangles = []
    for k in range(n - 1):
        a, b, c, d = upper[k], upper[k + 1], lower[k], lower[k + 1]
        triangles += [[a, c, d], [a, d, b]]
    kept = [t for t in triangles if len(set(map(int, t))) == 3]
    return np.array(kept, dtype=np.int64)


@cache
def section_bulge(camber: float, camber_position: float, thickness: float) -> float:
    """How far the true section stands outside its facets at most, per unit chord."""
    fine = naca4(camber, camber_position, thickness, n=4 * SIDE_POINTS - 3, closed=True)
    worst = 0.0
    for side in fine:
        corners = side[::4]
        along = np.diff(corners, axis=0)
        normal = np.stack([-along[:, 1], along[:, 0]], axis=1)
        normal /= np.linalg.norm(normal, axis=1)[:, None]
        for k in (1, 2, 3):
            offset = np.einsum("ij,ij->i", side[k::4] - corners[:-1], normal)
            worst = max(worst, float(np.abs(offset).max()))
    return worst


def panel_rings(
    leading_edge: Array, chord: Array, incidence: Array, normal: Array, rings: list[Array]
) -> Array:
    """The sections of a chain of lifting panels where they stand, shape (n, m, 3) [m].

    leading_edge : array, shape (n, 3)   leading edge of each section [m]
    chord, incidence : array, shape (n,) [m], [rad] nose up positive, about the leading edge
    normal : array, shape (n, 3)         upward direction of each section, scaled at mitred joints
    rings : n arrays, shape (m, 2)       unit section rings
    """
    aft = np.array([1.0, 0.0, 0.0])
    out = np.empty((len(chord), len(rings[0]), 3))
    for k, ring in enumerate(rings):
        c, s = np.cos(incidence[k]), np.sin(incidence[k])
        along = c * aft - s * normal[k]
        across = s * aft + c * normal[k]
        out[k] = leading_edge[k] + chord[k] * (
            ring[:, :1] * along[None, :] + ring[:, 1:] * across[None, :]
        )
    return out


def panel_chain(rings: Array, *, closed: bool) -> Mesh:
    """Mesh of a chain of lifting panels.

    rings : array, shape (n, m, 3)   its sections where they stand, as `panel_rings` gives them [m]
    """
    return loft(rings, section_cap(closed=closed))


def cylinder(start: Array, end: Array, radius: float, sides: int = CIRCLE_SIDES) -> Mesh:
    """Mesh of a cylinder between two points, its sides touching the round from outside."""
    axis = (end - start) / np.linalg.norm(end - start)
    helper = np.array([0.0, 0.0, 1.0]) if abs(axis[2]) < 0.9 else np.array([1.0, 0.0, 0.0])
    u = cross(helper, axis)
    u /= np.linalg.norm(u)
    v = cross(axis, u)
    angle = (np.arange(sides) + 0.5) * 2.0 * np.pi / sides
    rim = radius / np.cos(np.pi / sides) * (np.cos(angle)[:, None] * u + np.sin(angle)[:, None] * v)
    return loft(np.stack([start + rim, end + rim]), fan_cap(sides))


def plate(
    hinge_from: Array, hinge_to: Array, across: Array, outward: Array, rise: float, thickness: float
) -> Mesh:
    """Mesh of a swing panel in its shut position: a plate bowed outward by `rise`.

    across : array, shape (3,)   from the hinge to the free edge [m]
    outward : array, shape (3,)  unit normal of the bow; the thickness lies inward of it
    """
    steps = 1 if rise == 0.0 else 16
    s = np.linspace(0.0, 1.0, steps + 1)
    bow = across[None, :] * s[:, None] + outward[None, :] * (4.0 * rise * s * (1.0 - s))[:, None]
    under = bow - outward * thickness
    ring = np.concatenate([bow, under[::-1]])
    upper = np.arange(steps + 1)
    lower = 2 * steps + 1 - upper
    cap = np.concatenate(
        [
            np.stack([upper[:-1], lower[1:], lower[:-1]], axis=1),
            np.stack([upper[:-1], upper[1:], lower[1:]], axis=1),
        ]
    )
    return loft(np.stack([hinge_from + ring, hinge_to + ring]), cap)
