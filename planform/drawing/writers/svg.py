"""Drawings as SVG: one element a mark, its look by a class out of the table of looks."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from html import escape
from itertools import groupby

import numpy as np
from numpy.typing import NDArray

from planform.drawing.drawing import Arc, Dimension, Drawing, Fill, Line, Mark, Text
from planform.drawing.style import LOOKS, PAPER, Kind, Look

Array = NDArray[np.float64]

ENDING = "svg"

LETTERS = "'DejaVu Sans',Verdana,sans-serif"
HALO = 4.0
"""Paper round letters, so that lines do not run through them [px]."""


def written(drawing: Drawing) -> bytes:
    """The content of an SVG file."""
    return text(drawing).encode("utf-8")


def text(drawing: Drawing) -> str:
    """The whole SVG, to stand alone or in a page."""
    width, height = drawing.size
    title = escape(drawing.title)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" '
        f'width="{width}" height="{height}" class="drawn" role="img" stroke-linejoin="round" '
        f'aria-label="{title}"><title>{title}</title><style>{css(drawing.marks)}</style>'
        f'<rect width="100%" height="100%" fill="{PAPER}"/>{"".join(_elements(drawing))}</svg>'
    )


# --- looks ---


def css(marks: Iterable[Mark]) -> str:
    """The rules for the kinds of these marks alone, kept to drawings, whatever page they are in."""
    shapes = {kind for mark in marks for kind in _kinds(mark) if isinstance(kind, str)}
    texts = {mark.kind for mark in marks if isinstance(mark, Text)}
    base = LOOKS["words"]
    rules = [
        f"text{{font:{base.letter:g}px {LETTERS};fill:{base.fill};paint-order:stroke;"
        f"stroke:{PAPER};stroke-width:{HALO:g}px}}"
    ]
    for name, look in LOOKS.items():
        if name in texts:
            rules.append(f".{name}{{{_joined(_letters(look))}}}")
        elif name in shapes:
            rules.append(f".{name}{{{_joined(_strokes(look))}}}")
    return "".join(f".drawn {rule}" for rule in rules)


def _kinds(mark: Mark) -> tuple[Kind | None, ...]:
    return (mark.kind, mark.ends) if isinstance(mark, Dimension) else (mark.kind,)


def _strokes(look: Look) -> dict[str, str]:
    """The properties of a shape."""
    found = {"fill": look.fill or "none"}
    if look.fill and look.opacity < 1.0:
        found["fill-opacity"] = f"{look.opacity:g}"
    if look.stroke:
        found |= {"stroke": look.stroke, "stroke-width": f"{look.weight:g}"}
        if look.stroke_opacity < 1.0:
            found["stroke-opacity"] = f"{look.stroke_opacity:g}"
        if look.dash:
            found["stroke-dasharray"] = " ".join(f"{v:g}" for v in look.dash)
        if look.round_ends:
            found["stroke-linecap"] = "round"
    return found


def _letters(look: Look) -> dict[str, str]:
    """The properties of a text."""
    found = {"font-size": f"{look.letter:g}px", "fill": look.fill or PAPER}
    return found | ({"font-weight": "bold"} if look.bold else {})


def _joined(properties: dict[str, str]) -> str:
    return ";".join(f"{name}:{value}" for name, value in properties.items())


def _looks(kind: Kind) -> str:
    """The attributes that give a shape its look."""
    if isinstance(kind, str):
        return f'class="{kind}"'
    return " ".join(f'{name}="{value}"' for name, value in _strokes(kind).items())


# --- marks ---


def _elements(drawing: Drawing) -> Iterator[str]:
    """The marks as elements; lines of one kind that follow one another are one."""
    for kind, lines in groupby(_simple(drawing), lambda m: m.kind if isinstance(m, Line) else None):
        if kind is not None:
            yield _path(drawing, [line.points for line in lines if isinstance(line, Line)], kind)
            continue
        for mark in lines:
            if isinstance(mark, Fill):
                yield _path(drawing, mark.rings, mark.kind, mark.title, closed=True)
            elif isinstance(mark, Arc):
                yield _arc(drawing, mark)
            elif isinstance(mark, Text):
                yield _text(drawing, mark)


def _simple(drawing: Drawing) -> Iterator[Mark]:
    """The marks, dimensions drawn out."""
    for mark in drawing.marks:
        if isinstance(mark, Dimension):
            yield from mark.drawn(drawing.scale)
        else:
            yield mark


def _path(
    drawing: Drawing, runs: Iterable[Array], kind: Kind, title: str = "", *, closed: bool = False
) -> str:
    data = "".join(_run(drawing, run, "z" if closed else "") for run in runs)
    if not data:
        return ""
    if not title:
        return f'<path {_looks(kind)} d="{data}"/>'
    return f'<path {_looks(kind)} d="{data}"><title>{escape(title)}</title></path>'


def _run(drawing: Drawing, points: Array, close: str) -> str:
    """A line in tenths of a px, each corner told from the last; nothing where it is a spot."""
    at = np.rint(drawing.px(points) * 10.0).astype(int)
    steps = np.diff(at, axis=0).tolist()
    if not any(dx or dy for dx, dy in steps):
        return ""
    x, y = at[0].tolist()
    way = " ".join(f"{_tenths(dx)} {_tenths(dy)}" for dx, dy in steps)
    return f"M{_tenths(x)} {_tenths(y)}l{way}{close}".replace(" -", "-")


def _tenths(value: int) -> str:
    whole, tenth = divmod(abs(value), 10)
    sign = "-" if value < 0 else ""
    return f"{sign}{whole or ''}.{tenth}" if tenth else f"{sign}{whole}"


def _arc(drawing: Drawing, mark: Arc) -> str:
    radius = f"{mark.radius * drawing.scale:.2f}".rstrip("0").rstrip(".")
    if mark.whole:
        x, y = drawing.px(mark.centre).tolist()
        return f'<circle {_looks(mark.kind)} cx="{x:.1f}" cy="{y:.1f}" r="{radius}"/>'
    (x0, y0), (x1, y1) = drawing.px(mark.ends()).tolist()
    large = int(mark.sweep > np.pi)
    return (
        f"<path {_looks(mark.kind)} "
        f'd="M{x0:.1f} {y0:.1f}A{radius} {radius} 0 {large} 0 {x1:.1f} {y1:.1f}"/>'
    )


def _text(drawing: Drawing, mark: Text) -> str:
    x, y = drawing.px(mark.point).tolist()
    kind = mark.kind
    looks = f'class="{kind}"' if isinstance(kind, str) else f'style="{_joined(_letters(kind))}"'
    return (
        f'<text {looks} x="{x:.1f}" y="{y:.1f}" text-anchor="{mark.anchor}">'
        f"{escape(mark.words)}</text>"
    )
