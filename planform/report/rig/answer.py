"""A rigging card: the answer on its way to a reader."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from planform.drawing.writers import svg
from planform.report.answer import Answer, Block, Files, Headline
from planform.report.folder import one_file
from planform.report.printed.pieces import Printed
from planform.report.record import Record, document
from planform.report.rig.bench import BenchSheet
from planform.report.rig.page import bench_page
from planform.report.rig.record import rig_record
from planform.report.rig.sheet import bench_sheet
from planform.report.table import Table
from planform.rigging.card import Card

ENDINGS = (".pdf", ".html", ".svg", ".json")
"""What a card is written as; a name with none of them is a folder that gets all."""


@dataclass(frozen=True, eq=False, kw_only=True)
class RigAnswer(Answer):
    """The card of one joint; brief : its title alone is said, as the rest is in a file."""

    kind = "rig"
    writes = "rig"

    card: Card
    brief: bool = False

    def said(self, system: str) -> Iterator[Block]:
        """The card in lines and tables, in the order of the printed one."""
        sheet = _sheet(self.card, system)
        yield Headline(sheet.title)
        if self.brief:
            return
        yield sheet.lead
        yield from sheet.before
        yield readings_table(sheet)
        yield checks_table(sheet)
        yield order_table(sheet)
        yield from (() if sheet.shims is None else (sheet.shims,))
        yield from sheet.tables
        yield from sheet.remarks
        yield from sheet.cautions

    def record(self, system: str) -> Record:
        """Every number of the card with its unit."""
        return rig_record(self.card)

    def files(self, system: str) -> Files:
        """The card on paper, at the bench, its drawing and its record."""
        from planform.report.printed.document import pdf

        sheet = _sheet(self.card, system)
        return {
            "card.pdf": pdf(self.document(system)),
            "card.html": bench_page(self.card, sheet),
            "card.svg": sheet.drawing,
            "card.json": document(self.kind, self.record(system)),
        }

    def document(self, system: str) -> Printed:
        """One printed side."""
        from planform.report.rig.printed import rig_document

        return rig_document(_sheet(self.card, system), self.paper)


def write_card(answer: RigAnswer, target: Path, system: str) -> None:
    """Write a card as one file, as the ending of its name says, one of `ENDINGS`.

    Raises InputError where the file cannot be written; then nothing is left behind.
    """
    one_file(target, lambda: _content(answer, target.suffix.lower(), system))


def _content(answer: RigAnswer, ending: str, system: str) -> bytes:
    from planform.report.printed.document import pdf

    if ending == ".pdf":
        return pdf(answer.document(system))
    sheet = _sheet(answer.card, system)
    texts = {
        ".html": lambda: bench_page(answer.card, sheet),
        ".svg": lambda: svg.text(sheet.drawing),
        ".json": lambda: document(answer.kind, answer.record(system)) + "\n",
    }
    return texts[ending]().encode("utf-8")


@lru_cache(maxsize=4)
def _sheet(card: Card, system: str) -> BenchSheet:
    """The sheet of a card, made once for all that is written of it."""
    return bench_sheet(card, system)


def readings_table(sheet: BenchSheet) -> Table:
    """What is read, what it is set to, from where to where it is GO."""
    rows = ((str(r.number), r.words, r.target, r.go, r.instrument) for r in sheet.rows)
    return Table(
        "readings", "Readings", ("", "read", "set to", "GO", "with"), tuple(rows),
        values=frozenset({"set to"}),
    )  # fmt: skip


def checks_table(sheet: BenchSheet) -> Table:
    """The limits, and which sum of readings sees each."""
    rows = ((c.name, c.reading, c.go, c.seen) for c in sheet.checks)
    return Table("limits", "Limits", ("limit", "seen by", "GO", "with"), tuple(rows))


def order_table(sheet: BenchSheet) -> Table:
    """The order of work, and why it is that."""
    steps = zip(sheet.order, sheet.whys, strict=True)
    rows = tuple((str(k + 1), step, why) for k, (step, why) in enumerate(steps))
    return Table("order", "Order of work", ("", "step", "why"), rows)
