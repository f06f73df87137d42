"""Small scenes for the tests of pictures."""

from __future__ import annotations

import numpy as np

from planform.drawing.scene import Camera, Leader, Scene, Solid

SIDES = [(0, 2, 3, 1), (4, 5, 7, 6), (0, 1, 5, 4), (2, 6, 7, 3), (0, 4, 6, 2), (1, 3, 7, 5)]
BOX = np.array([t for a, b, c, d in SIDES for t in ((a, b, c), (a, c, d))])


def box(name, low, high, colour="#d08040", opacity=1.0):
    """An upright box between two corners, its facets counter-clockwise from outside."""
    corners = np.array([[x, y, z] for z in (0, 1) for y in (0, 1) for x in (0, 1)], dtype=float)
    points = np.array(low, dtype=float) + corners * (np.array(high, dtype=float) - low)
    return Solid(name, points, BOX, colour, opacity)


def ball(name, middle, radii, colour="#d9e2e3", rings=12, around=24):
    """An ellipsoid of 2 * around * (rings - 1) facets."""
    lat = np.linspace(0.0, np.pi, rings + 1)[1:-1]
    lon = np.linspace(0.0, 2.0 * np.pi, around, endpoint=False)
    belt = np.stack(
        [
            np.outer(np.cos(lat), np.ones(around)),
            np.outer(np.sin(lat), np.cos(lon)),
            np.outer(np.sin(lat), np.sin(lon)),
        ],
        axis=-1,
    ).reshape(-1, 3)
    points = np.concatenate([belt, [[1.0, 0.0, 0.0], [-1.0, 0.0, 0.0]]])
    faces = []
    for k in range(around):
        n = (k + 1) % around
        faces.append((len(belt), k, n))
        for r in range(rings - 2):
            a, b = r * around, (r + 1) * around
            faces += [(a + k, b + k, b + n), (a + k, b + n, a + n)]
        last = (rings - 2) * around
        faces.append((len(belt) + 1, last + n, last + k))
    return Solid(name, points * radii + middle, np.array(faces), colour)


def camera(name="front", direction=(-1.0, 0.0, 0.0), up=(0.0, 0.0, 1.0), parallel=True):
    """A camera; from ahead unless told otherwise."""
    return Camera(name, np.array(direction), np.array(up), parallel, f"seen from {name}")


def leader(start, end, label="12 in", colour="#b3361b"):
    """A leader between two points."""
    return Leader(np.array(start, dtype=float), np.array(end, dtype=float), label, colour)


def shop():
    """A body with a wing through it in a room, one leader, two cameras."""
    return Scene(
        "Shop",
        (
            box("room", (-4, -4, -1), (4, 4, 2), "#9aa5a8", 0.12),
            ball("body", (0, 0, 0), (2.0, 0.5, 0.5)),
            box("wing", (-0.2, -3, -0.1), (0.8, 3, 0.1), "#e9e4d4"),
        ),
        (leader((0.3, 3, 0), (0.3, 4, 0)),),
        (
            camera("corner", (-1.0, -0.8, 0.6), parallel=False),
            camera("above", (0.0, 0.0, 1.0), (-1.0, 0.0, 0.0)),
        ),
    )
