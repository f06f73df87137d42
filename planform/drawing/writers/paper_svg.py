"""A page as SVG: millimetres, one group a layer, texts as texts."""

from __future__ import annotations

from collections.abc import Iterator
from html import escape

import numpy as np

from planform.drawing.paper.letters import CAPITAL, shown, width
from planform.drawing.paper.marks import Area, Array, Circle, Lettering, Mark, PenStroke
from planform.drawing.paper.page import Page
from planform.drawing.paper.pens import FILLS, pen_of

FAMILY = "'DejaVu Sans', Verdana, sans-serif"
ANCHORS = {"start": "start", "middle": "middle", "end": "end"}


def svg_page(page: Page) -> str:
    """The page as the text of an SVG file; sizes are right where it is shown at 100 %."""
    wide, high = page.paper.width, page.paper.height
    body = "\n".join(_layers(page, high))
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide:g}mm" height="{high:g}mm" '
        f'viewBox="0 0 {wide:g} {high:g}" font-family="{FAMILY}" '
        'stroke-linecap="round" stroke-linejoin="round">\n'
        f"<title>{escape(shown(page.title))}</title>\n"
        f'<rect width="{wide:g}" height="{high:g}" fill="#ffffff"/>\n{body}\n</svg>\n'
    )


def _layers(page: Page, high: float) -> Iterator[str]:
    """The marks in their order, neighbours on the same layer in one group."""
    layer = None
    for mark in page.marks():
        own = _layer(mark)
        if own != layer:
            if layer is not None:
                yield "</g>"
            yield f'<g class="{own.lower()}">'
            layer = own
        yield _mark(mark, high)
    if layer is not None:
        yield "</g>"


def _layer(mark: Mark) -> str:
    if isinstance(mark, Lettering):
        return "TEXT"
    if isinstance(mark, Area):
        return "FILL" if mark.pen is None else pen_of(mark.pen).layer
    return pen_of(mark.pen).layer


def _mark(mark: Mark, high: float) -> str:
    if isinstance(mark, Lettering):
        return _words(mark, high)
    if isinstance(mark, Area):
        path = " ".join(_path(ring, high, closed=True) for ring in mark.rings)
        look = "" if mark.pen is None else _look(mark.pen)
        return f'<path d="{path}" fill="{FILLS[mark.fill]}" fill-rule="evenodd"{look}/>'
    if isinstance(mark, PenStroke):
        path = _path(mark.points, high, closed=mark.closed)
        return f'<path d="{path}" fill="none"{_look(mark.pen)}/>'
    return _circle(mark, high)


def _path(points: Array, high: float, *, closed: bool) -> str:
    steps = [f"{x:.4f},{high - y:.4f}" for x, y in points.tolist()]
    return "M" + " L".join(steps) + ("Z" if closed else "")


def _look(name: str) -> str:
    pen = pen_of(name)
    dash = f' stroke-dasharray="{" ".join(f"{one:g}" for one in pen.dash)}"' if pen.dash else ""
    return f' stroke="{pen.ink}" stroke-width="{pen.width:g}"{dash}'


def _circle(mark: Circle, high: float) -> str:
    x, y, r = float(mark.centre[0]), high - float(mark.centre[1]), mark.radius
    if mark.whole:
        return f'<circle cx="{x:.4f}" cy="{y:.4f}" r="{r:.4f}" fill="none"{_look(mark.pen)}/>'
    start, end = mark.points(2)
    large = int(mark.sweep > np.pi)
    return (
        f'<path d="M{start[0]:.4f},{high - start[1]:.4f} A{r:.4f},{r:.4f} 0 {large} 0 '
        f'{end[0]:.4f},{high - end[1]:.4f}" fill="none"{_look(mark.pen)}/>'
    )


def _words(mark: Lettering, high: float) -> str:
    """Words; their length is told, so that another font takes no more room."""
    text = shown(mark.text)
    if not text.strip():
        return ""
    x, y = float(mark.point[0]), high - float(mark.point[1])
    turn = f' transform="rotate({-np.degrees(mark.turn):.4f} {x:.4f} {y:.4f})"' if mark.turn else ""
    bold = ' font-weight="bold"' if mark.bold else ""
    as_seen = "" if text.isascii() else ' direction="ltr" unicode-bidi="bidi-override"'
    size, long = mark.capital / CAPITAL, width(text, mark.capital, mark.bold)
    return (
        f'<text x="{x:.4f}" y="{y:.4f}" font-size="{size:.3f}" text-anchor="{ANCHORS[mark.foot]}" '
        f'textLength="{long:.3f}" lengthAdjust="spacingAndGlyphs" fill="{mark.ink}"{bold}'
        f"{as_seen}{turn}>{escape(text)}</text>"
    )
