"""A load against what the carrier and the road allow."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planform.core.quantity import OfKind
from planform.design.carrier import Carrier
from planform.fit.verdict import CARE, FITS, NOT, UNJUDGED, Verdict
from planform.study.stowing import Piece, PlacedPiece

Array = NDArray[np.float64]


@dataclass(frozen=True)
class LimitCheck:
    """One thing that is held against a limit.

    value, limit : SI of the kind; None where not known or not given
    left : what is left to the limit; below zero it is passed
    """

    name: str
    kind: str
    value: OfKind | None
    limit: OfKind | None
    left: OfKind | None
    verdict: Verdict
    source: str


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


def balanced(
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


def limit_checks(
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
