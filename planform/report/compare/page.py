"""A comparison as a page: front views to one scale, trade plot, tables."""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup

from planform.aero.answer import CLAIMS
from planform.design.problems import InputError
from planform.drawing.views import front_views
from planform.fit.verdict import UNJUDGED
from planform.report.compare.tables import tables
from planform.report.compare.words import in_trim, sentences
from planform.report.page import drawn, markup, page, words_for
from planform.report.table import Quantity, cell
from planform.report.words import CAUTIONS
from planform.study.compare import (
    Loading,
    Study,
    loading_of,
    non_dominated,
    option_room,
    option_standing,
)
from planform.study.comparison import Comparison
from planform.study.options import Option
from planform.study.terms import Figures

MOST_VIEWS = 12
"""Front views on a page; a larger grid shows the base and options that no other beats."""
MOST_ROWS = 200
"""Rows of a table on a page; all of them are in the data files."""

Shown = Sequence[tuple[Option, Figures]]
"""The options that are drawn, and what is known of each."""


def comparison_page(found: Comparison, charts: dict[str, str], system: str) -> str:
    """The page; charts : the plots by name, as far as there is something to draw."""
    terms, records, shown = found.study.terms, found.records, options_shown(found)
    plots = {name: markup(charts[name]) if name in charts else None for name in ("trade", "span")}
    return page(
        "compare.html",
        **words_for(system) | {"cautions": CAUTIONS[:1] + CAUTIONS[3:]},
        design=found.design,
        terms=terms,
        sentences=sentences(records, found.design),
        sheets=tables(records, found.options, terms, MOST_ROWS),
        **plots,
        in_trim=in_trim([r for r in records if r["drag_area"] is not None]),
        views=_views(found.study, shown, system),
        rows=min(len(records), MOST_ROWS),
        count=len(records),
        drawn=len(shown),
        told=found.taken,
        claims=CLAIMS,
        cg=None if terms.cg is None else cell(Quantity(terms.cg, "station"), system),
    )


def options_shown(found: Comparison) -> list[tuple[Option, Figures]]:
    """The options that are drawn: all of a small grid, else those that no other beats."""
    good = non_dominated(list(found.records))
    pairs = [
        (o, r) for o, r in zip(found.options, found.records, strict=True) if r["problem"] is None
    ]
    if len(pairs) > MOST_VIEWS:
        pairs = [(o, r) for o, r in pairs if not o.number or o.number in good]
    return pairs[:MOST_VIEWS]


def loadings(shown: Shown) -> list[tuple[str, Loading]]:
    """The loading along the span of each option that has one, by its name."""
    out = []
    for _, record in shown:
        loading = loading_of(record)
        if loading is not None:
            out.append((f"{record['number']}  {record['name']}", loading))
    return out


def _views(study: Study, shown: Shown, system: str) -> list[tuple[Markup | None, str, str]]:
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
