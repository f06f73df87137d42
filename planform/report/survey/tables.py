"""A survey in tables: deviations, readings, and drawn against as built."""

from __future__ import annotations

from planform.report.survey.words import kind_of, way
from planform.report.table import Band, Cell, Noted, Quantity, Table, Words, literal
from planform.study.as_built import ABOUT, AIR, SIDES, BeforeAfter, BeforeAndAfter
from planform.study.surveyed import Surveyed

INTERVALS = (
    "Each with every other one left free. Left out are those of which the readings say no more "
    "than the assumption of how far off such a thing plausibly is."
)
REMARKS = {
    SIDES: ("Tips: leading edge of the outermost cut, in aircraft axes; zero where both sides "
            "are alike.",),
    AIR: ("From a linear lattice of thin surfaces; ± is its change from half as many strips. "
          "Body, propeller and stall are not in it. Roll and yaw are from a lattice of both sides, "
          "without the yaw that induced drag gives; a CG as far to the side as the lift acts would "
          "balance the roll.",),
}  # fmt: skip
"""What stands under a table of before and after."""


def found_table(found: Surveyed) -> Table | None:
    """The deviations of the simplest explanation; None where there is none."""
    rows: list[tuple[Cell, ...]] = [
        (
            one.name,
            Quantity(one.by, kind_of(one.is_angle)),
            Band(one.half_width, kind_of(one.is_angle)),
            way(one.name, one.by),
            "yes" if one.significant else "no: another explanation is about as good",
        )
        for one in found.explanation.found
    ]
    heads = ("deviation", "from the drawing", "95 %", "which way", "significant")
    return Table("deviations", "What explains the readings", heads, tuple(rows)) if rows else None


def intervals_table(found: Surveyed) -> Table | None:
    """Every deviation that the readings determine, all free at once; None where there is none."""
    rows: list[tuple[Cell, ...]] = [
        (
            one.name,
            Quantity(one.by, kind_of(one.is_angle)),
            Band(one.half_width, kind_of(one.is_angle)),
        )
        for one in found.explanation.intervals
        if one.determined
    ]
    if not rows:
        return None
    heads = ("deviation", "from the drawing", "95 %")
    title = "Every deviation that is determined, all free at once"
    return Table("intervals", title, heads, tuple(rows), (INTERVALS,))


def readings_table(found: Surveyed) -> Table:
    """Every reading: read, as drawn, and what is left when the explanation is taken off."""
    told = found.explanation
    doubted = {one.number: one.certain for one in told.suspects}
    rows: list[tuple[Cell, ...]] = []
    for k, one in enumerate(found.readings):
        kind = kind_of(one.is_angle)
        left = float(told.residuals[k]) if k < len(told.residuals) else None
        share = None if left is None else left / float(found.tolerances[k])
        mark = "" if k not in doubted else "wrong" if doubted[k] else "doubted"
        rows.append(
            (
                found.row(k),
                Noted(one.words, (mark,)) if mark else one.words,
                Quantity(one.read, kind),
                Band(float(found.tolerances[k]), kind),
                Quantity(one.drawn, kind),
                None if left is None else Quantity(left, kind),
                "" if share is None else f"{share:z.1f}",
            )
        )
    heads = ("where", "reading", "read", "tolerance", "as drawn", "left over", "in tolerances")
    values = frozenset({"in tolerances", "left over"})
    return Table("readings", "The readings", heads, tuple(rows), values=values)


def sheet_tables(sheet: BeforeAndAfter) -> tuple[Table, ...]:
    """Drawn against as built, a table for each thing that it is about."""
    out = []
    for about in ABOUT:
        rows = tuple(map(_row, sheet.rows_about(about)))
        if rows:
            heads = ("", "as drawn", "as built", "change")
            key = about.lower().replace(" ", "-")
            remarks = REMARKS.get(about, ())
            out.append(Table(key, about, heads, rows, remarks, frozenset({"change"})))
    return tuple(out)


def _row(row: BeforeAfter) -> tuple[Cell, ...]:
    before = _cell(row.drawn, row.drawn_by, row.drawn_words, row.kind)
    after = _cell(row.built, row.built_by, row.built_words, row.kind)
    if row.change is None:
        return row.label, before, after, "" if before == after else "changed"
    kind = {"length": "fine", "station": "fine", "gap": "fine"}.get(row.kind, row.kind)
    small = abs(row.change) < NOTHING
    return row.label, before, after, "none" if small else Quantity(row.change, kind)


NOTHING = 1e-6
"""A change below this [m], [rad] is none: a hundredth of what is shown."""


def _cell(value: float | None, by: float, words: str, kind: str) -> Cell:
    if value is None:
        return words
    if words:
        return Words("{0} " + literal(words), (Quantity(value, kind, by),))
    return Quantity(value, kind, by)
