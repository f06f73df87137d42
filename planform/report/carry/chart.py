"""Width and height of a carried part against its roll."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from planform.drawing.charts import (
    BAD,
    EDGE,
    LINE,
    REACH,
    SOFT,
    chart,
    chart_svg,
    chart_units,
)
from planform.fit.carrying import Along


def roll_chart(way: Along, openings: Sequence[tuple[str, float]], title: str, system: str) -> str:
    """Width and height of a carried part against the roll, with the clear widths of openings."""
    metre, length, _, _ = chart_units(system)
    rolls = np.union1d(np.linspace(0.0, np.pi, 361), way.outline.flush)
    curves = (
        (way.outline.width(rolls), EDGE, "width"),
        (way.outline.height(rolls), REACH, "height"),
    )
    with chart("roll", 8.6, 4.6) as (figure, axes):
        for values, colour, name in curves:
            axes.plot(np.degrees(rolls), values / metre, color=colour, lw=2.0, label=name)
        top = max(float(values.max()) for values, _, _ in curves)
        for name, size in openings:
            if size < 1.6 * top:
                axes.axhline(size / metre, color=BAD[0], lw=1.0, ls=(0, (5, 3)))
                axes.text(
                    179.0, size / metre, name, ha="right", va="bottom", fontsize=8, color=SOFT
                )
        axes.set_xlim(0.0, 180.0)
        axes.set_xticks(range(0, 181, 15))
        axes.set_ylim(0.0, None)
        axes.set_xlabel("roll about the way it is carried, deg; 0 lying flat")
        axes.set_ylabel(length)
        axes.grid(color=LINE, lw=0.6)
        axes.figure.legend(loc="outside lower center", ncols=2, frameon=False, fontsize=8.5)
        return chart_svg(figure, title)
