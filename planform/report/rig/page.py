"""The card as one page for a telephone at the bench: it opens from disk and asks for nothing."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Iterator
from html import escape

from planform.design.units import SPELLINGS, to_si
from planform.drawing.writers import svg
from planform.report.record import Record
from planform.report.rig.bench import BenchRow, BenchSheet
from planform.report.rig.words import AT_THE_BENCH, go_words, value_words
from planform.report.seen.page import alone, built
from planform.report.table import Table
from planform.report.table_html import to_html

UNIT = {"ft-in": "in", "in": "in", "mm": "mm", "m": "m"}
"""What a number without its unit may be taken as, where a builder says so, by the system."""
TAKEN = ("what", "point", "to", "line", "read", "tolerance", "instrument", "reversed",
         "stage", "stance", "date", "note")  # fmt: skip
"""Columns of the readings as the survey takes them."""


def bench_page(sheet: BenchSheet) -> str:
    """The whole page, with its script and its style inside it."""
    body = f'<main id="bench">{"".join(_plain(sheet))}</main>\n'
    return alone(sheet.title, built("bench.css"), body, bench_record(sheet), [built("bench.js")])


def bench_record(sheet: BenchSheet) -> Record:
    """What the script of the page decides by."""
    return {
        "system": sheet.system,
        "unit": UNIT[sheet.system],
        "units": {s: [k, to_si(1, s)] for k, some in SPELLINGS.items() for s in some},
        "rows": [
            {"number": row.number, "kind": row.kind, "twice": row.twice, "survey": row.survey}
            for row in sheet.rows
        ],
        "csv": {"head": TAKEN, "comments": (sheet.title, sheet.lead)},
        **sheet.decision,
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
    yield f"<h2>Order of work</h2>{_list(sheet.order, 'ol')}"
    yield '<section id="readings"><h2>Readings</h2><div id="top"></div><ol class="readings">'
    yield from (_reading(row, sheet.system) for row in sheet.rows)
    yield '</ol><div id="found"></div></section>'
    if sheet.shims is not None:
        yield f'<div class="shims">{_table(sheet.shims, sheet.system)}</div>'
    yield '<div id="taken"></div>'
    yield from (_table(one, sheet.system) for one in sheet.tables)
    if sheet.remarks:
        yield f"<h2>Where this comes from</h2>{_list(sheet.remarks)}"
    date = datetime.date.today().isoformat()
    yield f'<p class="soft">{escape(AT_THE_BENCH)} {date}, planform {__version__}.</p>'


def _table(table: Table, system: str) -> str:
    return to_html(table, system, 2).replace('<h2 class="minor">', "<h2>")


def _list(lines: Iterable[str], kind: str = "ul") -> str:
    return f"<{kind}>{''.join(f'<li>{escape(line)}</li>' for line in lines)}</{kind}>"


def _reading(row: BenchRow, system: str) -> str:
    """One reading: its number, what it is set to, from where to where it is GO, and its boxes."""
    told = [
        ("set to", value_words(row.target, row.kind, system), "target"),
        ("GO", go_words(row, system), ""),
        ("with", row.instrument, ""),
    ]
    if row.why:
        told.append(("tells", row.why, ""))
    facts = "".join(
        f"<dt>{name}</dt><dd{f' class={kind!r}' if kind else ''}>{escape(text)}</dd>"
        for name, text, kind in told
    )
    names = ("read", "turned end for end") if row.twice else ("read",)
    boxes = "".join(
        f'<label>{name}<input type="text" id="r{row.number}{"ab"[k]}" autocomplete="off" '
        f'autocapitalize="off" spellcheck="false" maxlength="80" '
        f'aria-label="{row.number}: {escape(row.words)}, {name}"></label>'
        for k, name in enumerate(names)
    )
    return (
        f'<li class="reading" id="r{row.number}"><div class="what"><span class="no">{row.number}'
        f"</span><span>{escape(row.words)}</span></div><dl>{facts}</dl>"
        f'<div class="boxes">{boxes}</div></li>\n'
    )
