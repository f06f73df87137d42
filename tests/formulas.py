"""Formulas that only the tests need, to check by another way."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from planform.core.shape import planform as pf
from planform.core.shape.sections import CLOSED, OPEN, POWERS, naca4

Array = NDArray[np.float64]
Faces = NDArray[np.int64]


def mesh_area(points: Array, faces: Faces) -> float:
    """Area of the facets [m2]: points (n, 3) [m], faces (m, 3)."""
    a, b, c = np.asarray(points)[faces].transpose(1, 0, 2)
    return float(0.5 * np.linalg.norm(np.cross(b - a, c - a), axis=1).sum())


def mesh_volume(points: Array, faces: Faces) -> float:
    """Volume within a closed mesh [m3], above zero where its faces wind outward.

    points : array, shape (n, 3) [m]
    faces : array, shape (m, 3), corners counter-clockwise seen from outside
    """
    return float(_tetrahedra(np.asarray(points), faces)[0].sum())


def mesh_centroid(points: Array, faces: Faces) -> Array:
    """Centre of the solid within a closed mesh, shape (3,) [m]: points (n, 3), faces (m, 3)."""
    volume, centre, middle = _tetrahedra(np.asarray(points), faces)
    whole = float(volume.sum())
    if whole == 0.0:
        raise ValueError("Expected a closed mesh with a volume, got one with none")
    return np.asarray(middle + volume @ (centre - middle) / whole)


def is_closed(faces: Faces) -> bool:
    """Whether faces (m, 3) close a surface: each directed edge once, and its opposite once."""
    faces = np.asarray(faces, dtype=np.int64).reshape(-1, 3)
    start = faces.ravel()
    end = np.roll(faces, -1, axis=1).ravel()
    if not len(faces) or bool((start == end).any()):
        return False
    size = int(faces.max()) + 1
    there = np.sort(start * size + end)
    back = np.sort(end * size + start)
    return bool((there[1:] != there[:-1]).all() and (there == back).all())


def leading_edge_radius(thickness: float) -> float:
    """Radius of the leading edge [chords]: half the square of the root coefficient, 1.1019 t^2."""
    return 0.5 * (5.0 * thickness * OPEN[0]) ** 2


def section_area(thickness: float, *, closed: bool) -> float:
    """Area of an uncambered section [chords squared]: the integral of its thickness."""
    terms = zip(CLOSED if closed else OPEN, POWERS, strict=True)
    return 10.0 * thickness * sum(a / (p + 1.0) for a, p in terms)


def section_centroid(*, closed: bool) -> float:
    """Place of the centroid of an uncambered section along the chord [chords]."""
    terms = list(zip(CLOSED if closed else OPEN, POWERS, strict=True))
    moment = sum(a / (p + 2.0) for a, p in terms)
    return moment / sum(a / (p + 1.0) for a, p in terms)


def section_perimeter(thickness: float, *, closed: bool, n: int = 200001) -> float:
    """Length round an uncambered section, with the base of an open trailing edge [chords]."""
    upper, _ = naca4(0.0, 0.0, thickness, n, closed=closed)
    side = float(np.linalg.norm(np.diff(upper, axis=0), axis=1).sum())
    return 2.0 * side + 2.0 * float(upper[-1, 1])


def mac_of_two(first: tuple[float, float], second: tuple[float, float]) -> tuple[float, float]:
    """LEMAC and MAC [m] of a percent scale known at two points, each (share, station)."""
    (one, here), (two, there) = first, second
    mac = (there - here) / (two - one)
    return here - one * mac, mac


def mass_to_shift(mass: float, change: float, distance: float) -> float:
    """What has to move by `distance` to move the centre of `mass` by `change` [kg, m]."""
    return mass * change / distance


def centre_shift(mass: float, moved: float, distance: float) -> float:
    """How far the centre of `mass` goes when `moved` of it goes by `distance` [kg, m]."""
    return moved * distance / mass


def mass_to_add(mass: float, centre: float, limit: float, arm: float) -> float:
    """What has to be added at `arm` to bring the centre to `limit` [kg, m]; negative: take off."""
    return mass * (limit - centre) / (arm - limit)


def where_tapes_cross(a: Array, b: Array, from_a: float, from_b: float) -> Array:
    """The point so far from a and so far from b, to the left when looking from a to b.

    a, b : array, shape (2,) [m]; from_a, from_b : tape readings [m]
    Raises ValueError where the tapes do not meet.
    Two circles cut each other: plane trilateration, closed form.
    """
    base = float(np.linalg.norm(b - a))
    if base <= 0.0:
        raise ValueError("Expected two corners apart from each other, got one twice")
    along = (base * base + from_a * from_a - from_b * from_b) / (2.0 * base)
    square = from_a * from_a - along * along
    if square < -1e-9 * base * base:
        raise ValueError(
            f"Expected tapes that meet, got {from_a:g} m and {from_b:g} m from corners "
            f"{base:g} m apart"
        )
    run = (b - a) / base
    return np.asarray(a + along * run + np.sqrt(max(0.0, square)) * np.array([-run[1], run[0]]))


def trim_lift_ratio(arm: float, ahead: float, foreplane_area: float, wing_area: float) -> float:
    """Lift coefficient of the foreplane over that of the wing, in trim.

    ahead : the CG ahead of the wing's aerodynamic centre [m]; arm as above [m]
    Above one the foreplane works harder and so stalls first; the notes ask for 1.4 to 1.6.
    """
    return ahead / (arm - ahead) * wing_area / foreplane_area


def _tetrahedra(points: Array, faces: Faces) -> tuple[Array, Array, Array]:
    """Signed volumes and centres of the tetrahedra from a middle point to the facets."""
    middle = 0.5 * (points.min(axis=0) + points.max(axis=0))
    corners = (points - middle)[faces]
    a, b, c = corners.transpose(1, 0, 2)
    volume = np.einsum("ij,ij->i", a, np.cross(b, c)) / 6.0
    return volume, middle + corners.sum(axis=1) / 4.0, middle


def geometric_mean_chord(y: Array, chord: Array) -> float:
    """Area over span [m]; always below the mean aerodynamic chord, or equal to it."""
    return pf.half_area(y, chord) / float(y[-1] - y[0])


def sweep_change(
    sweep: float, aspect_ratio: float, taper: float, from_fraction: float, to_fraction: float
) -> float:
    """Sweep of another chord line of a straight trapezoid [rad] (textbooks, from memory).

    tan L_n = tan L_m - (4 / AR) (n - m) (1 - taper) / (1 + taper)
    """
    step = 4.0 / aspect_ratio * (to_fraction - from_fraction) * (1.0 - taper) / (1.0 + taper)
    return float(np.arctan(np.tan(sweep) - step))


def trapezoid(area: float, span: float, taper: float) -> tuple[float, float]:
    """Root and tip chord [m] of a trapezoid of this whole area [m2], span [m] and taper."""
    root = 2.0 * area / (span * (1.0 + taper))
    return root, taper * root
