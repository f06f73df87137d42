"""The balance command."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from planform.airframe.build import build
from planform.airframe.stages import stage_questions, stages_meant
from planform.airframe.stance import stand_on
from planform.cli.show import show
from planform.design.models import Design
from planform.design.questions import design_questions


@dataclass(frozen=True)
class BalanceAsked:
    """The options as they were given."""

    stages: Sequence[str]
    folder: Path | None
    paper: str | None = None


def show_balance(design: Design, asked: BalanceAsked, system: str, *, as_json: bool) -> int:
    """Print the balance, or write it into a folder; 1 where a case is outside, or it tips."""
    from planform.balance.questions import balance_questions
    from planform.report.balance.answer import BalanceReading
    from planform.study.spreads_of_balance import balance_findings

    airframe = build(design)
    named = asked.stages
    meant, taken = stages_meant(airframe, named) if named or design.stages else ((), ())
    stood = tuple(stand_on(airframe, stage) for stage in meant)
    remarks = (line for one in stood for line in one.remarks)
    found = balance_findings(stood, design, (*taken, *remarks))
    questions = (
        *design_questions(design),
        *stage_questions(airframe, stood),
        *balance_questions(found.answer),
    )
    answer = BalanceReading(found=found, questions=questions, paper=asked.paper)
    return show(answer, asked.folder, system, as_json=as_json)
