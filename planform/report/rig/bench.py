"""What stands on a card, on paper and on the page at the bench: words, boxes, tables, a drawing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from planform.drawing.drawing import Drawing
from planform.report.record import Record
from planform.report.table import Table

BoxKind = Literal["length", "angle"]


@dataclass(frozen=True)
class BenchRow:
    """One reading: what is read, what it is set to, from where to where it is GO.

    target, low, high : [m] or [rad]; no limits where low and high are None
    twice : a level is laid on, and again turned end for end
    survey : cells of the survey's table, by the names of its columns
    """

    number: int
    words: str
    kind: BoxKind
    target: float
    low: float | None
    high: float | None
    instrument: str
    why: str
    twice: bool
    survey: Mapping[str, str]

    @property
    def limited(self) -> bool:
        """Whether the design gives a limit for it."""
        return self.low is not None


@dataclass(frozen=True, eq=False)
class BenchSheet:
    """All that a card tells, in the order it is read.

    title, lead : what is set, on which stage and stance
    before : what is done before the first reading ; order : of work, each step with its why
    shims, tables : how thick at each bolt; which reading sees which limit, sag, and so on
    drawing, narrow : where each reading is taken, for paper and for a narrow screen
    decision : what the page's script decides by
    """

    title: str
    lead: str
    before: tuple[str, ...]
    order: tuple[str, ...]
    drawing: Drawing
    narrow: Drawing
    rows: tuple[BenchRow, ...]
    shims: Table | None
    tables: tuple[Table, ...]
    remarks: tuple[str, ...]
    cautions: tuple[str, ...]
    decision: Record
    system: str
