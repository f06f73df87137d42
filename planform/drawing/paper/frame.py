"""The frame of a sheet: border, centring marks, grid references, and the title block.

ISO 5457:1999 (from memory): frame 0,7 mm wide, grid border 5 mm outside it, fields of 50 mm counted
from the centring marks, letters from top to bottom without I and O, numbers from left to right. The
centring marks end at the frame here, so that they cross nothing that is drawn.
ISO 7200:2004 (from memory): the title block stands in the lower right corner, at most 180 mm wide.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from planform.drawing.paper.letters import fitted, shown, wrapped
from planform.drawing.paper.marks import Area, Box, Circle, Lettering, Mark, line, rectangle
from planform.drawing.paper.sizes import PaperSize

BORDER = 5.0
FIELD = 50.0
LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"
GRID_FROM = 250.0
"""Sheets whose shorter side is longer than this have grid references [mm]; A4 and letter none."""
HEAD, BODY, CAPTION = 3.5, 2.2, 1.5
"""Heights of capitals in a title block [mm]."""
PAD = 1.2


@dataclass(frozen=True)
class Title:
    """What a title block tells.

    projection : 'first' or 'third' angle; None where the sheet has no views that belong together
    cells : what else it tells: captions and texts
    cautions : said under it, in full
    """

    name: str
    drawing: str
    scale: str
    units: str
    date: str
    sheet: str
    revision: str = ""
    measured_by: str = ""
    projection: str | None = None
    cautions: str = ""


def framed(paper: PaperSize) -> Iterator[Mark]:
    """Frame, centring marks, and grid references on larger sheets."""
    box = left, bottom, right, top = paper.frame()
    yield rectangle(box, "frame")
    middle = 0.5 * (left + right), 0.5 * (bottom + top)
    for points in (
        [(middle[0], bottom - BORDER), (middle[0], bottom)],
        [(middle[0], top + BORDER), (middle[0], top)],
        [(left - BORDER, middle[1]), (left, middle[1])],
        [(right + BORDER, middle[1]), (right, middle[1])],
    ):
        yield line(points, "frame")
    if min(paper.width, paper.height) > GRID_FROM:
        yield from _grid(box, middle)


def _grid(box: Box, middle: tuple[float, float]) -> Iterator[Mark]:
    left, bottom, right, top = box
    yield rectangle((left - BORDER, bottom - BORDER, right + BORDER, top + BORDER), "hair")
    across = _fields(left, right, middle[0])
    for k, (a, b) in enumerate(across):
        for y, way in ((bottom, -1.0), (top, 1.0)):
            if k:
                yield line([(a, y), (a, y + way * BORDER)], "hair")
            at = np.array([0.5 * (a + b), y + way * 0.5 * BORDER - 1.25])
            yield Lettering(at, str(k + 1), 2.5)
    upward = _fields(bottom, top, middle[1])
    for k, (a, b) in enumerate(reversed(upward)):
        for x, way in ((left, -1.0), (right, 1.0)):
            if k:
                yield line([(x, b), (x + way * BORDER, b)], "hair")
            yield Lettering(
                np.array([x + way * 0.5 * BORDER, 0.5 * (a + b) - 1.25]), LETTERS[k], 2.5
            )


def _fields(low: float, high: float, middle: float) -> list[tuple[float, float]]:
    """The fields along a side: of 50 mm from its middle, the outermost as long as is left."""
    count = int((high - middle) / FIELD)
    inner = [middle + FIELD * k for k in range(-count, count + 1)]
    ends = [low, *[x for x in inner if low + 1e-6 < x < high - 1e-6], high]
    return list(pairwise(ends))


TITLE_HEIGHT = 34.0
BLOCK = 180.0
"""Width of a title block, where the paper has so much (ISO 7200, from memory) [mm]."""


def bordered(paper: PaperSize, title: Title, wide: float = BLOCK) -> Iterator[Mark]:
    """The frame of a sheet, and its title block in the lower right corner."""
    left, bottom, right, _ = paper.frame()
    yield from framed(paper)
    yield from title_block(title, (right, bottom), min(wide, right - left))


def title_block(title: Title, corner: tuple[float, float], wide: float) -> Iterator[Mark]:
    """The title block, its lower right corner at a point [mm]."""
    right, bottom = corner
    left, top = right - wide, bottom + TITLE_HEIGHT
    yield rectangle((left, bottom, right, top), "rule")
    split = left + 0.56 * wide
    yield line([(left, top - 12.0), (right, top - 12.0)], "hair")
    yield line([(left, top - 20.0), (right, top - 20.0)], "hair")
    yield line([(split, bottom + 6.0), (split, top)], "hair")
    yield line([(left, bottom + 6.0), (right, bottom + 6.0)], "hair")
    yield from _cell((left, top - 12.0, split, top), "aircraft", title.name, HEAD, bold=True)
    yield from _cell((split, top - 12.0, right, top), "drawing", title.drawing, BODY, lines=2)
    symbol = 17.0 if title.projection else 0.0
    yield from _cell((left, top - 20.0, split - symbol, top - 12.0), "scale", title.scale)
    if title.projection:
        yield line([(split - symbol, top - 20.0), (split - symbol, top - 12.0)], "hair")
        yield from projection_symbol(title.projection, (split - 0.5 * symbol, top - 16.0))
    half = 0.5 * (split + right)
    yield line([(half, bottom + 6.0), (half, top - 12.0)], "hair")
    yield from _cell((split, top - 20.0, half, top - 12.0), "units", title.units)
    yield from _cell((half, top - 20.0, right, top - 12.0), "date", title.date)
    yield from _cell((left, bottom + 6.0, split, top - 20.0), "measured by", title.measured_by)
    yield from _cell((split, bottom + 6.0, half, top - 20.0), "revision", title.revision)
    yield from _cell((half, bottom + 6.0, right, top - 20.0), "sheet", title.sheet)
    lines = wrapped(title.cautions, wide - 2.0 * PAD, CAPTION)[:2]
    for k, words in enumerate(lines):
        yield Lettering(np.array([left + PAD, bottom + 3.7 - 2.5 * k]), words, CAPTION, "start")


def _cell(
    box: Box, caption: str, text: str, capital: float = BODY, *, bold: bool = False, lines: int = 1
) -> Iterator[Mark]:
    left, _, right, top = box
    yield Lettering(
        np.array([left + PAD, top - PAD - CAPTION]), caption, CAPTION, "start", ink="#4a4a4a"
    )
    room = right - left - 2.0 * PAD
    all_lines = wrapped(shown(text), room, capital, bold)
    kept = all_lines[:lines]
    if len(all_lines) > lines:
        kept[-1] = fitted(" ".join(all_lines[lines - 1 :]), room, capital, bold)
    for k, words in enumerate(kept):
        at = np.array([left + PAD, top - PAD - 2.0 * CAPTION - capital - 1.5 * capital * k + 0.6])
        yield Lettering(at, words, capital, "start", bold=bold)


def projection_symbol(angle: str, middle: tuple[float, float]) -> Iterator[Mark]:
    """A truncated cone in two views, as ISO 5456-2 shows which projection is meant.

    angle : 'first' has the circles on the right of the cone, 'third' on its left (from memory)
    """
    x, y = middle
    way = 1.0 if angle == "first" else -1.0
    cone, rings = x - way * 3.6, x + way * 3.6
    ends = [(cone - 2.4, 1.0), (cone + 2.4, 2.2)]
    (a, ha), (b, hb) = ends
    yield line([(a, y - ha), (a, y + ha), (b, y + hb), (b, y - hb)], "rule", closed=True)
    yield line([(a - 0.8, y), (b + 0.8, y)], "centre")
    for radius in (1.0, 2.2):
        yield Circle(np.array([rings, y]), radius, "rule")
    for points in ([(rings - 3.0, y), (rings + 3.0, y)], [(rings, y - 3.0), (rings, y + 3.0)]):
        yield line(points, "centre")


def shaded(box: Box, fill: str = "shade") -> Area:
    """A box filled."""
    left, bottom, right, top = box
    ring = np.array([(left, bottom), (right, bottom), (right, top), (left, top)])
    return Area((ring,), fill)
