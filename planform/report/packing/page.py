"""Several aircraft in one hangar, as tables, pictures, JSON and a folder to work from."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from planform.core.spread import NO_SPREAD, Spread
from planform.design.naming import chief
from planform.design.texts import file_name
from planform.design.told import counted, said
from planform.drawing.drawing import Drawing
from planform.drawing.writers import save_all
from planform.fit.berth import Berth
from planform.fit.moves import Route
from planform.fit.packing import Packing
from planform.fit.steps import steps_of
from planform.fit.swept import corners_of, plan_outline
from planform.fit.tightest import tightest
from planform.fit.way_out import NONE, OPEN, WAY
from planform.report import to_json
from planform.report.folder import whole_folder
from planform.report.page import drawn, page, words_for
from planform.report.table import Quantity, SheetTable, Words, bands
from planform.report.way_out.instructions import instruction
from planform.report.way_out.page import handover, write_route
from planform.report.way_out.pictures import overview_drawing, packed_drawing
from planform.report.words import CAUTIONS, cell, gone_over
from planform.study.spreads_of_parked import key_between, key_room

ALONE = {
    WAY: "yes",
    NONE: "no: those in its way go first",
    OPEN: "not decided in the boxes it was given",
}

PROVED = (
    "Proved: every place keeps what is wanted of the room and of the aircraft parked before it; "
    "every way in is the way out backwards, proved between its poses. An aircraft "
    "already parked counts slice by slice of its height, each slice as wide as the widest there, "
    "so that one surface may pass over another.",
    "Not proved: that there is no better arrangement. Places are tried on a grid, the deepest "
    "first, and the first arrangement that works is told. Nothing found is no proof that none is.",
)

MINDED = (
    "Walkers at tips, nose and tail of the one that moves, and one at the closest gap; anyone's "
    "STOP stops all. Chock each aircraft before the next one moves, and do not walk under a "
    "surface that is being moved over another.",
    "Even floor assumed. Tyres, struts and loads as the files give them; look at the flat tyres "
    "below before you go home for the night.",
)


def headline(found: Packing) -> str:
    """The answer in one sentence."""
    if found.refused:
        return f"cannot be: {found.refused}"
    if found.found and found.reserve <= 0.0:
        worst = found.flats[0]
        return (
            f"found and proved, but with {worst.name}'s {worst.wheel} tyre flat "
            f"{worst.part} touches {worst.thing}: ask for a larger gap"
        )
    if found.found:
        return "found and proved: the order below works"
    if not found.whole:
        return "not found in the time given; that proves nothing"
    return f"not found among the {found.tried} places tried; that proves nothing"


Spreads = Mapping[str, Spread]
"""What the inputs' tolerances do to the gaps, by the keys of `study.spreads_of_parked`."""

NOTHING: Spreads = {}


def proofs(found: Packing) -> tuple[str, ...]:
    """What is proved of the answer and what is not."""
    again = gone_over(found.gone_over)
    return (PROVED[0], *again, PROVED[1]) if found.found else (*again, PROVED[1])


def tables(found: Packing, spreads: Spreads = NOTHING) -> tuple[SheetTable, ...]:
    """The order, the gaps, and what a flat tyre leaves."""
    if not found.found:
        return ()
    return (_order(found), _gaps(found, spreads), _flats(found))


def _order(found: Packing) -> SheetTable:
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
    return SheetTable("order", "Order and places", columns, rows, remarks)


def _at(berth: Berth) -> tuple[Quantity, Quantity]:
    low = berth.room.floor.min(axis=0)
    return (
        Quantity(berth.pose.x - float(low[0]), "length"),
        Quantity(berth.pose.y - float(low[1]), "length"),
    )


def _gaps(found: Packing, spreads: Spreads) -> SheetTable:
    rows: list[tuple[Any, ...]] = []
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
            remarks.append(f"{key}: of the tolerances, that of the {most} takes most.")
    return SheetTable("gaps", "Gaps as parked", columns, tuple(rows), tuple(remarks))


def _flats(found: Packing) -> SheetTable:
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
    return SheetTable("flat tyres", "Reserve for a flat tyre", columns, rows, remarks)


def steps_in(berth: Berth, system: str) -> list[str]:
    """The way in, step by step, in words."""
    corners = corners_of(plan_outline(berth.standing))
    return [
        instruction(berth.standing, berth.room, step, system)
        for step in steps_of(berth.way_in, corners)
    ]


def plan(found: Packing, system: str) -> Drawing:
    """The hall from above with everything parked, by number."""
    heading = f"{found.room.place.name}: {len(found.berths)} aircraft, numbered as they go in"
    parked = [(b.standing, b.pose, f"{b.number}. {b.name}") for b in found.berths]
    return packed_drawing(found.room, parked, heading, system)


def ways(found: Packing, system: str) -> Iterator[tuple[Berth, Drawing]]:
    """Each way in from above, with those parked before it."""
    for berth in found.berths:
        corners = corners_of(plan_outline(berth.standing))
        steps = steps_of(berth.way_in, corners)
        heading = f"{berth.number}. {berth.name}: the way in, {counted(len(steps), 'step')}"
        yield berth, overview_drawing(berth.standing, berth.room, steps, heading, system)


def as_json(found: Packing, system: str, spreads: Spreads = NOTHING) -> dict[str, Any]:
    """The answer as a table."""
    number = to_json.number
    alone = dict(found.alone)
    return {
        "answer": headline(found),
        "found": found.found,
        "gap_wanted": number(found.gap, "length"),
        "gap_wanted_upright": number(found.over, "length"),
        "places_tried": found.tried,
        "searched_to_its_end": found.whole,
        "order_in": [
            {
                "number": b.number,
                "name": b.name,
                "design": b.standing.airframe.design.name,
                "stage": b.standing.stage.name,
                "stance": b.standing.stance_name,
                "parked": to_json.pose(b.pose),
                "way_in": to_json.route(
                    b.way_in,
                    steps_of(b.way_in, corners_of(plan_outline(b.standing))),
                    steps_in(b, system),
                    (),
                ),
                "comes_out_with_all_others_standing": alone[b.name],
            }
            for b in found.berths
        ],
        "between": [
            {
                "first": f"{one.first}: {one.part}",
                "second": f"{one.second}: {one.other}",
                "distance": number(one.apart, "length"),
                "tolerance": to_json.tolerance(
                    spreads.get(key_between(one.first, one.second), NO_SPREAD)
                ),
                "over": [
                    {"above": o.above, "under": o.under, "distance": number(o.apart, "length")}
                    for o in one.over
                ],
            }
            for one in found.between
        ],
        "to_the_room": [
            {
                "aircraft": name,
                "part": near.part,
                "thing": near.thing,
                "distance": number(near.gap, "length"),
                "tolerance": to_json.tolerance(spreads.get(key_room(name), NO_SPREAD)),
            }
            for name, near in found.walls
        ],
        "flat_tyres": [
            {
                "aircraft": flat.name,
                "wheel": flat.wheel,
                "to_spare": number(flat.left, "length"),
                "between": [flat.part, flat.thing],
                "before": number(flat.before, "length"),
            }
            for flat in found.flats
        ],
        "proved": list(proofs(found)),
        "second_check": to_json.second_check(found.gone_over),
    }


def folder_of(berth: Berth) -> str:
    """The name of an aircraft's own folder."""
    return file_name(berth.number, berth.name)


def write_packing(
    found: Packing, folder: Path, system: str, spreads: Spreads = NOTHING
) -> list[str]:
    """Write the page, the plan, and a folder for each aircraft's way in; returns the names.

    Raises InputError where the folder cannot be written; then nothing is left behind.
    """
    with whole_folder(folder, "pack") as workshop:
        content = as_json(found, system, spreads)
        (workshop / "packing.json").write_text(
            to_json.document("packing", {"place": found.room.place.name, **content}),
            encoding="utf-8",
        )
        above = None
        rows = []
        if found.found:
            above = plan(found, system)
            save_all({"plan": above}, workshop)
        for berth, way in ways(found, system):
            route: Route = berth.way_in
            own = handover(berth.standing, berth.room, route, tightest(berth.question, route))
            write_route(own, workshop / folder_of(berth), system)
            rows.append(
                {
                    "berth": berth,
                    "folder": folder_of(berth),
                    "picture": drawn(way),
                    "steps": steps_in(berth, system),
                }
            )
        whole = page(
            "packing.html",
            **words_for(system) | {"cautions": [*MINDED, *CAUTIONS[2:]]},
            place=found.room.place,
            headline=headline(found),
            gap=said(found.gap, "length", system),
            over=said(found.over, "length", system),
            tables=tables(found, spreads),
            cell=lambda value: cell(value, system),
            plan=drawn(above),
            rows=rows,
            proved=proofs(found),
        )
        (workshop / "packing.html").write_text(whole, encoding="utf-8")
        return sorted(path.name for path in workshop.iterdir())
