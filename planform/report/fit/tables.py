"""Checks of a fit, and every stage in every place, as tables."""

from __future__ import annotations

from collections.abc import Sequence

from planform.design.place import Place
from planform.design.told import plus_minus, said
from planform.fit.answer import LEAST_PARKED, FitAnswer
from planform.fit.check import Check
from planform.fit.verdict import Verdict
from planform.report.fit.push import instant
from planform.report.table import Band, Cell, Noted, Quantity, Table
from planform.report.words import curved, outside, whence
from planform.study.stages import StageTable

LAST = "\nLAST CHANCE to come out"
VALUES = frozenset({"gap", "wanted", "worst case", "99 %", "gap at worst"})


def checks_table(answer: FitAnswer, place: Place, system: str, *, built: bool = False) -> Table:
    """Every check of a stage: its verdict, its gap, what the tolerances do, and where it is.

    built : with the gap where all tolerances come together
    """
    rows = []
    for c in answer.checks:
        gaps = _quantity(c.gap, "gap"), _quantity(c.wanted, "length")
        bands = Band(c.worst, "length"), Band(c.within_99, "length")
        again = (_quantity(c.built, "gap"),) if built else ()
        rows.append((c.title, c.verdict, *gaps, *bands, *again, _where(c, place, system)))
    title = f"{answer.standing.title}: {answer.verdict}"
    heads = ("check", "verdict", "gap", "wanted", "worst case", "99 %")
    columns = (*heads, *(("gap at worst",) if built else ()), "where")
    return Table("checks", title, columns, tuple(rows), values=VALUES)


def _quantity(value: float | None, kind: str) -> Cell:
    return None if value is None else Quantity(value, kind)


def _where(c: Check, place: Place, system: str) -> Noted:
    where = c.detail + (f"; {instant(c.tight, system)}" if c.tight else "")
    where += f" ({c.why})" if c.why else ""
    where = c.why if c.outside else where
    worst = f"at worst {c.built_detail}" if c.built_detail else ""
    notes = (worst, outside(c, system), curved(c, system), whence(place, c))
    return Noted(where, tuple(words for words in notes if words))


def verdicts_table(answers: Sequence[FitAnswer], system: str) -> Table:
    """Each stage's verdicts, with the gaps that decide them, and its least gap as parked."""

    def told(verdict: Verdict, check: Check | None) -> Noted:
        if check is not None and check.outside:
            return Noted(verdict, (check.missing, outside(check, system)))
        if check is None or check.gap is None:
            return Noted(verdict)
        return Noted(verdict, (f"{said(check.gap, 'gap', system)} {check.what}",))

    rows: list[tuple[Cell, ...]] = []
    for a in answers:
        permanent = a.standing.stage.permanent
        least = a.least
        rows.append(
            (
                Noted(a.stage, (f"for good: {permanent}",) if permanent else ()),
                a.stance,
                told(a.room_verdict, a.deciding_in("room")),
                a.door_verdict,
                told(a.out_verdict, a.deciding_out),
                a.verdict,
                None if least is None else Quantity(least.gap, "gap"),
                "" if least is None else f"{least.part} and {least.thing}, {least.direction}",
            )
        )
    columns = (
        "stage", "stance", "in the room", "straight through a door", "out", "altogether",
        LEAST_PARKED, "between, parked",
    )  # fmt: skip
    return Table("verdicts", "", columns, tuple(rows))


MOST_NEAR = 60
"""Clearances that a page lists."""


def near_table(answer: FitAnswer, key: str) -> Table:
    """The clearances as parked, least first."""
    rows = tuple(
        (Quantity(c.gap, "gap"), c.part, c.thing, c.direction) for c in answer.near[:MOST_NEAR]
    )
    return Table(key, "", ("gap", "part", "thing", "direction"), rows)


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
            told = (check.missing, outside(check, system))
            lines.append(f"  {'; '.join(words for words in told if words)}")
    return "\n".join(lines)
