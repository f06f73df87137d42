"""Parts on a trailer or in a container: boxes, a place for each, the road, the hitch.

Each piece counts as its box in one of the attitudes tried, standing on the bed, nothing on top of
another. What is found is checked again; that nothing was found proves nothing.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from planform.airframe.build import Airframe, build
from planform.balance.items import Item, summed
from planform.balance.stages import items_on, weightless
from planform.core.spread import NO_SPREAD, Spread, Values, spreads
from planform.design.carrier import Carrier
from planform.design.models import Design, Stage
from planform.design.naming import field_name
from planform.design.problems import InputError, Problem
from planform.design.vary import shifted, toleranced
from planform.fit.carrying import Along, Carried, carried, piece_named
from planform.fit.verdict import CARE, FITS, NOT, UNJUDGED, Verdict
from planform.study.inputs import buildable

Array = NDArray[np.float64]

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
    size: Array
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
    along: float
    across: float

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Of the bed that it takes: along from, to; across from, to [m]."""
        a, b, _ = self.attitude.size
        return self.along, self.along + float(a), self.across, self.across + float(b)


@dataclass(frozen=True)
class LimitCheck:
    """One thing that is held against a limit.

    value, limit : SI of the kind; None where not known or not given
    left : what is left to the limit; below zero it is passed
    """

    name: str
    kind: str
    value: float | None
    limit: float | None
    left: float | None
    verdict: Verdict
    source: str


@dataclass(frozen=True, eq=False)
class Haul:
    """The answer: least boxes, a place for each piece where one was found, and the limits.

    shift : how far the load was pushed back for the hitch [m]; None where that is not known
    too_large : pieces that go on in none of the attitudes tried ; whole : searched to the end
    spreads : what the inputs' tolerances do to what is left of each limit, places held; by line
    """

    carrier: Carrier
    pieces: tuple[Piece, ...]
    loaded: tuple[PlacedPiece, ...]
    whole: bool
    lines: tuple[LimitCheck, ...]
    shift: float | None
    too_large: tuple[str, ...]
    spreads: dict[str, Spread]

    @property
    def found(self) -> bool:
        """Whether every piece has a place."""
        return bool(self.loaded)

    @property
    def verdict(self) -> Verdict:
        """The worst of its lines; a load without a place is not judged."""
        verdicts = [line.verdict for line in self.lines]
        return max([*verdicts, FITS if self.found else UNJUDGED])

    @cached_property
    def mass(self) -> float | None:
        """Of the whole load [kg]; None where a piece has none."""
        items = [piece.item for piece in self.pieces]
        return None if None in items else sum(item.mass for item in items if item is not None)

    @cached_property
    def centre(self) -> Array | None:
        """Of the whole load, from the bed's front left corner, shape (3,) [m]."""
        return centre_of(self.loaded)


def pieces_of(airframe: Airframe, named: Sequence[str]) -> tuple[Piece, ...]:
    """The pieces that are named, each a part or a group, or several joined by +.

    Raises InputError where none is given, a part is not there, or travels twice.
    """
    if not named:
        carried(airframe, ())
    out, seen = [], set()
    for text in named:
        one = piece_named(airframe, text)
        twice = [part.name for part in one.parts if part.name in seen]
        if twice:
            allowed = f"allowed: each part once; {twice[0]} is in another piece already"
            raise InputError("option", [Problem("--part", repr(text), allowed)])
        seen |= {part.name for part in one.parts}
        stage = Stage(name="load", parts=tuple(p.name for p in one.parts), stance="none")
        items = [item for item in items_on(airframe, stage) if item.part is not None]
        missing = weightless(airframe, stage)
        whole = summed(one.title, items) if items and not missing else None
        out.append(Piece(one.title, one, whole, missing))
    return tuple(out)


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


Box = tuple[str, Array, Array, Array]
"""Words, axes (3, 3), size (3,) and least corner (3,) of a box."""


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


def haul(airframe: Airframe, carrier: Carrier, named: Sequence[str]) -> Haul:
    """Load parts on a carrier and hold the load against its limits."""
    pieces = pieces_of(airframe, named)
    search = _Loading(carrier, pieces)
    loaded = search.lowest()
    shift = None
    if loaded:
        loaded, shift = _balanced(carrier, loaded)
    lines = tuple(_lines(carrier, pieces, loaded))
    too_large = tuple(p.name for p in pieces if not search.ways[id(p)])
    found = _spreads(airframe, carrier, named, loaded, lines) if loaded else {}
    lines = tuple(_careful(line, found) for line in lines)
    return Haul(carrier, pieces, loaded, not search.ended, lines, shift, too_large, found)


def _careful(line: LimitCheck, spreads: dict[str, Spread]) -> LimitCheck:
    """A line that the inputs' tolerances could turn needs care."""
    near = line.left is not None and line.left < spreads.get(line.name, NO_SPREAD).worst
    return replace(line, verdict=CARE) if near and line.verdict == FITS else line


def _spreads(
    airframe: Airframe,
    carrier: Carrier,
    named: Sequence[str],
    loaded: Sequence[PlacedPiece],
    lines: Sequence[LimitCheck],
) -> dict[str, Spread]:
    """Each toleranced reading moved alone, everything built and weighed again in its place."""
    design = airframe.design

    def left(design: Design, carrier: Carrier) -> Values:
        there = airframe if design is airframe.design else build(design, like=airframe)
        pieces = pieces_of(there, named)
        by_name = {piece.name: piece for piece in pieces}
        moved = [_again(one, by_name[one.attitude.piece.name]) for one in loaded]
        found = _lines(carrier, pieces, moved)
        return {line.name: line.left for line in found if line.left is not None}

    base = {line.name: line.left for line in lines if line.left is not None}
    changes: list[tuple[str, Values]] = []
    for model in (design, carrier):
        for path, reading in toleranced(model):
            if path[0] == "balance":
                continue
            for side in (1.0, -1.0):
                name = field_name(model, path, model.name)
                with buildable(carrier.name, [name]):
                    moved = shifted(model, path, side * reading.tolerance)
                    both = (moved, carrier) if model is design else (design, moved)
                    changes.append((name, left(*both)))
    return spreads(base, changes)


def _again(one: PlacedPiece, piece: Piece) -> PlacedPiece:
    """A piece, maybe built otherwise, in the same attitude and place."""
    axes, margin = one.attitude.axes, piece.carried.margin
    along = piece.carried.hull @ axes.T
    size = np.asarray(np.ptp(along, axis=0) + 2.0 * margin)
    low = np.asarray(along.min(axis=0) - margin)
    return PlacedPiece(Lying(piece, one.attitude.words, axes, size, low), one.along, one.across)


class _Loading:
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


def centre_of(loaded: Sequence[PlacedPiece]) -> Array | None:
    """The centre of mass of a load from the bed's front left, shape (3,) [m]."""
    total, moment = 0.0, np.zeros(3)
    for one in loaded:
        item, centre = one.attitude.piece.item, one.attitude.centre
        if item is None or centre is None:
            return None
        total += item.mass
        moment += item.mass * (centre + np.array([one.along, one.across, 0.0]))
    return moment / total if total > 0.0 else None


def hitch_load(carrier: Carrier, mass: float, along: float) -> float:
    """What the loaded trailer puts on the hitch [kg]; statics, moments about the axles' middle.

    along : the load's centre of mass behind the front of the bed [m]
    """
    run = carrier.running
    assert run is not None
    arm = run.axle + float(run.hitch)
    return float(run.empty_hitch) + mass * (run.axle - along) / arm


def _balanced(
    carrier: Carrier, loaded: tuple[PlacedPiece, ...]
) -> tuple[tuple[PlacedPiece, ...], float | None]:
    """The load pushed back as a whole as far as the hitch asks and the bed allows; and how far."""
    run, centre = carrier.running, centre_of(loaded)
    if run is None or centre is None:
        return loaded, None
    mass = sum(one.attitude.piece.item.mass for one in loaded if one.attitude.piece.item)
    wanted = _hitch_wanted(carrier)
    if wanted is None:
        return loaded, None
    now = hitch_load(carrier, mass, float(centre[0]))
    free = float(carrier.bed.length) + float(carrier.bed.overhang)
    free -= max(one.box[1] for one in loaded)
    shift = (now - wanted) * (run.axle + float(run.hitch)) / mass
    shift = float(np.clip(shift, 0.0, max(0.0, free)))
    moved = tuple(PlacedPiece(o.attitude, o.along + shift, o.across) for o in loaded)
    return moved, shift


def _hitch_wanted(carrier: Carrier) -> float | None:
    """The middle of what the hitch may carry [kg], or its one limit."""
    run = carrier.running
    if run is None:
        return None
    given = [float(v) for v in (run.hitch_least, run.hitch_most) if v is not None]
    return sum(given) / len(given) if given else None


def _lines(
    carrier: Carrier, pieces: Sequence[Piece], loaded: Sequence[PlacedPiece]
) -> Iterator[LimitCheck]:
    """The load against each limit that is given."""
    yield from _placed_lines(carrier, pieces, loaded)
    masses = [piece.item.mass if piece.item else None for piece in pieces]
    known = None if None in masses else float(sum(m for m in masses if m is not None))
    run, road, bed = carrier.running, carrier.road, carrier.bed
    if run is not None:
        yield _most("payload", "mass", known, run.payload, run.source)
        centre = centre_of(loaded) if loaded else None
        force = None
        if centre is not None and known is not None:
            force = hitch_load(carrier, known, float(centre[0]))
        yield _most("load on the hitch, most", "mass", force, run.hitch_most, run.source)
        yield _least("load on the hitch, least", "mass", force, run.hitch_least, run.source)
    wide = None
    if loaded:
        wide = max(float(bed.width), *(one.box[3] for one in loaded))
    if road.width is not None:
        yield _most("width on the road", "length", wide, road.width, road.source)
    high = None
    if loaded and bed.over_road is not None:
        high = float(bed.over_road) + max(float(one.attitude.size[2]) for one in loaded)
    if road.height is not None:
        yield _most("height on the road", "length", high, road.height, road.source)
    if loaded and bed.headroom is None:
        back = max(0.0, max(one.box[1] for one in loaded) - float(bed.length))
        yield _most("standing out at the rear", "length", back, bed.overhang, "")


def _placed_lines(
    carrier: Carrier, pieces: Sequence[Piece], loaded: Sequence[PlacedPiece]
) -> Iterator[LimitCheck]:
    door = carrier.end_door
    for one in loaded:
        if door is None:
            continue
        size = one.attitude.size
        spare = min(
            0.5 * (float(door.clear_width) - float(size[1])),
            float(door.clear_height) - float(size[2]),
        )
        verdict = FITS if spare >= float(carrier.bed.gap) else CARE if spare >= 0.0 else NOT
        name = f"{one.attitude.piece.name} through the end door"
        yield LimitCheck(name, "length", None, None, spare, verdict, "a side, as it stands")


def _most(
    name: str, kind: str, value: float | None, limit: float | None, source: str
) -> LimitCheck:
    if limit is None:
        return LimitCheck(name, kind, value, None, None, UNJUDGED, "no limit is given")
    if value is None:
        return LimitCheck(name, kind, None, float(limit), None, UNJUDGED, source)
    left = float(limit) - value
    return LimitCheck(name, kind, value, float(limit), left, FITS if left >= 0.0 else NOT, source)


def _least(
    name: str, kind: str, value: float | None, limit: float | None, source: str
) -> LimitCheck:
    line = _most(name, kind, value, limit, source)
    if line.left is None:
        return line
    left = -line.left
    return LimitCheck(name, kind, value, line.limit, left, FITS if left >= 0.0 else NOT, source)
