"""What stands in the swing of a hinged leaf, and what else is told of a door's leaves."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from planform.airframe.stance import Standing
from planform.core.shape.distance import mesh_distance
from planform.core.shape.prism import prism
from planform.design.place import Spot
from planform.design.told import said
from planform.fit.check import ROOM, Check
from planform.fit.clearance import placed
from planform.fit.leaves import LeafPiece, bifold_projection, swings_of
from planform.fit.room import Fixed, Room
from planform.fit.verdict import CARE

Solids = list[tuple[str, NDArray[np.float64], NDArray[np.int64], float]]

TOUCHING = 1e-6
"""What comes nearer to a swing than this [m] stands in it; rounding."""

OVERLAP = 1e-4
"""Plan area under which two things only touch [m2]; assumption."""


def swing_checks(standing: Standing, room: Room, spot: Spot) -> list[Check]:
    """A check for each hinged leaf that cannot be swung, as a parked aircraft stands in its way.

    The swing is drawn outside its arc, and what a true shape bulges beyond its facets is added.
    """
    out = []
    solids = placed(standing, spot)
    for door in room.place.doors:
        for swing in swings_of(room.place, door):
            part = _first_in(solids, swing)
            if part is not None:
                words = f"{part} stands in the {swing.name}, which cannot be moved"
                out.append(
                    Check(
                        f"{door.name}: {swing.name}",
                        ROOM,
                        f"to shut {door.name}: {swing.name}",
                        None,
                        None,
                        missing=words,
                        decided=CARE,
                    )
                )
    return out


def _first_in(solids: Solids, swing: LeafPiece) -> str | None:
    mesh = prism(swing.outline, swing.low, swing.high)
    for name, points, faces, bulge in solids:
        if mesh_distance(points, faces, *mesh, limit=bulge + 1.0).distance - bulge < TOUCHING:
            return name
    return None


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
