"""A section through given points: its true curve, facets on it, and how far it stands outside them.

The true curve is the natural cubic spline through all points, over the root of the distance from
point to point (the centripetal parameter; E. T. Y. Lee, Computer-Aided Design 21, 1989, from
memory). Each of its cubics lies within the hull of its four Bezier points (general mathematics),
which bounds it.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

STATIONS, TURNS, ROUND = 81, 6, 0.1
"""Places along the chord where the camber line is told, how often its slope is taken anew, and
how much of the chord counts as nose."""
FINE = 24
"""Steps of each cubic where its points are looked up."""
CLOSE, MOST_HALVINGS = 1.05, 12
"""A bound is sharpened until it is within this of what is reached, or as often as that."""
NOSE = 0.04
"""Share of the chord that the radius of the leading edge is read from; assumption."""


@dataclass(frozen=True, eq=False)
class Drawn:
    """A unit section through its own points.

    points : (n, 2) in chords, from the trailing edge over the top and back below
    """

    points: Array

    @cached_property
    def cubics(self) -> Array:
        """Bezier points of each piece of the true curve, shape (n - 1, 4, 2)."""
        p = self.points
        step = np.sqrt(np.linalg.norm(np.diff(p, axis=0), axis=1))
        slope = np.diff(p, axis=0) / step[:, None]
        n = len(p)
        left, right, inner = np.zeros((n, n)), np.zeros((n, 2)), np.arange(1, n - 1)
        left[0, :2] = 2.0, 1.0
        left[-1, -2:] = 1.0, 2.0
        right[0], right[-1] = 3.0 * slope[0], 3.0 * slope[-1]
        left[inner, inner - 1] = step[1:]
        left[inner, inner] = 2.0 * (step[:-1] + step[1:])
        left[inner, inner + 1] = step[:-1]
        right[1:-1] = 3.0 * (step[1:, None] * slope[:-1] + step[:-1, None] * slope[1:])
        tangent = np.linalg.solve(left, right)
        third = step[:, None] / 3.0
        return np.stack(
            [p[:-1], p[:-1] + third * tangent[:-1], p[1:] - third * tangent[1:], p[1:]], axis=1
        )

    @cached_property
    def sides(self) -> tuple[Array, Array]:
        """The true curve's upper and lower side, finely, each (m, 2) from the leading edge aft."""
        t = np.arange(FINE) / FINE
        weights = np.stack([(1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3], axis=1)
        line = np.einsum("tk,nkd->ntd", weights, self.cubics).reshape(-1, 2)
        line = np.vstack([line, self.points[-1:]])
        nose = int(line[:, 0].argmin())
        return _onward(line[: nose + 1][::-1]), _onward(line[nose:])

    @property
    def closed(self) -> bool:
        """Whether its trailing edge is one point."""
        return bool((self.points[0] == self.points[-1]).all())

    @property
    def gap(self) -> float:
        """How far its trailing edge is open, in chords."""
        return float(np.linalg.norm(self.points[0] - self.points[-1]))

    def heights(self, x: Array) -> tuple[Array, Array]:
        """Heights of the upper and the lower side at x, array of any shape [chords]."""
        upper, lower = self.sides
        return np.interp(x, *upper.T), np.interp(x, *lower.T)

    def facets(self, x: Array) -> tuple[Array, Array]:
        """Corners on the upper and the lower side, each (n, 2) from the leading edge aft.

        x : array, shape (n,), from 0 to 1
        """
        out = []
        for side in self.sides:
            end = side[-1, 0]
            at = side[0, 0] + np.asarray(x) * (end - side[0, 0])
            out.append(np.stack([at, np.interp(at, *side.T)], axis=1))
        out[1][0] = out[0][0]
        return out[0], out[1]

    @cached_property
    def midway(self) -> tuple[Array, Array, Array]:
        """Where along the chord, the camber line's height and the half thickness across it, (n,).

        Both sides lie as far off the line, across it: as NACA Report 460 draws a section.
        """
        x = 0.5 * (1.0 - np.cos(np.linspace(0.0, np.pi, STATIONS)))
        upper, lower = self.heights(x)
        middle, half = 0.5 * (upper + lower), 0.5 * (upper - lower)
        for _ in range(TURNS):
            angle = np.arctan(_slope(x, middle))
            aside = half * np.sin(angle)
            upper = self.heights(np.clip(x - aside, 0.0, 1.0))[0]
            lower = self.heights(np.clip(x + aside, 0.0, 1.0))[1]
            middle, half = 0.5 * (upper + lower), 0.5 * (upper - lower) / np.cos(angle)
        return x, middle, half

    def camber_slope(self, x: Array) -> Array:
        """Slope of the camber line at x, array of any shape."""
        at, middle, _ = self.midway
        return np.asarray(np.interp(x, at, _slope(at, middle)))

    def bulge(self, ring: Array) -> float:
        """How far the true curve stands off the facets of a ring at most, in chords.

        ring : array, shape (m, 2), closed
        A piece is as near to one facet as its four Bezier points are; pieces that this bounds
        loosely are halved.
        """
        pieces, most, reached = self.cubics, 0.0, 0.0
        for _ in range(MOST_HALVINGS):
            off = _off_facets(pieces, ring)
            reached = max(reached, float(off[:, [0, 3]].min(axis=2).max()))
            bound = off.max(axis=1).min(axis=1)
            loose = bound > CLOSE * reached
            most = max([most, *bound[~loose]])
            if not loose.any():
                return float(most)
            pieces = np.concatenate(_halved(pieces[loose]))
        return max(most, float(np.max(bound)))


def _off_facets(pieces: Array, ring: Array) -> Array:
    """How far each Bezier point is off each facet of a ring, shape (pieces, 4, facets)."""
    along = np.roll(ring, -1, axis=0) - ring
    square = np.maximum((along**2).sum(axis=1), 1e-30)
    from_start = pieces[:, :, None, :] - ring
    share = np.clip((from_start * along).sum(axis=-1) / square, 0.0, 1.0)
    return np.asarray(np.linalg.norm(from_start - share[..., None] * along, axis=-1))


@dataclass(frozen=True)
class Figures:
    """What a section through points is, in chords.

    thickness, thickest : its greatest thickness, across the camber line, and where
    camber, most_cambered : the camber line's greatest height over the line from its nose to the
        trailing edge, with its sign, and where
    nose_radius : of the leading edge
    """

    points: int
    thickness: float
    thickest: float
    camber: float
    most_cambered: float
    nose_radius: float
    gap: float


def told(drawn: Drawn) -> Figures:
    """What a section through points is.

    The leading edge's radius is that of the parabola that touches there; so 1.1019 t^2 of a
    four-digit section (NACA Report 460).
    """
    x, middle, half = drawn.midway
    thick = 2.0 * half
    slope, k = _slope(x, middle), int(np.searchsorted(x, ROUND))
    rise = 0.5 * (slope[1 : k + 1] + slope[:k]) * np.diff(x[: k + 1])
    start = middle[k] - float(rise.sum())
    camber = np.where(x < ROUND, 0.0, middle - (start + x * (middle[-1] - start)))
    k, m = int(thick.argmax()), int(np.abs(camber).argmax())
    return Figures(
        len(drawn.points),
        *_peak(x, thick, k),
        *_peak(x, camber, m),
        _nose_radius(drawn, float(np.arctan(slope[0]))),
        drawn.gap,
    )


def _nose_radius(drawn: Drawn, tilt: float) -> float:
    """a^2/2 of the half thickness a sqrt(x) + b x + c x^2 fitted to the nose.

    tilt : of the camber line there, which x runs along [rad]
    """
    c, s = np.cos(tilt), np.sin(tilt)
    line = np.vstack([drawn.sides[0][::-1], drawn.sides[1]]) @ np.array([[c, -s], [s, c]])
    nose = int(line[:, 0].argmin())
    x = np.linspace(0.0, NOSE, 101)
    over, under = (
        np.interp(x, *_onward(side - [line[nose, 0], 0.0]).T)
        for side in (line[: nose + 1][::-1], line[nose:])
    )
    terms = np.stack([np.sqrt(x), x, x * x], axis=1)
    return float(0.5 * np.linalg.lstsq(terms, 0.5 * (over - under), rcond=None)[0][0] ** 2)


def _peak(x: Array, y: Array, k: int) -> tuple[float, float]:
    """Height and place of the peak of the parabola through the greatest and its neighbours."""
    if not 0 < k < len(x) - 1:
        return float(y[k]), float(x[k])
    a, b, c = (float(value) for value in np.polyfit(x[k - 1 : k + 2] - x[k], y[k - 1 : k + 2], 2))
    off = -0.5 * b / a if a else 0.0
    return c + 0.5 * b * off, float(x[k]) + off


def _slope(x: Array, middle: Array) -> Array:
    """Slope of the camber line; within the nose, where its height says little, carried on."""
    slope = np.gradient(middle, x)
    k, m = np.searchsorted(x, [ROUND, 2.0 * ROUND]) + 1
    bend = (slope[m] - slope[k]) / (x[m] - x[k])
    slope[:k] = slope[k] + bend * (x[:k] - x[k])
    return np.asarray(slope)


def _onward(side: Array) -> Array:
    """A side whose x never goes back, for looking up."""
    return np.stack([np.maximum.accumulate(side[:, 0]), side[:, 1]], axis=1)


def _halved(pieces: Array) -> tuple[Array, Array]:
    """Both halves of each cubic (de Casteljau)."""
    a, b, c, d = (pieces[:, k] for k in range(4))
    ab, bc, cd = 0.5 * (a + b), 0.5 * (b + c), 0.5 * (c + d)
    abc, bcd = 0.5 * (ab + bc), 0.5 * (bc + cd)
    middle = 0.5 * (abc + bcd)
    return np.stack([a, ab, abc, middle], axis=1), np.stack([middle, bcd, cd, d], axis=1)
