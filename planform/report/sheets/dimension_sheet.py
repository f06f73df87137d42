"""The dimension sheet for hangar planning: one side of one page.

Upper left the three views, on the right what a hangar manager asks, lower left the silhouette to
cut out, lower right the title block with the heights of every stance over it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from planform.design.place import Place
from planform.design.problems import InputError, Problem
from planform.drawing.paper.frame import BLOCK, TITLE_HEIGHT, Title, bordered
from planform.drawing.paper.marks import Box, Mark
from planform.drawing.paper.page import Page
from planform.drawing.paper.sizes import DrawingScale, PaperSize, scales_for
from planform.drawing.paper.tables import FactRow, columned, listed
from planform.report.sheets.aircraft_views import Aircraft
from planform.report.sheets.facts import facts
from planform.report.sheets.silhouette import Silhouette, silhouette
from planform.report.sheets.telling import LEGEND
from planform.report.sheets.three_view import Angle, ThreeViews, three_views

TITLE = "Dimension sheet for hangar planning"
COLUMN = 58.0
"""Width of the table beside the views [mm]."""
PAD = 3.0
"""Free paper between the blocks [mm]."""
LEAST_BLOCK = 118.0
"""The silhouette leaves the title block so much at the least [mm]."""
NOTES = 22.0
"""Room over the title block for the heights by stance [mm]."""


@dataclass(frozen=True)
class SheetAsked:
    """What the sheet is made for: paper, scale and projection; None for the largest that fits.

    hidden : what lies behind is drawn too, dashed
    """

    paper: PaperSize
    scale: DrawingScale | None = None
    angle: Angle = "third"
    hidden: bool = False


@dataclass(frozen=True, eq=False)
class Layout:
    """What stands where: the views' scale and room, the silhouette and its strip of paper."""

    scale: DrawingScale
    room: Box
    cut: Silhouette | None
    block: float
    strip: float


def dimension_page(
    aircraft: Aircraft,
    heights: Sequence[FactRow],
    place: Place | None,
    asked: SheetAsked,
    title: Title,
) -> Page:
    """The sheet as a page.

    heights : the heights of every stance, as rows of a table
    Raises InputError where the paper is too small for the views at the scale asked for.
    """
    views = three_views(aircraft, asked.angle)
    left, bottom, right, top = asked.paper.frame()
    layout = _layout(views, silhouette(aircraft), asked, aircraft.teller.system)
    across, up = views.size(layout.scale)
    a, b, c, d = layout.room
    placed = views.at(layout.scale, (a + 0.5 * (c - a - across), b + 0.5 * (d - b - up)))
    told = replace(title, scale=layout.scale.words, projection=asked.angle)
    marks: list[Mark] = [*bordered(asked.paper, told, layout.block)]
    facts_box = (right - COLUMN, bottom + TITLE_HEIGHT, right, top)
    marks += listed(list(facts(aircraft, place)), facts_box)
    if layout.cut is not None:
        marks += layout.cut.drawn((left + PAD, bottom + PAD))
    notes = (right - layout.block, bottom + TITLE_HEIGHT, right - COLUMN, bottom + layout.strip)
    marks += columned("heights by stage and stance", heights, notes, LEGEND)
    return Page(TITLE, asked.paper, placed, tuple(marks))


def _layout(
    views: ThreeViews, cuts: Sequence[Silhouette], asked: SheetAsked, system: str
) -> Layout:
    """The largest views with the largest silhouette that leaves room for them."""
    scales = scales_for(system) if asked.scale is None else (asked.scale,)
    for scale in scales:
        for cut in (*cuts, None):
            found = _tried(views, scale, cut, asked.paper)
            if found is not None:
                return found
    raise _too_small(views, asked, scales[-1], scales_for(system))


def _tried(
    views: ThreeViews, scale: DrawingScale, cut: Silhouette | None, paper: PaperSize
) -> Layout | None:
    left, bottom, right, top = paper.frame()
    wide, high = (0.0, 0.0) if cut is None else cut.size
    block = min(BLOCK, right - left - wide - 2.0 * PAD)
    strip = max(high + 2.0 * PAD, TITLE_HEIGHT + NOTES)
    room = (left + PAD, bottom + strip, right - COLUMN - PAD, top - PAD)
    across, up = views.bare(scale)
    if block < LEAST_BLOCK or across > room[2] - room[0] or up > room[3] - room[1]:
        return None
    across, up = views.size(scale)
    if across > room[2] - room[0] or up > room[3] - room[1]:
        return None
    return Layout(scale, room, cut, block, strip)


def _too_small(
    views: ThreeViews, asked: SheetAsked, scale: DrawingScale, scales: Sequence[DrawingScale]
) -> InputError:
    fitting = next((s for s in scales if _tried(views, s, None, asked.paper)), None)
    if asked.scale is None:
        wish = f"the views fit at no scale, not at {scale.words} either; name a larger paper"
        return InputError("sheet", [Problem("--paper", asked.paper.name, wish)])
    advice = f"{fitting.words} fits" if fitting else "no scale fits; name a larger paper"
    given = f"{scale.words} on {asked.paper.name}"
    return InputError("sheet", [Problem("--scale", given, f"the views do not fit; {advice}")])
