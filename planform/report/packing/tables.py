"""Several aircraft in one hangar as tables."""

from __future__ import annotations

import math

from planform.core.spread import NO_SPREAD
from planform.design.naming import chief
from planform.fit.berth import Berth
from planform.fit.packing import Packing
from planform.report.packing.words import ALONE, NOTHING, Spreads
from planform.report.table import Cell, Quantity, Table, Words, bands
from planform.study.spreads_of_parked import key_between, key_room


def tables(found: Packing, spreads: Spreads = NOTHING) -> tuple[Table, ...]:
    """The order, the gaps, and what a flat tyre leaves."""
    if not found.found:
        return ()
    return (_order(found), _gaps(found, spreads), _flats(found))


def _order(found: Packing) -> Table:
    alone = dict(found.alone)
    rows = tuple(
        (
            str(b.number),
            b.name,
            Words("{0} from the left wall line, {1} from the front", _at(b)),
            Quantity(b.pose.heading % (2.0 * math.pi), "angle"),
            ALONE[alone[b.name]],
        )
        for b in found.berths
    )
    columns = ("in", "aircraft", "parking point", "nose", "comes out with all others standing")
    stands = "; ".join(f"{b.name}: {b.standing.title}" for b in found.berths)
    remarks = (
        "Moved in in this order, out in the reverse one. Nose: 0 deg points away from the front "
        "wall, clockwise from above. The marks to tape on the floor are in each one's own folder.",
        f"As they stand: {stands}.",
    )
    return Table("order", "Order and places", columns, rows, remarks)


def _at(berth: Berth) -> tuple[Quantity, Quantity]:
    low = berth.room.floor.min(axis=0)
    return (
        Quantity(berth.pose.x - float(low[0]), "length"),
        Quantity(berth.pose.y - float(low[1]), "length"),
    )


def _gaps(found: Packing, spreads: Spreads) -> Table:
    rows: list[tuple[Cell, ...]] = []
    for one in found.between:
        ends = f"{one.first}: {one.part}", f"{one.second}: {one.other}"
        spread = spreads.get(key_between(one.first, one.second), NO_SPREAD)
        rows.append((*ends, Quantity(one.apart, "gap"), *bands(spread), ""))
        for over in one.over:
            apart = Quantity(over.apart, "gap")
            rows.append((over.above, over.under, apart, None, None, "over it"))
    for name, near in found.walls:
        ends = f"{name}: {near.part}", near.thing
        spread = spreads.get(key_room(name), NO_SPREAD)
        rows.append((*ends, Quantity(near.gap, "gap"), *bands(spread), "room"))
    columns = ("between", "and", "least distance", "worst case", "99 %", "")
    remarks = [
        "Exact between the built solids, any direction; true curves beyond facets taken off."
    ]
    for key, spread in spreads.items():
        if spread.by_input:
            most = chief(spread.by_input)
            remarks.append(f"{key}: of the tolerances, that of {most} takes most.")
    return Table("gaps", "Gaps as parked", columns, tuple(rows), tuple(remarks))


def _flats(found: Packing) -> Table:
    rows = tuple(
        (
            flat.name,
            flat.wheel,
            Quantity(flat.left, "gap"),
            f"{flat.part} and {flat.thing}",
            Quantity(flat.before, "gap"),
            "touches" if flat.left <= 0.0 else "",
        )
        for flat in found.flats
    )
    columns = ("aircraft", "flat tyre", "least distance then", "between", "before", "")
    remarks = ("One tyre at a time, on the spot, the others as they stand; worst first.",)
    if not rows:
        remarks = ("No wheel in these files says how far its axle sinks on a flat tyre.",)
    return Table("flat tyres", "Reserve for a flat tyre", columns, rows, remarks)
