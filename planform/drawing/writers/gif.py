"""Films as GIF, through Pillow: the same bytes every time."""

from __future__ import annotations

import io
from collections.abc import Sequence
from typing import Any

from planform.drawing.drawing import Film
from planform.drawing.style import LOOKS
from planform.drawing.writers.pixels import Paint

COLOURS = 128
SWATCH = 120


def filmed(film: Film) -> bytes:
    """The content of a GIF file that runs for ever."""
    ground = Paint(film.ground, 1.0)
    ground.marks(film.ground.marks)
    pictures = []
    for frame in film.frames:
        paint = Paint(film.ground, 1.0, ground.image.copy())
        paint.marks(frame.marks)
        pictures.append(paint.finished())
    return _gif(pictures, [frame.lasts for frame in film.frames])


def _gif(pictures: Sequence[Any], times: Sequence[int]) -> bytes:
    """The pictures in one palette, taken from the first and the last of them and from the looks."""
    from PIL import Image

    width, height = pictures[0].size
    strong = sorted({c for look in LOOKS.values() for c in (look.fill, look.stroke) if c})
    known = Image.new("RGB", (width, 2 * height + SWATCH))
    known.paste(pictures[0], (0, 0))
    known.paste(pictures[-1], (0, height))
    wide = width // len(strong)
    for k, colour in enumerate(strong):
        known.paste(colour, (k * wide, 2 * height, (k + 1) * wide, 2 * height + SWATCH))
    palette = known.quantize(COLOURS, method=Image.Quantize.MEDIANCUT)
    flat = [p.quantize(palette=palette, dither=Image.Dither.NONE) for p in pictures]
    out = io.BytesIO()
    flat[0].save(
        out,
        format="GIF",
        save_all=True,
        append_images=flat[1:],
        duration=list(times),
        loop=0,
        optimize=False,
    )
    return out.getvalue()
