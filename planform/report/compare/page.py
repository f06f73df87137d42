"""A comparison in a folder: page, front views to one scale, trade plot, CSV and JSON."""

from __future__ import annotations

import json
from collections.abc import Sequence
from itertools import chain
from pathlib import Path
from typing import Any

from planform.aero.answer import CLAIMS
from planform.design.problems import InputError
from planform.design.told import said
from planform.design.units import KINDS, SI_UNIT
from planform.drawing.views import front_views
from planform.fit.verdict import UNJUDGED
from planform.report import to_json
from planform.report.compare.charts import span_chart, trade_chart
from planform.report.compare.tables import sentences, tables
from planform.report.folder import whole_folder
from planform.report.page import drawn, markup, page, words_for
from planform.report.table import Quantity, csv_text
from planform.report.words import CAUTIONS, cell
from planform.study.compare import (
    FIELDS,
    TEXTS,
    Loading,
    Study,
    loading_of,
    non_dominated,
    option_room,
    option_standing,
)
from planform.study.comparison import Comparison
from planform.study.options import Option

Record = dict[str, Any]

MOST_VIEWS = 12
"""Front views on a page; a larger grid shows the base and options that no other beats."""
MOST_ROWS = 200
"""Rows of a table on a page; all of them are in the data files."""


def document(found: Comparison) -> str:
    """The comparison as JSON: every figure in SI with its unit."""
    design, study, records = found.design, found.study, found.records
    good = non_dominated(list(records))
    return to_json.document(
        "compare",
        {
            "design": design.name,
            "stage": study.terms.stage,
            "stance": study.terms.stance,
            "lift_coefficient_on_base_area": study.terms.lift,
            "cg_fs": None if study.terms.cg is None else to_json.number(study.terms.cg, "length"),
            "options": [
                {
                    "number": r["number"],
                    "name": r["name"],
                    "verdict": r["verdict"],
                    "in_the_room": r["room_verdict"],
                    "straight_through_a_door": r["door_verdict"],
                    "out": r["out_verdict"],
                    "comes_out": r["comes_out"],
                    "parked_at": r["parked_at"],
                    "out_at": r["out_at"],
                    "problem": r["problem"],
                    "lattice": r["lattice"],
                    "surfaces": r["surfaces"],
                    "trimming_surface": r["trimmer"],
                    "section_lift_on": r["section_lift_on"],
                    "share_of_lift_in_trim": _share_numbers(r),
                    "loading_in_trim": _loading_lines(r),
                    "not_beaten": r["number"] in good,
                    **{
                        key: None if r[key] is None else to_json.number(r[key], kind)
                        for key, (_, kind) in FIELDS.items()
                    },
                }
                for r in records
            ],
            "answer": list(sentences(records, design)),
            "taken": list(found.taken),
            "claims": list(CLAIMS),
        },
    )


def _share_numbers(record: Record) -> dict[str, Any] | None:
    """Each surface's share of the lift in trim, by name."""
    if record["shares"] is None:
        return None
    shares = json.loads(record["shares"])
    return {name: to_json.number(share, "ratio") for name, share in shares.items()}


def _loading_lines(record: Record) -> list[dict[str, Any]] | None:
    """The loading along the span, surface by surface, from the root outward."""
    loading = loading_of(record)
    if loading is None:
        return None
    return [
        {
            "surface": name,
            "unit": "m",
            "butt_line": y.tolist(),
            "along_the_surface": along.tolist(),
            "chord_times_section_lift": value.tolist(),
        }
        for name, y, along, value in loading
    ]


def to_csv(records: Sequence[Record], system: str) -> str:
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


def _shares_said(record: Record) -> str | None:
    if record["shares"] is None:
        return None
    shares = json.loads(record["shares"])
    return "; ".join(f"{name} {said(share, 'percent', 'm')}" for name, share in shares.items())


def loading_csv(records: Sequence[Record], system: str) -> str:
    """The loading along the span in trim: a strip a line, in SI and as it is read."""
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


def write_comparison(
    found: Comparison, folder: Path, system: str, streamed: tuple[str, ...] = ()
) -> list[str]:
    """Write the comparison into a folder; returns the files' names.

    streamed : files in the folder that belong to it: the records streamed there
    """
    design, study, options, records = found.design, found.study, found.options, found.records
    good = non_dominated(list(records))
    shown = _shown(options, records, good)
    with whole_folder(folder, "compare", streamed) as workshop:
        trade = trade_chart(records, good, f"{design.name}: options", system)
        span = span_chart(_loadings(shown), f"{design.name}: loading", system)
        views = _views(study, shown, records, system)
        sheets = tables(records, options, study.terms, MOST_ROWS)
        text = page(
            "compare.html",
            **words_for(system) | {"cautions": CAUTIONS[:1] + CAUTIONS[3:]},
            design=design,
            terms=study.terms,
            sentences=sentences(records, design),
            sheets=sheets,
            cell=lambda one: cell(one, system),
            trade=None if trade is None else markup(trade),
            span=None if span is None else markup(span),
            views=views,
            rows=min(len(records), MOST_ROWS),
            count=len(records),
            drawn=len(shown),
            told=found.taken,
            claims=CLAIMS,
            cg=None
            if study.terms.cg is None
            else cell(Quantity(study.terms.cg, "station"), system),
        )
        (workshop / "compare.html").write_text(text, encoding="utf-8")
        if trade is not None:
            (workshop / "trade.svg").write_text(trade, encoding="utf-8")
        if span is not None:
            (workshop / "span.svg").write_text(span, encoding="utf-8")
        (workshop / "options.csv").write_text(to_csv(records, system), encoding="utf-8")
        if any(r["loading"] is not None for r in records):
            (workshop / "loading.csv").write_text(loading_csv(records, system), encoding="utf-8")
        (workshop / "options.json").write_text(document(found), encoding="utf-8")
        return sorted(path.name for path in workshop.iterdir())


def _shown(
    options: Sequence[Option], records: Sequence[Record], good: set[int]
) -> list[tuple[Option, Record]]:
    pairs = [(o, r) for o, r in zip(options, records, strict=True) if r["problem"] is None]
    if len(pairs) > MOST_VIEWS:
        pairs = [(o, r) for o, r in pairs if not o.number or o.number in good]
    return pairs[:MOST_VIEWS]


def _loadings(shown: Sequence[tuple[Option, Record]]) -> list[tuple[str, Loading]]:
    out = []
    for _, record in shown:
        loading = loading_of(record)
        if loading is not None:
            out.append((f"{record['number']}  {record['name']}", loading))
    return out


def _views(
    study: Study, shown: Sequence[tuple[Option, Record]], records: Sequence[Record], system: str
) -> list[tuple[Any, str, str]]:
    room = option_room(study)
    door = room.place.doors[0] if room is not None and room.place.doors else None
    try:
        standings = [option_standing(study, option) for option, _ in shown]
    except InputError:
        return []
    drawings = front_views(standings, door, system, width=420) if standings else []
    return [
        (
            drawn(drawing),
            f"{record['number']}  {record['name']}",
            record["verdict"] or UNJUDGED,
        )
        for drawing, (_, record) in zip(drawings, shown, strict=True)
    ]
