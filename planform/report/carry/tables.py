"""A part carried out by hand as tables."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from planform.core.spread import NO_SPREAD
from planform.design.naming import chief
from planform.fit.carrying import Along, Carried, Through
from planform.report.carry.words import LEAST, NOTHING, Spreads, turnable
from planform.report.table import Quantity, Table, Words, bands

STEP = 15
"""Degrees between the lines of the table of rolls."""


def tables(one: Carried, doors: Sequence[Through], spreads: Spreads = NOTHING) -> tuple[Table, ...]:
    """What it needs by direction, its curve against the roll, and each door."""
    out = [_ways(one), _curve(one.ways[0])]
    if doors:
        out.append(_doors(doors, spreads))
    return tuple(out)


def _size(width: float, height: float) -> Words:
    return Words("{0} x {1}", (Quantity(width, "length"), Quantity(height, "length")))


def _ways(one: Carried) -> Table:
    rows = []
    for way in one.ways:
        roll, width, height = way.narrowest
        narrow = (Quantity(roll, "angle"), Quantity(width, "length"), Quantity(height, "length"))
        least = Words("{1} wide and {2} high at a roll of {0}", narrow)
        rows.append((way.name, Quantity(way.length, "length"), _size(*way.rectangle), least))
    columns = ("carried", "length", "least opening, lying flat", "narrowest")
    remark = f"First line: {LEAST}; a lesser one is not ruled out."
    return Table("carried", f"{one.title}, carried straight", columns, tuple(rows), (remark,))


def _curve(way: Along) -> Table:
    rows = tuple(
        (
            Quantity(float(np.radians(roll)), "angle"),
            Quantity(float(way.outline.width(np.radians(roll))), "length"),
            Quantity(float(way.outline.height(np.radians(roll))), "length"),
        )
        for roll in range(0, 180, STEP)
    )
    title = f"Width against roll, carried {way.name}"
    return Table("roll", title, ("roll", "width", "height"), rows)


def _doors(doors: Sequence[Through], spreads: Spreads) -> Table:
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
    return Table("doors", "Through the doors", columns, rows, tuple(remarks))


def _answer(one: Through, spreads: Spreads) -> str:
    """The answer, and whether the inputs' tolerances may turn it."""
    return f"{one.answer}; tolerances may turn it" if turnable(one, spreads) else one.answer


def _ranges(one: Through) -> str | Words:
    if not one.ranges:
        return "at no roll"
    if len(one.ranges) == 1 and one.ranges[0][1] - one.ranges[0][0] > np.pi - 1e-9:
        return "at any roll"
    text = ", ".join(f"{{{2 * k}}} to {{{2 * k + 1}}}" for k in range(len(one.ranges)))
    return Words(text, tuple(Quantity(v, "angle") for ends in one.ranges for v in ends))
