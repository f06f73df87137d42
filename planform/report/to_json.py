"""Answers as JSON: SI with the unit beside every number, a schema name and the tool's version."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import numpy as np

from planform.airframe.measure import Measure, Measures
from planform.core.spread import Spread
from planform.design.units import SI_UNIT
from planform.report.words import plain_kind

if TYPE_CHECKING:
    from planform.fit.clearance import Clearance
    from planform.fit.verdict import Check, FitAnswer

SCHEMA = "planform answer 1"


def number(value: float, kind: str) -> dict[str, Any]:
    """One value with its SI unit."""
    return {"value": float(value), "unit": SI_UNIT[plain_kind(kind)]}


def document(kind: str, content: dict[str, Any]) -> str:
    """A whole JSON answer; refuses anything that is not a finite number."""
    from planform import __version__

    head = {"schema": SCHEMA, "answer": kind, "tool_version": __version__}
    return json.dumps({**head, **content}, indent=2, allow_nan=False, ensure_ascii=False)


def measure(item: Measure, spread: Spread | None = None) -> dict[str, Any]:
    """One measure."""
    out = {"label": item.label, **number(item.value, item.kind), "reference": item.reference}
    if spread is not None and spread.worst > 0.0:
        out["tolerance"] = tolerance(spread, item.kind)
    return out


def measures(found: Measures, spreads: dict[str, Spread] | None = None) -> dict[str, Any]:
    """Measures by key."""
    spreads = spreads or {}
    return {item.key: measure(item, spreads.get(item.key)) for item in found.items}


def tolerance(spread: Spread, kind: str = "length") -> dict[str, Any]:
    """What the inputs' tolerances do, and which input does it."""
    unit = SI_UNIT[plain_kind(kind)]
    return {
        "worst_case": spread.worst,
        "root_sum_square": spread.rss,
        "unit": unit,
        "by_input": {name: change for name, change in spread.by_input},
    }


def _point(values: np.ndarray[Any, Any]) -> dict[str, Any]:
    return {"value": [float(v) for v in values], "unit": "m", "axes": "place"}


def clearance(item: Clearance) -> dict[str, Any]:
    """One clearance between a part and a fixed thing."""
    return {
        "part": item.part,
        "thing": item.thing,
        "kind": item.kind,
        "gap": number(item.gap, "length"),
        "direction": item.direction,
        "at_part": _point(item.at_part),
        "at_thing": _point(item.at_thing),
    }


def check(item: Check) -> dict[str, Any]:
    """One check with its verdict."""
    return {
        "key": item.key,
        "where": item.group,
        "what": item.what,
        "verdict": item.verdict,
        "why": item.why,
        "gap": None if item.gap is None else number(item.gap, "length"),
        "wanted": None if item.wanted is None else number(item.wanted, "length"),
        "detail": item.detail,
        "tolerance": tolerance(item.spread),
    }


def fit(answer: FitAnswer) -> dict[str, Any]:
    """One stage's fit."""
    return {
        "stage": answer.stage,
        "stance": answer.stance,
        "place": answer.place,
        "spot": answer.spot,
        "verdict": answer.verdict,
        "in_the_room": answer.verdict_of("room"),
        "out_of_the_door": answer.door_verdict,
        "checks": [check(c) for c in answer.checks],
        "clearances": [clearance(c) for c in answer.near],
        "notes": list(answer.notes),
    }
