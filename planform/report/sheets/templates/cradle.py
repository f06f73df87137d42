"""A cradle's board across a body: the lower part of its frame, less room for the padding."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planform.airframe.true_curves import frame
from planform.design.bodies import Body
from planform.design.told import said
from planform.drawing.paper.marks import Array, Mark, line
from planform.drawing.paper.tables import FactRow
from planform.report.sheets.templates.pattern import MM, Pattern, words
from planform.report.sheets.templates.stretches import quantity, refused

SIDES, UNDER = 60.0, 80.0
"""What of the board stands beside the cut-out and under it [mm]; assumption: the planner's own
board is as strong as its load asks."""
HEIGHT, PADDING = "10 in", "1 in"
"""How high over the body's bottom the board reaches, and the padding, where nothing is said."""


@dataclass(frozen=True)
class CradleAsked:
    """What the options say, as given: where, how high, how much padding."""

    at: str
    height: str | None = None
    padding: str | None = None


def cut_out(outline: Array, height: float, padding: float) -> Array:
    """What is cut out of the board, shape (n, 2), open at the top of the body [mm].

    outline : of the body, closed, shape (m, 2) ; height : over its bottom
    Over its widest place it does not close in again, so that the body can be let down into it.
    """
    import shapely

    widest = float(outline[np.abs(outline[:, 0]).argmax(), 1])
    half = float(np.abs(outline[:, 0]).max())
    rise = float(outline[:, 1].max())
    upward = shapely.box(-half, widest, half, max(rise, widest + height))
    open_up = shapely.Polygon(outline).union(upward).buffer(padding, quad_segs=64)
    rim = float(outline[:, 1].min()) + height
    aside = 2.0 * half + padding
    low = shapely.box(-aside, rim - 2.0 * height - 4.0 * padding, aside, rim)
    left = open_up.intersection(low)
    return np.array(left.exterior.coords)[:-1]


def _sizes(asked: CradleAsked, outline: Array, system: str) -> tuple[float, float]:
    """Height and padding [mm]."""
    height = quantity("--height", asked.height or HEIGHT) * MM
    padding = quantity("--padding", asked.padding or PADDING) * MM
    tall = float(np.ptp(outline[:, 1]))
    if not 0.0 < height <= tall:
        most = said(tall / MM, "length", system)
        raise refused("--height", asked.height or HEIGHT, f"allowed: above 0, at most {most} here")
    if not 0.0 <= padding <= tall:
        raise refused("--padding", asked.padding or PADDING, "allowed: 0 to the body's own height")
    return height, padding


def cradle_pattern(body: Body, name: str, asked: CradleAsked, system: str) -> Pattern:
    """The template of a cradle's board at a station of a body."""
    fs = quantity("--at", asked.at)
    try:
        outline = frame(body, fs) * MM
    except ValueError:
        first, last = (
            said(float(cut.fs), "station", system) for cut in (body.cuts[0], body.cuts[-1])
        )
        raise refused("--at", asked.at, f"allowed: on the {name}, {first} to {last}") from None
    height, padding = _sizes(asked, outline, system)
    opening = cut_out(outline, height, padding)
    bottom = float(outline[:, 1].min())
    outline, opening = outline - [0.0, bottom], opening - [0.0, bottom]
    marks = _marks(outline, opening, height)
    rim = opening[np.abs(opening[:, 1] - height) < 1e-6, 0]
    facts = (
        FactRow("station", said(fs, "station", system)),
        FactRow("body's bottom there", said(bottom / MM, "water", system)),
        FactRow("height over the body's bottom", said(height / MM, "fine", system)),
        FactRow("padding", said(padding / MM, "fine", system)),
        FactRow("cut-out at the rim, wide", said(float(np.ptp(rim)) / MM, "fine", system)),
        FactRow("board under the cut-out", said(UNDER / MM, "fine", system)),
    )
    notes = (
        "Seen from ahead or from behind: both halves are alike. The padding is as thick as it is "
        "under the load.",
        "The board's own strength, its feet and its bracing are yours to judge; support the tail, "
        "and never work under what a single cradle holds.",
    )
    return Pattern(f"{name}: cradle at {said(fs, 'station', system)}", tuple(marks), facts, notes)


def _marks(outline: Array, opening: Array, height: float) -> list[Mark]:
    """The board around its cut-out, the body's own outline in it, and the middle."""
    low, half = float(opening[:, 1].min()), float(np.abs(opening[:, 0]).max())
    start = int(np.argmax(np.where(np.abs(opening[:, 1] - height) < 1e-6, opening[:, 0], -np.inf)))
    run = np.roll(opening, -start, axis=0)
    if abs(run[1, 1] - height) < 1e-6:  # the rim runs first: the other way around
        run = np.roll(run[::-1], 1, axis=0)
    edge = half + SIDES
    board = np.vstack(
        [run, [(-edge, height), (-edge, low - UNDER), (edge, low - UNDER), (edge, height)]]
    )
    marks: list[Mark] = [line(board, "outline", closed=True)]
    kept = outline[outline[:, 1] <= height + 1e-6]
    kept = kept[np.argsort(np.arctan2(kept[:, 0], height + 1.0 - kept[:, 1]))]
    marks.append(line(kept, "hidden"))
    marks.append(line([(0.0, low - UNDER), (0.0, 0.0)], "centre"))
    marks.append(words(np.array([2.0, low - 0.5 * UNDER]), "middle of the body"))
    marks.append(words(np.array([0.0, 3.0]), "body", "middle"))
    return marks
