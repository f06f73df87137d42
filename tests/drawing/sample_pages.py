"""Pages made by hand: every kind of mark, every kind of dimension, in all directions."""

from __future__ import annotations

import numpy as np

from planform.drawing.paper.dimension import Angular, DimensionLine, Linear, Note, Radius
from planform.drawing.paper.marks import Area, Circle, Lettering, Mark, line, rectangle
from planform.drawing.paper.page import Page, PlacedView
from planform.drawing.paper.sizes import PAPERS, DrawingScale

SCALE = DrawingScale(20.0, "1:20")
TURNS = np.radians(np.arange(0.0, 360.0, 30.0))


def unit(turn: float) -> np.ndarray:
    """A direction, shape (2,)."""
    return np.array([np.cos(turn), np.sin(turn)])


def linear(start: np.ndarray, end: np.ndarray, away: float, name: str = "") -> Linear:
    """An aligned dimension of two points of the page, its true size told."""
    along = (end - start) / np.linalg.norm(end - start)
    value = float(np.linalg.norm(end - start)) / SCALE.mm
    return Linear(
        key=name or "length", value=value, words=f"{value:.3f} m", tail="± 2 mm M",
        start=start, end=end, along=along,
        through=start + away * np.array([-along[1], along[0]]),
    )  # fmt: skip


def every_dimension(at: np.ndarray) -> list[DimensionLine]:
    """Wide and narrow ones in all directions about points right of `at` [mm on paper]."""
    out: list[DimensionLine] = []
    wide, narrow, arcs = at, np.add(at, (120.0, 0.0)), np.add(at, (0.0, -105.0))
    for turn in TURNS:
        way = unit(turn)
        aside = np.array([-way[1], way[0]])
        out.append(linear(wide + 20.0 * way - 8 * aside, wide + 48.0 * way - 8 * aside, 6.0))
        out.append(linear(narrow + 22.0 * way, narrow + 26.0 * way, 6.0))
        for centre, sweep in (
            (arcs, np.radians(80.0)),
            (np.add(arcs, (120.0, 0.0)), np.radians(4.0)),
        ):
            middle = centre + 22.0 * way
            out.append(
                Angular(key="angle", value=float(sweep), words=f"{np.degrees(sweep):.0f}°",
                        centre=middle, first=float(turn), sweep=float(sweep), radius=14.0)
            )  # fmt: skip
        rim = np.add(at, (120.0, -205.0))
        out.append(Radius(key="radius", value=30.0 / SCALE.mm, words="0.60 m", centre=rim,
                          on=rim + 30.0 * way))  # fmt: skip
        small = np.add(at, (0.0, -205.0))
        out.append(Radius(key="small", value=6.0 / SCALE.mm, words="0.12 m", centre=small,
                          on=small + 6.0 * way, outside=True))  # fmt: skip
    spot = np.add(at, (190.0, -205.0))
    out.append(Note(key="to the right", value=0.0, words="a note", point=spot,
                    elbow=np.add(spot, (8.0, 6.0))))  # fmt: skip
    out.append(Note(key="to the left", value=0.0, words="a note", point=spot,
                    elbow=np.add(spot, (-8.0, -6.0))))  # fmt: skip
    return out


def every_mark(at: np.ndarray) -> list[Mark]:
    """One of each kind of simple mark about a point [mm on paper]."""
    left, low = at.tolist()
    outer = at + np.array([(0.0, 0.0), (20.0, 0.0), (20.0, 20.0), (0.0, 20.0)])
    inner = at + np.array([(5.0, 5.0), (15.0, 5.0), (15.0, 15.0), (5.0, 15.0)])
    return [
        Area((outer, inner), "wall", "edge"),
        Area((np.add(outer, (25.0, 0.0)),), "thing"),
        Circle(np.add(at, (60.0, 10.0)), 8.0, "outline"),
        Circle(np.add(at, (60.0, 10.0)), 5.0, "swept", 0.5, 4.0),
        line([np.add(at, (0.0, 30.0)), np.add(at, (100.0, 30.0))], "cut"),
        line(
            [np.add(at, (0.0, 33.0)), np.add(at, (60.0, 33.0)), np.add(at, (70.0, 40.0))], "hidden"
        ),
        rectangle((left + 75.0, low, left + 95.0, low + 20.0), "centre"),
        Lettering(np.add(at, (0.0, -6.0)), "words that start here", 2.5, "start"),
        Lettering(np.add(at, (100.0, -6.0)), "BOLD, end", 3.5, "end", bold=True),
        Lettering(np.add(at, (105.0, 10.0)), "upright words", 2.5, "middle", np.pi / 2.0),
    ]


def sample_page() -> Page:
    """An A1 with a view of dimensions, a smaller one, and marks on the sheet itself."""
    paper = PAPERS["A1"]
    at = np.array([75.0, 400.0])
    first = PlacedView(
        "dimensions", SCALE, at, (20.0, 130.0, 320.0, 480.0),
        (rectangle((20.0, 130.0, 320.0, 480.0), "outline"), *every_dimension(at)),
    )  # fmt: skip
    where = np.array([420.0, 300.0])
    second = PlacedView(
        "marks", DrawingScale(50.0, "1:50"), where, (400.0, 280.0, 540.0, 360.0),
        tuple(every_mark(where)),
    )  # fmt: skip
    sheet = (*every_mark(np.array([420.0, 150.0])), rectangle(paper.frame(), "frame"))
    return Page("Everything, <once> & “quoted”", paper, (first, second), sheet)
