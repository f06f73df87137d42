"""What stands in the swing of a hinged leaf, and what else is told of a door's leaves."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

from planform.airframe.stance import Standing
from planform.design.doors import Door
from planform.design.place import Spot
from planform.design.told import said
from planform.fit.check import ROOM, Check
from planform.fit.clearance import Clearance, gap_to, placed
from planform.fit.leaves import LeafPiece, bifold_projection, swings_of
from planform.fit.met import LOOK
from planform.fit.room import Fixed, Room, leaning
from planform.fit.verdict import CARE

TOUCHING = 1e-6
"""What comes nearer to a swing than this [m] stands in it; rounding."""

OVERLAP = 1e-4
"""Plan area under which two things only touch [m2]; assumption."""


def swing_checks(standing: Standing, room: Room, spot: Spot) -> Iterator[Check]:
    """A check for each hinged leaf that a parked aircraft stands near or in the swing of.

    The swing is drawn outside its arc, and what a true shape bulges beyond its facets is added.
    """
    for door in room.place.doors:
        for name, swing in _swings(room, door):
            near = _nearest(standing, swing, spot, LOOK)
            if near is None:
                continue
            key = f"{door.name}: {swing.name}"
            if near.gap < TOUCHING:
                words = f"{near.part} stands in the {swing.name}, which cannot be moved"
                shut = f"to shut {door.name}: {swing.name}"
                yield Check(key, ROOM, shut, None, None, missing=words, decided=CARE)
                continue
            wanted, whence = room.wanted(swing.kind)
            yield Check(
                key,
                ROOM,
                f"to the {swing.name}",
                near.gap,
                wanted,
                f"{near.part} and {swing.name}, {near.direction}",
                wanted_from=whence,
                again=partial(_gap, door.name, name),
            )


def _swings(room: Room, door: Door) -> Iterator[tuple[int, Fixed]]:
    """The swings of a door's leaves by their number, plumb over a floor that falls too."""
    for number, swing in enumerate(swings_of(room.place, door)):
        whole = Fixed(swing.name, "obstacle", swing.outline, swing.low, swing.high)
        yield number, leaning(whole, room.place)


def _nearest(standing: Standing, swing: Fixed, spot: Spot, limit: float) -> Clearance | None:
    best: Clearance | None = None
    for solid in placed(standing, spot):
        found = gap_to(solid, swing, limit)
        if found is not None and (best is None or found.gap < best.gap):
            best, limit = found, max(found.gap + solid[3], 0.0)
    return best


def _gap(door: str, number: int, standing: Standing, room: Room, spot: Spot | None) -> float:
    """The gap of a parked aircraft to the swing of a leaf of a door, by its number [m]."""
    one = next(d for d in room.place.doors if d.name == door)
    assert spot is not None
    near = _nearest(standing, dict(_swings(room, one))[number], spot, math.inf)
    return math.inf if near is None else near.gap


def leaf_notes(room: Room) -> Iterator[str]:
    """Notes on what the doors' leaves do: things in a swing, a fold's drop, strips that hang."""
    units = room.place.units
    for door in room.place.doors:
        for swing in swings_of(room.place, door):
            for thing in dict.fromkeys(t.name for t in room.fixed if _in_swing(t, swing)):
                asked = "can that leaf be opened as far as given?"
                yield f"{thing} stands in the {swing.name}: {asked}"
        if door.bifold is not None:
            leaf, clear = door.bifold, float(door.clear_height)
            drop = said(float(leaf.leaf_height) - clear, "length", units)
            out = said(bifold_projection(leaf, clear), "length", units)
            yield (
                f"{door.name}: folded, its leaf hangs {drop} down from its upper hinge and its "
                f"middle stands {out} {leaf.folds}"
            )
        if door.strip_curtain is not None:
            lower = said(float(door.strip_curtain.lower_end), "length", units)
            yield (
                f"{door.name}: what is higher than {lower} brushes the strips of its curtain; they "
                "are soft and count as nothing in the way: hold them aside from what is tender"
            )


def _in_swing(thing: Fixed, swing: LeafPiece) -> bool:
    """Whether a thing of the room, other than walls and leaves, stands in a swing."""
    import shapely

    if thing.kind != "obstacle" or not (thing.low < swing.high and swing.low < thing.high):
        return False
    if swing.name == f"swing of the {thing.name}":
        return False
    both = shapely.polygons(thing.outline).intersection(shapely.polygons(swing.outline))
    return bool(both.area > OVERLAP)
