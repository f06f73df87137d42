"""The fonts that every PDF carries with it."""

from __future__ import annotations

from planform.drawing.paper.letters import font_path

NAMES = {False: "Planform", True: "PlanformBold"}
"""What the embedded fonts are called."""

MM = 72.0 / 25.4
"""Points of a PDF in a millimetre."""


def fonts() -> None:
    """Make the embedded fonts known to reportlab, once."""
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    known = pdfmetrics.getRegisteredFontNames()
    for bold, name in NAMES.items():
        if name not in known:
            pdfmetrics.registerFont(TTFont(name, str(font_path(bold))))
    pdfmetrics.registerFontFamily(
        NAMES[False], NAMES[False], NAMES[True], NAMES[False], NAMES[True]
    )
