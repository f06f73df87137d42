"""Pens of a page as one table: line widths of ISO 128-2, dashes, greys, layers."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Pen:
    """How a line on paper is drawn.

    width : [mm]
    dash : lengths of strokes and gaps in turn [mm]; unbroken where empty
    ink : '#rrggbb'
    layer : the name of its layer, where a file has layers
    """

    width: float
    layer: str
    ink: str = "#000000"
    dash: tuple[float, ...] = ()


DASHED = (3.0, 0.9)
"""Hidden lines: strokes of 12, gaps of 3 and more line widths (ISO 128-2, from memory)."""
CHAIN = (6.0, 0.9, 0.3, 0.9)
"""Centre lines: long strokes and dots."""
TWO_DOTS = (6.0, 0.9, 0.3, 0.9, 0.3, 0.9)
"""What moves or what a thing could sweep."""

PENS = {
    "outline": Pen(0.35, "OUTLINE"),
    "edge": Pen(0.18, "EDGES"),
    "joint": Pen(0.18, "JOINTS"),
    "hidden": Pen(0.13, "HIDDEN", "#4a4a4a", DASHED),
    "cut": Pen(0.7, "CUT"),
    "hatch": Pen(0.13, "HATCH", "#4a4a4a"),
    "centre": Pen(0.13, "CENTRE", "#000000", CHAIN),
    "swept": Pen(0.18, "SWEPT", "#333333", TWO_DOTS),
    "dimension": Pen(0.13, "DIMENSIONS"),
    "scale": Pen(0.18, "SCALES", "#333333"),
    "wall": Pen(0.5, "ROOM"),
    "door": Pen(0.35, "ROOM", "#000000", (2.0, 1.0)),
    "thing": Pen(0.25, "THINGS", "#222222"),
    "hanging": Pen(0.25, "THINGS", "#222222", (1.5, 0.9)),
    "other": Pen(0.18, "THINGS", "#4a4a4a"),
    "way": Pen(0.35, "WAY"),
    "mark": Pen(0.35, "MARKS"),
    "floor": Pen(0.35, "FLOOR"),
    "frame": Pen(0.7, "FRAME"),
    "rule": Pen(0.35, "TITLE"),
    "hair": Pen(0.18, "TITLE", "#4a4a4a"),
    "trim": Pen(0.5, "TRIM"),
    "join": Pen(0.13, "JOIN", "#4a4a4a", (1.5, 1.0)),
    "register": Pen(0.18, "REGISTER"),
    "words": Pen(0.18, "TEXT"),
}
"""Every pen, by its name."""

FILLS = {
    "paper": "#ffffff",
    "wall": "#9a9a9a",
    "thing": "#dcdcdc",
    "part": "#ececec",
    "shade": "#f4f4f4",
    "swept": "#f0f0f0",
    "ink": "#000000",
    "silhouette": "#5a5a5a",
}
"""Every fill, by its name: greys alone, so that a page reads in black and white too."""


def pen_of(name: str) -> Pen:
    """The pen of a name; KeyError for one that the table does not hold."""
    return PENS[name]
