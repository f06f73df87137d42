"""How lines of a balance sheet and shares of a chord stand in tables."""

from __future__ import annotations

from planform.airframe.weight.items import Item
from planform.balance.reference import Reference
from planform.report.table import Cell, Quantity


def _moment(item: Item) -> Quantity:
    return Quantity(item.moment, "moment")


def item_line(item: Item, *, has_bl: bool = True) -> tuple[Cell, ...]:
    """A line of a sheet: what, weight, arm, moment, butt line where it is known."""
    return (
        item.name + (f" ({item.note})" if item.note else ""),
        Quantity(item.mass, "mass"),
        Quantity(item.fs, "station"),
        _moment(item),
        Quantity(item.bl, "butt") if has_bl else None,
    )


def share_heads(references: tuple[Reference, ...]) -> tuple[str, ...]:
    """The head of each chord's column."""
    return tuple(f"% MAC, {r.name}" for r in references)


def shares(references: tuple[Reference, ...], fs: float) -> tuple[Cell, ...]:
    """A station as a share of each chord."""
    return tuple(Quantity(r.share(fs), "percent") for r in references)
