"""How doors and canopies open, in tables and as JSON."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from planform.airframe.opening import OpenAt, PanelOpening, Passes
from planform.design.told import said
from planform.report.record import Record, Recorder
from planform.report.table import Cell, Quantity, Table

CAUTION = (
    "hand: what a hand at the free edge, square to the panel, must lift with to hold it there; "
    "below zero it must pull it down. Plain statics of a rigid panel at rest, no wind, no "
    "friction, springs at the force you gave: they weaken with cold and age. Prop a door before "
    "you stand under it, and try its struts with a helper holding it"
)

RECORDER = Recorder(
    {
        PanelOpening: "panel angle held_by mass rows passes frame missing",
        OpenAt: "angle struts top headroom hand",
        Passes: "part gap angle",
    }
)


def opening_tables(title: str, found: Sequence[PanelOpening], mark: str = "") -> Iterator[Table]:
    """A table for each panel: its angles, strut lengths, heights and the hand that holds it.

    title : stage and stance, which the heights are of
    """
    for one in found:
        struts = [f"strut {k + 1}" if len(one.rows[0].struts) > 1 else "strut"
                  for k in range(len(one.rows[0].struts))]  # fmt: skip
        columns = ("open by", *struts, "free edge, top", "headroom under it", "hand")
        rows = tuple(_row(row) for row in one.rows)
        yield Table(
            f"opening {one.panel}{mark}",
            f"{title}: how the {one.panel} opens",
            columns,
            rows,
            tuple(_remarks(one)),
            values=frozenset(columns),
        )


def _row(row: OpenAt) -> tuple[Cell, ...]:
    hand = None if row.hand is None else Quantity(row.hand, "force")
    struts = (Quantity(length, "length") for length in row.struts)
    heights = Quantity(row.top, "length"), Quantity(row.headroom, "length")
    return (Quantity(row.angle, "angle"), *struts, *heights, hand)


def _remarks(one: PanelOpening) -> Iterator[str]:
    yield f"it stands open {one.held_by}"
    if one.missing:
        yield f"no hand force: {one.missing}"


def lines(found: Sequence[PanelOpening], system: str) -> Iterator[str]:
    """What stands under the tables: what each panel passes nearest while it opens, a caution."""
    for one in found:
        if one.passes is None:
            continue
        near = one.passes
        gap = said(near.gap, "gap", system)
        when = f"open by {said(near.angle, 'angle', system)}" if near.angle > 0.0 else "shut"
        frame = f" (not counted: {', '.join(one.frame)}, which it lies on)" if one.frame else ""
        yield f"{one.panel}: opens past the {near.part}, {gap} apart at the least, {when}{frame}"
    if any(not one.missing for one in found):
        yield CAUTION


def openings_record(found: Sequence[PanelOpening]) -> list[Record]:
    """The openings as JSON."""
    return [RECORDER.of(one) for one in found]
