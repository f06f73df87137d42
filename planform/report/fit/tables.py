"""Checks of a fit, and every stage in every place, as tables."""

from __future__ import annotations

from planform.design.place import Place
from planform.design.told import plus_minus, said
from planform.fit.answer import FitAnswer
from planform.fit.check import Check
from planform.report.fit.push import instant
from planform.report.table import Band, Cell, Quantity, Table
from planform.report.words import curved, whence
from planform.study.stages import StageTable

LAST = "\nLAST CHANCE to come out"
VALUES = frozenset({"gap", "wanted", "worst case", "99 %"})


def checks_table(answer: FitAnswer, place: Place, system: str) -> Table:
    """Every check of a stage: its verdict, its gap, what the tolerances do, and where it is."""
    rows = tuple(
        (
            c.title,
            c.verdict,
            _quantity(c.gap, "gap"),
            _quantity(c.wanted, "length"),
            Band(c.worst, "length"),
            Band(c.within_99, "length"),
            _where(c, place, system),
        )
        for c in answer.checks
    )
    title = f"{answer.standing.title}: {answer.verdict}"
    columns = ("check", "verdict", "gap", "wanted", "worst case", "99 %", "where")
    return Table("checks", title, columns, rows, values=VALUES)


def _quantity(value: float | None, kind: str) -> Cell:
    return None if value is None else Quantity(value, kind)


def _where(c: Check, place: Place, system: str) -> str:
    where = c.detail + (f"; {instant(c.tight, system)}" if c.tight else "")
    where += f" ({c.why})" if c.why else ""
    where += f"; at worst {c.built_detail}" if c.built_detail else ""
    more = [words for words in (curved(c, system), whence(place, c)) if words]
    return "; ".join([where, *more])


def stages_table(title: str, found: StageTable, system: str) -> Table:
    """Every stage, a row, in every place, a column."""
    rows = []
    chances = found.last_chances or (None,) * len(found.rooms)
    for standing, row in zip(found.standings, found.cells, strict=True):
        name = standing.title
        if standing.stage.permanent:
            name = f"[for good: {standing.stage.permanent}]\n{name}"
        cells = [
            _cell(answer, system) + (LAST if chance and chance.is_at(standing.stage) else "")
            for answer, chance in zip(row, chances, strict=True)
        ]
        rows.append((name, *cells))
    columns = ("stage", *(room.place.name for room in found.rooms))
    return Table("stages", title, columns, tuple(rows))


def _cell(answer: FitAnswer, system: str) -> str:
    """One stage in one place: each question's verdict and the gap that decides it."""
    lines = []
    questions = (
        ("in the room", answer.room_verdict, answer.deciding_in("room")),
        ("out", answer.out_verdict, answer.deciding_out),
    )
    for asked, verdict, check in questions:
        lines.append(f"{asked}: {verdict}")
        if check is not None and check.gap is not None:
            band = plus_minus(check.worst, "length", system)
            gap = f"{said(check.gap, 'gap', system)} {band}".strip()
            lines.append(f"  {gap} {check.title}")
        elif check is not None:
            lines.append(f"  {check.missing}")
    return "\n".join(lines)
