"""The balance in a folder: page, weighing record, plots, CSV and JSON."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from planform.balance.questions import balance_assumptions, balance_questions
from planform.design.questions import design_questions
from planform.design.standing import contacts_of
from planform.design.told import reader, said
from planform.design.units import show_unit
from planform.report import to_json
from planform.report.balance.charts import envelope_chart, loading_chart
from planform.report.balance.tables import tables
from planform.report.folder import whole_folder
from planform.report.page import markup, page, words_for
from planform.report.table import Quantity, to_csv
from planform.report.words import BALANCE_CAUTIONS, cell
from planform.study.spreads_of_balance import BalanceFindings

BLANK_LINES = 6


def section(found: BalanceFindings, system: str) -> dict[str, Any]:
    """What a page needs to show the balance."""
    return {
        "answer": found.answer,
        "tables": tables(found),
        "cell": lambda one: cell(one, system),
        "envelope": _drawn(envelope_chart(found, system)),
        "loading": _drawn(loading_chart(found, system)),
        "cautions": BALANCE_CAUTIONS,
        "rule_point": None
        if found.answer.rule_point is None
        else said(found.answer.rule_point, "station", system),
        "neutral_point": None
        if found.answer.neutral_point is None
        else said(found.answer.neutral_point, "station", system),
        "questions": balance_questions(found.answer),
        "assumed": (*found.taken, *balance_assumptions(found.answer)),
    }


def _drawn(text: str | None) -> Any:
    return None if text is None else markup(text)


def everything(found: BalanceFindings) -> str:
    """The balance as one JSON document."""
    answer = found.answer
    return to_json.document(
        "balance",
        {
            "design": answer.design.name,
            **to_json.balance(found),
            "questions": [*design_questions(answer.design), *balance_questions(answer)],
            "assumed": [*found.taken, *balance_assumptions(answer)],
            "cautions": list(BALANCE_CAUTIONS),
        },
    )


def write_balance(found: BalanceFindings, folder: Path, system: str) -> list[str]:
    """Write the balance into a folder; returns the files' names."""
    design = found.answer.design
    with whole_folder(folder, "balance") as workshop:
        content = section(found, system)
        for name in ("envelope", "loading"):
            if content[name] is not None:
                text = str(content[name])
                (workshop / f"{name}.svg").write_text(text, encoding="utf-8")
        (workshop / "balance.csv").write_text(
            to_csv(content["tables"], reader(system)), encoding="utf-8"
        )
        (workshop / "balance.json").write_text(everything(found), encoding="utf-8")
        whole = page("balance.html", **words_for(system), design=design, b=content)
        (workshop / "balance.html").write_text(whole, encoding="utf-8")
        form = page("weighing.html", **words_for(system), design=design, **_form(found, system))
        (workshop / "weighing-record.html").write_text(form, encoding="utf-8")
        return sorted(path.name for path in workshop.iterdir())


def _form(found: BalanceFindings, system: str) -> dict[str, Any]:
    """The weighing record: filled where there is a weighing, blanks where there is not."""
    record = found.answer.record
    weighed = record.weighed if record is not None else None
    balance = found.answer.design.balance
    weighing = balance.weighing if balance is not None else None
    sheets = (
        [t for t in tables(found) if t.key in ("weighing", "weighing-day", "empty")]
        if weighed
        else []
    )
    return {
        "weighing": weighing,
        "sheets": sheets,
        "cell": lambda one: cell(one, system),
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
