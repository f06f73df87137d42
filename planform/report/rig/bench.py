"""What stands on a card, on paper and on the page at the bench, in words of the reader's units."""

from __future__ import annotations

from dataclasses import dataclass

from planform.drawing.drawing import Drawing
from planform.report.table import Table


@dataclass(frozen=True)
class BenchRow:
    """One reading: what is read, what it is set to, from where to where it is GO.

    short : the same for a column of a table
    twice : a level is laid on, and again turned end for end
    """

    number: int
    words: str
    target: str
    go: str
    short: str
    instrument: str
    why: str
    twice: bool


@dataclass(frozen=True)
class BenchCheck:
    """One limit: its name, the sum of readings that sees it, how large that may be, with what.

    limited : the design gives it
    """

    name: str
    reading: str
    go: str
    seen: str
    limited: bool


@dataclass(frozen=True, eq=False)
class BenchSheet:
    """All that a card tells, in the order it is read.

    title, lead : what is set, on which stage and stance
    before : what is done before the first reading ; order : of work ; whys : of its steps
    drawing, narrow : where each reading is taken, for paper and for a narrow screen
    shims : how much thicker at each bolt for a turn ; tables : floor marks, templates, tapes
    """

    title: str
    lead: str
    before: tuple[str, ...]
    order: tuple[str, ...]
    whys: tuple[str, ...]
    drawing: Drawing
    narrow: Drawing
    rows: tuple[BenchRow, ...]
    checks: tuple[BenchCheck, ...]
    shims: Table | None
    tables: tuple[Table, ...]
    remarks: tuple[str, ...]
    cautions: tuple[str, ...]
    system: str

    @property
    def reasoned(self) -> tuple[str, ...]:
        """The steps of the work with their reasons."""
        pairs = zip(self.order, self.whys, strict=True)
        return tuple(f"{step} {why}".strip() for step, why in pairs)
