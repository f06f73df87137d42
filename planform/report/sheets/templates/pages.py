"""Pages of a pattern: the first with the map, the facts and the cautions, then one page a tile."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from planform.drawing.paper.frame import shaded
from planform.drawing.paper.letters import fitted, shown, width, wrapped
from planform.drawing.paper.marks import Box, Foot, Lettering, Mark, corners_of, line, rectangle
from planform.drawing.paper.moved import (
    cut_off,
    lines_of,
    path,
    shifted,
    within,
    words_within,
)
from planform.drawing.paper.page import Page, PlacedView
from planform.drawing.paper.sizes import INCH, DrawingScale, PaperSize
from planform.drawing.paper.tiling import FOOT, MARGIN, Cell, Tiling, cell_name, tiled
from planform.report.sheets.templates.pattern import Pattern, cross

TRUE = DrawingScale(1.0, "1:1")
RULER = 100.0
INCHES = 4
SMALL, BODY, HEAD, NAME = 1.8, 2.4, 3.5, 7.0
"""Heights of capitals [mm]."""
MEASURE = "measure me before cutting: 100 mm and 4 in; print at 100 %"
CAUTION = (
    "A template is a planning aid. The designer's drawing rules: hold each template against it, "
    "and against the work, before anything is cut. Structure is the designer's to judge."
)
HOW = (
    "Print at 100 % (no fit to page, no shrinking) and measure both rulers of this page and the "
    "one on each other page. Cut one of two neighbours along the broken line and lay it over the "
    "other so that crosses with the same number meet; tape, and measure the whole once more."
)
KNIVES = "Cut with a sharp blade away from the hand."


@dataclass(frozen=True)
class Heading:
    """What stands on every page of a set: the aircraft's name, and the date."""

    name: str
    date: str


def pattern_pages(pattern: Pattern, paper: PaperSize, heading: Heading) -> tuple[Page, ...]:
    """The pattern over pages of a paper, in true size.

    Raises TooManyPages.
    """
    tiling = tiled(pattern.marks, paper)
    pages = [_first(pattern, tiling, heading)]
    pages += [_tile(pattern, tiling, cell, heading) for cell in tiling.cells]
    return tuple(pages)


def whole_page(pattern: Pattern, heading: Heading) -> Page:
    """The pattern on one sheet as large as it needs, in true size; for a plotter or a cutter."""
    points = np.vstack([path(one) for one in lines_of(pattern.marks)])
    corners = [corners_of(one) for one in pattern.marks if isinstance(one, Lettering)]
    points = np.vstack([points, *corners])
    low, high = points.min(axis=0), points.max(axis=0)
    wide, tall = np.maximum(high - low, [200.0, 1.0]) + 2.0 * MARGIN
    sheet = PaperSize("own", float(wide), float(tall) + FOOT)
    at = np.array([MARGIN, MARGIN + FOOT]) - low
    marks = tuple(shifted(mark, at) for mark in pattern.marks)
    box = (MARGIN, MARGIN + FOOT, sheet.width - MARGIN, sheet.height - MARGIN)
    view = PlacedView("template", TRUE, at, box, marks)
    return Page(pattern.title, sheet, (view,), tuple(_foot(sheet, "", pattern.title, heading)))


def _tile(pattern: Pattern, tiling: Tiling, cell: Cell, heading: Heading) -> Page:
    box = tiling.printed(cell)
    at = np.array([MARGIN, MARGIN + FOOT]) - np.array(box[:2])
    name = cell_name(cell)
    drawn = [shifted(mark, at) for mark in (*_printed(tiling, cell), *_joins(tiling, cell))]
    paper = tiling.paper
    on_page = (MARGIN, MARGIN + FOOT, paper.width - MARGIN, paper.height - MARGIN)
    view = PlacedView(f"template {name}", TRUE, at, on_page, tuple(drawn))
    marks = tuple(_foot(paper, name, pattern.title, heading))
    return Page(f"{pattern.title}: {name}", paper, (view,), marks)


def _printed(tiling: Tiling, cell: Cell) -> Iterator[Mark]:
    """The pattern's own marks that a page prints."""
    box = tiling.printed(cell)
    for mark in lines_of(tiling.marks):
        yield from cut_off(mark, box)
    for words in tiling.marks:
        if isinstance(words, Lettering):
            if within(corners_of(words), box):
                yield words
            elif _nearest(tiling, words) == cell and not _whole(tiling, words):
                yield words_within(words, box)


def _whole(tiling: Tiling, words: Lettering) -> bool:
    corners = corners_of(words)
    return any(within(corners, tiling.printed(cell)) for cell in tiling.cells)


def _nearest(tiling: Tiling, words: Lettering) -> Cell:
    """The printed cell whose middle is nearest to that of the words."""
    middle = corners_of(words).mean(axis=0)

    def off(cell: Cell) -> float:
        left, bottom, right, top = tiling.core(cell)
        return float(np.hypot(middle[0] - 0.5 * (left + right), middle[1] - 0.5 * (bottom + top)))

    return min(tiling.cells, key=off)


def _joins(tiling: Tiling, cell: Cell) -> Iterator[Mark]:
    """Register marks with their numbers, and broken lines with the neighbours' names."""
    left, bottom, right, top = tiling.core(cell)
    for one in tiling.crosses:
        if cell in one.cells:
            at = np.array(one.at)
            yield from cross(at)
            yield Lettering(at + np.array([1.0, 1.0]), str(one.number), SMALL, "start")
    middle = 0.5 * (left + right), 0.5 * (bottom + top)
    for column, row in tiling.neighbours(cell):
        way = column - cell[0], cell[1] - row
        name = cell_name((column, row))
        if way[0]:
            x = right if way[0] > 0 else left
            yield line([(x, bottom), (x, top)], "join")
            foot: Foot = "end" if way[0] > 0 else "start"
            yield Lettering(np.array([x - 1.5 * way[0], middle[1]]), name, BODY, foot)
        else:
            y = top if way[1] > 0 else bottom
            yield line([(left, y), (right, y)], "join")
            off = 1.5 + BODY if way[1] > 0 else -1.5
            yield Lettering(np.array([middle[0], y - off]), name, BODY)


def _foot(paper: PaperSize, name: str, title: str, heading: Heading) -> Iterator[Mark]:
    """The strip under a page: its name, what it is of, and the check ruler."""
    left, right = MARGIN, paper.width - MARGIN
    yield line([(left, MARGIN + FOOT), (right, MARGIN + FOOT)], "hair")
    ruler = right - INCHES * INCH - 1.0
    yield from rule((ruler, MARGIN + 11.0))
    yield Lettering(np.array([ruler, MARGIN + 1.0]), MEASURE, SMALL, "start")
    at = left
    if name:
        yield Lettering(np.array([left, MARGIN + 12.0]), name, NAME, "start", bold=True)
        at += width(name, NAME, True) + 4.0
    room = ruler - 6.0 - at
    lines = [*wrapped(shown(title), room, BODY)[:3], fitted(shown(heading.name), room, BODY)]
    for k, text in enumerate(lines):
        spot = np.array([at, MARGIN + FOOT - 5.5 - 4.2 * k])
        yield Lettering(spot, text, BODY, "start", bold=k == 0)
    yield Lettering(np.array([left, MARGIN + 1.0]), f"1:1, {heading.date}", SMALL, "start")


def rule(at: tuple[float, float], *, upright: bool = False) -> Iterator[Mark]:
    """A ruler of 100 mm on one side and 4 in on the other, from a point on [mm]."""
    ticks = [(10.0 * k, 4.0 if k % 5 == 0 else 2.5, 1.0) for k in range(11)]
    ticks += [(0.25 * INCH * k, 4.0 if k % 4 == 0 else 2.0, -1.0) for k in range(4 * INCHES + 1)]

    def spot(along: float, across: float) -> tuple[float, float]:
        return (at[0] - across, at[1] + along) if upright else (at[0] + along, at[1] + across)

    yield line([spot(0.0, 0.0), spot(RULER, 0.0)], "rule")
    yield line([spot(RULER, 0.0), spot(INCHES * INCH, 0.0)], "rule")
    for along, size, way in ticks:
        yield line([spot(along, 0.0), spot(along, way * size)], "register")
    turn = 0.5 * np.pi if upright else 0.0
    for along, text, way in ((0.5 * RULER, "100 mm", 5.0), (0.5 * INCHES * INCH, "4 in", -6.6)):
        yield Lettering(np.array(spot(along, way)), text, SMALL, "middle", turn)


def _first(pattern: Pattern, tiling: Tiling, heading: Heading) -> Page:
    """The first page: what it is, the rulers both ways, the map of the pages, facts, cautions."""
    paper = tiling.paper
    left, right, y = MARGIN, paper.width - MARGIN, paper.height - MARGIN - 1.2 * HEAD
    room = right - left
    marks: list[Mark] = []
    for text in wrapped(shown(pattern.title), room, HEAD, True)[:2]:
        marks.append(Lettering(np.array([left, y]), text, HEAD, "start", bold=True))
        y -= 1.6 * HEAD
    count = f"{len(tiling.cells)} page{'s' * (len(tiling.cells) > 1)} of {paper.name} to join"
    told = fitted(shown(f"{heading.name}, {heading.date}; 1:1; {count}"), room, BODY)
    marks.append(Lettering(np.array([left, y]), told, BODY, "start"))
    y -= 4.0
    column = left + 0.56 * room
    facts, down = _facts(pattern, (left, column - 4.0), y)
    marks += facts
    y = min(y, down) - 3.0
    floor = MARGIN + 2.0
    for text in reversed(_paragraphs((HOW, *pattern.notes, CAUTION, KNIVES), room)):
        marks.append(Lettering(np.array([left, floor]), text, SMALL, "start"))
        floor += 1.75 * SMALL
    ruler_x = right - INCHES * INCH - 1.0
    beside = (left, floor + 6.0, ruler_x - 14.0, y)
    over = (left, floor + 134.0, right, y)
    marks += max((_map(tiling, box) for box in (beside, over)), key=lambda one: one[0])[1]
    marks += rule((ruler_x, floor + 12.0))
    marks += rule((ruler_x, floor + 26.0), upright=True)
    return Page(f"{pattern.title}: map of its pages", paper, (), tuple(marks))


def _paragraphs(texts: tuple[str, ...], room: float) -> list[str]:
    return [text for one in texts for text in wrapped(shown(one), room, SMALL)]


def _facts(pattern: Pattern, across: tuple[float, float], top: float) -> tuple[list[Mark], float]:
    """What is told of the pattern, line by line, and where it ends."""
    left, right = across
    marks: list[Mark] = []
    y = top
    for row in pattern.facts:
        y -= BODY + 2.0
        value = shown(row.value)
        what = fitted(shown(row.what), right - left - width(value, BODY, True) - 3.0, BODY)
        marks.append(Lettering(np.array([left, y]), what, BODY, "start"))
        marks.append(Lettering(np.array([right, y]), value, BODY, "end", bold=True))
        for text in wrapped(shown(row.remark), right - left, SMALL):
            y -= SMALL + 1.3
            marks.append(Lettering(np.array([right, y]), text, SMALL, "end", ink="#333333"))
        marks.append(line([(left, y - 1.2), (right, y - 1.2)], "hair"))
    return marks, y


def _map(tiling: Tiling, box: Box) -> tuple[float, list[Mark]]:
    """The grid of the pages with their names over the pattern, as large as a box takes it.

    Returns its scale and its marks.
    """
    left, bottom, right, top = box
    cores = {cell: tiling.core(cell) for cell in tiling.cells}
    every = np.array([tiling.printed(cell) for cell in cores])
    low, high = every[:, :2].min(axis=0), every[:, 2:].max(axis=0)
    scale = float(min((right - left) / (high[0] - low[0]), (top - bottom) / (high[1] - low[1])))
    at = np.array([left, top]) - scale * np.array([low[0], high[1]])
    marks: list[Mark] = []
    for mark in lines_of(tiling.marks):
        if mark.pen in ("outline", "edge"):
            marks.append(shifted(mark, at, scale))
    for cell, core in cores.items():
        a, b, c, d = (scale * value for value in core)
        marks.append(rectangle((a + at[0], b + at[1], c + at[0], d + at[1]), "hair"))
        name, capital = cell_name(cell), min(BODY, 0.25 * (d - b), 0.25 * (c - a))
        x, y = a + at[0] + 1.0, d + at[1] - 1.0 - capital
        behind = (x - 0.4, y - 0.4, x + width(name, capital, True) + 0.4, y + capital + 0.4)
        marks.append(shaded(behind, "paper"))
        marks.append(Lettering(np.array([x, y]), name, capital, "start", bold=True))
    return scale, marks
