"""What every chart shares: a figure in our own looks, written as SVG, through matplotlib.

matplotlib is imported only where something is drawn, and its settings are as before afterwards.
"""

from __future__ import annotations

import io
import re
import warnings
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from html import escape
from typing import TYPE_CHECKING, Any, TypeVar

from planform.design.units import INCH, POUND
from planform.drawing.style import PAPER

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

INK, SOFT, LINE = "#22343c", "#5d6b70", "#d8d2c4"
EDGE, REACH = "#2f6f73", "#8a7622"
GOOD, CARE, BAD, OPEN = ("#1f5f4d", "o"), ("#7d5a06", "s"), ("#9c3019", "X"), ("#555555", "D")
"""Colour and mark of what holds, holds with care, does not hold, is not judged."""
SHADES = (EDGE, BAD[0], REACH, "#4d4266", GOOD[0], "#7a5215", "#35576b", "#8c2f5b")
"""Colours of lines beside one another."""

STYLE = {
    "svg.fonttype": "none",
    "font.family": "DejaVu Sans",
    "font.size": 9.5,
    "axes.edgecolor": INK,
    "axes.labelcolor": INK,
    "text.color": INK,
    "xtick.color": SOFT,
    "ytick.color": SOFT,
    "figure.facecolor": PAPER,
    "axes.facecolor": "#ffffff",
    "axes.linewidth": 1.0,
    "hatch.linewidth": 0.6,
    "text.parse_math": False,
}

Made = TypeVar("Made")
ChartWriter = Callable[["Figure", str], Made]
"""Makes something of a finished figure and its title, such as SVG."""

LONGEST = 56
"""Letters of a legend's line; a longer one is cut, as it would leave no room for the plot."""


def chart_units(system: str) -> tuple[float, str, float, str]:
    """Metres per unit of station, its name, kilograms per unit of weight, its name."""
    if system in ("ft-in", "in"):
        return INCH, "in", POUND, "lb"
    return 0.001, "mm", 1.0, "kg"


@contextmanager
def chart(name: str, width: float, height: float) -> Iterator[tuple[Figure, Axes]]:
    """A figure of so many inches and its axes, to be drawn and written in here.

    name : begins every id in the SVG, so that several may stand in one page
    """
    import matplotlib
    from matplotlib.figure import Figure

    settings: Any = {**STYLE, "svg.hashsalt": name}
    with matplotlib.rc_context(settings):
        figure = Figure(figsize=(width, height), layout="constrained")
        figure.set_gid(name)
        yield figure, figure.add_subplot()


def chart_label(text: str, longest: int = LONGEST) -> str:
    """A text as a legend's label: short, and never begun with an underscore, which hides it."""
    short = text if len(text) <= longest else f"{text[: longest - 1]}…"
    return f" {short}" if short.startswith("_") else short


def chart_svg(figure: Figure, title: str) -> str:
    """The figure as SVG alone, its ids its own, so that several may stand in one page."""
    name = figure.get_gid()
    out = io.StringIO()
    with warnings.catch_warnings():  # the words stay text: the reader's own fonts draw them
        warnings.filterwarnings("ignore", "Glyph .* missing from font")
        figure.savefig(out, format="svg", metadata={"Date": None})
    text = out.getvalue()
    text = re.sub(r"<metadata>.*?</metadata>", "", text[text.index("<svg") :], flags=re.DOTALL)
    for pattern in (r'id="', r"url\(#", r'href="#'):
        text = re.sub(f"({pattern})", rf"\1{name}-", text)
    text = re.sub(r"<style[^>]*>\*\{", f"<style>[id^={name}-] *{{", text)  # not the whole page
    return text.replace("<svg", f'<svg role="img" aria-label="{escape(title)}"', 1)
