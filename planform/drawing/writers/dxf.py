"""A page as DXF: the things in true size in model space, the sheet in paper space.

Named layers with line weights, DIMENSION entities that measure, one viewport a view at its scale.
Millimetres everywhere. The same page gives the same bytes.
"""

from __future__ import annotations

import io
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import cache
from typing import TYPE_CHECKING

import numpy as np

from planform.drawing.paper.dimension import (
    ARROW,
    FREE,
    LETTER,
    PAST,
    Angular,
    DimensionLine,
    Linear,
    Radius,
)
from planform.drawing.paper.letters import shown
from planform.drawing.paper.marks import Area, Array, Circle, Lettering, Mark, PenStroke
from planform.drawing.paper.page import Drawable, Page, PlacedView, simple
from planform.drawing.paper.pens import FILLS, PENS, pen_of

if TYPE_CHECKING:
    from ezdxf.document import Drawing as Document
    from ezdxf.entities import Dimension
    from ezdxf.layouts.base import BaseLayout
    from ezdxf.layouts.layout import Paperspace

VERSION = "R2010"
TEXT, FILL = "TEXT", "FILL"
STYLE = "PLANFORM"
WEIGHTS = (13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100)
"""Line weights that the format knows [0.01 mm]."""
ALIGN = {"start": "LEFT", "middle": "CENTER", "end": "RIGHT"}
APART = 0.1
"""Free room to the right of a view in model space, in widths of the view."""


def dxf_page(page: Page) -> bytes:
    """The page as the content of a DXF file."""
    from ezdxf import units
    from ezdxf.filemanagement import new

    with _pinned():
        document = new(VERSION, setup=False, units=units.MM)
        document.header["$MEASUREMENT"] = 1
        document.header["$LUNITS"] = 2
        document.header["$PSLTSCALE"] = (
            0  # dashes are as long as the entity says, in every viewport
        )
        _tables(document)
        model, sheet = document.modelspace(), document.paperspace("Layout1")
        sheet.page_setup(
            size=(page.paper.width, page.paper.height), margins=(0, 0, 0, 0), units="mm",
            name=page.paper.name,
        )  # fmt: skip
        free: float | None = None
        for view in page.views:
            free = _view(_Space(document, model), view, free, sheet)
        space = _Space(document, sheet)
        for one in page.drawn:
            space.put(one)
        stream = io.StringIO()
        document.write(stream)
    return stream.getvalue().encode(document.output_encoding, errors="dxfreplace")


@contextmanager
def _pinned() -> Iterator[None]:
    """Write no dates and no random numbers."""
    from ezdxf._options import options

    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


def _tables(document: Document) -> None:
    """Layers, line types, the style of texts and that of dimensions."""
    patterns = _patterns()
    for dash, name in patterns.items():
        pattern = [sum(dash), *(one if k % 2 == 0 else -one for k, one in enumerate(dash))]
        document.linetypes.add(name, pattern, description=name.lower())
    for pen in PENS.values():
        if pen.layer not in document.layers:
            layer = document.layers.add(pen.layer, color=7, lineweight=_weight(pen.width))
            if pen.dash:
                layer.dxf.linetype = patterns[pen.dash]
    for name in (TEXT, FILL):
        if name not in document.layers:
            document.layers.add(name, color=7)
    document.styles.add(STYLE, font="DejaVuSans.ttf")


@cache
def _patterns() -> dict[tuple[float, ...], str]:
    """The names of the line types, by their dashes."""
    return {pen.dash: pen.layer for pen in PENS.values() if pen.dash}


def _weight(width: float) -> int:
    return min(WEIGHTS, key=lambda one: abs(one - 100.0 * width))


def _view(space: _Space, view: PlacedView, free: float | None, sheet: Paperspace) -> float:
    """A view in model space in true size, and its viewport on the sheet.

    free : right of where model space is free [mm]; None puts the origin of the view's plane at 0
    Returns the same for the next view.
    """
    grow = 1000.0 / view.scale.mm
    start, end = ((view.box[k] - float(view.at[0])) * grow for k in (0, 2))
    shift = 0.0 if free is None else free - start
    offset = np.array([shift, 0.0])

    def to_model(points: Array) -> Array:
        return np.asarray((points - view.at) * grow + offset)

    space.move, space.grow = to_model, grow
    space.style = f"{STYLE}_{round(grow * 1000)}"
    _dimension_style(space.document, space.style, grow)
    for one in view.drawn:
        space.put(one)
    left, bottom, right, top = view.box
    middle = np.array([0.5 * (left + right), 0.5 * (bottom + top)])
    at = to_model(middle)
    sheet.add_viewport(
        center=tuple(middle.tolist()), size=(right - left + 2.0, top - bottom + 2.0),
        view_center_point=tuple(at.tolist()), view_height=(top - bottom + 2.0) * grow,
        dxfattribs={"layer": "VIEWPORTS"},
    )  # fmt: skip
    return shift + end + APART * (end - start)


def _dimension_style(document: Document, name: str, grow: float) -> None:
    if "VIEWPORTS" not in document.layers:
        document.layers.add("VIEWPORTS", color=7, plot=False)
    if name in document.dimstyles:
        return
    style = document.dimstyles.add(name)
    style.dxf.dimtxsty = STYLE
    style.dxf.dimscale = grow
    style.dxf.dimlfac = 1.0
    style.dxf.dimtxt, style.dxf.dimasz = LETTER, ARROW
    style.dxf.dimexo, style.dxf.dimexe, style.dxf.dimgap = FREE, PAST, FREE
    style.dxf.dimtad = 1
    style.dxf.dimdec = 2


class _Space:
    """Model space, or the sheet: marks in millimetres of the page are put on it.

    move : the page's millimetres as this space has them; grow : how much larger sizes are here
    """

    def __init__(self, document: Document, layout: BaseLayout) -> None:
        self.document, self.layout = document, layout
        self.grow, self.style = 1.0, STYLE
        self.move: Callable[[Array], Array] = lambda points: np.asarray(points, float)
        _dimension_style(document, STYLE, 1.0)

    def put(self, one: Drawable) -> None:
        """One mark or dimension."""
        if isinstance(one, Linear):
            self._linear(one)
        elif isinstance(one, Angular):
            self._angular(one)
        elif isinstance(one, Radius):
            self._radius(one)
        elif isinstance(one, DimensionLine):
            for mark in simple((one,)):
                self._mark(mark)
        else:
            self._mark(one)

    def _at(self, point: Array) -> tuple[float, float]:
        x, y = self.move(point).tolist()
        return x, y

    def _linear(self, one: Linear) -> None:
        turn = float(np.degrees(np.arctan2(one.along[1], one.along[0])))
        text = _told(one)
        made = self.layout.add_linear_dim(
            base=self._at(one.through), p1=self._at(one.start), p2=self._at(one.end), angle=turn,
            text=text, dimstyle=self.style, dxfattribs={"layer": "DIMENSIONS"},
            location=None if one.inside and not one.shift else self._at(one.middle),
        )  # fmt: skip
        made.render()
        self._as_on_paper(made.dimension, one)

    def _angular(self, one: Angular) -> None:
        ends = (one.first, one.first + one.sweep)
        units = [np.array([np.cos(turn), np.sin(turn)]) for turn in ends]
        middle = one.first + 0.5 * one.sweep
        base = one.centre + one.radius * np.array([np.cos(middle), np.sin(middle)])
        made = self.layout.add_angular_dim_3p(
            base=self._at(base), center=self._at(one.centre),
            p1=self._at(one.centre + one.radius * units[0]),
            p2=self._at(one.centre + one.radius * units[1]),
            text=_escaped(one.told), dimstyle=self.style, dxfattribs={"layer": "DIMENSIONS"},
        )  # fmt: skip
        made.render()
        self._as_on_paper(made.dimension, one)

    def _radius(self, one: Radius) -> None:
        made = self.layout.add_radius_dim(
            center=self._at(one.centre), mpoint=self._at(one.on), text=_escaped(f"R {one.told}"),
            dimstyle=self.style, dxfattribs={"layer": "DIMENSIONS"},
        )  # fmt: skip
        made.render()
        self._as_on_paper(made.dimension, one)

    def _as_on_paper(self, made: Dimension, one: DimensionLine) -> None:
        """Draw a dimension in its block by the same marks as in all other files."""
        block = made.get_geometry_block()
        if block is None:
            raise ValueError(f"dimension {one.key} has no block")
        block.delete_all_entities()
        space = _Space(self.document, block)
        space.move, space.grow = self.move, self.grow
        for mark in one.drawn():
            space.put(mark)

    def _mark(self, mark: Mark) -> None:
        if isinstance(mark, Lettering):
            self._words(mark)
        elif isinstance(mark, Area):
            self._area(mark)
        elif isinstance(mark, Circle):
            self._circle(mark)
        elif isinstance(mark, PenStroke):
            self._line(mark.points, mark.pen, mark.closed)

    def _look(self, name: str) -> dict[str, object]:
        """Layer, width and line type of a pen; dashes as long on the sheet as elsewhere."""
        pen = pen_of(name)
        look: dict[str, object] = {"layer": pen.layer, "lineweight": _weight(pen.width)}
        if pen.dash:
            look |= {"linetype": _patterns()[pen.dash], "ltscale": self.grow}
        return look

    def _line(self, points: Array, pen: str, closed: bool) -> None:
        attributes = self._look(pen)
        self.layout.add_lwpolyline(self.move(points).tolist(), close=closed, dxfattribs=attributes)

    def _circle(self, mark: Circle) -> None:
        attributes = self._look(mark.pen)
        centre, radius = self._at(mark.centre), mark.radius * self.grow
        if mark.whole:
            self.layout.add_circle(centre, radius, dxfattribs=attributes)
            return
        start, end = np.degrees([mark.start, mark.start + mark.sweep]).tolist()
        self.layout.add_arc(centre, radius, start, end, dxfattribs=attributes)

    def _area(self, mark: Area) -> None:
        grey = int(FILLS[mark.fill][1:], 16)
        hatch = self.layout.add_hatch(dxfattribs={"layer": FILL, "true_color": grey})
        for ring in mark.rings:
            hatch.paths.add_polyline_path(self.move(ring).tolist(), is_closed=True)
        if mark.pen is not None:
            for ring in mark.rings:
                self._line(ring, mark.pen, True)

    def _words(self, mark: Lettering) -> None:
        from ezdxf.enums import TextEntityAlignment

        text = shown(mark.text)
        if not text.strip():
            return
        made = self.layout.add_text(
            text.replace("%%", "% %"), height=mark.capital * self.grow,
            rotation=float(np.degrees(mark.turn)), dxfattribs={"layer": TEXT, "style": STYLE},
        )  # fmt: skip
        made.set_placement(self._at(mark.point), align=TextEntityAlignment[ALIGN[mark.foot]])


def _told(one: Linear) -> str:
    r"""The words of a dimension, as its text says them; what stands under the line after \X."""
    words = _escaped(one.words)
    return f"{words}\\X{_escaped(one.tail)}" if one.tail else words


def _escaped(text: str) -> str:
    plain = shown(text).replace("\\", "\\\\").replace("{", "\\{").replace("}", "\\}")
    return plain.replace("<>", "< >").replace("%%", "% %")
