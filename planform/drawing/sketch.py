"""A drawing that is kept as it is drawn, to be written as SVG or painted as pixels alike."""

from __future__ import annotations

import re
import textwrap
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from planform.drawing import labels
from planform.drawing.labels import Box, Found
from planform.drawing.style import PAPER
from planform.drawing.svg import STYLE, Drawing

Array = NDArray[np.float64]

LETTER, BOLD = 0.6, 0.68
"""Width of a letter as a share of its size, for finding a free place."""


@cache
def looks() -> dict[str, dict[str, str]]:
    """The style sheet of the drawings as tables: class -> property -> value."""
    found = {}
    for name, rules in re.findall(r"\.?([a-z]+)\{(.*?)\}", STYLE):
        found[name] = dict(rule.split(":", 1) for rule in rules.split(";") if rule)
    return found


def letter_size(css: str) -> float:
    """Size of letters of a class [px]."""
    rules = looks().get(css, {})
    if "font-size" in rules:
        return float(rules["font-size"].removesuffix("px"))
    return float(looks()["text"]["font"].split("px")[0])


def letter_width(css: str) -> float:
    """Width of letters of a class as a share of their size, rather too wide than too narrow."""
    return BOLD if looks().get(css, {}).get("font-weight") == "bold" else LETTER


KEPT = ("part", "disc", "panel", "parked", "ghost", "wall", "board")
"""Classes of shapes and lines that no words may cover: the aircraft and the walls."""

WRAP = 34
"""Letters of a line of a label, about."""

LEADING = 1.2
"""Distance of lines of words as a share of their size."""


@dataclass(frozen=True)
class Label:
    """Words that still look for their place beside a point."""

    point: Array
    lines: tuple[str, ...]
    css: str

    @property
    def size(self) -> tuple[float, float]:
        """Width and height [px]."""
        size = letter_size(self.css)
        wide = max(len(line) for line in self.lines) * size * letter_width(self.css)
        return wide, size * (1.0 + LEADING * (len(self.lines) - 1)) + 0.25 * size


class Sketch(Drawing):
    """A drawing in metres that remembers its shapes, lines, dots and words.

    Labels are placed when the drawing is written or painted, with all that is on it known.
    """

    def __init__(self, low: Array, high: Array, width: int = 640, margin: float = 0.6) -> None:
        super().__init__(low, high, width, margin)
        self.drawn: list[tuple[str, Any, str, Any]] = []
        self.labels: list[Label] = []
        self.boxes: list[Box] = []
        self.wordless = False

    def shape(self, geometry: Any, css: str, title: str = "") -> None:
        """A shapely polygon or collection of them, with holes."""
        self.drawn.append(("shape", geometry, css, None))
        super().shape(geometry, css, title)

    def polygon(self, points: Any, css: str) -> None:
        """A closed outline of points."""
        self.drawn.append(("polygon", np.asarray(points, float), css, None))
        super().polygon(points, css)

    def line(self, points: Any, css: str) -> None:
        """An open line through points."""
        self.drawn.append(("line", np.asarray(points, float), css, None))
        super().line(points, css)

    def dot(self, point: Any, css: str, radius: float = 3.0) -> None:
        """A dot of so many px."""
        self.drawn.append(("dot", np.asarray(point, float)[:2], css, radius))
        super().dot(point, css, radius)

    def words(self, point: Any, text: str, css: str = "", anchor: str = "middle") -> None:
        """Words at a point, kept on the sheet; none on a wordless one."""
        if not self.wordless:
            self.letter(point, text, css, anchor)

    def letter(self, point: Any, text: str, css: str = "", anchor: str = "middle") -> None:
        """Words at a point, kept on the sheet, whatever the sheet."""
        size = letter_size(css)
        x, y = self.at(point)
        wide = letter_width(css) * size * len(text)
        left = x - {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor] * wide
        shift = min(max(left, 4.0), max(4.0, self.width - 4.0 - wide)) - left
        point = np.asarray(point, float)[:2] + np.array([shift / self.scale, 0.0])
        self.boxes.append((left + shift, y - size, left + shift + wide, y + 0.3 * size))
        self.drawn.append(("words", point, css, (text, anchor)))
        super().words(point, text, css, anchor)

    def note(self, point: Any, text: str, css: str = "") -> None:
        """Words beside a point, over no aircraft, wall or other words; none on a wordless sheet.

        A place farther off gets a thin line to the point. Where the sheet has no place left, it
        grows at its lower end.
        """
        if not self.wordless and text.strip():
            lines = tuple(textwrap.wrap(text, WRAP))
            self.labels.append(Label(np.asarray(point, float)[:2], lines, css))

    def settle(self) -> None:
        """Place the labels that still look for their place, the strong ones first."""
        if not self.labels:
            return
        room = self._room()
        waiting, self.labels = sorted(self.labels, key=lambda one: one.css != "strong"), []
        for label in waiting:
            wide, high = label.size
            point = self.at(label.point)
            found = room.place(point, wide, high)
            while found is None:
                self._grow(high + 8.0)
                room.grow(self.height)
                found = room.place(point, min(wide, self.width - 12.0), high)
            self._write(label, found)

    def text(self, title: str) -> str:
        """The whole SVG."""
        self.settle()
        return super().text(title)

    def _grow(self, more: float) -> None:
        self.low = self.low - np.array([0.0, more / self.scale])
        self.height = round(float(self.high[1] - self.low[1]) * self.scale)

    def _write(self, label: Label, found: Found) -> None:
        if found.leader is not None:
            self.line([label.point, self._back(*found.leader)], "thin")
        left, top, right, _ = found.box
        size = letter_size(label.css)
        for k, line in enumerate(label.lines):
            down = top + size * (1.0 + LEADING * k)
            self.letter(self._back(0.5 * (left + right), down), line, label.css)

    def _room(self) -> labels.Room:
        """What is drawn, as what words must and had better keep off."""
        import shapely

        room = labels.Room(self.width, self.height)
        for what, where, css, more in self.drawn:
            kept = css in KEPT
            if what == "dot":
                room.keep_dot(*self.at(where), float(more))
            elif what == "line":
                room.keep_line(self._px(where), kept)
            elif what in ("shape", "polygon"):
                polygons = [shapely.polygons(where)] if what == "polygon" else where
                for one in shapely.get_parts(polygons):
                    if one.geom_type == "Polygon" and not one.is_empty:
                        rings = [self._px(r.coords) for r in (one.exterior, *one.interiors)]
                        if kept:
                            room.keep_rings(rings)
                        elif css != "floor":
                            room.keep_line(rings[0])
        for box in self.boxes:
            room.keep_box(box)
        return room

    def _px(self, points: Any) -> Array:
        flat = np.asarray(points, float)[:, :2]
        return np.column_stack(
            [(flat[:, 0] - self.low[0]) * self.scale, (self.high[1] - flat[:, 1]) * self.scale]
        )

    def _back(self, x: float, y: float) -> Array:
        return np.array([self.low[0] + x / self.scale, self.high[1] - y / self.scale])

    def arrow(self, points: Any, css: str, head: str, size: float = 11.0) -> None:
        """A line with a head of so many px at its end."""
        track = np.asarray(points, float)
        reach = size / self.scale
        back = np.linalg.norm(track - track[-1], axis=1) >= reach
        if not back.any():
            return
        way = track[-1] - track[np.flatnonzero(back)[-1]]
        way = way / np.linalg.norm(way)
        side = np.array([-way[1], way[0]])
        foot = track[-1] - reach * way
        self.line([*track[: np.flatnonzero(back)[-1] + 1], foot], css)
        self.polygon([track[-1], foot + 0.5 * reach * side, foot - 0.5 * reach * side], head)

    def hatch(self, outline: Any, css: str, gap: float = 7.0) -> None:
        """Slanting lines over a shape, so many px apart."""
        import shapely

        area = shapely.polygons(np.asarray(outline, float))
        x0, y0, x1, y1 = area.bounds
        step = gap * 2.0**0.5 / self.scale
        rise = y1 - y0
        for start in np.arange(x0 - rise + 0.5 * step, x1, step):
            piece = shapely.linestrings([(start, y0), (start + rise, y1)]).intersection(area)
            for part in shapely.get_parts(piece):
                if part.geom_type == "LineString" and part.length > 0.0:
                    self.line(list(part.coords), css)

    def painted(self, scale: float = 1.0) -> Any:
        """The drawing as a Pillow image, so many px for each px of the SVG."""
        self.settle()
        paint = Paint(self, scale)
        for call in self.drawn:
            paint.call(*call)
        return paint.finished()


class Paint:
    """Paints what a sketch keeps, at twice the size, and halves it in the end for smooth edges."""

    FINER = 2

    def __init__(self, sketch: Sketch, scale: float, image: Any = None) -> None:
        from PIL import Image

        self.sketch, self.scale = sketch, scale * self.FINER
        self.size = (round(sketch.width * scale), round(sketch.height * scale))
        big = (self.size[0] * self.FINER, self.size[1] * self.FINER)
        self.image = Image.new("RGB", big, PAPER) if image is None else image

    def finished(self) -> Any:
        """The picture in its size."""
        from PIL import Image

        return self.image.resize(self.size, Image.Resampling.BOX)

    def call(self, what: str, where: Any, css: str, more: Any) -> None:
        """One thing that was drawn."""
        ways: dict[str, Any] = {
            "shape": self._shape,
            "polygon": lambda points, rules, _: self._filled([points], rules),
            "line": lambda points, rules, _: self._line(points, rules),
            "dot": self._dot,
            "words": self._words,
        }
        ways[what](where, looks().get(css, {}), more)

    def _px(self, points: Any) -> list[tuple[float, float]]:
        low, high, k = self.sketch.low, self.sketch.high, self.sketch.scale * self.scale
        return [(float((p[0] - low[0]) * k), float((high[1] - p[1]) * k)) for p in points]

    def _shape(self, geometry: Any, rules: dict[str, str], _: Any) -> None:
        import shapely

        for polygon in shapely.get_parts(geometry):
            if polygon.geom_type == "Polygon" and not polygon.is_empty:
                rings = [polygon.exterior, *polygon.interiors]
                self._filled([np.array(ring.coords)[:-1] for ring in rings], rules)

    def _filled(self, rings: list[Any], rules: dict[str, str]) -> None:
        fill = rules.get("fill", "#000000")
        if fill != "none":
            self._area([self._px(ring) for ring in rings], fill, _share(rules, "fill-opacity"))
        for ring in rings:
            self._line([*ring, ring[0]], rules)

    def _area(self, rings: list[list[tuple[float, float]]], fill: str, opacity: float) -> None:
        from PIL import Image, ImageDraw

        if opacity >= 1.0 and len(rings) == 1:
            ImageDraw.Draw(self.image).polygon(rings[0], fill=fill)
            return
        flat = np.array([p for ring in rings for p in ring])
        low = np.maximum(np.floor(flat.min(axis=0)).astype(int) - 1, 0)
        high = np.minimum(np.ceil(flat.max(axis=0)).astype(int) + 2, self.image.size)
        if (high <= low).any():
            return
        mask = Image.new("L", tuple((high - low).tolist()), 0)
        draw = ImageDraw.Draw(mask)
        for k, ring in enumerate(rings):
            shade = round(255 * opacity) if k == 0 else 0
            draw.polygon([(x - low[0], y - low[1]) for x, y in ring], fill=shade)
        self.image.paste(fill, tuple(low.tolist()), mask)

    def _line(self, points: Any, rules: dict[str, str]) -> None:
        from PIL import ImageDraw

        colour = rules.get("stroke", "none")
        if colour == "none":
            return
        width = max(1, round(float(rules.get("stroke-width", "1")) * self.scale))
        dashes = [float(v) * self.scale for v in rules.get("stroke-dasharray", "").split()]
        draw = ImageDraw.Draw(self.image)
        for piece in _dashed(self._px(points), dashes):
            draw.line(piece, fill=colour, width=width, joint="curve")

    def _dot(self, point: Any, rules: dict[str, str], radius: float) -> None:
        from PIL import ImageDraw

        (x, y), r = self._px([point])[0], radius * self.scale
        stroke = rules.get("stroke")
        width = round(float(rules.get("stroke-width", "1")) * self.scale) if stroke else 0
        fill = rules.get("fill", "#000000")
        ImageDraw.Draw(self.image).ellipse(
            (x - r, y - r, x + r, y + r),
            fill=None if fill == "none" else fill,
            outline=stroke,
            width=width,
        )

    def _words(self, point: Any, rules: dict[str, str], more: tuple[str, str]) -> None:
        from PIL import ImageDraw

        text, anchor = more
        base = looks()["text"]
        size = float(rules.get("font-size", base["font"].split("px")[0] + "px")[:-2])
        ImageDraw.Draw(self.image).text(
            self._px([point])[0],
            text,
            fill=rules.get("fill", base["fill"]),
            font=font(size * self.scale, rules.get("font-weight") == "bold"),
            anchor={"start": "ls", "middle": "ms", "end": "rs"}[anchor],
            stroke_width=round(1.6 * self.scale),
            stroke_fill=base["stroke"],
        )


def _share(rules: dict[str, str], name: str) -> float:
    return float(rules.get(name, "1"))


def _dashed(points: list[tuple[float, float]], dashes: list[float]) -> list[Any]:
    """A line cut into its dashes; the whole line where there are none."""
    if not dashes:
        return [points]
    track = np.array(points)
    run = np.linalg.norm(np.diff(track, axis=0), axis=1)
    along = np.concatenate([[0.0], np.cumsum(run)])
    out, at, on = [], 0.0, True
    k = 0
    while at < along[-1]:
        end = min(at + dashes[k % len(dashes)], float(along[-1]))
        if on and end > at:
            inner = along[(along > at) & (along < end)]
            spots = np.array([at, *inner, end])
            x, y = np.interp(spots, along, track[:, 0]), np.interp(spots, along, track[:, 1])
            out.append(list(zip(x.tolist(), y.tolist(), strict=True)))
        at, on, k = end, not on, k + 1
    return out


@cache
def font(size: float, bold: bool = False) -> Any:
    """DejaVu Sans, which comes with matplotlib, in a size [px]."""
    import matplotlib
    from PIL import ImageFont

    name = "DejaVuSans-Bold.ttf" if bold else "DejaVuSans.ttf"
    path = Path(matplotlib.get_data_path()) / "fonts" / "ttf" / name
    return ImageFont.truetype(str(path), size, layout_engine=ImageFont.Layout.BASIC)
