"""Drawings as pixels, through Pillow: painted at twice the size and halved for smooth edges."""

from __future__ import annotations

import io
from collections.abc import Iterable
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from planform.drawing.drawing import Arc, Dimension, Drawing, Fill, Line, Mark, Text
from planform.drawing.style import PAPER, Look, look_of

if TYPE_CHECKING:
    from PIL.Image import Image
    from PIL.ImageFont import FreeTypeFont

Array = NDArray[np.float64]

ENDING = "png"

FINE = 1.6
"""Pixels of a file for each px of the sheet."""

HALO = 1.6
"""Paper round letters [px]."""

ROUND = 0.1
"""An arc is painted with corners about so far apart [rad]."""


def written(drawing: Drawing) -> bytes:
    """The content of a PNG file."""
    out = io.BytesIO()
    painted(drawing, FINE).save(out, format="PNG", optimize=True)
    return out.getvalue()


def painted(drawing: Drawing, zoom: float = 1.0) -> Image:
    """The drawing as a Pillow image, so many pixels for each px of the sheet."""
    paint = Paint(drawing, zoom)
    paint.marks(drawing.marks)
    return paint.finished()


class Paint:
    """An image in the making.

    image : what is painted on, in twice the size, rather than bare paper
    """

    FINER = 2

    def __init__(self, drawing: Drawing, zoom: float, image: Image | None = None) -> None:
        from PIL import Image

        self.drawing, self.zoom = drawing, zoom * self.FINER
        width, height = drawing.size
        self.size = (round(width * zoom), round(height * zoom))
        big = (self.size[0] * self.FINER, self.size[1] * self.FINER)
        self.image = Image.new("RGB", big, PAPER) if image is None else image

    def finished(self) -> Image:
        """The picture in its size."""
        from PIL import Image

        return self.image.resize(self.size, Image.Resampling.BOX)

    def marks(self, marks: Iterable[Mark]) -> None:
        """Paint marks over what is there."""
        for mark in marks:
            if isinstance(mark, Dimension):
                self.marks(mark.drawn(self.drawing.scale))
            elif isinstance(mark, Fill):
                self._fill(mark, look_of(mark.kind))
            elif isinstance(mark, Line):
                self._line(self._px(mark.points), look_of(mark.kind))
            elif isinstance(mark, Arc):
                self._arc(mark, look_of(mark.kind))
            else:
                self._text(mark, look_of(mark.kind))

    def _px(self, points: Array) -> Array:
        return self.drawing.px(points) * self.zoom

    def _fill(self, mark: Fill, look: Look) -> None:
        rings = [self._px(ring) for ring in mark.rings]
        if look.fill is not None:
            self._area(rings, look.fill, look.opacity)
        for ring in rings:
            self._line(np.concatenate([ring, ring[:1]]), look)

    def _area(self, rings: list[Array], fill: str, opacity: float) -> None:
        from PIL import Image, ImageDraw

        if opacity >= 1.0 and len(rings) == 1:
            ImageDraw.Draw(self.image).polygon(_pairs(rings[0]), fill=fill)
            return
        flat = np.concatenate(rings)
        low = np.maximum(np.floor(flat.min(axis=0)).astype(int) - 1, 0)
        high = np.minimum(np.ceil(flat.max(axis=0)).astype(int) + 2, self.image.size)
        if (high <= low).any():
            return
        mask = Image.new("L", tuple((high - low).tolist()), 0)
        draw = ImageDraw.Draw(mask)
        ways = [_turns(ring) * _turns(rings[0]) >= 0.0 for ring in rings]
        for solid in (True, False):
            for ring, way in zip(rings, ways, strict=True):
                if way is solid:
                    draw.polygon(_pairs(ring - low), fill=round(255 * opacity) if solid else 0)
        self.image.paste(fill, tuple(low.tolist()), mask)

    def _line(self, points: Array, look: Look) -> None:
        from PIL import Image, ImageDraw

        if look.stroke is None:
            return
        width = max(1, round(look.weight * self.zoom))
        faint = look.stroke_opacity < 1.0
        target = Image.new("L", self.image.size, 0) if faint else self.image
        ink = round(255 * look.stroke_opacity) if faint else look.stroke
        draw = ImageDraw.Draw(target)
        for piece in dashed(points, [v * self.zoom for v in look.dash]):
            draw.line(_pairs(piece), fill=ink, width=width, joint="curve")
        if faint:
            self.image.paste(look.stroke, (0, 0), target)

    def _arc(self, mark: Arc, look: Look) -> None:
        from PIL import ImageDraw

        if not mark.whole:
            count = max(2, int(np.ceil(mark.sweep / ROUND)) + 1)
            angles = mark.start + np.linspace(0.0, mark.sweep, count)
            way = np.column_stack([np.cos(angles), np.sin(angles)])
            self._line(self._px(mark.centre + mark.radius * way), look)
            return
        x, y = self._px(mark.centre).tolist()
        r = mark.radius * self.drawing.scale * self.zoom
        ImageDraw.Draw(self.image).ellipse(
            (x - r, y - r, x + r, y + r),
            fill=look.fill,
            outline=look.stroke,
            width=round(look.weight * self.zoom) if look.stroke else 0,
        )

    def _text(self, mark: Text, look: Look) -> None:
        from PIL import ImageDraw

        x, y = self._px(mark.point).tolist()
        ImageDraw.Draw(self.image).text(
            (x, y),
            mark.words,
            fill=look.fill,
            font=font(look.letter * self.zoom, look.bold),
            anchor={"start": "ls", "middle": "ms", "end": "rs"}[mark.anchor],
            stroke_width=round(HALO * self.zoom),
            stroke_fill=PAPER,
        )


def _pairs(points: Array) -> list[tuple[float, float]]:
    return [(x, y) for x, y in points.tolist()]


def _turns(ring: Array) -> float:
    """Twice the area within a ring (n, 2), below zero where it runs round the other way."""
    x, y = (ring - ring[0]).T
    return float(x @ np.roll(y, -1) - y @ np.roll(x, -1))


def dashed(points: Array, dashes: list[float]) -> list[Array]:
    """A line (n, 2) cut into its dashes; the whole line where there are none."""
    if not dashes:
        return [points]
    run = np.linalg.norm(np.diff(points, axis=0), axis=1)
    along = np.concatenate([[0.0], np.cumsum(run)])
    out, at, on = [], 0.0, True
    k = 0
    while at < along[-1]:
        end = min(at + dashes[k % len(dashes)], float(along[-1]))
        if on and end > at:
            inner = along[(along > at) & (along < end)]
            spots = np.array([at, *inner, end])
            out.append(np.column_stack([np.interp(spots, along, v) for v in points.T]))
        at, on, k = end, not on, k + 1
    return out


@cache
def font(size: float, bold: bool = False) -> FreeTypeFont:
    """DejaVu Sans, which comes with matplotlib, in a size [px]."""
    import matplotlib
    from PIL import ImageFont

    name = "DejaVuSans-Bold.ttf" if bold else "DejaVuSans.ttf"
    path = Path(matplotlib.get_data_path()) / "fonts" / "ttf" / name
    return ImageFont.truetype(str(path), size, layout_engine=ImageFont.Layout.BASIC)
