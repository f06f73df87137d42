"""The weighing, the empty weight and its changes, and the chords, as tables."""

from __future__ import annotations

from collections.abc import Iterator

from planform.airframe.weight.items import Item
from planform.airframe.weight.record import EmptyRecord
from planform.airframe.weight.tilting import TwoAttitudes
from planform.airframe.weight.weighing import Weighed
from planform.balance.reference import Reference
from planform.design.naming import chief
from planform.report.balance.cells import item_line, share_heads
from planform.report.table import Cell, Quantity, Table
from planform.study.spreads_of_balance import BalanceFindings


def weighing_table(weighed: Weighed) -> Table:
    """The scales, what was deducted and added, and the empty weight."""
    rows: list[tuple[Cell, ...]] = []
    for s in weighed.scales:
        rows.append(
            (
                s.at,
                s.reading_text,
                s.tare_text or "none given",
                Quantity(s.net, "mass"),
                Quantity(s.fs, "station"),
                Quantity(s.net * s.fs, "moment"),
                None if s.bl is None else Quantity(s.bl, "butt"),
                None if s.wl is None else Quantity(s.wl, "water"),
            )
        )

    def total(item: Item) -> tuple[Cell, ...]:
        name, *cells = item_line(item, has_bl=weighed.has_bl)
        return (name, None, None, *cells, None)

    rows.append(total(weighed.as_weighed))
    change = weighed.level_change * weighed.as_weighed.mass
    if weighed.level_change or weighed.lean_change:
        moved = (Quantity(weighed.level_change, "fine"), Quantity(change, "moment"))
        lean = Quantity(weighed.lean_change, "fine") if weighed.has_bl else None
        rows.append(("level correction", None, None, None, *moved, lean, None))
        rows.append(total(weighed.levelled))
    rows += [total(item) for item in weighed.corrections]
    rows.append(total(weighed.empty))
    remarks = ["Weight is reading less tare; readings and tares as they were read."]
    if weighed.level_change or weighed.lean_change:
        remarks.append(
            "Level correction: CG station = centre of the scales + tan(level) x (height of the "
            "weighing points - height of the CG). Level: nose up positive; lean: right wing down "
            "positive; leaning, both are solved together."
        )
    remarks += _shared_remark(weighed)
    return Table(
        "weighing",
        "Weighing",
        (
            "point or item",
            "reading",
            "tare",
            "weight",
            "arm",
            "moment",
            "butt line",
            "waterline",
        ),
        tuple(rows),
        tuple(remarks),
    )


def _shared_remark(weighed: Weighed) -> Iterator[str]:
    """What more than three scales say beside their sum."""
    if weighed.twist is not None:
        up = [s.at for s, part in zip(weighed.scales, weighed.crosswise, strict=True) if part > 0.0]
        yield (
            f"{len(weighed.scales)} scales: their sum and its centre are sure, how they share it "
            "depends on what gives: a shim under one moves load from "
            f"{' and '.join(up) or 'one pair'} to the others and changes neither."
        )


def tilted_table(found: BalanceFindings, tilted: TwoAttitudes) -> Table:
    """The second attitude and the height of the CG that both tell."""
    rows: list[tuple[Cell, ...]] = [
        (s.at, s.reading_text, s.tare_text or "none given", Quantity(s.net, "mass"))
        for s in tilted.second.scales
    ]
    rows.append(("together", None, None, Quantity(tilted.second.mass, "mass")))
    rows.append(("level, nose up positive", None, None, Quantity(tilted.second.level, "angle")))
    if tilted.second.lean:
        lean = Quantity(tilted.second.lean, "angle")
        rows.append(("lean, right wing down positive", None, None, lean))
    if tilted.cg_wl is not None:
        worst = found.spread("record.cg_wl").worst
        height = Quantity(tilted.cg_wl, "water", worst)
        rows.append(("height of the CG, as it was weighed", None, None, height))
    way = "butt line" if tilted.across else "station"
    return Table(
        "weighing-tilted",
        "Weighed again at another attitude",
        ("point or item", "reading", "tare", "weight or figure"),
        tuple(rows),
        (
            f"Height of the CG {tilted.words}.",
            f"The waterline at which both weighings put the CG over one {way}; with the axles at "
            "one height, over them: change of their load x distance between them / (weight x tan "
            "of the angle). Tanks full or empty, brakes off, struts blocked: what shifts or gives "
            "between the two spoils it.",
        ),
    )


def weighing_day(found: BalanceFindings) -> Table | None:
    """What was read or taken on the day of the weighing, beside the scales."""
    record, paper = found.answer.record, found.answer.design.balance
    weighed = record.weighed if record is not None else None
    if weighed is None or paper is None or paper.weighing is None:
        return None
    rows: list[tuple[Cell, ...]] = [
        ("level, nose up positive", paper.weighing.level.text),
        ("lean, right wing down positive", paper.weighing.lean.text),
    ]
    if weighed.cg_wl is not None:
        given = paper.weighing.cg_wl
        source = "as given" if given is not None else "by the mass items"
        if weighed.tilted is not None and weighed.tilted.told:
            source = "from two attitudes"
        rows.append((f"height of the CG taken, {source}", Quantity(weighed.cg_wl, "water")))
    rows += [
        (f"{'deducted' if line.mass < 0.0 else 'added'}: {line.name}", line.note)
        for line in weighed.corrections
        if line.note
    ]
    return Table("weighing-day", "Read and taken on the day", ("", ""), tuple(rows))


def empty_table(found: BalanceFindings, record: EmptyRecord) -> Table:
    """The empty weight and CG, from first to last."""
    chords = found.answer.references
    rows: list[tuple[Cell, ...]] = []

    def row(words: str, item: Item, key: str | None) -> None:
        worst = {part: found.spread(f"{key}.{part}").worst for part in ("mass", "fs", "bl")}
        rows.append(
            (
                words,
                Quantity(item.mass, "mass", worst["mass"]),
                Quantity(item.fs, "station", worst["fs"]),
                *(
                    Quantity(r.share(item.fs), "percent", found.spread(f"{key}.{r.key}").worst)
                    for r in chords
                ),
                Quantity(item.bl, "butt", worst["bl"]) if record.has_bl else None,
                None if item.wl is None else Quantity(item.wl, "water"),
            )
        )

    row(f"empty, {record.source}", record.base, "record")
    for change in record.changes:
        last = change is record.changes[-1]
        row(change.after.name, change.after, "empty" if last else None)
    if record.weighed is not None and record.estimated is not None:
        row("for comparison: all mass items", record.estimated, None)
    spread = found.spread("record.fs")
    remarks = []
    if spread.by_input:
        share = spread.by_input[0][1] / spread.worst
        remarks.append(
            "± is the worst case, every input at the end of its tolerance. For the CG station "
            f"{share:.0%} of that sum is the {chief(spread.by_input)}, the largest part of one "
            "input."
        )
    return Table(
        "empty",
        "Empty weight and CG",
        ("", "weight", "CG station", *share_heads(chords), "butt line", "waterline"),
        tuple(rows),
        tuple(remarks),
    )


def change_table(k: int, record: EmptyRecord) -> Table:
    """One change of equipment."""
    sheet = record.changes[k]
    rows = [
        item_line(sheet.before),
        *(item_line(item) for item in sheet.lines),
        item_line(sheet.after),
    ]
    moved = Item("change", sheet.after.mass - sheet.before.mass, sheet.after.fs - sheet.before.fs)
    rows.append(
        (
            "change",
            Quantity(moved.mass, "mass"),
            Quantity(moved.fs, "fine"),
            Quantity(sheet.after.moment - sheet.before.moment, "moment"),
            None,
        )
    )
    remarks = []
    if sheet.negligible is not None:
        remarks.append(
            "Negligible by FAA AC 43.13-1B, paragraph 10-2c (weight by at most 1 lb below 5,000 lb "
            "empty, CG by less than 0.05 % MAC)."
            if sheet.negligible
            else "Not negligible by FAA AC 43.13-1B, paragraph 10-2c: enter it in the record."
        )
    return Table(
        f"change-{k + 1}",
        f"Change of equipment: {sheet.name}",
        ("item", "weight", "arm", "moment", "butt line"),
        tuple(rows),
        tuple(remarks),
    )


def chords_table(references: tuple[Reference, ...]) -> Table:
    """The chords that percentages are taken of."""
    return Table(
        "references",
        "What % MAC is taken of",
        ("reference", "LEMAC", "MAC"),
        tuple((r.name, Quantity(r.lemac, "station"), Quantity(r.mac, "fine")) for r in references),
        ("A CG ahead of the MAC has a percentage below zero; on a canard that is usual.",),
    )
