"""Drawings laid into a page of a PDF as vectors, their looks out of the table of looks."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

import numpy as np
from numpy.typing import NDArray

from planform.drawing.drawing import Arc, Dimension, Drawing, Fill, Line, Mark, Text
from planform.drawing.paper.letters import shown
from planform.drawing.style import Look, look_of
from planform.drawing.writers.embedded import NAMES, fonts

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas
    from reportlab.pdfgen.pathobject import PDFPathObject

Array = NDArray[np.float64]

GROUND = "#ffffff"
VEIL = 0.75
"""How much of what runs behind words is covered, 0 to 1."""
AROUND = 1.5
"""Paper round words [px]."""


class Vectors(Protocol):
    """What lays itself into a page; size : width and height, in any unit."""

    @property
    def size(self) -> tuple[float, float]:
        """Width and height."""

    def lay(self, canvas: Canvas, width: float) -> None:
        """Draw it from the canvas's own zero point on, so wide [pt]."""


@dataclass(frozen=True, eq=False)
class DrawnVectors:
    """A drawing that lays itself into a page."""

    drawing: Drawing

    @property
    def size(self) -> tuple[float, float]:
        """Width and height [px]."""
        return self.drawing.size

    def lay(self, canvas: Canvas, width: float) -> None:
        """Draw it from the canvas's own zero point on, so wide [pt]."""
        lay(canvas, self.drawing, width)


FINE = 170.0
"""Pixels of a picture for an inch of paper; more are taken away."""
KEPT = 82
"""How well a picture is kept as JPEG, up to 95."""


def jpeg(picture: bytes, width: float) -> tuple[bytes, tuple[float, float]]:
    """A picture as JPEG, no finer than paper shows where it is so wide [pt]; its size [px]."""
    from io import BytesIO

    from PIL import Image

    with Image.open(BytesIO(picture)) as opened:
        image = opened.convert("RGB")
    most = round(width / 72.0 * FINE)
    if image.width > most:
        high = max(1, round(image.height * most / image.width))
        image = image.resize((most, high), Image.Resampling.LANCZOS)
    out = BytesIO()
    image.save(out, format="JPEG", quality=KEPT, optimize=True)
    return out.getvalue(), image.size


def lay(canvas: Canvas, drawing: Drawing, width: float) -> None:
    """Draw it from the canvas's own zero point on, so wide [pt]."""
    fonts()
    wide, high = drawing.size
    canvas.saveState()
    canvas.scale(width / wide, width / wide)
    canvas.setLineJoin(1)
    edge = canvas.beginPath()
    edge.rect(0, 0, wide, high)
    canvas.clipPath(edge, stroke=0, fill=0)
    for mark in drawing.marks:
        _put(canvas, drawing, mark)
    canvas.restoreState()


def _put(canvas: Canvas, drawing: Drawing, mark: Mark) -> None:
    if isinstance(mark, Dimension):
        for one in mark.drawn(drawing.scale):
            _put(canvas, drawing, one)
        return
    look = look_of(mark.kind)
    if isinstance(mark, Text):
        _write(canvas, drawing, mark, look)
        return
    path = canvas.beginPath()
    if isinstance(mark, Fill):
        for ring in mark.rings:
            _run(path, _up(drawing, ring), closed=True)
    elif isinstance(mark, Line):
        _run(path, _up(drawing, mark.points), closed=False)
    else:
        _arc(path, drawing, mark)
    fills = look.fill is not None and not isinstance(mark, Line)
    _paint(canvas, path, look, fills=fills)


def _up(drawing: Drawing, points: Array) -> Array:
    """Points on the sheet, right and up from its lower left corner [px]."""
    flat = np.asarray(points, float)[..., :2]
    return np.asarray((flat - drawing.low) * drawing.scale)


def _run(path: PDFPathObject, points: Array, *, closed: bool) -> None:
    (x, y), *rest = np.round(points, 2).tolist()
    path.moveTo(x, y)
    for x, y in rest:
        path.lineTo(x, y)
    if closed:
        path.close()


def _arc(path: PDFPathObject, drawing: Drawing, mark: Arc) -> None:
    x, y = _up(drawing, mark.centre).tolist()
    r = mark.radius * drawing.scale
    if mark.whole:
        path.circle(x, y, r)
        return
    start, sweep = float(np.degrees(mark.start)), float(np.degrees(mark.sweep))
    path.arc(x - r, y - r, x + r, y + r, startAng=start, extent=sweep)


def _paint(canvas: Canvas, path: PDFPathObject, look: Look, *, fills: bool) -> None:
    """Fill and stroke; what runs round the other way is a hole."""
    if fills:
        canvas.setFillColor(look.fill)
        canvas.setFillAlpha(look.opacity)
    if look.stroke is not None:
        canvas.setStrokeColor(look.stroke)
        canvas.setStrokeAlpha(look.stroke_opacity)
        canvas.setLineWidth(look.weight)
        canvas.setLineCap(int(look.round_ends))
        canvas.setDash(list(look.dash))
    canvas.drawPath(path, stroke=int(look.stroke is not None), fill=int(fills), fillMode=1)


def _write(canvas: Canvas, drawing: Drawing, mark: Text, look: Look) -> None:
    words = shown(mark.words)
    if not words.strip():
        return
    x, y = _up(drawing, mark.point).tolist()
    name, size = NAMES[look.bold], look.letter
    wide = canvas.stringWidth(words, name, size)
    x -= {"start": 0.0, "middle": 0.5, "end": 1.0}[mark.anchor] * wide
    canvas.setFillColor(GROUND)
    canvas.setFillAlpha(VEIL)
    high = 1.0 * size
    canvas.rect(x - AROUND, y - 0.24 * size, wide + 2 * AROUND, high + AROUND, stroke=0, fill=1)
    canvas.setFillAlpha(1.0)
    canvas.setFillColor(look.fill or "#000000")
    canvas.setFont(name, size)
    canvas.drawString(x, y, words)
