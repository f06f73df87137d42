"""The envelope and the loading graph as SVG, through matplotlib; imported only where drawn."""

from __future__ import annotations

import io
import re
import warnings
from collections.abc import Sequence
from html import escape
from itertools import pairwise
from typing import Any

import numpy as np
from numpy.typing import NDArray

from planform.balance.loading import CARE, INSIDE, OUTSIDE, Loaded, Loader, reach
from planform.core.mass.loading import Envelope
from planform.design.units import INCH, POUND, show_unit, to_si
from planform.fit.carrying import Along
from planform.fit.verdict import Verdict
from planform.study.spreads_of_balance import BalanceFindings

Array = NDArray[np.float64]

INK, SOFT, LINE, PAPER = "#22343c", "#5d6b70", "#d8d2c4", "#fbfaf6"
ALLOWED, EDGE, REACH = "#e3f0ea", "#2f6f73", "#8a7622"
COLOURS = {INSIDE: "#1f5f4d", CARE: "#7d5a06", OUTSIDE: "#9c3019", "not judged": "#555555"}
MARKS = {INSIDE: "o", CARE: "s", OUTSIDE: "X", "not judged": "D"}

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
    "text.parse_math": False,
}


def _units(system: str) -> tuple[float, str, float, str]:
    """Metres per unit of station, its name, kilograms per unit of weight, its name."""
    if system in ("ft-in", "in"):
        return INCH, "in", POUND, "lb"
    return 0.001, "mm", 1.0, "kg"


def _figure(name: str, width: float, height: float) -> tuple[Any, Any]:
    import matplotlib
    from matplotlib.figure import Figure

    settings: Any = matplotlib.rcParams
    settings.update({**STYLE, "svg.hashsalt": name})
    figure = Figure(figsize=(width, height), layout="constrained")
    return figure, figure.add_subplot()


LONGEST = 56
"""Letters of a legend's line; a longer one is cut, as it would leave no room for the plot."""


def _label(text: str) -> str:
    """A text as a legend's label: short, and never begun with an underscore, which hides it."""
    short = text if len(text) <= LONGEST else f"{text[: LONGEST - 1]}…"
    return f" {short}" if short.startswith("_") else short


def _svg(figure: Any, name: str, title: str) -> str:
    """The figure as SVG alone, its ids its own, so that several may stand in one page."""
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


def envelope_chart(found: BalanceFindings, system: str) -> str | None:
    """Weight against CG: the limits, every case with its burn, and what can be loaded at all."""
    answer = found.answer
    loader = answer.loader
    if loader is None or not answer.cases:
        return None
    metre, length, kilo, weight = _units(system)
    figure, axes = _figure("envelope", 8.6, 6.0)
    empty = loader.record.now
    points = [(p.fs, p.mass) for case in answer.cases for p in case.burn]
    points += [(empty.fs, empty.mass)]
    outline = reach(loader)
    bounds = _bounds(loader.envelope, points)
    _draw_limits(axes, loader.envelope, bounds, metre, kilo)
    if len(outline) > 2:
        edge = _curved(np.concatenate([outline, outline[:1]]))
        axes.plot(edge[:, 0] / metre, edge[:, 1] / kilo, color=REACH, lw=1.0, ls=(0, (4, 3)))
        axes.fill(edge[:, 0] / metre, edge[:, 1] / kilo, color=REACH, alpha=0.06, lw=0)
        top = edge[np.argmax(edge[:, 1] + 1e-3 * edge[:, 0])]
        bounds[0] = min(bounds[0], float(edge[:, 0].min()))
        bounds[1] = max(bounds[1], float(edge[:, 0].max()))
        bounds[3] = max(bounds[3], float(top[1]))
    for k, case in enumerate(answer.cases):
        _draw_case(axes, k + 1, case, metre, kilo)
    axes.plot(empty.fs / metre, empty.mass / kilo, marker="D", ms=7, mfc="none", mec=INK, mew=1.6)
    axes.annotate(
        "empty", (empty.fs / metre, empty.mass / kilo), (0, -15), textcoords="offset points",
        ha="center", color=INK,
    )  # fmt: skip
    point = found.neutral_point
    if point is not None:
        x = point[0] / metre
        source = "as given" if answer.neutral_point is not None else "lattice"
        axes.axvline(x, color=SOFT, lw=1.0, ls=(0, (1, 2)))
        axes.text(x, 0.99, f" neutral point, {source}", transform=axes.get_xaxis_transform(),
                  rotation=90, va="top", ha="right", fontsize=8, color=SOFT)  # fmt: skip
        bounds[:2] = min(bounds[0], point[0]), max(bounds[1], point[0])
    low, high, bottom, top_mass = bounds
    pad = 0.06 * (high - low)
    axes.set_xlim((low - pad) / metre, (high + pad) / metre)
    rise = 0.09 * (top_mass - bottom)
    axes.set_ylim((bottom - 1.3 * rise) / kilo, (top_mass + rise) / kilo)
    axes.set_xlabel(f"CG station, {length} aft of the datum")
    axes.set_ylabel(f"weight, {weight}")
    axes.grid(color=LINE, lw=0.6)
    reference = answer.reference
    if reference is not None:
        upper = axes.secondary_xaxis(
            "top",
            functions=(
                lambda x: (x * metre - reference.lemac) / reference.mac * 100.0,
                lambda share: (reference.lemac + share / 100.0 * reference.mac) / metre,
            ),
        )
        upper.set_xlabel(f"% MAC ({_label(reference.name)})", color=SOFT)
    _legend(axes, answer.cases, show_reach=len(outline) > 2)
    return _svg(figure, "envelope", f"{answer.design.name}: weight and CG of the loading cases")


def _bounds(envelope: Envelope, points: list[tuple[float, float]]) -> list[float]:
    stations = [fs for fs, _ in points]
    masses = [mass for _, mass in points]
    for limit in (envelope.forward, envelope.aft):
        if limit is not None:
            stations += [float(v) for v in limit.station]
            masses += [float(v) for v in limit.mass if v > 0.0]
    masses += [m for m in (envelope.max_mass, envelope.min_mass) if m is not None]
    return [min(stations), max(stations), min(masses), max(masses)]


def _draw_limits(
    axes: Any, envelope: Envelope, bounds: list[float], metre: float, kilo: float
) -> None:
    spread = bounds[3] - bounds[2]
    low = envelope.min_mass if envelope.min_mass is not None else bounds[2] - 0.2 * spread
    high = envelope.max_mass if envelope.max_mass is not None else bounds[3] + 0.2 * spread
    masses = np.linspace(low, high, 400)
    sides = []
    for limit in (envelope.forward, envelope.aft):
        knots = [] if limit is None else [m for m in limit.mass if low < m < high]
        at = np.sort(np.concatenate([masses, knots]))
        sides.append(None if limit is None else np.array([[limit.at(float(m)), m] for m in at]))
    forward, aft = sides
    if forward is not None and aft is not None:
        around = np.concatenate([forward, aft[::-1]])
        axes.fill(around[:, 0] / metre, around[:, 1] / kilo, color=ALLOWED, lw=0, zorder=0)
    for side in (forward, aft):
        if side is not None:
            axes.plot(side[:, 0] / metre, side[:, 1] / kilo, color=EDGE, lw=2.2)
    for mass in (envelope.max_mass, envelope.min_mass):
        if mass is not None:
            ends = [
                float(side[np.argmin(abs(side[:, 1] - mass)), 0]) if side is not None else far
                for side, far in ((forward, bounds[0]), (aft, bounds[1]))
            ]
            axes.plot(np.array(ends) / metre, [mass / kilo] * 2, color=EDGE, lw=2.2)


def _curved(states: Array) -> Array:
    """Mass and moment as CG and mass, with points between, for the CG curves on the way."""
    share = np.linspace(0.0, 1.0, 25)[:, None]
    path = np.concatenate([a + share * (b - a) for a, b in pairwise(states)])
    return np.column_stack([path[:, 1] / path[:, 0], path[:, 0]])


def _draw_case(axes: Any, number: int, case: Loaded, metre: float, kilo: float) -> None:
    colour = COLOURS[case.verdict]
    states = np.array([[p.mass, p.mass * p.fs] for p in case.burn])
    if len(states) > 1:
        path = _curved(states)
        axes.plot(path[:, 0] / metre, path[:, 1] / kilo, color=colour, lw=1.6)
        axes.plot(case.burn[-1].fs / metre, case.burn[-1].mass / kilo, marker="o", ms=4,
                  mfc="white", mec=colour)  # fmt: skip
    first = case.burn[0]
    axes.plot(first.fs / metre, first.mass / kilo, marker=MARKS[case.verdict], ms=9, color=colour)
    axes.annotate(
        str(number), (first.fs / metre, first.mass / kilo), (9, 5), textcoords="offset points",
        weight="bold", color=colour,
    )  # fmt: skip


def _legend(axes: Any, cases: tuple[Loaded, ...], *, show_reach: bool) -> None:
    from matplotlib.lines import Line2D

    handles = [
        Line2D([], [], marker=MARKS[c.verdict], color=COLOURS[c.verdict], lw=1.6, ms=7,
               label=f"{k + 1}  {_label(c.name)}: {c.verdict}")
        for k, c in enumerate(cases)
    ]  # fmt: skip
    handles.append(Line2D([], [], color=EDGE, lw=2.2, label="limits, as given"))
    if show_reach:
        words = "all that the places allow, ballast apart"
        handles.append(Line2D([], [], color=REACH, lw=1.0, ls=(0, (4, 3)), label=words))
    axes.figure.legend(handles=handles, loc="outside lower center", ncols=2, frameon=False,
                       fontsize=8.5)  # fmt: skip


def loading_chart(found: BalanceFindings, system: str) -> str | None:
    """The loading graph: what each place adds to the moment for the weight put there."""
    loader = found.answer.loader
    if loader is None or not loader.places:
        return None
    metre, length, kilo, weight = _units(system)
    figure, axes = _figure("loading", 8.6, 5.2)
    shades = (EDGE, "#9c3019", REACH, "#4d4266", "#1f5f4d", "#7a5215", "#35576b", "#8c2f5b")
    styles = ("-", (0, (6, 2)), (0, (1, 1.5)))
    ends = []
    moment = show_unit("moment", system)
    unit = to_si(1, moment)
    for k, (arm, names) in enumerate(_by_arm(loader).items()):
        limits = [loader.most(n) for n in names]
        most = max(
            m if np.isfinite(m) else _unbounded(found, n)
            for m, n in zip(limits, names, strict=True)
        )
        axes.plot([0.0, most * arm / unit], [0.0, most / kilo], lw=2.0,
                  color=shades[k % len(shades)], ls=styles[k % len(styles)],
                  label=f"{_label(', '.join(names))} ({arm / metre:.4g} {length})")  # fmt: skip
        ends.append(most)
    axes.set_ylim(0.0, 1.06 * max(ends) / kilo)
    axes.set_xlabel(f"moment about the datum, {moment}")
    axes.set_ylabel(f"weight in the place, {weight}")
    axes.minorticks_on()
    axes.grid(color=LINE, lw=0.8)
    axes.grid(color=LINE, lw=0.3, which="minor")
    axes.ticklabel_format(style="plain")
    axes.figure.legend(loc="outside right upper", frameon=False, fontsize=8.5)
    title = f"{found.answer.design.name}: loading graph"
    return _svg(figure, "loading", title)


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


FIT_COLOURS = {
    "fits": ("#1f5f4d", "o"),
    "care": ("#7d5a06", "s"),
    "not": ("#9c3019", "X"),
    "un": ("#555555", "D"),
}
"""Colour and mark of a verdict, by its key; see `planform.fit.verdict.Verdict.colour`."""


def trade_chart(
    records: Sequence[dict[str, Any]], good: set[int], title: str, system: str
) -> str | None:
    """Induced drag against root bending, an option a mark; rings mark those no other beats."""
    whole = [r for r in records if r["drag_area"] is not None]
    if len(whole) < 2:
        return None
    metre, length, _, _ = _units(system)
    base = whole[0]["drag_area"]
    figure, axes = _figure("trade", 8.6, 5.4)
    x = {r["number"]: 100.0 * r["drag_area"] / base for r in whole}
    y = {r["number"]: r["bending"] / metre for r in whole}
    for r in whole:
        colour, mark = FIT_COLOURS[_verdict(r).colour]
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
    return _svg(figure, "trade", title)


def _verdict(record: dict[str, Any]) -> Verdict:
    """An option's verdict; not judged without a place."""
    return Verdict(record["verdict"] or Verdict.UNJUDGED)


def _number_marks(axes: Any, marks: dict[int, tuple[float, float]]) -> None:
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


def _trade_legend(axes: Any, whole: Sequence[dict[str, Any]], any_good: bool) -> None:
    from matplotlib.lines import Line2D

    verdicts = dict.fromkeys(map(_verdict, whole))
    handles = [
        Line2D([], [], marker=mark, color=colour, lw=0, ms=8, label=verdict.value)
        for verdict in verdicts
        for colour, mark in [FIT_COLOURS[verdict.colour]]
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
    metre, length, _, _ = _units(system)
    figure, axes = _figure("span", 8.6, 4.8)
    shades = (INK, EDGE, "#9c3019", REACH, "#4d4266", "#1f5f4d", "#7a5215", "#35576b")
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
    return _svg(figure, "span", title)


def roll_chart(way: Along, openings: Sequence[tuple[str, float]], title: str, system: str) -> str:
    """Width and height of a carried part against the roll, with the clear widths of openings."""
    metre, length, _, _ = _units(system)
    rolls = np.union1d(np.linspace(0.0, np.pi, 361), way.outline.flush)
    figure, axes = _figure("roll", 8.6, 4.6)
    curves = (
        (way.outline.width(rolls), EDGE, "width"),
        (way.outline.height(rolls), REACH, "height"),
    )
    for values, colour, name in curves:
        axes.plot(np.degrees(rolls), values / metre, color=colour, lw=2.0, label=name)
    top = max(float(values.max()) for values, _, _ in curves)
    for name, size in openings:
        if size < 1.6 * top:
            axes.axhline(size / metre, color="#9c3019", lw=1.0, ls=(0, (5, 3)))
            axes.text(179.0, size / metre, name, ha="right", va="bottom", fontsize=8, color=SOFT)
    axes.set_xlim(0.0, 180.0)
    axes.set_xticks(range(0, 181, 15))
    axes.set_ylim(0.0, None)
    axes.set_xlabel("roll about the way it is carried, deg; 0 lying flat")
    axes.set_ylabel(length)
    axes.grid(color=LINE, lw=0.6)
    axes.figure.legend(loc="outside lower center", ncols=2, frameon=False, fontsize=8.5)
    return _svg(figure, "roll", title)
