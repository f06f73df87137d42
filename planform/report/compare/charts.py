"""The charts of a comparison: drag against bending, and the loading along the span."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from planform.drawing.charts import (
    BAD,
    CARE,
    EDGE,
    GOOD,
    INK,
    LINE,
    OPEN,
    SHADES,
    chart,
    chart_svg,
    chart_units,
)
from planform.fit.verdict import Verdict
from planform.study.terms import Figures

if TYPE_CHECKING:
    from matplotlib.axes import Axes

Array = NDArray[np.float64]

MARKS = {"fits": GOOD, "care": CARE, "not": BAD, "un": OPEN}
"""Colour and mark of a verdict, by its key; see `planform.fit.verdict.Verdict.colour`."""


def trade_chart(records: Sequence[Figures], good: set[int], title: str, system: str) -> str | None:
    """Induced drag against root bending, an option a mark; rings mark those no other beats."""
    whole = [r for r in records if r["drag_area"] is not None]
    if len(whole) < 2:
        return None
    metre, length, _, _ = chart_units(system)
    base = whole[0]["drag_area"]
    x = {r["number"]: 100.0 * r["drag_area"] / base for r in whole}
    y = {r["number"]: r["bending"] / metre for r in whole}
    with chart("trade", 8.6, 5.4) as (figure, axes):
        for r in whole:
            colour, mark = MARKS[_verdict(r).colour]
            n = r["number"]
            axes.plot(x[n], y[n], marker=mark, ms=9 if n else 12, color=colour, lw=0)
            if n in good:
                axes.plot(x[n], y[n], marker="o", ms=19, mfc="none", mec=EDGE, mew=1.4)
        axes.margins(0.12)
        if len(whole) <= LABELLED:
            _number_marks(axes, {r["number"]: (x[r["number"]], y[r["number"]]) for r in whole})
        axes.set_xlabel("induced drag at the same lift, % of the base design")
        axes.set_ylabel(f"root bending over lift, {length}")
        axes.grid(color=LINE, lw=0.6)
        _trade_legend(axes, whole, bool(good))
        return chart_svg(figure, title)


def _verdict(record: Figures) -> Verdict:
    """An option's verdict; not judged without a place."""
    return Verdict(record["verdict"] or Verdict.UNJUDGED)


def _number_marks(axes: Axes, marks: dict[int, tuple[float, float]]) -> None:
    """The number beside each mark; marks that nearly coincide share one label."""
    axes.autoscale_view()
    where = {n: axes.transData.transform(point) for n, point in marks.items()}
    groups: list[list[int]] = []
    for n, point in where.items():
        near = (g for g in groups if np.abs(where[g[0]] - point).max() < TOGETHER)
        found = next(near, None)
        if found is None:
            groups.append([n])
        else:
            found.append(n)
    for group in groups:
        axes.annotate(
            ", ".join(map(str, group)),
            marks[group[0]],
            (10, 6),
            textcoords="offset points",
            weight="bold",
            color=INK,
        )


TOGETHER = 16.0
"""Marks nearer to one another than this [px] share a label."""

LABELLED = 30
"""Options up to which a plot numbers its marks."""


def _trade_legend(axes: Axes, whole: Sequence[Figures], any_good: bool) -> None:
    from matplotlib.lines import Line2D

    verdicts = dict.fromkeys(map(_verdict, whole))
    handles = [
        Line2D([], [], marker=mark, color=colour, lw=0, ms=8, label=verdict.value)
        for verdict in verdicts
        for colour, mark in [MARKS[verdict.colour]]
    ]
    if any_good:
        words = "not beaten in drag, bending and tip height at once"
        handles.append(
            Line2D([], [], marker="o", mfc="none", mec=EDGE, mew=1.4, lw=0, ms=13, label=words)
        )
    axes.figure.legend(handles=handles, loc="outside lower center", ncols=3, frameon=False,
                       fontsize=8.5)  # fmt: skip


def span_chart(
    loadings: Sequence[tuple[str, Sequence[tuple[str, Array, Array, Array]]]],
    title: str,
    system: str,
) -> str | None:
    """Loading along the span: chord times section lift coefficient, an option a line.

    loadings : for each option its name and, for each surface, the surface's name, butt lines,
        distances along it and chord times cl [m], from the root outward
    """
    if not loadings:
        return None
    metre, length, _, _ = chart_units(system)
    shades = (INK, *SHADES[:-1])
    with chart("span", 8.6, 4.8) as (figure, axes):
        for k, (name, surfaces) in enumerate(loadings):
            for j, (_, y, _, value) in enumerate(surfaces):
                axes.plot(
                    y / metre,
                    value / metre,
                    color=shades[k % len(shades)],
                    ls="-" if k < len(shades) else "--",
                    label=None if j else name,
                )
        axes.set_xlabel(f"butt line, {length}")
        axes.set_ylabel(f"chord times section lift coefficient, {length}")
        axes.grid(color=LINE, lw=0.6)
        axes.figure.legend(loc="outside lower center", ncols=3, frameon=False, fontsize=8.5)
        return chart_svg(figure, title)
