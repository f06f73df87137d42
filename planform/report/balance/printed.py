"""The balance as a document to print, and the weighing record to fill in by hand."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Sequence
from itertools import chain, groupby

from planform.balance.questions import balance_assumptions, balance_questions
from planform.report.balance.page import PLOTTED, points_told, written_charts
from planform.report.balance.tables import tables
from planform.report.balance.weighing_form import (
    ABOARD,
    BLANK_LINES,
    BY,
    NOT_YET,
    SIGNED,
    WeighingForm,
    forms,
)
from planform.report.printed.pieces import (
    Blanks,
    Boxed,
    Figure,
    Flowing,
    Heading,
    Listed,
    NewPage,
    Piece,
    Printed,
    Prose,
    paper_of,
)
from planform.report.table import Table, cell
from planform.report.words import BALANCE_CAUTIONS
from planform.study.spreads_of_balance import BalanceFindings

CHART = 78.0
"""How high a plot may be [mm]."""
FIELDS = (32.0, 58.0, 34.0, 58.0)
"""Widths of labels and blanks [mm]; other forms below likewise."""
SCALES = (42.0, 46.0, 46.0, 48.0)
ITEMS = (74.0, 34.0, 34.0, 40.0)
SIGN_HEIGHT = 14.0


def balance_document(found: BalanceFindings, system: str, paper: str | None) -> Printed:
    """The balance sheet."""
    title = f"{found.answer.design.name}: weight and balance"
    return Printed(title, tuple(_sheet(found, system)), system, paper_of(paper, system))


def weighing_document(found: BalanceFindings, system: str, paper: str | None) -> Printed:
    """The weighing record by itself."""
    title = f"{found.answer.design.name}: weighing record"
    pieces = tuple(_record(found, system))[1:]
    return Printed(title, pieces, system, paper_of(paper, system))


def whole_document(found: BalanceFindings, system: str, paper: str | None) -> Printed:
    """The balance sheet, and the weighing record behind it."""
    title = f"{found.answer.design.name}: weight and balance"
    pieces = (*_sheet(found, system), NewPage(), *_record(found, system))
    return Printed(title, pieces, system, paper_of(paper, system))


def _sheet(found: BalanceFindings, system: str) -> Iterator[Piece]:
    from planform import __version__

    answer = found.answer
    yield Prose(
        f"Written {datetime.date.today().isoformat()} by planform {__version__}. Datum: "
        f"{answer.design.datum}. Arms are stations aft of the datum, right is positive; every "
        "correction is a line of its own. ± is the worst case of the inputs' tolerances.",
        soft=True,
    )
    yield from of_the_balance(found, system)
    asked = balance_questions(answer)
    taken = (*found.taken, *balance_assumptions(answer))
    for heading, lines in (("Questions back to you", asked), ("Not given, and taken as", taken)):
        if lines:
            yield Heading(heading)
            yield Listed(tuple(lines))


def of_the_balance(
    found: BalanceFindings, system: str, but: tuple[str, ...] = ()
) -> Iterator[Piece]:
    """Cautions, plots and tables, for any document with a balance in it.

    but : how the keys of those begin that are left out
    """
    from planform.drawing.plot import plotted

    yield Boxed(BALANCE_CAUTIONS)
    plots = written_charts(found, system, plotted)
    for name in ("envelope", "lateral"):
        if name in plots:
            yield Figure(plots[name], PLOTTED[name], CHART)
    for line in points_told(found, system):
        yield Prose(line)
    yield from _paired([t for t in tables(found) if not t.key.startswith(but or ("\n",))])
    if "loading" in plots and "loading" not in but:
        yield Figure(plots["loading"], PLOTTED["loading"], CHART)


NARROW = 5
"""Columns up to which two tables stand side by side."""


def _paired(found: Sequence[Table]) -> Iterator[Piece]:
    """The tables in order; narrow ones that follow one another flow in two columns."""
    for narrow, some in groupby(found, lambda table: len(table.columns) <= NARROW):
        group = tuple(some)
        if narrow and len(group) > 1:
            yield Flowing(group)
        else:
            yield from group


def _record(found: BalanceFindings, system: str) -> Iterator[Piece]:
    """Every form of the record, each on a page of its own."""
    for k, form in enumerate(forms(found, system)):
        if k:
            yield NewPage()
        yield Heading(form.title.capitalize())
        yield Prose(f"Datum: {found.answer.design.datum}. {NOT_YET}", soft=True)
        yield from _form(form, system)
    yield Boxed(BALANCE_CAUTIONS)


def _form(form: WeighingForm, system: str) -> Iterator[Piece]:
    yield Blanks(tuple(tuple(chain(*pair)) for pair in form.fields), FIELDS,
                 labels=frozenset({0, 2}))  # fmt: skip
    yield from form.sheets
    if not form.sheets:
        if form.points:
            rows = tuple((name, "", "", "") for name, _ in form.points)
            yield Blanks((*rows, ("sum", "", "", "")), SCALES, "Scales", form.scales)
            arms = tuple((name, cell(fs, system), "", "") for name, fs in form.points)
            yield Blanks(arms, SCALES, "Arms and moments", form.arms)
        lines = (("", "", "", ""),) * BLANK_LINES
        yield Blanks((*lines, ("empty weight and CG", "", "", "")), ITEMS, ABOARD, form.items)
    yield Blanks(
        ((BY[0], "", BY[1], ""), (SIGNED[0], "", SIGNED[1], "")), FIELDS, height=SIGN_HEIGHT,
        labels=frozenset({0, 2}),
    )  # fmt: skip
