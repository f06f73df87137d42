"""Pages as PDF: true scale, fonts embedded, searchable, a bookmark a page, same bytes twice."""

from __future__ import annotations

from collections.abc import Sequence
from io import BytesIO
from typing import TYPE_CHECKING

import numpy as np

from planform.drawing.paper.letters import CAPITAL, shown
from planform.drawing.paper.marks import Area, Array, Circle, Lettering, Mark, PenStroke
from planform.drawing.paper.page import Page
from planform.drawing.paper.pens import FILLS, pen_of
from planform.drawing.writers.embedded import MM, NAMES, fonts

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas
    from reportlab.pdfgen.pathobject import PDFPathObject


def pdf(pages: Sequence[Page], title: str) -> bytes:
    """All pages in one file."""
    from reportlab.pdfgen.canvas import Canvas

    fonts()
    out = BytesIO()
    canvas = Canvas(out, invariant=1, initialFontName=NAMES[False], pageCompression=1)
    canvas.setTitle(shown(title))
    canvas.setAuthor("planform")
    canvas.setCreator("planform")
    for number, page in enumerate(pages):
        canvas.setPageSize((page.paper.width * MM, page.paper.height * MM))
        canvas.bookmarkPage(f"page{number}")
        canvas.addOutlineEntry(shown(page.title), f"page{number}")
        canvas.scale(MM, MM)
        canvas.setLineCap(1)
        canvas.setLineJoin(1)
        for mark in page.marks():
            _put(canvas, mark)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def _put(canvas: Canvas, mark: Mark) -> None:
    if isinstance(mark, Lettering):
        _write(canvas, mark)
        return
    path = canvas.beginPath()
    if isinstance(mark, Area):
        for ring in mark.rings:
            _run(path, ring, closed=True)
        canvas.setFillColor(FILLS[mark.fill])
        _pen(canvas, mark.pen or "words")
        canvas.drawPath(path, stroke=int(mark.pen is not None), fill=1, fillMode=0)
        return
    if isinstance(mark, Circle):
        _arc(path, mark)
    elif isinstance(mark, PenStroke):
        _run(path, mark.points, closed=mark.closed)
    _pen(canvas, mark.pen)
    canvas.drawPath(path, stroke=1, fill=0)


def _run(path: PDFPathObject, points: Array, *, closed: bool) -> None:
    (x, y), *rest = points.tolist()
    path.moveTo(x, y)
    for x, y in rest:
        path.lineTo(x, y)
    if closed:
        path.close()


def _arc(path: PDFPathObject, circle: Circle) -> None:
    """A circle or an arc as Bezier curves, none longer than 90 deg."""
    x, y, r = float(circle.centre[0]), float(circle.centre[1]), circle.radius
    if circle.whole:
        path.circle(x, y, r)
        return
    start, sweep = np.degrees(circle.start), np.degrees(circle.sweep)
    path.arc(x - r, y - r, x + r, y + r, startAng=float(start), extent=float(sweep))


def _pen(canvas: Canvas, name: str) -> None:
    pen = pen_of(name)
    canvas.setStrokeColor(pen.ink)
    canvas.setLineWidth(pen.width)
    canvas.setDash(list(pen.dash))


def _write(canvas: Canvas, words: Lettering) -> None:
    text = shown(words.text)
    if not text.strip():
        return
    canvas.saveState()
    canvas.translate(float(words.point[0]), float(words.point[1]))
    canvas.rotate(float(np.degrees(words.turn)))
    canvas.setFillColor(words.ink)
    canvas.setFont(NAMES[words.bold], words.capital / CAPITAL)
    put = {"start": canvas.drawString, "middle": canvas.drawCentredString,
           "end": canvas.drawRightString}[words.foot]  # fmt: skip
    put(0.0, 0.0, text)
    canvas.restoreState()
