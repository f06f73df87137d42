"""The card as one page for a telephone at the bench: it opens from disk and asks for nothing."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Iterator
from html import escape

from planform.core.adjust.snooping import squares_seldom_above
from planform.design.units import SPELLINGS, to_si
from planform.drawing.writers import svg
from planform.report.record import Record
from planform.report.rig.bench import BenchCheck, BenchRow, BenchSheet
from planform.report.rig.words import AT_THE_BENCH, SIGNS
from planform.report.seen.page import alone, built
from planform.report.table import Table
from planform.report.table_html import to_html
from planform.rigging.agreeing import (
    AS_BAD,
    FAR,
    FOUND,
    RATIO_OFF,
    RATIOS,
    SEEN,
    SLIPS,
    SURE,
    most_off,
)
from planform.rigging.card import Card, CardTarget
from planform.rigging.deciding import LEVEL_ZERO

UNIT = {"ft-in": "in", "in": "in", "mm": "mm", "m": "m"}
"""What a number without its unit may be taken as, where a builder says so, by the system."""
TURNED = {"reversed": "yes"}
"""What the survey's table says of a level that was turned end for end."""
LATE = ("date", "note")
"""Columns of the survey's table that stand last."""


def bench_page(card: Card, sheet: BenchSheet) -> str:
    """The whole page, with its script and its style inside it."""
    body = f'<main id="bench">{"".join(_plain(sheet))}</main>\n'
    record = bench_record(card, sheet)
    scripts = [built("bench.js")]
    return alone(sheet.title, built("bench.css"), body, record, scripts, whole=True)


def bench_record(card: Card, sheet: BenchSheet) -> Record:
    """What the script of the page decides by."""
    names = [n for one in card.targets for n in (*one.survey, *(TURNED if one.twice else ()))]
    return {
        "system": sheet.system,
        "unit": UNIT[sheet.system],
        "units": {s: [k, to_si(1, s)] for k, some in SPELLINGS.items() for s in some},
        "zero": LEVEL_ZERO,
        "sure": SURE,
        "found": FOUND,
        "fit": {
            "off": most_off(card),
            "left": [squares_seldom_above(k) for k in range(len(card.targets) + 1)],
            "far": FAR,
            "bad": AS_BAD,
            "seen": SEEN,
            "ratios": RATIOS,
            "near": RATIO_OFF,
            "slips": SLIPS,
        },
        "rows": [_row_record(one) for one in card.targets],
        "freedoms": [
            {"name": one.name, "kind": one.kind, "usual": one.usual, "stands": one.stands}
            for one in card.freedoms
        ],
        "checks": [
            {"name": one.name, "kind": one.kind, "of": one.of, "limit": one.limit}
            for one in card.checks
        ],
        "bolts": [{"name": b.name, "side": b.side, "per": b.per} for b in card.bolts],
        "lost": card.lost,
        "csv": {
            "name": "readings.csv",
            "head": [*dict.fromkeys([*names, "read"]), *LATE],
            "comments": (f"card: {sheet.title}", card.standing.title),
        },
    }


def _row_record(one: CardTarget) -> Record:
    return {
        "number": one.number,
        "kind": one.kind,
        "twice": one.twice,
        "target": one.target,
        "tolerance": one.tolerance,
        "once": one.once,
        "columns": one.columns,
        "survey": one.survey,
        "turned": TURNED if one.twice else {},
    }


def _plain(sheet: BenchSheet) -> Iterator[str]:
    """What stands in the page without its script too."""
    from planform import __version__

    yield f"<h1>{escape(sheet.title)}</h1><p>{escape(sheet.lead)}</p>"
    yield f'<div class="cautions">{_list(sheet.cautions)}</div>'
    if sheet.before:
        yield f"<h2>Before you start</h2>{_list(sheet.before)}"
    yield (
        f"<h2>Where each reading is taken</h2><figure>{svg.text(sheet.narrow)}"
        "<figcaption>The numbers are those of the readings below.</figcaption></figure>"
    )
    yield f"<h2>Order of work</h2>{_list(sheet.reasoned, 'ol')}"
    yield f'<section id="readings"><h2>Readings</h2><p class="signs">{escape(SIGNS)}</p>'
    yield '<div id="top"></div><ol class="readings">'
    yield from map(_reading, sheet.rows)
    yield '</ol><div id="found"></div></section>'
    if sheet.checks:
        yield f"<h2>Limits</h2><dl class='limits'>{''.join(map(_limit, sheet.checks))}</dl>"
    if sheet.shims is not None:
        yield f'<div class="shims">{_table(sheet.shims, sheet.system)}</div>'
    yield '<div id="taken"></div>'
    yield from (_table(one, sheet.system) for one in sheet.tables)
    if sheet.remarks:
        yield f"<h2>Practice</h2>{_list(sheet.remarks)}"
    date = datetime.date.today().isoformat()
    yield f'<p class="soft">{escape(AT_THE_BENCH)} {date}, planform {__version__}.</p>'


def _table(table: Table, system: str) -> str:
    return to_html(table, system, 2).replace('<h2 class="minor">', "<h2>")


def _list(lines: Iterable[str], kind: str = "ul") -> str:
    return f"<{kind}>{''.join(f'<li>{escape(line)}</li>' for line in lines)}</{kind}>"


def _limit(one: BenchCheck) -> str:
    """One limit: from which readings, how large, and what can see it."""
    seen = f"<br><span class='soft'>{escape(one.seen)}</span>" if one.seen else ""
    words = f"{escape(one.reading)}: <b>{escape(one.go)}</b>{seen}"
    return f"<dt>{escape(one.name)}</dt><dd>{words}</dd>"


def _reading(row: BenchRow) -> str:
    """One reading: its number, what it is set to, from where to where it is GO, and its boxes."""
    told = [("set to", row.target, "target"), ("GO", row.go, ""), ("with", row.instrument, "")]
    if row.why:
        told.append(("tells", row.why, ""))
    facts = "".join(
        f'<dt>{name}</dt><dd class="{kind}">{escape(text)}</dd>' for name, text, kind in told
    )
    names = ("read", "turned end for end") if row.twice else ("read",)
    boxes = "".join(
        f'<label>{name}<input type="text" id="r{row.number}{"ab"[k]}" autocomplete="off" '
        f'autocapitalize="off" spellcheck="false" maxlength="80" '
        f'aria-label="{name}, {row.number}: {escape(row.words)}"></label>'
        for k, name in enumerate(names)
    )
    return (
        f'<li class="reading" id="r{row.number}"><div class="what"><span class="no">{row.number}'
        f"</span><span>{escape(row.words)}</span></div><dl>{facts}</dl>"
        f'<div class="boxes">{boxes}</div></li>\n'
    )
