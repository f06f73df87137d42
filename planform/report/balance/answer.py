"""The balance: the answer on its way to a reader."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from planform.balance.loading import CARE, INSIDE
from planform.balance.questions import balance_assumptions, balance_questions
from planform.design.questions import design_questions
from planform.report.answer import Answer, Block, Files, write
from planform.report.balance.page import balance_page, charts, weighing_page
from planform.report.balance.printed import (
    balance_document,
    weighing_document,
    whole_document,
)
from planform.report.balance.record import balance_record
from planform.report.balance.tables import tables
from planform.report.printed.document import pdf
from planform.report.printed.pieces import Printed
from planform.report.record import Record, document
from planform.report.words import BALANCE_CAUTIONS
from planform.report.writers import tabled
from planform.study.spreads_of_balance import BalanceFindings


@dataclass(frozen=True, eq=False, kw_only=True)
class BalanceReading(Answer):
    """The whole balance, with what the inputs' tolerances do."""

    kind = "balance"
    writes = "balance"

    found: BalanceFindings

    @property
    def good(self) -> bool:
        """Whether every case is inside, and it stays on its wheels."""
        answer = self.found.answer
        inside = all(case.verdict in (INSIDE, CARE) for case in answer.cases)
        stays = all(one.stands for one in answer.leavings)
        return inside and stays and all(stage.stands for stage in answer.standings)

    @property
    def _assumed(self) -> tuple[str, ...]:
        return (*self.found.taken, *balance_assumptions(self.found.answer))

    def said(self, system: str) -> Iterator[Block]:
        """Every table, what was taken, and the first caution."""
        yield from tables(self.found)
        yield from (f"taken: {line}" for line in self._assumed)
        yield f"caution: {BALANCE_CAUTIONS[0]}"

    def in_short(self, system: str) -> Iterator[Block]:
        """Each case and its verdict."""
        return (f"{case.name}: {case.verdict}" for case in self.found.answer.cases)

    def record(self, system: str) -> Record:
        """The balance, with what is asked and what was taken."""
        answer = self.found.answer
        return {
            "design": answer.design.name,
            **balance_record(self.found),
            "questions": [*design_questions(answer.design), *balance_questions(answer)],
            "assumed": self._assumed,
            "cautions": BALANCE_CAUTIONS,
        }

    def beside(self) -> Record:
        """Nothing more."""
        return {}

    def files(self, system: str) -> Files:
        """The page, the weighing record, the plots, the tables and the record."""
        drawn = charts(self.found, system)
        return {
            **{f"{name}.svg": text for name, text in drawn.items()},
            **tabled("balance", tables(self.found), system),
            "balance.json": document(self.kind, self.record(system)),
            "balance.html": balance_page(self.found, drawn, system),
            "weighing-record.html": weighing_page(self.found, system),
            "balance.pdf": pdf(balance_document(self.found, system, self.paper)),
            "weighing-record.pdf": pdf(weighing_document(self.found, system, self.paper)),
        }

    def document(self, system: str) -> Printed:
        """The balance sheet, and the weighing record behind it."""
        return whole_document(self.found, system, self.paper)


def write_balance(found: BalanceFindings, folder: str | Path, system: str) -> list[str]:
    """Write the balance into a folder; returns the files' names."""
    return write(BalanceReading(found=found), folder, system)
