"""Options side by side as CSV: one option, or one strip of its span, a line."""

from __future__ import annotations

import json
from collections.abc import Sequence
from itertools import chain

from planform.design.told import said
from planform.design.units import KINDS, SI_UNIT
from planform.report.writers.csv import csv_text
from planform.study.compare import FIELDS, TEXTS, loading_of
from planform.study.terms import Figures


def options_csv(records: Sequence[Figures], system: str) -> str:
    """One option a line: each figure in SI, its unit in the head, and as it is read."""
    words = {key: head for key, head in TEXTS.items() if key != "loading"}
    heads = (
        (f"{head} [{SI_UNIT[KINDS.get(kind, kind)]}]", f"{head}, as read")
        for head, kind in FIELDS.values()
    )
    lines: list[Sequence[object]] = [
        ("number", *words.values(), *chain.from_iterable(heads)),
    ]
    for record in records:
        figures = (_both(record[key], kind, system) for key, (_, kind) in FIELDS.items())
        texts = (_shares_said(record) if key == "shares" else record[key] for key in words)
        lines.append((record["number"], *texts, *chain.from_iterable(figures)))
    return csv_text(lines)


def _shares_said(record: Figures) -> str | None:
    if record["shares"] is None:
        return None
    shares = json.loads(record["shares"])
    return "; ".join(f"{name} {said(share, 'percent', 'm')}" for name, share in shares.items())


def loading_csv(records: Sequence[Figures], system: str) -> str:
    """The loading along the span at the same lift: a strip a line, in SI and as it is read."""
    columns = {
        "butt line": "butt",
        "distance along the surface": "fine",
        "chord times section lift coefficient": "fine",
    }
    heads = ((f"{head} [m]", f"{head}, as read") for head in columns)
    lines: list[Sequence[object]] = [
        ("number", "option", "surface", *chain.from_iterable(heads)),
    ]
    for record in records:
        for name, *values in loading_of(record) or ():
            for strip in zip(*values, strict=True):
                pairs = zip(strip, columns.values(), strict=True)
                cells = chain.from_iterable(_both(float(v), kind, system) for v, kind in pairs)
                lines.append((record["number"], record["name"], name, *cells))
    return csv_text(lines)


def _both(value: float | None, kind: str, system: str) -> tuple[str, str]:
    """A figure in SI and as it is read."""
    return ("", "") if value is None else (f"{value:.8g}", said(value, kind, system))
