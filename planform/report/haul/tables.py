"""Parts on a trailer or in a container as tables."""

from __future__ import annotations

from collections.abc import Iterable

from planform.core.spread import NO_SPREAD
from planform.report.table import Cell, Quantity, Table, Words, bands
from planform.study.hauling import Haul
from planform.study.load_limits import LimitCheck
from planform.study.stowing import Piece, least_box


def tables(found: Haul) -> tuple[Table, ...]:
    """Pieces, places, limits."""
    out = [_pieces(found)]
    if found.found:
        out.append(_places(found))
    if found.lines:
        out.append(_limits(found))
    return tuple(out)


def _size(values: Iterable[float]) -> Words:
    return Words("{0} x {1} x {2}", tuple(Quantity(float(v), "length") for v in values))


def _pieces(found: Haul) -> Table:
    rows = tuple(
        (piece.name, _size(sorted(least_box(piece.carried)[2], reverse=True)), _mass(piece))
        for piece in found.pieces
    )
    columns = ("piece", "least box found", "mass")
    return Table("pieces", "Pieces", columns, rows)


def _mass(piece: Piece) -> Cell:
    if piece.item is None:
        missing = ", ".join(piece.missing) or piece.name
        return f"not judged: give masses for {missing}"
    return Quantity(piece.item.mass, "mass")


def _places(found: Haul) -> Table:
    rows = tuple(
        (
            one.attitude.piece.name,
            one.attitude.words,
            _size(one.attitude.size),
            Quantity(one.along, "length"),
            Quantity(one.across, "length"),
        )
        for one in found.loaded
    )
    columns = ("piece", "stands", "along x across x up", "from the front", "from the left")
    remarks: list[str | Words] = []
    if found.shift:
        pushed = "The whole load is pushed back for the hitch; the measures above hold with that."
        remarks.append(pushed)
    return Table("places", "Places on the bed", columns, rows, tuple(map(str, remarks)))


def _limits(found: Haul) -> Table:
    def value(amount: float | None, kind: str) -> Cell:
        return None if amount is None else Quantity(amount, kind)

    def taken(line: LimitCheck) -> tuple[Cell, Cell]:
        spread = found.spreads.get(line.name, NO_SPREAD)
        kind = "fine" if line.kind == "length" else line.kind
        return (None, None) if line.left is None else bands(spread, kind)

    rows = tuple(
        (
            line.name,
            value(line.value, line.kind),
            value(line.limit, line.kind),
            value(line.left, line.kind),
            *taken(line),
            line.verdict,
            line.source,
        )
        for line in found.lines
    )
    columns = (
        "held against its limit",
        "is",
        "limit",
        "to spare",
        "worst case",
        "99 %",
        "verdict",
        "from",
    )
    return Table("limits", "Limits", columns, rows)
