"""Which characters a text of a file may hold, and how a text that holds others is shown.

Control characters would act on a terminal, marks of writing direction would show a text in
another order than it stands in the file, and invisible ones make two names look alike. They are
refused where a file is read; everything else is shown as it is, by every writer.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping

LETTERS = {
    "ß": "ss", "æ": "ae", "œ": "oe", "ø": "o", "đ": "d", "ð": "d", "þ": "th", "ł": "l",
    "ħ": "h", "ŧ": "t", "ı": "i", "ĸ": "k", "ŋ": "n", "⁄": "/",
}  # fmt: skip
"""Latin letters that are no plain letter with a mark, and the bar of a fraction."""

JOINERS = "\u200c\u200d"
"""Invisible, but part of how some scripts and signs are written."""


def hidden(text: str, *, lines: bool = False) -> str | None:
    """The first character of a text that cannot be seen for what it is; None where all can.

    lines : line ends and tabs are allowed
    """
    if text.isascii() and text.isprintable():
        return None
    allowed = JOINERS + ("\n\r\t" if lines else "")
    return next((mark for mark in text if _unseen(mark) and mark not in allowed), None)


def _unseen(mark: str) -> bool:
    return unicodedata.category(mark) in ("Cc", "Cf", "Cs", "Zl", "Zp")


def named(mark: str) -> str:
    """What a character that cannot be seen is called, such as 'U+001B'."""
    name = unicodedata.name(mark, "")
    return f"U+{ord(mark):04X}{f' ({name.lower()})' if name else ''}"


def shown(text: str) -> str:
    """A text with every character that cannot be seen as its escape; line ends stay."""
    if text.isascii() and text.isprintable():
        return text
    return "".join(_escaped(m) if _unseen(m) and m not in JOINERS + "\n" else m for m in text)


def _escaped(mark: str) -> str:
    """As in JSON: beyond the basic plane, two halves."""
    units = mark.encode("utf-16-be", "surrogatepass")
    return "".join(f"\\u{units[k] << 8 | units[k + 1]:04x}" for k in range(0, len(units), 2))


def bracketed(text: str) -> str:
    """A text in brackets behind a blank; nothing where it is empty."""
    return f" ({text})" if text.strip() else ""


def folded(text: str, other: Mapping[str, str] = LETTERS) -> str:
    """A text in ASCII: letters without their marks; what has no such letter is left out.

    other : what stands for single letters and signs that are not taken apart
    """
    parts = unicodedata.normalize("NFKD", text)
    return "".join(other.get(mark, mark if mark.isascii() else "") for mark in parts)


def file_name(number: int, name: str) -> str:
    """The name of a file or folder made from a name of a file: no two numbers give the same.

    number : counts what has a name of its own, so that names that fold to the same stay apart
    """
    plain = re.sub(r"[^a-z0-9]+", "-", folded(name.casefold()).lower()).strip("-")
    return f"{number}-{plain}".rstrip("-")
