"""What changed against the base: a few figures of what is asked about beside those of the base."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from planform.airframe.measure import extents
from planform.airframe.stance import Standing
from planform.balance.stages import Balanced
from planform.design.told import said
from planform.fit.answer import FitAnswer
from planform.study.terms import Figures

NOTHING = "none"
"""What is told where a figure is worked out and there is none."""


@dataclass(frozen=True)
class StripFigure:
    """One figure of a variant: its text, and its value in SI where it has one.

    kind : how the value is said, see `planform.design.told`
    """

    text: str
    value: float | None = None
    kind: str = "length"


ROWS = {
    "tip_height": "tip height",
    "height": "highest point",
    "width": "width",
    "length": "length",
    "room": "standing in the room",
    "least_gap": "least gap in the room",
    "verdict": "verdict",
    "cg": "CG of the stage, empty",
    "margin": "static margin, first loading case",
    "drag": "induced drag at the same lift, drag area",
}
"""The strip's rows in order, by their key."""

FLOWN = {"margin": ("static_margin", "percent"), "drag": ("drag_area", "drag_area")}
"""The rows of the lattice: the figure behind each, and its kind."""

Figured = dict[str, StripFigure]


def of_heights(standing: Standing, system: str) -> Figured:
    """The figures of an aircraft as it stands."""
    found = {m.key: m for m in extents(standing)}
    return {
        key: StripFigure(said(found[key].value, "length", system), found[key].value)
        for key in ("tip_height", "height", "width", "length")
        if key in found
    }


def of_room(answer: FitAnswer, system: str) -> Figured:
    """The figures of an aircraft that stands in a room."""
    least = answer.least
    gap = (
        StripFigure(NOTHING)
        if least is None
        else StripFigure(said(least.gap, "gap", system), least.gap, "gap")
    )
    return {"room": StripFigure(answer.room_verdict.value), "least_gap": gap}


def of_verdict(answer: FitAnswer) -> Figured:
    """The verdict as a whole."""
    return {"verdict": StripFigure(answer.verdict.value)}


def of_balance(found: Balanced | None, system: str) -> Figured:
    """The CG of a stage."""
    if found is None:
        return {"cg": StripFigure("no weight is known")}
    at = float(found.total.fs)
    return {"cg": StripFigure(said(at, "station", system), at, "fine")}


def of_flow(found: Figures, system: str) -> Figured:
    """What the lattice tells."""
    out: Figured = {}
    for key, (name, kind) in FLOWN.items():
        value = found.get(name)
        out[key] = (
            StripFigure(NOTHING)
            if value is None
            else StripFigure(said(value, kind, system), value, kind)
        )
    return out


def strip(
    now: Figured, base: Mapping[str, StripFigure], steps: Mapping[str, str], system: str
) -> list[dict[str, str]]:
    """The rows that are known of what is asked about; of the base as far as it is.

    steps : the step that each row comes with
    """
    rows = []
    for key in _in_order(now):
        here, there = now[key], base.get(key)
        rows.append(
            {
                "key": key,
                "what": ROWS[key],
                "step": steps.get(key, ""),
                "base": "" if there is None else there.text,
                "now": here.text,
                "change": "" if there is None else change(here, there, system),
            }
        )
    return rows


def _in_order(now: Iterable[str]) -> list[str]:
    held = set(now)
    return [key for key in ROWS if key in held]


LEAST = 1e-9
"""Values that differ by less are the same; noise of the last bits."""


def change(now: StripFigure, base: StripFigure, system: str) -> str:
    """What changed, in words; '' where nothing did."""
    if now.value is None or base.value is None:
        return "" if now.text == base.text else f"was {base.text}"
    by = now.value - base.value
    if abs(by) < LEAST:
        return ""
    kind = "fine" if now.kind in ("length", "gap", "fine") else now.kind
    sign = "+" if by > 0.0 else "-"
    return f"{sign}{said(abs(by), kind, system)}"
