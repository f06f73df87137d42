"""Parts on a trailer or in a container: boxes, a place for each, the road, the hitch.

Each piece counts as its box in one of the attitudes tried, standing on the bed, nothing on top of
another. What is found is checked again; that nothing was found proves nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from planform.airframe.build import Airframe, build
from planform.airframe.weight.items import summed
from planform.airframe.weight.stage_weight import items_on, weightless
from planform.core.quantity import Lengths, Metres
from planform.core.shown import Brief, Shown
from planform.core.spread import NO_SPREAD, Spread, Values, spreads
from planform.design.carrier import Carrier
from planform.design.models import Design, Stage
from planform.design.naming import field_name
from planform.design.problems import InputError, Problem
from planform.design.told import said
from planform.design.vary import shifted, toleranced
from planform.fit.carrying import inside_of, one_piece, piece_named
from planform.fit.verdict import CARE, FITS, UNJUDGED, Verdict
from planform.study.inputs import buildable
from planform.study.load_limits import LimitCheck, balanced, centre_of, limit_checks
from planform.study.stowing import Lying, Piece, PlacedPiece, Stowing

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False, repr=False)
class Haul(Shown):
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
    shift: Metres | None
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
    def centre(self) -> Lengths | None:
        """Of the whole load, from the bed's front left corner, shape (3,) [m]."""
        return centre_of(self.loaded)

    def brief(self) -> Brief:
        """The verdict, the load, and what is left of every limit."""
        units = self.carrier.units
        rows = [] if self.mass is None else [("load", said(self.mass, "mass_up", units))]
        for line in self.lines:
            left = "" if line.left is None else f", to spare {said(line.left, line.kind, units)}"
            rows.append((line.name, f"{line.verdict}{left}"))
        pieces = "1 piece" if len(self.pieces) == 1 else f"{len(self.pieces)} pieces"
        return Brief(f"{pieces} on {self.carrier.name}: {self.verdict}", tuple(rows))


def pieces_of(airframe: Airframe, named: Sequence[str]) -> tuple[Piece, ...]:
    """The pieces that are named, each a part or a group, or several joined by +.

    Raises InputError where none is given, a part is not there, or travels twice.
    """
    if not named:
        one_piece(airframe, ())
    ones, seen = [], set()
    for text in named:
        one = piece_named(airframe, text)
        twice = [part.name for part in one.parts if part.name in seen]
        if twice:
            allowed = f"allowed: each part once; {twice[0]} is in another piece already"
            raise InputError("option", [Problem("--part", repr(text), allowed)])
        seen |= {part.name for part in one.parts}
        ones.append(one)
    out = []
    for one in ones:
        inside = (p.name for p in inside_of(airframe, one.parts) if p.name not in seen)
        weighed = (*(p.name for p in one.parts), *inside)
        stage = Stage(name="load", parts=weighed, stance="none")
        items = [item for item in items_on(airframe, stage) if item.part is not None]
        missing = weightless(airframe, stage)
        whole = summed(one.title, items) if items and not missing else None
        out.append(Piece(one.title, one, whole, missing))
    return tuple(out)


def haul(airframe: Airframe, carrier: Carrier, named: Sequence[str]) -> Haul:
    """Load parts on a carrier and hold the load against its limits."""
    pieces = pieces_of(airframe, named)
    search = Stowing(carrier, pieces)
    loaded = search.lowest()
    shift = None
    if loaded:
        loaded, shift = balanced(carrier, loaded)
    lines = tuple(limit_checks(carrier, pieces, loaded))
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
        found = limit_checks(carrier, pieces, moved)
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
