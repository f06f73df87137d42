"""The page of a mock-up: the outline with lengths and angles, the pieces, and the cutting plan."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Literal

import numpy as np

from planform.design.told import counted, said
from planform.drawing.paper.dimension import Linear
from planform.drawing.paper.frame import TITLE_HEIGHT, Title, bordered, shaded
from planform.drawing.paper.letters import fitted, width, wrapped
from planform.drawing.paper.marks import Array, Box, Lettering, Mark, line, rectangle
from planform.drawing.paper.page import Drawable, Page, PlacedView
from planform.drawing.paper.quiet import met, points_along, quietest
from planform.drawing.paper.sizes import DrawingScale, PaperSize, scales_for
from planform.drawing.paper.tables import FactRow, listed
from planform.report.sheets.mockup import Mockup, side_mark
from planform.report.sheets.templates.stretches import refused

COLUMN = 74.0
"""Width of the table of pieces [mm]."""
BLOCK = 118.0
AROUND = 17.0
"""Room around the outline for its dimensions [mm]."""
OFF = 7.0
"""From a side to its dimension line [mm]."""
ENDS: tuple[Literal["end", "start"], ...] = ("end", "start")
"""Where the words of a side stand that is too short for them, in this order."""
BAR, STEP = 3.2, 8.0
"""Height of a stick in the cutting plan, and from one to the next [mm]."""
ROW = 7.2
"""Room for one row of the table of pieces [mm]."""
CAUTION = "A mock-up shows whether it passes; measure the opening again on the day."
MOST_BARS = 10
"""Sticks that are drawn under the outline; more have a page of their own."""
CAPITAL = 1.8
DROP = np.array([0.0, 0.9])
"""From the middle of words of that height down to their foot [mm]."""
NOTE = (
    "Lengths are of the outer edges, long point to long point; nothing of the part stands outside. "
    "Add gussets at corners and butts; measure each stick before and after its cut. Wear eyes and "
    "ears at the saw, and have a second pair of hands for a frame longer than you are."
)


def mockup_pages(made: Mockup, paper: PaperSize, title: Title, system: str) -> tuple[Page, ...]:
    """The pages: one, or more where the cutting plan is long.

    Raises InputError where the paper is too small.
    """
    left, bottom, right, top = paper.frame()
    rows = _grouped(made)
    own = rows if len(rows) <= MOST_BARS else []
    high = max(TITLE_HEIGHT, 24.0 + STEP * len(own))
    plan_box = (left + 3.0, bottom + 3.0, right - BLOCK - 3.0, bottom + high)
    view = _view(made, (left, bottom + high + 2.0, right - COLUMN, top), system)
    told = replace(title, scale=view.scale.words)
    marks: list[Drawable] = [*bordered(paper, told, BLOCK)]
    column = (right - COLUMN, bottom + TITLE_HEIGHT, right, top)
    fits = int((column[3] - column[1]) / ROW)
    facts = _facts(made, system)
    marks += listed(facts[:fits], column)
    marks += _plan(made, own, plan_box, system)
    pages = [Page(title.drawing, paper, (view,), tuple(marks))]
    if own != rows:
        box = (left + 3.0, bottom + TITLE_HEIGHT + 3.0, right - 3.0, top - 3.0)
        many = int((box[3] - box[1] - 12.0) / STEP)
        for k in range(0, len(rows), many):
            more = [*bordered(paper, title, BLOCK)]
            more += _plan(made, rows[k : k + many], box, system)
            pages.append(Page(f"{title.drawing}: cutting plan", paper, (), tuple(more)))
    each = int((right - left) / COLUMN) * fits
    for k in range(fits, len(facts), each):
        more = [*bordered(paper, title, BLOCK)]
        for j in range(k, min(k + each, len(facts)), fits):
            x = left + COLUMN * ((j - k) // fits)
            more += listed(facts[j : j + fits], (x, column[1], x + COLUMN, top))
        pages.append(Page(f"{title.drawing}: pieces", paper, (), tuple(more)))
    return tuple(pages)


def _view(made: Mockup, box: Box, system: str) -> PlacedView:
    """The outline at the largest scale that fits, with its lengths and angles."""
    left, bottom, right, top = box
    low, size = made.ring.min(axis=0), np.ptp(made.ring, axis=0)
    room = np.array([right - left, top - bottom]) - 2.0 * AROUND
    fitting = (s for s in scales_for(system) if (size * s.mm <= room).all())
    scale: DrawingScale | None = next(fitting, None)
    if scale is None:
        raise refused("--paper", None, "the outline does not fit; name a larger paper")
    middle = np.array([0.5 * (left + right), 0.5 * (bottom + top)])
    at = middle - (low + 0.5 * size) * scale.mm
    ring = at + made.ring * scale.mm
    drawn: list[Drawable] = [line(at + hull * scale.mm, "edge", closed=True) for hull in made.hulls]
    drawn.append(line(ring, "outline", closed=True))
    if made.view != "above":
        floor = at[1]
        if bottom + 2.0 < floor:
            drawn.append(line([(left + 4.0, floor), (right - 4.0, floor)], "floor"))
    lengths = list(_lengths(made, ring, system))
    beside = [mark for one in lengths for mark in one.drawn()]
    drawn += [*lengths, *_angles(made, ring, system, beside)]
    return PlacedView("mock-up", scale, at, box, tuple(drawn))


def _lengths(made: Mockup, ring: Array, system: str) -> Iterator[Linear]:
    taken = points_along([line(ring, "outline", closed=True)])
    for k, length in enumerate(made.lengths):
        a, b = ring[k], ring[(k + 1) % len(ring)]
        along = (b - a) / np.linalg.norm(b - a)
        outward = np.array([along[1], -along[0]])
        value = said(float(length), "length", system)
        near = Linear(
            key=f"mockup.{side_mark(k)}",
            value=float(length),
            words=f"{side_mark(k)}  {value}",
            start=a,
            end=b,
            along=along,
            through=a + OFF * outward,
        )
        far = replace(near, through=a + 1.9 * OFF * outward)
        options = [replace(one, beyond=end) for one in (near, far) for end in ENDS]
        best = quietest(options, taken)
        taken = np.concatenate([taken, points_along(best.drawn())])
        yield best


def _angles(made: Mockup, ring: Array, system: str, beside: Sequence[Mark]) -> Iterator[Mark]:
    """The angle inside each corner, a little into the outline, off what stands beside it."""
    centre = ring.mean(axis=0)
    others = list(beside)
    for k, angle in enumerate(made.angles):
        way = centre - ring[k]
        far = float(np.linalg.norm(way))
        text = said(float(angle), "angle", system)
        options = [
            Lettering(
                ring[k] + _turned(way, turn) / far * off - np.array([0.0, 0.9]), text, CAPITAL
            )
            for off in (min(9.0, 0.45 * far), 13.0, 17.0)
            for turn in np.radians([0.0, 30.0, -30.0, 60.0, -60.0])
        ]
        taken = points_along(others)
        costs = [met(one, taken) for one in options]
        words = options[costs.index(min(costs))]
        others.append(words)
        (x, y), half = words.point, 0.5 * width(text, CAPITAL) + 0.4
        yield shaded((x - half, y - 0.4, x + half, y + 2.4), "paper")
        yield words


def _turned(way: Array, turn: float) -> Array:
    """A way turned counter-clockwise, shape (2,)."""
    c, s = np.cos(turn), np.sin(turn)
    return np.array([c * way[0] - s * way[1], s * way[0] + c * way[1]])


def _facts(made: Mockup, system: str) -> list[FactRow]:
    """The pieces, how many sticks to buy, and where it stands."""
    plan = made.plan
    bought = Counter(one.stock for one in plan.sticks)
    rows = []
    for one in made.pieces:
        cuts = " and ".join(said(cut, "angle", system) for cut in one.cuts)
        rows.append(
            FactRow(
                f"piece {one.mark}", said(one.length, "length", system), f"cut {cuts} off square"
            )
        )
    for length, count in sorted(bought.items()):
        rows.append(FactRow(f"sticks of {said(length, 'length', system)}", str(count)))
    least = "no plan takes fewer" if plan.proved else f"at least {plan.least} are needed"
    rows.append(FactRow("sticks in all", str(len(plan.sticks)), least))
    total = sum(one.stock for one in plan.sticks)
    waste = 1.0 - sum(one.length for one in made.pieces) / total
    rows.append(FactRow("kerf", said(made.kerf, "fine", system)))
    rows.append(FactRow("left over, with kerfs", f"{100.0 * waste:.0f} %"))
    if made.view != "above":
        low = float(made.ring[:, 1].min())
        rows.append(FactRow("lowest corner over the floor", said(low, "length", system)))
    across, up = np.ptp(made.ring, axis=0)
    rows.append(FactRow("overall, level", said(float(across), "length", system)))
    rows.append(FactRow("overall, upright" if made.view != "above" else "overall, fore and aft",
                        said(float(up), "length", system)))  # fmt: skip
    return rows


Row = tuple[int, float, tuple[int, ...]]
"""How many sticks, how long each, and the pieces of one of them."""


def _grouped(made: Mockup) -> list[Row]:
    return [(1, one.stock, one.pieces) for one in made.plan.sticks]


def _plan(made: Mockup, rows: Sequence[Row], box: Box, system: str) -> Iterator[Mark]:
    """The sticks as bars with the pieces on them, and the note under them."""
    left, bottom, right, top = box
    sticks = counted(len(made.plan.sticks), "stick")
    head = f"cutting plan, {sticks}" + ("" if rows else ": on the next page")
    yield Lettering(np.array([left, top - 3.0]), head, CAPITAL, "start", bold=True)
    label = 20.0
    scale = (right - left - label) / max(made.stock)
    y = top - 6.0
    for count, stock, pieces in rows:
        y -= STEP
        words = f"{count} × {said(stock, 'length', system)}"
        yield Lettering(np.array([left, y + 0.7]), words, CAPITAL, "start")
        x = left + label
        yield rectangle((x, y, x + stock * scale, y + BAR), "hair")
        for k in pieces:
            piece = made.pieces[k]
            wide = piece.length * scale
            yield rectangle((x, y, x + wide, y + BAR), "outline")
            text = f"{piece.mark} {said(piece.length, 'length', system)}"
            yield Lettering(np.array([x + 0.5 * wide, y + BAR + 0.7]),
                            fitted(text, wide, CAPITAL - 0.3), CAPITAL - 0.3)  # fmt: skip
            x += wide + made.kerf * scale
    notes = wrapped(NOTE, right - left, 1.5)
    for k, text in enumerate(reversed(notes)):
        yield Lettering(np.array([left, bottom + 2.4 * k]), text, 1.5, "start")
