"""What the lattice says of a design as tables."""

from __future__ import annotations

from planform.aero.answer import Figure
from planform.report.balance.cells import share_heads, shares
from planform.report.table import Cell, Quantity, Table
from planform.study.spreads_of_balance import BalanceFindings


def lattice_table(found: BalanceFindings) -> Table:
    """The neutral point and lift slope of each stage."""
    chords = found.answer.references
    rows: list[tuple[Cell, ...]] = []

    def row(words: str, figure: Figure, slope: Figure | None) -> None:
        rows.append(
            (
                words,
                Quantity(figure.value, "station", figure.change),
                *shares(chords, figure.value),
                None if slope is None else Quantity(slope.value, "ratio", slope.change),
            )
        )

    remarks = []
    for name, lift, why in found.lift.stages:
        if lift is None:
            remarks.append(f"{name}: none, {why}")
        else:
            row(f"stage {name}", lift.neutral_point, lift.lift_slope)
    complete = found.lift.complete
    for name, figure in complete.without if complete is not None else ():
        row(f"complete, without {name}", figure, None)
    remarks.append(
        "± is the change from a lattice of half as many strips and rows. Thin surfaces alone: no "
        "body, no propeller, no stall; a body commonly moves the neutral point several % MAC "
        "forward."
    )
    return Table(
        "neutral-point",
        "Neutral point by the lattice",
        ("surfaces", "neutral point", *share_heads(chords), "lift slope, 1/rad"),
        tuple(rows),
        tuple(remarks),
    )


def lift_shares_table(found: BalanceFindings) -> Table:
    """Which surface carries how much of the lift."""
    rows = [
        (f"stage {stage}", name, Quantity(share.value, "percent", share.change))
        for stage, lift, _ in found.lift.stages
        if lift is not None
        for name, share in lift.shares.items()
    ]
    return Table(
        "lift-shares",
        "Who carries the lift as the nose comes up",
        ("surfaces on", "surface", "share"),
        tuple(rows),
    )
