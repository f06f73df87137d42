"""Options side by side as tables of data."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Any

from planform.design.models import Design
from planform.design.notation import NotationError, read
from planform.sheet.tables import Cell, Quantity, SheetTable
from planform.study.compare import FIELDS, Terms, non_dominated
from planform.study.options import Option

Record = dict[str, Any]


def _cell(record: Record, key: str, error: str | None = None) -> Cell:
    if record[key] is None:
        return None
    worst = float(record[error] or 0.0) if error is not None else 0.0
    return Quantity(float(record[key]), FIELDS[key][1], worst)


def _label(record: Record) -> str:
    return f"{record['number']}  {record['name']}"


def tables(
    records: Sequence[Record], options: Sequence[Option], terms: Terms
) -> tuple[SheetTable, ...]:
    """What fits, what flies, what each differs from the base by, and the price of a degree."""
    out = [_standing(records, terms), _flying(records)]
    if any(r["mass_change"] is not None for r in records):
        out.append(_skin(records))
    if len(records) > 1:
        out.append(_against_base(records))
    step = _per_degree(records, options)
    if step is not None:
        out.append(step)
    return tuple(out)


def _standing(records: Sequence[Record], terms: Terms) -> SheetTable:
    rows = [
        (
            _label(r),
            r["problem"] or r["verdict"] or "not judged",
            _cell(r, "tip_height"),
            _cell(r, "width"),
            _cell(r, "footprint"),
            _cell(r, "clearance"),
            r["tightest"] or "",
        )
        for r in records
    ]
    heads = ("option", "verdict", "tip height", "width", "footprint", "least gap", "where")
    return SheetTable(
        "standing", f"Standing and fitting: {terms.stage}, {terms.stance}", heads, tuple(rows)
    )


BENDING = (
    "Root bending: the moment of the lift and side force of one half of the wing, and of what "
    "stands on it, about the fore-and-aft line through the leading edge of the wing's root, over "
    "the whole lift."
)


def _flying(records: Sequence[Record]) -> SheetTable:
    good = non_dominated(list(records))
    rows = [
        (
            _label(r) + (" *" if r["number"] in good else ""),
            _cell(r, "wing_area"),
            _cell(r, "neutral_point", "neutral_point_error"),
            _cell(r, "static_margin"),
            _cell(r, "alpha"),
            _cell(r, "control"),
            _cell(r, "drag_area", "drag_area_error"),
            _cell(r, "drag_least"),
            _cell(r, "drag_coefficient"),
            _cell(r, "bending", "bending_error"),
        )
        for r in records
        if r["problem"] is None
    ]
    heads = (
        "option",
        "wing area",
        "neutral point",
        "static margin",
        "alpha",
        "trim incidence",
        "induced drag / q",
        "least with any twist",
        "CDi, base area",
        "root bending / lift",
    )
    remarks = (
        "± is the change from a lattice of half as many strips and rows. Trimmed at one lift.",
        BENDING,
        "* no other option is lower in one of induced drag, root bending and tip height without "
        "being higher in another.",
    )
    return SheetTable("flying", "In trim at the same lift", heads, tuple(rows), remarks)


def _skin(records: Sequence[Record]) -> SheetTable:
    rows = [
        (_label(r), _cell(r, "winglet_area"), _cell(r, "wetted_area"), _cell(r, "mass_change"))
        for r in records
        if r["problem"] is None
    ]
    heads = ("option", "winglet area", "wetted area", "change of weight")
    return SheetTable("skin", "Skin", heads, tuple(rows))


def _against_base(records: Sequence[Record]) -> SheetTable:
    base = records[0]

    def change(record: Record, key: str, *, share: bool) -> Cell:
        if record[key] is None or base[key] is None:
            return None
        moved = float(record[key]) - float(base[key])
        if not share:
            kind = "fine" if FIELDS[key][1] in ("length", "station", "gap") else FIELDS[key][1]
            return Quantity(moved, kind)
        return Quantity(moved / float(base[key]), "percent")

    rows = [
        (
            _label(r),
            change(r, "tip_height", share=False),
            change(r, "width", share=False),
            change(r, "clearance", share=False),
            change(r, "neutral_point", share=False),
            change(r, "drag_area", share=True),
            change(r, "bending", share=True),
        )
        for r in records[1:]
        if r["problem"] is None
    ]
    heads = (
        "option",
        "tip height",
        "width",
        "least gap",
        "neutral point",
        "induced drag",
        "root bending",
    )
    return SheetTable("against-base", "Against the base design", heads, tuple(rows))


def _per_degree(records: Sequence[Record], options: Sequence[Option]) -> SheetTable | None:
    """What a degree costs from one option to the next, where one angle alone is varied."""
    found = []
    for option, record in zip(options[1:], records[1:], strict=True):
        if len(option.changes) != 1 or record["problem"] is not None:
            return None
        try:
            found.append((float(read(option.changes[0][1], "angle")), record))
        except NotationError:
            return None
    found.sort(key=lambda pair: pair[0])
    rows: list[tuple[Cell, ...]] = []
    for (a, one), (b, two) in pairwise(found):
        degrees = (b - a) * 57.29577951308232
        if degrees <= 0.0:
            continue

        def rate(key: str, one: Record = one, two: Record = two, d: float = degrees) -> Cell:
            if one[key] is None or two[key] is None:
                return None
            kind = FIELDS[key][1]
            if key in ("drag_area", "bending"):
                return Quantity((two[key] - one[key]) / one[key] / d, "percent_fine")
            return Quantity(
                (two[key] - one[key]) / d, "fine" if kind in ("length", "gap") else kind
            )

        keys = ("tip_height", "width", "clearance", "drag_area", "bending")
        rows.append((f"{one['name']} to {two['name']}", *(rate(key) for key in keys)))
    if not rows:
        return None
    heads = ("between", "tip height", "width", "least gap", "induced drag", "root bending")
    return SheetTable("per-degree", "What each degree costs", heads, tuple(rows))


def sentences(records: Sequence[Record], design: Design) -> tuple[str, ...]:
    """Which options fit, and which are not beaten; nothing is recommended."""
    out = []
    judged = [r for r in records if r["verdict"] is not None]
    for verdict in ("fits", "fits only with care", "does not fit", "not judged"):
        names = [r["name"] for r in judged if r["verdict"] == verdict]
        if names:
            out.append(f"{verdict}: {', '.join(names)}")
    failed = [f"{r['name']} ({r['problem']})" for r in records if r["problem"] is not None]
    if failed:
        out.append(f"cannot be built or solved: {'; '.join(failed)}")
    good = non_dominated(list(records))
    if good:
        names = [r["name"] for r in records if r["number"] in good]
        out.append(
            "not beaten in induced drag, root bending and tip height at once: " + ", ".join(names)
        )
    out.append(f"base: {design.name} as designed. Which option is best is for its builder to say.")
    return tuple(out)
