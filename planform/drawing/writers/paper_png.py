"""A page as PNG, drawn twice as fine and made smaller, so that thin lines stay grey."""

from __future__ import annotations

from io import BytesIO
from typing import TYPE_CHECKING

import numpy as np

from planform.drawing.paper.letters import CAPITAL, font_path, shown
from planform.drawing.paper.marks import Area, Array, Circle, Lettering, Mark
from planform.drawing.paper.page import Page
from planform.drawing.paper.pens import FILLS, pen_of

if TYPE_CHECKING:
    from PIL.Image import Image as Picture
    from PIL.ImageDraw import ImageDraw as Brush

DPI = 150.0
FINER = 2


def png_page(page: Page, dpi: float = DPI) -> bytes:
    """The page as the content of a PNG file.

    dpi : dots an inch of paper
    """
    from PIL import Image, ImageDraw

    scale = FINER * dpi / 25.4
    wide, high = (round(one * dpi / 25.4) for one in (page.paper.width, page.paper.height))
    picture = Image.new("L", (FINER * wide, FINER * high), 255)
    easel = _Easel(picture, ImageDraw.Draw(picture), scale, page.paper.height)
    for mark in page.marks():
        easel.put(mark)
    small = picture.resize((wide, high), Image.Resampling.BOX)
    out = BytesIO()
    small.save(out, "PNG", optimize=True, dpi=(dpi, dpi))
    return out.getvalue()


class _Easel:
    """A picture that marks in millimetres are put on."""

    def __init__(self, picture: Picture, brush: Brush, scale: float, high: float) -> None:
        self.picture, self.brush, self.scale, self.high = picture, brush, scale, high

    def _px(self, points: Array) -> list[tuple[float, float]]:
        return [(x * self.scale, (self.high - y) * self.scale) for x, y in points.tolist()]

    def put(self, mark: Mark) -> None:
        """One mark."""
        if isinstance(mark, Lettering):
            self._words(mark)
        elif isinstance(mark, Area):
            self._area(mark)
        else:
            points = mark.points() if isinstance(mark, Circle) else mark.points
            closed = not isinstance(mark, Circle) and mark.closed
            self._line(np.concatenate([points, points[:1]]) if closed else points, mark.pen)

    def _area(self, mark: Area) -> None:
        """Even-odd: each ring in its own mask, and the masks crossed with each other."""
        from PIL import Image, ImageChops, ImageDraw

        pixels = [self._px(ring) for ring in mark.rings]
        low = np.floor(np.min([np.min(one, axis=0) for one in pixels], axis=0)).astype(int) - 1
        high = np.ceil(np.max([np.max(one, axis=0) for one in pixels], axis=0)).astype(int) + 2
        size = (int(high[0] - low[0]), int(high[1] - low[1]))
        whole = Image.new("1", size, 0)
        for one in pixels:
            mask = Image.new("1", size, 0)
            ImageDraw.Draw(mask).polygon([(x - low[0], y - low[1]) for x, y in one], fill=1)
            whole = ImageChops.logical_xor(whole, mask)
        ink = _grey(FILLS[mark.fill])
        self.picture.paste(ink, (int(low[0]), int(low[1])), whole)
        if mark.pen is not None:
            for ring in mark.rings:
                self._line(np.concatenate([ring, ring[:1]]), mark.pen)

    def _line(self, points: Array, name: str) -> None:
        pen = pen_of(name)
        wide = max(1, round(pen.width * self.scale))
        for run in _dashed(points, pen.dash):
            self.brush.line(self._px(run), fill=_grey(pen.ink), width=wide, joint="curve")

    def _words(self, mark: Lettering) -> None:
        from PIL import Image, ImageDraw, ImageFont

        text = shown(mark.text)
        if not text.strip():
            return
        foot = {"start": 0.0, "middle": 0.5, "end": 1.0}[mark.foot]
        ((x, y),) = self._px(mark.point[None])
        font = ImageFont.truetype(
            str(font_path(mark.bold)), mark.capital / CAPITAL * self.scale,
            layout_engine=ImageFont.Layout.BASIC,
        )  # fmt: skip
        long = font.getlength(text)
        if not mark.turn:
            self.brush.text(
                (x - foot * long, y), text, fill=_grey(mark.ink), font=font, anchor="ls"
            )
            return
        half = int(long + 3.0 * font.size)
        mask = Image.new("L", (2 * half, 2 * half), 0)
        begin = half - foot * long
        ImageDraw.Draw(mask).text((begin, half), text, fill=255, font=font, anchor="ls")
        mask = mask.rotate(np.degrees(mark.turn), Image.Resampling.BILINEAR)
        self.picture.paste(_grey(mark.ink), (round(x) - half, round(y) - half), mask)


def _grey(ink: str) -> int:
    red, green, blue = (int(ink[k : k + 2], 16) for k in (1, 3, 5))
    return round(0.299 * red + 0.587 * green + 0.114 * blue)


def _dashed(points: Array, dash: tuple[float, ...]) -> list[Array]:
    """A line as its strokes; itself where the dash is empty."""
    if not dash:
        return [points]
    steps = np.linalg.norm(np.diff(points, axis=0), axis=1)
    along = np.concatenate([[0.0], np.cumsum(steps)])
    bounds = np.cumsum([0.0, *dash * (int(along[-1] / sum(dash)) + 1)])
    out = []
    for start, end in zip(bounds[:-1:2], bounds[1::2], strict=False):
        if start >= along[-1]:
            break
        at = np.unique(np.clip([start, end, *along[(along > start) & (along < end)]], 0, along[-1]))
        out.append(np.column_stack([np.interp(at, along, points[:, k]) for k in (0, 1)]))
    return out
