"""How wide and how high a part's outline is when it is rolled about the way it is carried.

A push straight through an opening without turning passes where the outline across the push does;
the outline of the convex hull decides, as an opening with straight sides is convex. Width against
roll is a cosine between two turns at which a side of the hull lies level or upright, so all that
is told here is exact. That the least width and the least-area rectangle lie flush with a side of
the hull is a standard result (H. Freeman, R. Shapira, Comm. ACM 18 (1975) 409-413, from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def across(direction: Array) -> Array:
    """Two unit vectors across a direction, shape (2, 3): the first level, the second up.

    direction : array, shape (3,), any length; for one straight up the first is the second axis
    """
    d = np.asarray(direction, dtype=float) / float(np.linalg.norm(direction))
    level = np.cross([0.0, 0.0, 1.0], d)
    if float(np.linalg.norm(level)) < 1e-6:
        level = np.cross(d, [1.0, 0.0, 0.0])
    level = level / float(np.linalg.norm(level))
    return np.array([level, np.cross(d, level)])


@dataclass(frozen=True, eq=False)
class Outline:
    """A convex outline across the way a part is carried, free to be rolled.

    ring : corners, counter-clockwise, shape (n, 2): level, up [m]
    margin : how far the true shape may stand outside the corners [m]
    Rolled counter-clockwise by r [rad]; a half turn gives the same width and height.
    """

    ring: Array
    margin: float = 0.0

    def width(self, roll: Array | float) -> Array:
        """The width across at rolls [rad]; same shape as roll [m]."""
        turns = np.asarray(roll, dtype=float)
        level = (
            np.cos(turns)[..., None] * self.ring[:, 0]
            - np.sin(turns)[..., None] * (self.ring[:, 1])
        )
        return np.asarray(np.ptp(level, axis=-1) + 2.0 * self.margin)

    def height(self, roll: Array | float) -> Array:
        """The height at rolls [rad]; same shape as roll [m]."""
        return self.width(np.asarray(roll, dtype=float) - 0.5 * np.pi)

    @cached_property
    def flush(self) -> Array:
        """Rolls in [0, pi) at which a side of the hull stands upright or lies level, ascending."""
        run = np.roll(self.ring, -1, axis=0) - self.ring
        level = -np.arctan2(run[:, 1], run[:, 0])
        return np.unique(np.round(np.concatenate([level, level + 0.5 * np.pi]) % np.pi, 12))

    @property
    def narrowest(self) -> float:
        """The roll with the least width [rad]."""
        return float(self.flush[np.argmin(self.width(self.flush))])

    @property
    def smallest(self) -> float:
        """The roll whose upright rectangle has the least area, lying flat [rad]."""
        roll = float(self.flush[np.argmin(self.width(self.flush) * self.height(self.flush))])
        flat = self.width(roll) >= self.height(roll)
        return roll if flat else float((roll + 0.5 * np.pi) % np.pi)

    def spare(self, width: float, height: float, roll: Array | float) -> Array:
        """What is left on the tighter of both ways at rolls [m]; below zero it does not pass.

        width, height : of the opening [m]; across, the spare is shared by two sides
        """
        return np.minimum(0.5 * (width - self.width(roll)), height - self.height(roll))

    def best_for(self, width: float, height: float) -> tuple[float, float]:
        """The roll with the most spare in an opening [rad], and that spare [m]; exact."""
        rolls = np.union1d(self.flush, self._even(width, height))
        spare = self.spare(width, height, rolls)
        best = int(np.argmax(np.round(spare, 12)))
        return float(rolls[best]), float(spare[best])

    def passing(self, width: float, height: float) -> tuple[tuple[float, float], ...]:
        """The ranges of roll in [0, pi] at which it passes an opening [rad]; exact."""
        marks = [np.array([0.0, np.pi]), self.flush]
        for opening, upright in ((width, False), (height, True)):
            marks.append(self._reaches(opening, upright))
        rolls = np.unique(np.concatenate(marks))
        middles = 0.5 * (rolls[:-1] + rolls[1:])
        good = self.spare(width, height, middles) >= 0.0
        out: list[tuple[float, float]] = []
        for k in np.flatnonzero(good):
            a, b = float(rolls[k]), float(rolls[k + 1])
            if out and abs(out[-1][1] - a) < 1e-12:
                out[-1] = out[-1][0], b
            else:
                out.append((a, b))
        return tuple(out)

    def _waves(self) -> tuple[Array, Array, Array, Array]:
        """Between flush rolls the width is size cos(roll - at): starts, ends, size, at."""
        starts = self.flush
        ends = np.append(starts[1:], starts[0] + np.pi)
        middle = 0.5 * (starts + ends)
        level = (
            np.cos(middle)[:, None] * self.ring[:, 0] - np.sin(middle)[:, None] * (self.ring[:, 1])
        )
        span = self.ring[level.argmax(axis=1)] - self.ring[level.argmin(axis=1)]
        return starts, ends, np.hypot(span[:, 0], span[:, 1]), -np.arctan2(span[:, 1], span[:, 0])

    def _reaches(self, opening: float, upright: bool) -> Array:
        """Rolls in [0, pi) at which the width (or the height, upright) is that of an opening."""
        starts, ends, size, at = self._waves()
        share = (opening - 2.0 * self.margin) / size
        there = np.abs(share) <= 1.0
        turn, ranges = np.arccos(share[there]), (starts[there], ends[there])
        rolls = np.concatenate([_between(at[there] + s * turn, *ranges) for s in (1.0, -1.0)])
        return np.asarray((rolls + (0.5 * np.pi if upright else 0.0)) % np.pi)

    def _even(self, width: float, height: float) -> Array:
        """Rolls at which both ways leave the same: a cosine and a sine meet a number."""
        starts, ends, size, at = self._waves()
        middles = 0.5 * (starts + ends)
        turned = (middles - 0.5 * np.pi - starts[0]) % np.pi + starts[0]
        other = np.searchsorted(starts, turned, side="right") - 1
        shift = middles - turned  # the height at a roll is the width a quarter turn earlier
        want = height - 0.5 * width - self.margin
        c = size[other] * np.cos(shift + at[other]) - 0.5 * size * np.cos(at)
        s = size[other] * np.sin(shift + at[other]) - 0.5 * size * np.sin(at)
        wave, phase = np.hypot(c, s), np.arctan2(s, c)
        there = (wave > 0.0) & (np.abs(want) <= wave)
        turn = np.arccos(want / wave[there])
        ranges = starts[there], ends[there]
        found = [_between(phase[there] + side * turn, *ranges) for side in (1.0, -1.0)]
        return np.concatenate(found) % np.pi


def _between(rolls: Array, starts: Array, ends: Array) -> Array:
    """Those rolls that lie in their own ranges, whole turns aside."""
    near = rolls + 2.0 * np.pi * np.ceil((starts - 1e-12 - rolls) / (2.0 * np.pi))
    return near[near <= ends + 1e-12]
