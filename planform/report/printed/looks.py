"""How a printed document looks: sizes, colours and styles of its letters."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING
from xml.sax.saxutils import escape

from planform.drawing.paper.letters import shown
from planform.drawing.writers.embedded import NAMES, fonts

if TYPE_CHECKING:
    from reportlab.lib.styles import ParagraphStyle

PLAIN, BOLD = NAMES[False], NAMES[True]
INK, SOFT, LINE, RED = "#1d2b31", "#4d5a5f", "#b9b3a6", "#8f2b16"

MARGIN = 14.0
"""Of a page, on every side [mm]."""
FOOT = 8.0
"""Of the foot line above the edge of the paper [mm]."""

SIZES = {
    "title": (17.0, 20.0, 0.0, 3.0),
    "h1": (12.5, 15.0, 9.0, 3.0),
    "h2": (9.5, 12.0, 6.0, 2.0),
    "body": (8.1, 10.3, 1.0, 2.0),
    "soft": (6.9, 8.4, 0.5, 1.5),
    "cell": (7.2, 8.5, 0.0, 0.0),
    "head": (6.9, 8.3, 0.0, 0.0),
    "strong": (7.6, 9.2, 0.0, 0.0),
    "table title": (9.0, 11.0, 0.0, 0.0),
    "caption": (7.0, 8.9, 1.5, 2.0),
}
"""Size of letters, from line to line, before and after [pt]."""
HEAVY = {"title", "h1", "h2", "head", "strong", "table title"}


@cache
def style(name: str, right: bool = False) -> ParagraphStyle:
    """A style by its name; right : lines end at the right."""
    from reportlab.lib.styles import ParagraphStyle

    fonts()
    size, leading, before, after = SIZES[name]
    return ParagraphStyle(
        f"{name}{' right' if right else ''}",
        fontName=BOLD if name in HEAVY else PLAIN,
        fontSize=size,
        leading=leading,
        spaceBefore=before,
        spaceAfter=after,
        textColor=SOFT if name in ("soft", "head", "caption") else INK,
        alignment=2 if right else 0,
        splitLongWords=1,
        allowWidows=0,
        allowOrphans=0,
    )


VERDICTS = {
    "fits": ("#1f5f4d", "#e3f0ea"),
    "care": ("#5f4300", "#f3e2a8"),
    "not": ("#ffffff", RED),
    "un": ("#444444", "#e6e6e6"),
}
"""Ink and ground of a verdict, by the key of its colour; apart in grey too."""


def safe(text: str) -> str:
    """A text as it stands, in a paragraph: no letter of it is a mark-up."""
    return escape(shown(text))


def in_colour(text: str, key: str) -> str:
    """A verdict in bold on its ground."""
    ink, ground = VERDICTS[key]
    spaced = safe(text).replace(" ", "\u00a0")
    return f'<font name="{BOLD}" color="{ink}" backColor="{ground}">\u00a0{spaced}\u00a0</font>'
