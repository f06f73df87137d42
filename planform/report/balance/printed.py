"""The balance as a document to print, and the weighing record to fill in by hand."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import chain, groupby
from typing import TYPE_CHECKING

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
    Flowing,
    HeadingText,
    Illustration,
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

if TYPE_CHECKING:
    from planform.drawing.plot import Plot

CHART = 74.0
"""How high a plot may be [mm]."""
FIELDS = (32.0, 58.0, 34.0, 58.0)
"""Widths of labels and blanks [mm]; other forms below likewise."""
SCALES = (42.0, 46.0, 46.0, 48.0)
ITEMS = (74.0, 34.0, 34.0, 40.0)
LINE, SIGN_HEIGHT = 8.1, 12.0
"""How high a line to fill in is, and one to sign [mm]."""
BY_WHOM, CLOSED = BALANCE_CAUTIONS[0], BALANCE_CAUTIONS[-1]


def balance_document(found: BalanceFindings, system: str, paper: str | None) -> Printed:
    """The balance sheet."""
    title = f"{found.answer.design.name}: weight and balance"
    return Printed(title, tuple(_sheet(found, system)), system, paper_of(paper, system))


def weighing_document(found: BalanceFindings, system: str, paper: str | None) -> Printed:
    """The weighing record by itself."""
    title = f"{found.answer.design.name}: weighing record"
    pieces = tuple(_record(found, system, named=False))
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
            yield HeadingText(heading)
            yield Listed(tuple(lines))


def of_the_balance(
    found: BalanceFindings,
    system: str,
    but: tuple[str, ...] = (),
    plots: Mapping[str, Plot] | None = None,
) -> Iterator[Piece]:
    """Cautions, plots and tables, for any document with a balance in it.

    but : how the keys of those begin that are left out
    plots : those of `written_charts`, where they are made already
    """
    from planform.drawing.plot import plotted

    yield Boxed(BALANCE_CAUTIONS)
    plots = written_charts(found, system, plotted) if plots is None else plots
    for name in ("envelope", "lateral"):
        if name in plots:
            yield Illustration(plots[name], PLOTTED[name], CHART)
    for line in points_told(found, system):
        yield Prose(line)
    yield from _paired([t for t in tables(found) if not t.key.startswith(but or ("\n",))])
    if "loading" in plots and "loading" not in but:
        yield Illustration(plots["loading"], PLOTTED["loading"], CHART)


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


def _record(found: BalanceFindings, system: str, named: bool = True) -> Iterator[Piece]:
    """Every form of the record, each on a page of its own; named : with the first one's title."""
    for k, form in enumerate(forms(found, system)):
        if k:
            yield NewPage()
        if k or named:
            yield HeadingText(form.title.capitalize())
        told = (f"Datum: {found.answer.design.datum}.", NOT_YET, BY_WHOM, CLOSED)
        yield Prose(" ".join(told), soft=True)
        yield from _form(form, system)


def _form(form: WeighingForm, system: str) -> Iterator[Piece]:
    yield _blanks((tuple(chain(*pair)) for pair in form.fields), FIELDS)
    yield from form.sheets
    if not form.sheets:
        if form.points:
            rows = (*((name, "", "", "") for name, _ in form.points), ("sum", "", "", ""))
            yield Blanks(rows, SCALES, "Scales", form.scales, LINE)
            arms = tuple((name, cell(fs, system), "", "") for name, fs in form.points)
            yield Blanks(arms, SCALES, "Arms and moments", form.arms, LINE)
        lines = (("", "", "", ""),) * BLANK_LINES
        last = ("empty weight and CG", "", "", "")
        yield Blanks((*lines, last), ITEMS, ABOARD, form.items, LINE)
    yield _blanks(((BY[0], "", BY[1], ""), (SIGNED[0], "", SIGNED[1], "")), FIELDS, SIGN_HEIGHT)


def _blanks(
    rows: Iterable[tuple[str, ...]], widths: tuple[float, ...], height: float = LINE
) -> Blanks:
    """Labels and blanks in turn."""
    return Blanks(tuple(rows), widths, height=height, labels=frozenset(range(0, len(widths), 2)))
