"""Measures as tables."""

from __future__ import annotations

from collections.abc import Mapping

from planform.airframe.measure import Measures
from planform.core.spread import NO_SPREAD, Spread
from planform.report.table import Band, Cell, Quantity, Table

VALUES = frozenset({"value", "worst case"})


def measures_table(
    title: str, found: Measures, spreads: Mapping[str, Spread], *, reference: bool = True
) -> Table:
    """Every measure with what the tolerances do to it; reference : what it is counted from."""
    rows: list[tuple[Cell, ...]] = []
    for item in found.items:
        worst = spreads.get(item.key, NO_SPREAD).worst
        cells = item.label, Quantity(item.value, item.kind), Band(worst, item.kind)
        rows.append((*cells, item.reference) if reference else cells)
    columns = ("measure", "value", "worst case", *(("reference",) if reference else ()))
    return Table("measures", title, columns, tuple(rows), values=VALUES)
