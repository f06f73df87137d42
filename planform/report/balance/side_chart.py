"""The chart of the balance across: weight against the CG's butt line, with the limits to a side."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from planform.balance.adverse import reach
from planform.core.mass.loading import Envelope
from planform.drawing.charts import INK, LINE, REACH, ChartWriter, Made, chart, chart_units
from planform.report.balance.charts import (
    Paper,
    case_letter,
    curved,
    draw_case,
    draw_limits,
    frame,
    legend,
    widen,
)
from planform.study.spreads_of_balance import BalanceFindings

Array = NDArray[np.float64]


def lateral(found: BalanceFindings, system: str, write: ChartWriter[Made]) -> Made | None:
    """Weight against the CG's butt line; None where nothing limits it."""
    answer = found.answer
    loader = answer.loader
    if loader is None or not answer.cases or not loader.envelope.sideways:
        return None
    metre, length, kilo, weight = chart_units(system)
    empty = (loader.record.now.bl, loader.record.now.mass)
    outline = reach(loader, 2)
    edge = curved(np.concatenate([outline, outline[:1]])) if len(outline) > 2 else None
    bounds = _bounds(loader.envelope, [(p.bl, p.mass) for c in answer.cases for p in c.burn], empty)
    with chart("lateral", 10.4, 6.0) as (figure, axes):
        paper = Paper(axes, metre, kilo)
        sides = _lines(loader.envelope, bounds)
        if edge is not None:
            paper.line(edge, color=REACH, lw=1.0, ls=(0, (4, 3)))
            widen(bounds, edge)
        for k, case in enumerate(answer.cases):
            draw_case(paper, case_letter(k), case, across=True)
        paper.line(empty, marker="D", ms=7, mfc="none", mec=INK, mew=1.6)
        paper.word(empty, "empty", (0, -15), ha="center", color=INK)
        frame(paper, bounds)
        draw_limits(paper, loader.envelope, sides)
        axes.set_xlabel(f"CG butt line, {length}, right positive")
        axes.set_ylabel(f"weight, {weight}")
        axes.grid(color=LINE, lw=0.6)
        legend(axes, answer.cases, show_reach=edge is not None)
        return write(figure, f"{answer.design.name}: weight and CG to the side")


def _bounds(
    envelope: Envelope, points: list[tuple[float, float]], empty: tuple[float, float]
) -> list[float]:
    """Least and greatest butt line and mass of what is drawn."""
    across = [bl for bl, _ in (*points, empty)]
    masses = [mass for _, mass in (*points, empty)]
    masses += [m for m in (envelope.max_mass, envelope.min_mass) if m is not None]
    across += [b for b in (envelope.left, envelope.right) if b is not None]
    if envelope.lateral_moment is not None:
        most = envelope.lateral_moment / min(masses)
        across += [-most, most]
    return [min(across), max(across), min(masses), max(masses)]


def _lines(envelope: Envelope, bounds: list[float]) -> tuple[Array | None, Array | None]:
    """The limits to the left and right as lines (n, 2) from the least mass to the greatest."""
    spread = bounds[3] - bounds[2]
    low = envelope.min_mass if envelope.min_mass is not None else bounds[2] - 0.2 * spread
    high = envelope.max_mass if envelope.max_mass is not None else bounds[3] + 0.2 * spread
    masses = np.linspace(max(low, 1e-3), high, 400)
    moment = envelope.lateral_moment
    held = np.full(len(masses), np.inf) if moment is None else moment / masses
    left = np.maximum(-held, -np.inf if envelope.left is None else envelope.left)
    right = np.minimum(held, np.inf if envelope.right is None else envelope.right)
    one, two = (
        np.column_stack([side, masses]) if np.isfinite(side).all() else None
        for side in (left, right)
    )
    return one, two
