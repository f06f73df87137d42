"""A part carried out by hand, as tables, pictures, JSON and a page."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

import numpy as np

from planform.core.spread import NO_SPREAD, Spread
from planform.design.models import Design
from planform.design.naming import chief
from planform.design.told import reader, said
from planform.drawing.drawing import Drawing
from planform.drawing.sheet import Sheet
from planform.drawing.writers import save_all
from planform.fit.carrying import Along, Carried, Through
from planform.report import to_json
from planform.report.folder import whole_folder
from planform.report.page import drawn, markup, page, words_for
from planform.report.table import Quantity, SheetTable, Words, bands, to_csv
from planform.report.words import cell

STEP = 15
"""Degrees between the lines of the table of rolls."""

NOTHING: Mapping[str, Spread] = {}

NOTES = (
    "Straight along one direction, without turning on the way; along each direction exact for the "
    "convex hull of what was built, drawn out by what a true curve stands outside its facets. "
    "Directions are searched from many starts. Not found is not no: a curved part may pass while "
    "it is turned.",
    "The opening is the least rectangle itself: hands, padding and a tape's error come on top.",
    "Lift with enough people for its weight and its size, one of them calling; gloves on cut "
    "edges, goggles where it is overhead; nobody under it. Mind a gust at the door.",
)

LEAST = "the least opening found of all directions, searched from many starts"


Spreads = Mapping[str, Spread]
"""What the inputs' tolerances do, by door."""


def tables(
    one: Carried, doors: Sequence[Through], spreads: Spreads = NOTHING
) -> tuple[SheetTable, ...]:
    """What it needs by direction, its curve against the roll, and each door."""
    out = [_ways(one), _curve(one.ways[0])]
    if doors:
        out.append(_doors(doors, spreads))
    return tuple(out)


def _size(width: float, height: float) -> Words:
    return Words("{0} x {1}", (Quantity(width, "length"), Quantity(height, "length")))


def _ways(one: Carried) -> SheetTable:
    rows = []
    for way in one.ways:
        roll, width, height = way.narrowest
        narrow = (Quantity(roll, "angle"), Quantity(width, "length"), Quantity(height, "length"))
        least = Words("{1} wide and {2} high at a roll of {0}", narrow)
        rows.append((way.name, Quantity(way.length, "length"), _size(*way.rectangle), least))
    columns = ("carried", "length", "least opening, lying flat", "narrowest")
    remark = f"First line: {LEAST}; a lesser one is not ruled out."
    return SheetTable("carried", f"{one.title}, carried straight", columns, tuple(rows), (remark,))


def _curve(way: Along) -> SheetTable:
    rows = tuple(
        (
            Quantity(float(np.radians(roll)), "angle"),
            Quantity(float(way.outline.width(np.radians(roll))), "length"),
            Quantity(float(way.outline.height(np.radians(roll))), "length"),
        )
        for roll in range(0, 180, STEP)
    )
    title = f"Width against roll, carried {way.name}"
    return SheetTable("roll", title, ("roll", "width", "height"), rows)


def _doors(doors: Sequence[Through], spreads: Spreads) -> SheetTable:
    rows = tuple(
        (
            one.opening,
            _size(one.width, one.height),
            _answer(one, spreads),
            one.way.name,
            Quantity(one.roll, "angle"),
            Quantity(one.spare, "gap"),
            *bands(spreads.get(one.opening, NO_SPREAD)),
            _ranges(one),
        )
        for one in doors
    )
    columns = (
        "door", "clear", "answer", "carried", "best roll", "to spare a side", "worst case", "99 %",
        "passes rolled",
    )  # fmt: skip
    remarks = ["To spare a side: on the tighter of width (shared by both sides) and height; bare."]
    for one in doors:
        most = spreads.get(one.opening, NO_SPREAD).by_input
        if most:
            remarks.append(
                f"Of the tolerances, that of the {chief(most)} takes most at {one.opening}."
            )
    return SheetTable("doors", "Through the doors", columns, rows, tuple(remarks))


def _answer(one: Through, spreads: Spreads) -> str:
    """The answer, and whether the inputs' tolerances may turn it."""
    return f"{one.answer}; tolerances may turn it" if _turnable(one, spreads) else one.answer


def _turnable(one: Through, spreads: Spreads) -> bool:
    """Whether the inputs' tolerances may take what is left, or give what is missing."""
    return bool(abs(one.spare) < spreads.get(one.opening, NO_SPREAD).worst)


def _ranges(one: Through) -> str | Words:
    if not one.ranges:
        return "at no roll"
    if len(one.ranges) == 1 and one.ranges[0][1] - one.ranges[0][0] > np.pi - 1e-9:
        return "at any roll"
    text = ", ".join(f"{{{2 * k}}} to {{{2 * k + 1}}}" for k in range(len(one.ranges)))
    return Words(text, tuple(Quantity(v, "angle") for ends in one.ranges for v in ends))


def drawings_of(
    one: Carried, doors: Sequence[Through], system: str
) -> Iterator[tuple[str, Drawing]]:
    """By name: the part in its least opening, and in each door at its best roll."""
    way = one.ways[0]
    width, height = way.rectangle
    told = f"{said(width, 'length', system)} x {said(height, 'length', system)}"
    yield (
        "least-opening",
        _seen_along(way, 0.0, width, height, f"least opening found, {told}"),
    )
    for k, door in enumerate(doors):
        left = said(door.spare, "gap", system)
        words = f"{door.opening}, rolled {said(door.roll, 'angle', system)}: {left} to spare"
        yield (
            f"door-{k + 1}",
            _seen_along(door.way, door.roll, door.width, door.height, words),
        )


def _seen_along(way: Along, roll: float, width: float, height: float, words: str) -> Drawing:
    """The part seen along its way, in the middle of an opening."""
    import shapely

    c, s = np.cos(roll), np.sin(roll)
    turn = np.array([[c, -s], [s, c]])
    ring = way.outline.ring @ turn.T
    middle = 0.5 * (ring.min(axis=0) + ring.max(axis=0))
    ring = ring - middle
    half = 0.5 * np.array([width, height])
    reach = np.maximum(half, np.abs(ring).max(axis=0))
    margin = 0.1 * float(reach.max())
    sheet = Sheet(-reach, reach + np.array([0.0, 1.2 * margin]), width=420, margin=margin)
    corners = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) * half
    sheet.polygon(corners, "floor")
    for part in way.carried.parts:
        faces = (way.seen(part.points) @ turn.T - middle)[part.faces]
        shadow = shapely.union_all([shapely.convex_hull(shapely.multipoints(f)) for f in faces])
        sheet.shape(shadow, "part", part.name)
    sheet.polygon(ring, "sight")
    sheet.polygon(corners, "opening")
    sheet.words((0.0, reach[1] + 0.9 * margin), words, "called")
    return sheet.drawing(words)


def as_json(one: Carried, doors: Sequence[Through], spreads: Spreads = NOTHING) -> dict[str, Any]:
    """The answer as a table."""
    number = to_json.number
    return {
        "parts": [part.name for part in one.parts],
        "ways": [
            {
                "carried": way.name,
                "direction": [round(float(v), 6) for v in way.direction],
                "length": number(way.length, "length"),
                "least_opening": [number(v, "length") for v in way.rectangle],
                "narrowest": {
                    "roll": number(way.narrowest[0], "angle"),
                    "width": number(way.narrowest[1], "length"),
                    "height": number(way.narrowest[2], "length"),
                },
            }
            for way in one.ways
        ],
        "curve": [
            {
                "roll": number(float(roll), "angle"),
                "width": number(float(one.ways[0].outline.width(roll)), "length"),
                "height": number(float(one.ways[0].outline.height(roll)), "length"),
            }
            for roll in np.radians(np.arange(0, 180, 5))
        ],
        "doors": [
            {
                "door": door.opening,
                "answer": door.answer,
                "inside_tolerance": _turnable(door, spreads),
                "carried": door.way.name,
                "best_roll": number(door.roll, "angle"),
                "to_spare_a_side": number(door.spare, "length"),
                "tolerance": to_json.tolerance(spreads.get(door.opening, NO_SPREAD)),
                "wanted": {
                    "beside": number(door.side, "length"),
                    "over": number(door.head, "length"),
                },
                "passes_rolled": [[number(v, "angle") for v in ends] for ends in door.ranges],
            }
            for door in doors
        ],
        "notes": list(NOTES),
    }


def write_carrying(
    design: Design,
    one: Carried,
    doors: Sequence[Through],
    folder: Path,
    system: str,
    spreads: Spreads = NOTHING,
) -> list[str]:
    """Write page, pictures, table and JSON into a folder; returns the files' names.

    Raises InputError where the folder cannot be written; then nothing is left behind.
    """
    from planform.report.carry.chart import roll_chart

    with whole_folder(folder, "carry") as workshop:
        drawings = dict(drawings_of(one, doors, system))
        openings = [(f"{d.opening}, clear width", d.width) for d in doors]
        title = f"{one.title}: width and height against roll"
        curve = roll_chart(one.ways[0], openings, title, system)
        (workshop / "roll.svg").write_text(curve, encoding="utf-8")
        save_all(drawings, workshop)
        sheets = tables(one, doors, spreads)
        (workshop / "carry.csv").write_text(to_csv(sheets, reader(system)), encoding="utf-8")
        content = {"design": design.name, **as_json(one, doors, spreads)}
        (workshop / "carry.json").write_text(to_json.document("carry", content), encoding="utf-8")
        whole = page(
            "carry.html",
            **words_for(system),
            design=design,
            title=one.title,
            tables=sheets,
            cell=lambda value: cell(value, system),
            curve=markup(curve),
            pictures=[drawn(one) for one in drawings.values()],
            notes=NOTES,
        )
        (workshop / "carry.html").write_text(whole, encoding="utf-8")
        return sorted(path.name for path in workshop.iterdir())
