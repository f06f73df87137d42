"""Pictures side by side in one, each with words under it."""

from __future__ import annotations

import io
import textwrap
from collections.abc import Sequence

from planform.drawing.style import LOOKS, PAPER
from planform.drawing.writers.pixels import font

TILE = (760, 488)
"""Size of a picture in a strip [px]."""
LETTER = 17
LINE = 23
MARGIN = 14


def strip(title: str, tiles: Sequence[tuple[bytes, str]], columns: int = 2) -> bytes:
    """One PNG of several, row by row; tiles : each a PNG and the words under it."""
    from PIL import Image, ImageDraw

    wide = TILE[0] + 2 * MARGIN
    words = [textwrap.wrap(text, 80) or [""] for _, text in tiles]
    across = min(columns, len(tiles))
    rows = [list(range(k, min(k + across, len(tiles)))) for k in range(0, len(tiles), across)]
    under = [LINE * max(len(words[k]) for k in row) for row in rows]
    high = 3 * MARGIN + 30 + sum(TILE[1] + tall + 2 * MARGIN for tall in under)
    sheet = Image.new("RGB", (wide * across, high), PAPER)
    pen = ImageDraw.Draw(sheet)
    ink = str(LOOKS["words"].fill)
    pen.text((MARGIN, MARGIN), title, fill=ink, font=font(22, bold=True))
    top = 3 * MARGIN + 30
    for row, tall in zip(rows, under, strict=True):
        for column, k in enumerate(row):
            left = column * wide + MARGIN
            picture = Image.open(io.BytesIO(tiles[k][0])).convert("RGB").resize(TILE)
            sheet.paste(picture, (left, top))
            pen.rectangle((left, top, left + TILE[0], top + TILE[1]), outline="#d8d2c4")
            for line, text in enumerate(words[k]):
                spot = (left, top + TILE[1] + 6 + LINE * line)
                pen.text(spot, text, fill=ink, font=font(LETTER))
        top += TILE[1] + tall + 2 * MARGIN
    out = io.BytesIO()
    sheet.save(out, "PNG", optimize=True)
    return out.getvalue()
