"""The charts of the balance: the envelope with every case, and the loading graph."""

from __future__ import annotations

import textwrap
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from planform.balance import loading
from planform.balance.adverse import reach
from planform.balance.loader import Loader
from planform.balance.loading import Loaded
from planform.balance.reference import Reference
from planform.core.mass.loading import Envelope
from planform.design.units import show_unit, to_si
from planform.drawing.charts import (
    BAD,
    CARE,
    GOOD,
    INK,
    LINE,
    OPEN,
    REACH,
    SHADES,
    SOFT,
    ChartWriter,
    Made,
    chart,
    chart_label,
    chart_svg,
    chart_units,
)
from planform.study.spreads_of_balance import BalanceFindings

if TYPE_CHECKING:
    from matplotlib.axes import Axes

Array = NDArray[np.float64]

MARKS = {loading.INSIDE: GOOD, loading.CARE: CARE, loading.OUTSIDE: BAD, "not judged": OPEN}
"""Colour and mark of a case, by its verdict."""

HATCH = "#bdb39d"

BESIDE = 30
"""Letters of a line in the list of cases beside the envelope."""


def case_letter(k: int) -> str:
    """The letter of case k, from 0 on: A to Z, then AA, AB and so on."""
    letters = ""
    k += 1
    while k:
        k, last = divmod(k - 1, 26)
        letters = chr(ord("A") + last) + letters
    return letters


@dataclass(frozen=True)
class Paper:
    """The axes, and metres and kilograms per unit on them."""

    axes: Axes
    metre: float
    kilo: float

    def line(self, points: ArrayLike, **look: Any) -> None:
        """A line through points (n, 2): station [m], mass [kg]."""
        at = np.asarray(points, float).reshape(-1, 2)
        self.axes.plot(at[:, 0] / self.metre, at[:, 1] / self.kilo, **look)

    def word(
        self, point: tuple[float, float], text: str, aside: tuple[float, float], **look: Any
    ) -> None:
        """A word beside a point, so many typographic points aside."""
        at = (point[0] / self.metre, point[1] / self.kilo)
        self.axes.annotate(text, at, aside, textcoords="offset points", **look)


def envelope_chart(found: BalanceFindings, system: str) -> str | None:
    """The envelope as SVG; None where there is nothing to draw in."""
    return envelope(found, system, chart_svg)


def envelope(found: BalanceFindings, system: str, write: ChartWriter[Made]) -> Made | None:
    """Weight against CG: the limits, every case with its burn, and what can be loaded at all."""
    answer = found.answer
    loader = answer.loader
    if loader is None or not answer.cases:
        return None
    metre, length, kilo, weight = chart_units(system)
    empty = (loader.record.now.fs, loader.record.now.mass)
    outline = reach(loader)
    edge = curved(np.concatenate([outline, outline[:1]])) if len(outline) > 2 else None
    points = [(p.fs, p.mass) for case in answer.cases for p in case.burn]
    bounds = _bounds(loader.envelope, [*points, empty])
    with chart("envelope", 10.4, 6.0) as (figure, axes):
        paper = Paper(axes, metre, kilo)
        sides = _limit_lines(loader.envelope, bounds)
        if edge is not None:
            paper.line(edge, color=REACH, lw=1.0, ls=(0, (4, 3)))
            widen(bounds, edge)
        for k, case in enumerate(answer.cases):
            draw_case(paper, case_letter(k), case)
        paper.line(empty, marker="D", ms=7, mfc="none", mec=INK, mew=1.6)
        paper.word(empty, "empty", (0, -15), ha="center", color=INK)
        _draw_neutral_point(paper, found, bounds)
        frame(paper, bounds)
        draw_limits(paper, loader.envelope, sides)
        _draw_zero_fuel(paper, loader.envelope)
        axes.set_xlabel(f"CG station, {length} aft of the datum")
        axes.set_ylabel(f"weight, {weight}")
        axes.grid(color=LINE, lw=0.6)
        _mac_axis(axes, answer.reference, metre)
        legend(axes, answer.cases, show_reach=edge is not None)
        return write(figure, f"{answer.design.name}: weight and CG of the loading cases")


def _bounds(envelope: Envelope, points: list[tuple[float, float]]) -> list[float]:
    """Least and greatest station and mass of what is drawn."""
    stations = [fs for fs, _ in points]
    masses = [mass for _, mass in points]
    for limit in (envelope.forward, envelope.aft):
        if limit is not None:
            stations += [float(v) for v in limit.station]
            masses += [float(v) for v in limit.mass if v > 0.0]
    masses += [m for m in (envelope.max_mass, envelope.min_mass) if m is not None]
    return [min(stations), max(stations), min(masses), max(masses)]


def widen(bounds: list[float], edge: Array) -> None:
    """Make room for the outline of all loadings, but not down to the empty aircraft."""
    bounds[0] = min(bounds[0], float(edge[:, 0].min()))
    bounds[1] = max(bounds[1], float(edge[:, 0].max()))
    bounds[3] = max(bounds[3], float(edge[:, 1].max()))


def frame(paper: Paper, bounds: list[float]) -> None:
    """The part of the plane that is shown, with a margin."""
    low, high, bottom, top = bounds
    if not high > low:  # all on one line: room for it
        low, high = low - 0.05, high + 0.05
    if not top > bottom:
        bottom, top = 0.9 * bottom, 1.1 * top
    pad = 0.06 * (high - low)
    rise = 0.09 * (top - bottom)
    paper.axes.set_xlim((low - pad) / paper.metre, (high + pad) / paper.metre)
    paper.axes.set_ylim((bottom - 1.3 * rise) / paper.kilo, (top + rise) / paper.kilo)


def _limit_lines(envelope: Envelope, bounds: list[float]) -> tuple[Array | None, Array | None]:
    """The forward and the aft limit as lines (n, 2) from the least mass to the greatest."""
    spread = bounds[3] - bounds[2]
    low = envelope.min_mass if envelope.min_mass is not None else bounds[2] - 0.2 * spread
    high = envelope.max_mass if envelope.max_mass is not None else bounds[3] + 0.2 * spread
    masses = np.linspace(low, high, 400)
    sides = []
    for limit in (envelope.forward, envelope.aft):
        knots = [] if limit is None else [m for m in limit.mass if low < m < high]
        at = np.sort(np.concatenate([masses, knots]))
        sides.append(None if limit is None else np.array([[limit.at(float(m)), m] for m in at]))
    return sides[0], sides[1]


def draw_limits(paper: Paper, envelope: Envelope, sides: tuple[Array | None, Array | None]) -> None:
    """The limits as a bold line with nothing in it; what lies outside of them is hatched."""
    from matplotlib.patches import PathPatch
    from matplotlib.path import Path

    axes = paper.axes
    (x0, x1), (y0, y1) = axes.get_xlim(), axes.get_ylim()
    scale = np.array([paper.metre, paper.kilo])
    forward, aft = (None if side is None else side / scale for side in sides)
    ends = [m if m is None else m / paper.kilo for m in (envelope.min_mass, envelope.max_mass)]
    least, most = y0 if ends[0] is None else ends[0], y1 if ends[1] is None else ends[1]
    left = np.array([[x0, least], [x0, most]]) if forward is None else forward
    right = np.array([[x1, least], [x1, most]]) if aft is None else aft
    inner = np.concatenate([left, right[::-1], left[:1]])
    sheet = np.array([[x0, y0], [x1, y0], [x1, y1], [x0, y1], [x0, y0]])
    codes = [Path.MOVETO, *[Path.LINETO] * 4, Path.MOVETO, *[Path.LINETO] * (len(inner) - 1)]
    around = Path(np.concatenate([sheet, inner]), codes)
    axes.add_patch(
        PathPatch(around, facecolor="none", edgecolor=HATCH, hatch="//", lw=0.0, zorder=0.5)
    )
    bold: dict[str, Any] = {"color": INK, "lw": 3.2, "solid_capstyle": "projecting", "zorder": 1.8}
    for side in (forward, aft):
        if side is not None:
            axes.plot(side[:, 0], side[:, 1], **bold)
    for mass, k in zip(ends, (0, -1), strict=True):
        if mass is not None:
            axes.plot([left[k, 0], right[k, 0]], [mass, mass], **bold)


def curved(states: Array) -> Array:
    """Mass and moment as CG and mass, with points between, for the CG curves on the way."""
    share = np.linspace(0.0, 1.0, 25)[:, None]
    path = np.concatenate([a + share * (b - a) for a, b in pairwise(states)])
    return np.column_stack([path[:, 1] / path[:, 0], path[:, 0]])


def draw_case(paper: Paper, letter: str, case: Loaded, *, across: bool = False) -> None:
    """A case with all aboard, its letter, and its way to the last fuel.

    across : over butt lines and not over stations
    """
    colour, mark = MARKS[case.verdict]
    states = np.array([[p.mass, p.mass * (p.bl if across else p.fs)] for p in case.burn])
    first, last = ((float(q / m), float(m)) for m, q in (states[0], states[-1]))
    if len(states) > 1:
        paper.line(curved(states), color=colour, lw=1.6)
        paper.line(last, marker="o", ms=4, mfc="white", mec=colour)
    paper.line(first, marker=mark, ms=9, color=colour)
    paper.word(first, letter, (9, 5), weight="bold", color=colour)


def _draw_neutral_point(paper: Paper, found: BalanceFindings, bounds: list[float]) -> None:
    """The neutral point, where known, as a thin upright line that is in the picture."""
    if found.neutral_point is None:
        return
    station = found.neutral_point[0]
    source = "as given" if found.answer.neutral_point is not None else "lattice"
    axes, x = paper.axes, station / paper.metre
    axes.axvline(x, color=SOFT, lw=1.0, ls=(0, (1, 2)))
    axes.text(x, 0.99, f" neutral point, {source}", transform=axes.get_xaxis_transform(),
              rotation=90, va="top", ha="right", fontsize=8, color=SOFT)  # fmt: skip
    bounds[:2] = min(bounds[0], station), max(bounds[1], station)


def _draw_zero_fuel(paper: Paper, envelope: Envelope) -> None:
    """The greatest weight without fuel, as a thin level line."""
    if envelope.max_zero_fuel_mass is None:
        return
    axes, mass = paper.axes, envelope.max_zero_fuel_mass / paper.kilo
    axes.axhline(mass, color=INK, lw=1.0, ls=(0, (6, 3)))
    axes.text(0.01, mass, "greatest zero-fuel weight", transform=axes.get_yaxis_transform(),
              va="bottom", ha="left", fontsize=8, color=INK)  # fmt: skip


def _mac_axis(axes: Axes, reference: Reference | None, metre: float) -> None:
    """Percent of the mean aerodynamic chord along the top."""
    if reference is None:
        return
    upper = axes.secondary_xaxis(
        "top",
        functions=(
            lambda x: (np.asarray(x, float) * metre - reference.lemac) / reference.mac * 100.0,
            lambda share: (
                (reference.lemac + np.asarray(share, float) / 100.0 * reference.mac) / metre
            ),
        ),
    )
    upper.set_xlabel(f"% MAC ({chart_label(reference.name)})", color=SOFT)


def legend(axes: Axes, cases: tuple[Loaded, ...], *, show_reach: bool) -> None:
    """The list of letters beside the chart."""
    from matplotlib.lines import Line2D

    def entry(words: str, **look: Any) -> Line2D:
        lines = textwrap.wrap(words, BESIDE, subsequent_indent="    ")
        return Line2D([], [], label="\n".join(lines), **look)

    handles = []
    for k, case in enumerate(cases):
        colour, mark = MARKS[case.verdict]
        words = f"{case_letter(k)}: {chart_label(case.name)} ({case.verdict})"
        handles.append(entry(words, marker=mark, color=colour, lw=1.6, ms=7))
    handles.append(entry("limits, as given; hatched: outside", color=INK, lw=3.2))
    if show_reach:
        words = "all that the places allow, ballast apart"
        handles.append(entry(words, color=REACH, lw=1.0, ls=(0, (4, 3))))
    axes.figure.legend(handles=handles, loc="outside right upper", frameon=False, fontsize=8.5)


def loading_chart(found: BalanceFindings, system: str) -> str | None:
    """The loading graph as SVG; None where there is nothing to draw in."""
    return loading_graph(found, system, chart_svg)


def loading_graph(found: BalanceFindings, system: str, write: ChartWriter[Made]) -> Made | None:
    """The loading graph: what each place adds to the moment for the weight put there."""
    loader = found.answer.loader
    if loader is None or not loader.places:
        return None
    metre, length, kilo, weight = chart_units(system)
    styles = ("-", (0, (6, 2)), (0, (1, 1.5)))
    ends = []
    moment = show_unit("moment", system)
    unit = to_si(1, moment)
    with chart("loading", 8.6, 5.2) as (figure, axes):
        for k, (arm, names) in enumerate(_by_arm(loader).items()):
            limits = [loader.most(n) for n in names]
            most = max(
                m if np.isfinite(m) else _unbounded(found, n)
                for m, n in zip(limits, names, strict=True)
            )
            label = f"{chart_label(', '.join(names))} ({arm / metre:.4g} {length})"
            axes.plot([0.0, most * arm / unit], [0.0, most / kilo], lw=2.0, label=label,
                      color=SHADES[k % len(SHADES)], ls=styles[k % len(styles)])  # fmt: skip
            ends.append(most)
        axes.set_ylim(0.0, 1.06 * (max(ends) or 1.0) / kilo)
        axes.set_xlabel(f"moment about the datum, {moment}")
        axes.set_ylabel(f"weight in the place, {weight}")
        axes.minorticks_on()
        axes.grid(color=LINE, lw=0.8)
        axes.grid(color=LINE, lw=0.3, which="minor")
        axes.ticklabel_format(style="plain")
        axes.figure.legend(loc="outside right upper", frameon=False, fontsize=8.5)
        return write(figure, f"{found.answer.design.name}: loading graph")


def _unbounded(found: BalanceFindings, name: str) -> float:
    """The most any case puts into a place without a limit, or 100 kg."""
    amounts = [line.mass for c in found.answer.cases for line in c.lines[1:] if line.name == name]
    return 1.25 * max(amounts, default=80.0)


def _by_arm(loader: Loader) -> dict[float, list[str]]:
    """The places by their stations; those side by side share a line of the graph."""
    out: dict[float, list[str]] = {}
    for name in loader.places:
        out.setdefault(loader.arm(name), []).append(name)
    return out
