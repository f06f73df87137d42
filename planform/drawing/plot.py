"""Charts laid into a page of a PDF as vectors: what matplotlib draws, kept and drawn again.

Loads matplotlib, so it is imported late.
"""

from __future__ import annotations

import warnings
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, cast

import numpy as np
from matplotlib.backend_bases import GraphicsContextBase, RendererBase
from matplotlib.colors import to_rgba
from matplotlib.figure import Figure
from matplotlib.path import Path
from numpy.typing import NDArray

from planform.drawing.paper.letters import shown
from planform.drawing.writers.embedded import NAMES, fonts

if TYPE_CHECKING:
    from matplotlib.font_manager import FontProperties
    from matplotlib.transforms import Transform
    from matplotlib.typing import ColorType
    from reportlab.pdfgen.canvas import Canvas
    from reportlab.pdfgen.pathobject import PDFPathObject

Array = NDArray[np.float64]
Colour = tuple[float, float, float, float]

HATCHED = 6.0
"""From line to line of a hatch [pt]."""
CAPS = {"butt": 0, "round": 1, "projecting": 2}
JOINS = {"miter": 0, "round": 1, "bevel": 2}

Segment = tuple[str, tuple[float, ...]]
"""A move, a line, a curve or a close, and its points."""


@dataclass(frozen=True)
class Inked:
    """A path: segments, and how they are filled, stroked, hatched and cut off.

    dash : strokes and gaps in turn [pt] ; inside : x, y, width, height that it is cut off at
    """

    segments: tuple[Segment, ...]
    fill: Colour | None
    stroke: Colour | None
    hatch: Colour | None
    weight: float
    dash: tuple[float, ...]
    cap: int
    join: int
    inside: tuple[float, ...] | None


@dataclass(frozen=True)
class Penned:
    """Words from a point on, turned counter-clockwise [deg]."""

    x: float
    y: float
    words: str
    size: float
    bold: bool
    turn: float
    ink: Colour


@dataclass(frozen=True)
class Plot:
    """A chart as what was drawn of it; size : width and height [pt]."""

    title: str
    size: tuple[float, float]
    marks: tuple[Inked | Penned, ...]

    def lay(self, canvas: Canvas, width: float) -> None:
        """Draw it from the canvas's own zero point on, so wide [pt]."""
        fonts()
        canvas.saveState()
        canvas.scale(width / self.size[0], width / self.size[0])
        for mark in self.marks:
            canvas.saveState()
            if isinstance(mark, Inked):
                _ink(canvas, mark)
            else:
                _pen(canvas, mark)
            canvas.restoreState()
        canvas.restoreState()


def plotted(figure: Figure, title: str) -> Plot:
    """A figure as it is drawn, on white."""
    figure.set_dpi(72.0)
    figure.set_facecolor("#ffffff")
    width, height = (float(v) * 72.0 for v in figure.get_size_inches())
    keeper = _Keeper(width, height)
    with warnings.catch_warnings():
        warnings.filterwarnings("ignore", "Glyph .* missing from font")
        figure.draw(keeper)
    return Plot(title, (width, height), tuple(keeper.marks))


class _Keeper(RendererBase):
    """Keeps what a figure draws."""

    def __init__(self, width: float, height: float) -> None:
        super().__init__()
        self.width, self.height = width, height
        self.marks: list[Inked | Penned] = []

    def flipy(self) -> bool:
        """Up is up."""
        return False

    def get_canvas_width_height(self) -> tuple[float, float]:
        """The figure's size [pt]."""
        return self.width, self.height

    def draw_path(
        self,
        gc: GraphicsContextBase,
        path: Path,
        transform: Transform,
        rgbFace: ColorType | None = None,
    ) -> None:
        """Keep a path."""
        faint = gc.get_alpha() if gc.get_forced_alpha() else None
        _, dash = gc.get_dashes()
        box = gc.get_clip_rectangle()
        self.marks.append(
            Inked(
                tuple(_segments(path, transform)),
                None if rgbFace is None else _colour(rgbFace, faint),
                _colour(gc.get_rgb(), faint) if gc.get_linewidth() > 0.0 else None,
                _colour(gc.get_hatch_color(), None) if gc.get_hatch() else None,
                float(gc.get_linewidth()),
                tuple(np.asarray(() if dash is None else dash, float).tolist()),
                CAPS[gc.get_capstyle()],
                JOINS[gc.get_joinstyle()],
                None if box is None else tuple(float(v) for v in box.bounds),
            )
        )

    def draw_text(
        self, gc: GraphicsContextBase, x: float, y: float, s: str, *how: object, **more: object
    ) -> None:
        """Keep words; how : their font and how far they are turned."""
        prop, turn = cast("FontProperties", how[0]), cast("float", how[1])
        size = float(prop.get_size_in_points())
        bold = str(prop.get_weight()) in ("bold", "heavy", "700", "800")
        ink = _colour(gc.get_rgb(), gc.get_alpha())
        self.marks.append(Penned(float(x), float(y), s, size, bold, float(turn), ink))


def _colour(told: ColorType, alpha: float | None) -> Colour:
    red, green, blue, faint = (float(v) for v in to_rgba(told))
    return red, green, blue, faint if alpha is None else float(alpha)


def _segments(path: Path, transform: Transform) -> list[Segment]:
    names = {Path.MOVETO: "move", Path.LINETO: "line", Path.CURVE3: "bent", Path.CURVE4: "curve",
             Path.CLOSEPOLY: "close"}  # fmt: skip
    found = path.iter_segments(transform, simplify=False)
    return [(names[code], tuple(float(v) for v in points)) for points, code in found]


# --- laying ---


def _path(canvas: Canvas, segments: Sequence[Segment]) -> PDFPathObject:
    path = canvas.beginPath()
    at = (0.0, 0.0)
    for kind, points in segments:
        if kind == "move":
            path.moveTo(*points)
        elif kind == "line":
            path.lineTo(*points)
        elif kind == "curve":
            path.curveTo(*points)
        elif kind == "bent":  # a parabola as the cubic that is the same curve
            mid, end = np.array(points[:2]), np.array(points[2:])
            first, second = (np.array(p) + 2.0 / 3.0 * (mid - p) for p in (at, end))
            path.curveTo(*first, *second, *end)
        else:
            path.close()
            continue
        at = (points[-2], points[-1])
    return path


def _ink(canvas: Canvas, mark: Inked) -> None:
    if mark.inside is not None:
        box = canvas.beginPath()
        box.rect(*mark.inside)
        canvas.clipPath(box, stroke=0, fill=0)
    if mark.hatch is not None:
        _hatch(canvas, mark)
    if mark.fill is not None:
        canvas.setFillColorRGB(*mark.fill[:3], alpha=mark.fill[3])
    if mark.stroke is not None:
        canvas.setStrokeColorRGB(*mark.stroke[:3], alpha=mark.stroke[3])
        canvas.setLineWidth(mark.weight)
        canvas.setLineCap(mark.cap)
        canvas.setLineJoin(mark.join)
        canvas.setDash(list(mark.dash))
    if mark.fill is not None or mark.stroke is not None:
        stroke, fill = int(mark.stroke is not None), int(mark.fill is not None)
        canvas.drawPath(_path(canvas, mark.segments), stroke=stroke, fill=fill, fillMode=1)


def _hatch(canvas: Canvas, mark: Inked) -> None:
    """Thin lines rising to the right, inside the path alone."""
    assert mark.hatch is not None
    ends = np.array([points[-2:] for kind, points in mark.segments if kind != "close"])
    (left, low), (right, high) = ends.min(axis=0).tolist(), ends.max(axis=0).tolist()
    canvas.saveState()
    canvas.clipPath(_path(canvas, mark.segments), stroke=0, fill=0, fillMode=0)
    canvas.setStrokeColorRGB(*mark.hatch[:3], alpha=mark.hatch[3])
    canvas.setLineWidth(0.6)
    rise = high - low
    steps = np.arange(left - rise, right, HATCHED).tolist()
    canvas.lines([(x, low, x + rise, high) for x in steps])
    canvas.restoreState()


def _pen(canvas: Canvas, mark: Penned) -> None:
    words = shown(mark.words)
    if not words.strip():
        return
    canvas.translate(mark.x, mark.y)
    canvas.rotate(mark.turn)
    canvas.setFillColorRGB(*mark.ink[:3], alpha=mark.ink[3])
    canvas.setFont(NAMES[mark.bold], mark.size)
    canvas.drawString(0, 0, words)
