"""How wide words are on paper, how they are fitted, and where the font lies."""

from __future__ import annotations

import unicodedata
from functools import cache
from importlib.util import find_spec
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from PIL.ImageFont import FreeTypeFont

CAPITAL = 0.729
"""Height of a capital letter in the font's size (DejaVu Sans)."""

FONTS = {False: "DejaVuSans.ttf", True: "DejaVuSans-Bold.ttf"}
"""Files of the plain and the bold font; matplotlib brings both with their free licence."""

UNITS = 1000
_MISSING = "\N{WHITE SQUARE}"


@cache
def font_path(bold: bool = False) -> Path:
    """Where the font lies, found without loading what it came with."""
    spec = find_spec("matplotlib")
    if spec is None or spec.origin is None:
        raise FileNotFoundError("matplotlib, which brings the fonts")
    return Path(spec.origin).parent / "mpl-data" / "fonts" / "ttf" / FONTS[bold]


@cache
def _font(bold: bool) -> FreeTypeFont:
    from PIL import ImageFont

    return ImageFont.truetype(str(font_path(bold)), UNITS, layout_engine=ImageFont.Layout.BASIC)


@cache
def width(text: str, capital: float, bold: bool = False) -> float:
    """How wide words are [mm] whose capital letters are so high [mm]."""
    return float(_font(bold).getlength(text)) / UNITS * capital / CAPITAL


@cache
def _held(letter: str) -> bool:
    """Whether the font has this letter."""
    font = _font(False)
    return letter.isspace() or bytes(font.getmask(letter)) != bytes(font.getmask("\uffff"))


def _safe(letter: str) -> bool:
    """Whether it is a letter to be seen, no control character, lone half or mark of order."""
    return unicodedata.category(letter) not in ("Cc", "Cf", "Cs")


def shown(text: str) -> str:
    """The text in the order that it is seen in, with a box for each letter the font has not.

    Control characters and marks that turn the order of letters are boxes too: no file is broken by
    one, and no reader turns the order once more.
    """
    kept = [one if _safe(one) and (ord(one) < 0x250 or _held(one)) else _MISSING for one in text]
    out: list[str] = []
    turned: list[str] = []
    for one in kept:
        way = unicodedata.bidirectional(one)
        if way in ("R", "AL") or (turned and way in ("NSM", "WS")):
            turned.append(one)
            continue
        out += reversed(turned)
        turned = []
        out.append(one)
    return "".join(out + turned[::-1])


def fitted(text: str, wide: float, capital: float, bold: bool = False) -> str:
    """The text, or as much of it as a width [mm] takes, with an ellipsis."""
    if width(text, capital, bold) <= wide:
        return text
    low, high = 0, len(text)
    while low < high:
        middle = (low + high + 1) // 2
        if width(text[:middle].rstrip() + "…", capital, bold) <= wide:
            low = middle
        else:
            high = middle - 1
    return text[:low].rstrip() + "…"


def wrapped(text: str, wide: float, capital: float, bold: bool = False) -> list[str]:
    """The text on lines no wider than this [mm]; a longer word is broken."""
    lines: list[str] = []
    line = ""
    for word in text.split():
        for piece in _pieces(word, wide, capital, bold):
            longer = f"{line} {piece}" if line else piece
            if line and width(longer, capital, bold) > wide:
                lines.append(line)
                line = piece
            else:
                line = longer
    return [*lines, line] if line else lines


def _pieces(word: str, wide: float, capital: float, bold: bool) -> list[str]:
    out = []
    while width(word, capital, bold) > wide and len(word) > 1:
        count = len(word) - 1
        while count > 1 and width(word[:count], capital, bold) > wide:
            count -= 1
        out.append(word[:count])
        word = word[count:]
    return [*out, word]
