"""Where the boxes of pieces stand on a bed: tried, the lowest first."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planform.airframe.weight.items import Item
from planform.core.quantity import Lengths, Metres
from planform.design.carrier import Carrier
from planform.fit.carrying import Along, Carried

Array = NDArray[np.float64]

Box = tuple[str, Array, Array, Array]
"""Words, axes (3, 3), size (3,) and least corner (3,) of a box."""

LOOKS = 20_000
"""Placings looked at for one height of the load; assumption."""

TOUCH = 1e-9


@dataclass(frozen=True, eq=False)
class Piece:
    """What travels in one piece: solid, mass and centre where masses are given.

    item : mass and centre in aircraft axes; None where a part of it has no mass in the file
    missing : the parts without a mass
    """

    name: str
    carried: Carried
    item: Item | None
    missing: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class Lying:
    """One way a piece may stand: the edges of its box along, across and up.

    axes : rows along, across and up, aircraft axes, shape (3, 3) ; size : of the box (3,) [m]
    low : least corner of the box along those axes, shape (3,) [m]
    """

    piece: Piece
    words: str
    axes: Array
    size: Lengths
    low: Array

    @property
    def volume(self) -> float:
        """Of the box [m3]."""
        return float(self.size.prod())

    @property
    def centre(self) -> Array | None:
        """The centre of mass from the box's least corner, shape (3,) [m]; None where not known."""
        item = self.piece.item
        if item is None or item.wl is None:
            return None
        point = np.array([item.fs, item.bl, item.wl])
        return np.asarray(self.axes @ point - self.low)


@dataclass(frozen=True, eq=False)
class PlacedPiece:
    """A piece on the bed: its attitude, and where its box starts from the bed's front left [m]."""

    attitude: Lying
    along: Metres
    across: Metres

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Of the bed that it takes: along from, to; across from, to [m]."""
        a, b, _ = self.attitude.size
        return self.along, self.along + float(a), self.across, self.across + float(b)


def attitudes(piece: Piece) -> tuple[Lying, ...]:
    """Ways a piece may stand: its least box and those of the aircraft's axes, each on any face."""
    out = []
    for box in [least_box(piece.carried), *(_box(way) for way in piece.carried.ways[1:])]:
        words, axes, size, low = box
        for order in itertools.permutations(range(3)):
            rows = list(order)
            stood = f"{_stood(size[rows])} ({words})"
            turned, least = _faced(piece.carried, axes[rows], low[rows], size[rows])
            out.append(Lying(piece, stood, turned, size[rows], least))
    return tuple(out)


def _faced(one: Carried, axes: Array, low: Array, size: Array) -> tuple[Array, Array]:
    """The axes turned, never mirrored: what there is more of down, then toward the front.

    So a left and a right piece stand alike. More of it is where the middle of the hull's corners
    lies; a piece that is even about a plane stands either way.
    """
    axes, low = axes.copy(), low.copy()

    def flip(k: int) -> None:
        axes[k], low[k] = -axes[k], -low[k] - size[k]

    off = axes @ one.hull.mean(axis=0) - (low + 0.5 * size)
    for k in (2, 0):
        if off[k] > EVEN:
            flip(k)
    if np.linalg.det(axes) < 0.0:
        even = [k for k in (1, 0, 2) if abs(off[k]) <= EVEN]
        flip(even[0] if even else 1)
    return axes, low


EVEN = 1e-6
"""A piece counts as even about a plane where its corners' middle is this near to it [m]."""


def _stood(size: Array) -> str:
    """How a box stands, by its edge upward."""
    rank = int(np.argsort(np.argsort(size, kind="stable"), kind="stable")[2])
    return ("lying flat", "on its edge", "standing on end")[rank]


def least_box(one: Carried) -> Box:
    """The box of least volume among those with an edge along an edge of the hull.

    An edge of the least box is not always one of the hull's; this one is close, not proved least.
    """
    tried = [Along("least box", one, d) for d in one.sides] + list(one.ways[1:])
    best = min(tried, key=lambda way: (round(way.area * way.length, 9), *way.direction))
    return _box(best, "least box")


def _box(way: Along, words: str = "") -> Box:
    unit = way.direction / float(np.linalg.norm(way.direction))
    axes = np.vstack([unit, way.axes])
    along = way.carried.hull @ axes.T
    margin = way.carried.margin
    size = np.ptp(along, axis=0) + 2.0 * margin
    return words or way.name, axes, np.asarray(size), np.asarray(along.min(axis=0) - margin)


class Stowing:
    """The search for places: the largest piece first, each against the front and left."""

    def __init__(self, carrier: Carrier, pieces: Sequence[Piece]) -> None:
        bed = carrier.bed
        self.gap = float(bed.gap)
        self.edge = self.gap if bed.headroom is not None else 0.0
        self.length = float(bed.length) + float(bed.overhang)
        self.width = float(bed.width)
        self.high = np.inf if bed.headroom is None else float(bed.headroom) - self.gap
        if carrier.road.height is not None and bed.over_road is not None:
            self.high = min(self.high, float(carrier.road.height) - float(bed.over_road))
        self.door = carrier.end_door
        least = {id(p): min(a.volume for a in attitudes(p)) for p in pieces}
        self.pieces = sorted(pieces, key=lambda p: (-least[id(p)], p.name))
        self.ways = {id(p): self._allowed(p) for p in pieces}
        self.looks = 0
        self.ended = False

    def _allowed(self, piece: Piece) -> list[Lying]:
        """The attitudes that the carrier takes at all, the flattest first."""
        good = [a for a in attitudes(piece) if self._takes(a)]
        return sorted(good, key=lambda a: (round(float(a.size[2]), 6), round(a.volume, 6)))

    def _takes(self, a: Lying) -> bool:
        inside = (
            a.size[0] <= self.length - 2.0 * self.edge + TOUCH
            and a.size[1] <= self.width - 2.0 * self.edge + TOUCH
            and a.size[2] <= self.high + TOUCH
        )
        if not inside or self.door is None:
            return bool(inside)
        wide, high = float(self.door.clear_width), float(self.door.clear_height)
        return bool(a.size[1] <= wide + TOUCH and a.size[2] <= high + TOUCH)

    def lowest(self) -> tuple[PlacedPiece, ...]:
        """Places for all pieces with the least height that any are found for, or none."""
        everything = dict(self.ways)
        heights = {round(float(a.size[2]), 6) for ways in everything.values() for a in ways}
        for most in sorted(heights) if all(everything.values()) else ():
            self.ways = {
                k: [a for a in ways if a.size[2] <= most + 1e-6] for k, ways in everything.items()
            }
            self.looks = 0
            found = self.placed() if all(self.ways.values()) else ()
            if found:
                self.ended = False
                return found
        self.ways = everything
        return ()

    def placed(self, on: tuple[PlacedPiece, ...] = ()) -> tuple[PlacedPiece, ...]:
        """Places for all pieces, or none."""
        if len(on) == len(self.pieces):
            return on
        piece = self.pieces[len(on)]
        for attitude in self.ways[id(piece)]:
            for along, across in self._corners(on):
                self.looks += 1
                if self.looks > LOOKS:
                    self.ended = True
                    return ()
                one = PlacedPiece(attitude, along, across)
                if self._free(one, on):
                    found = self.placed((*on, one))
                    if found or self.looks > LOOKS:
                        return found
        return ()

    def _corners(self, on: tuple[PlacedPiece, ...]) -> list[tuple[float, float]]:
        alongs = {self.edge, *(one.box[1] + self.gap for one in on)}
        acrosses = {self.edge, *(one.box[3] + self.gap for one in on)}
        return sorted(itertools.product(alongs, acrosses))

    def _free(self, one: PlacedPiece, on: tuple[PlacedPiece, ...]) -> bool:
        _, back, _, right = one.box
        if back > self.length - self.edge + TOUCH or right > self.width - self.edge + TOUCH:
            return False
        return all(apart(one, other) >= self.gap - TOUCH for other in on)


def apart(one: PlacedPiece, other: PlacedPiece) -> float:
    """How far two pieces' boxes are apart along or across, whichever is more [m]."""
    a, b, c, d = one.box
    e, f, g, h = other.box
    return max(e - b, a - f, g - d, c - h)
