"""The balance as a page, and the weighing record to fill in."""

from __future__ import annotations

from planform.balance.questions import balance_assumptions, balance_questions
from planform.design.standing import contacts_of
from planform.design.told import said
from planform.design.units import show_unit
from planform.report.balance.charts import envelope_chart, loading_chart
from planform.report.balance.side_chart import lateral_chart
from planform.report.balance.tables import tables
from planform.report.page import Content, markup, page, words_for
from planform.report.table import Quantity
from planform.report.words import BALANCE_CAUTIONS
from planform.study.spreads_of_balance import BalanceFindings

BLANK_LINES = 6
SHEETS = ("weighing", "weighing-tilted", "weighing-day", "empty")
"""The tables of the weighing record."""


def charts(found: BalanceFindings, system: str) -> dict[str, str]:
    """The plots that there is something to draw in, by name."""
    drawn = {
        "envelope": envelope_chart(found, system),
        "lateral": lateral_chart(found, system),
        "loading": loading_chart(found, system),
    }
    return {name: text for name, text in drawn.items() if text is not None}


def section(found: BalanceFindings, system: str, drawn: dict[str, str] | None = None) -> Content:
    """What a page needs to show the balance; drawn : its plots, where they are made already."""
    answer = found.answer
    drawn = charts(found, system) if drawn is None else drawn
    plots = {name: markup(drawn[name]) if name in drawn else None for name in PLOTS}

    def station(value: float | None) -> str | None:
        return None if value is None else said(value, "station", system)

    return {
        "answer": answer,
        "tables": tables(found),
        **plots,
        "cautions": BALANCE_CAUTIONS,
        "rule_point": station(answer.rule_point),
        "neutral_point": station(answer.neutral_point),
        "questions": balance_questions(answer),
        "assumed": (*found.taken, *balance_assumptions(answer)),
    }


PLOTS = ("envelope", "lateral", "loading")


def balance_page(found: BalanceFindings, drawn: dict[str, str], system: str) -> str:
    """The balance as a page."""
    design = found.answer.design
    return page("balance.html", **words_for(system), design=design, b=section(found, system, drawn))


def weighing_page(found: BalanceFindings, system: str) -> str:
    """The weighing record to fill in and sign."""
    design = found.answer.design
    return page("weighing.html", **words_for(system), design=design, **_form(found, system))


def _form(found: BalanceFindings, system: str) -> Content:
    """The weighing record: filled where there is a weighing, blanks where there is not."""
    record = found.answer.record
    weighed = record.weighed if record is not None else None
    balance = found.answer.design.balance
    weighing = balance.weighing if balance is not None else None
    sheets = [t for t in tables(found) if t.key in SHEETS] if weighed else []
    return {
        "weighing": weighing,
        "sheets": sheets,
        "points": [] if weighed else _points(found),
        "blank_lines": range(BLANK_LINES),
        "cg_height": ""
        if weighed is None or weighed.cg_wl is None
        else said(weighed.cg_wl, "water", system),
        "fluids": "; ".join(
            f"{line.name}: {line.note}"
            for line in (weighed.corrections if weighed else ())
            if line.note
        ),
        "moment_unit": show_unit("moment", system),
        "weight_unit": "lb" if system in ("ft-in", "in") else "kg",
        "arm_unit": "in" if system in ("ft-in", "in") else "mm",
        "balance_cautions": BALANCE_CAUTIONS,
    }


def _points(found: BalanceFindings) -> list[tuple[str, Quantity, Quantity]]:
    """The points of the first stance on wheels, to be weighed at."""
    design = found.answer.design
    for stance in design.stances.values():
        contacts = contacts_of(design, stance)
        if any(c.radius > 0.0 for c in contacts):
            return [
                (c.name, Quantity(c.point[0], "station"), Quantity(c.point[1], "butt"))
                for c in contacts
            ]
    return []
