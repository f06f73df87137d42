"""The balance as a page, and the weighing record to fill in."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planform.balance.questions import balance_assumptions, balance_questions
from planform.design.texts import bracketed
from planform.design.told import said
from planform.drawing.charts import ChartWriter, Made, chart_svg
from planform.report.balance.charts import envelope, loading_graph
from planform.report.balance.ground_tables import fallen
from planform.report.balance.side_chart import lateral
from planform.report.balance.tables import tables
from planform.report.balance.weighing_form import (
    ABOARD,
    BLANK_LINES,
    BY,
    NOT_YET,
    SIGNED,
    forms,
)
from planform.report.page import Content, markup, page, words_for
from planform.report.table_html import colour_of
from planform.report.words import BALANCE_CAUTIONS
from planform.study.spreads_of_balance import BalanceFindings

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from planform.drawing.plot import Plot

PLOTTED = {
    "envelope": "Weight against CG. A line runs from a case with all aboard to its last fuel. The "
    "dashed outline bounds every loading that the places allow.",
    "lateral": "Weight against the CG's butt line, right positive: the limits to the left and "
    "right, and how far all that the places allow reaches.",
    "loading": "Loading graph: read each place's weight across to its line and down to its moment; "
    "add the moments and the empty one, divide by the whole weight.",
}
"""What stands under each plot."""


def charts(found: BalanceFindings, system: str) -> dict[str, str]:
    """The plots that there is something to draw in, as SVG, by name."""
    return written_charts(found, system, chart_svg)


def written_charts(
    found: BalanceFindings, system: str, write: ChartWriter[Made]
) -> dict[str, Made]:
    """The plots that there is something to draw in, written as told, by name."""
    drawn = {
        "envelope": envelope(found, system, write),
        "lateral": lateral(found, system, write),
        "loading": loading_graph(found, system, write),
    }
    return {name: one for name, one in drawn.items() if one is not None}


def charts_twice(found: BalanceFindings, system: str) -> dict[str, tuple[str, Plot]]:
    """The plots that there is something to draw in, as SVG and for a printed page, by name."""
    from planform.drawing.plot import plotted

    def twice(figure: Figure, title: str) -> tuple[str, Plot]:
        return chart_svg(figure, title), plotted(figure, title)

    return written_charts(found, system, twice)


def section(found: BalanceFindings, system: str, drawn: dict[str, str] | None = None) -> Content:
    """What a page needs to show the balance; drawn : its plots, where they are made already."""
    answer = found.answer
    drawn = charts(found, system) if drawn is None else drawn
    plots = {name: markup(drawn[name]) if name in drawn else None for name in PLOTTED}

    return {
        "answer": answer,
        "tables": tables(found),
        **plots,
        "cautions": BALANCE_CAUTIONS,
        "points": points_told(found, system),
        "plotted": PLOTTED,
        "questions": balance_questions(answer),
        "assumed": (*found.taken, *balance_assumptions(answer)),
    }


def points_told(found: BalanceFindings, system: str) -> tuple[str, ...]:
    """The neutral point as given, and a cross-check of it, in sentences."""
    answer, out = found.answer, []
    balance = answer.design.balance
    if answer.neutral_point is not None and balance is not None:
        assert balance.neutral_point is not None
        given = said(answer.neutral_point, "station", system)
        source = bracketed(balance.neutral_point.record)
        out.append(f"Neutral point, as given by the user: {given}{source}.")
    if answer.rule_point is not None:
        out.append(
            "Cross-check by the canard designers' rule of thumb (0.8 of the wing counts behind "
            f"the foreplane): {said(answer.rule_point, 'station', system)}. It is no answer."
        )
    return tuple(out)


def balance_page(found: BalanceFindings, drawn: dict[str, str], system: str) -> str:
    """The balance as a page."""
    design = found.answer.design
    return page(
        "balance.html",
        **words_for(system, 2),
        design=design,
        first=verdicts_told(found),
        b=section(found, system, drawn),
    )


def verdicts_told(found: BalanceFindings) -> list[tuple[str, str, str]]:
    """What is told first: of each case, and of what does not stand, its name, word and colour."""
    answer = found.answer
    told = [(case.name, case.verdict, colour_of(case.verdict)) for case in answer.cases]
    told += [(one.standing.title, fallen(one), "not") for one in answer.standings if not one.stands]
    told += [
        (f"stepping out, {one.case}, {one.fuel}", fallen(one.least.carried), "not")
        for one in answer.leavings
        if not one.stands
    ]
    return told


def weighing_page(found: BalanceFindings, system: str) -> str:
    """The weighing record to fill in and sign."""
    return page(
        "weighing.html",
        **words_for(system, 2),
        design=found.answer.design,
        forms=forms(found, system),
        blank_lines=range(BLANK_LINES),
        aboard=ABOARD,
        by=BY,
        signed=SIGNED,
        not_yet=NOT_YET,
        balance_cautions=BALANCE_CAUTIONS,
    )
