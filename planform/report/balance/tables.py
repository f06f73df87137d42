"""The balance as tables of data: every writer prints the same cells."""

from __future__ import annotations

from collections.abc import Sequence

from planform.aero.answer import Figure
from planform.balance.exits import Emptied
from planform.balance.items import Item
from planform.balance.loading import Loaded, Remedy
from planform.balance.record import EmptyRecord
from planform.balance.reference import Reference
from planform.balance.stages import (
    USUAL_OVERTURN,
    USUAL_TIP_BACK,
    Balanced,
    Ballast,
    Force,
    Support,
)
from planform.balance.weighing import Weighed
from planform.core.shape.canard import static_margin
from planform.design.naming import chief
from planform.report.table import Cell, Quantity, Table, Words, literal
from planform.study.spreads_of_balance import BalanceFindings


def tables(found: BalanceFindings) -> tuple[Table, ...]:
    """Every table of a balance, in the order it is read."""
    answer = found.answer
    out: list[Table] = []
    record = answer.record
    if record is not None and record.weighed is not None:
        day = weighing_day(found)
        out += [_weighing(record.weighed), *([day] if day else [])]
    if record is not None:
        out.append(_empty(found, record))
        out += [_change(k, record) for k in range(len(record.changes))]
    if answer.references:
        out.append(_chords(answer.references))
    if any(lift for _, lift, _ in found.lift.stages):
        out += [_lift(found), _shares_of_lift(found)]
    if answer.standings:
        out += [_stage_weights(found), _on_the_ground(answer.standings)]
    if answer.cases:
        out.append(_cases(found))
        if any(case.margins for case in answer.cases):
            out.append(_margins(found))
        out += [_case(case) for case in answer.cases]
    if any(len(case.burn) > 1 for case in answer.cases):
        out.append(_burn(answer.cases, answer.references))
    if answer.adverse:
        out.append(_adverse(found))
    if any(case.remedies for case in answer.cases):
        out.append(_remedies(answer.cases))
    if any(case.room for case in answer.cases):
        out.append(_room(answer.cases))
    if any(answer.loaded):
        out.append(_loaded_on_the_ground(found))
    if answer.leavings:
        out += [_leaving_orders(found), _leaving_rows(found)]
    return tuple(out)


def _moment(item: Item) -> Quantity:
    return Quantity(item.moment, "moment")


def _line(item: Item, *, has_bl: bool = True) -> tuple[Cell, ...]:
    return (
        item.name + (f" ({item.note})" if item.note else ""),
        Quantity(item.mass, "mass"),
        Quantity(item.fs, "station"),
        _moment(item),
        Quantity(item.bl, "butt") if has_bl else None,
    )


def _weighing(weighed: Weighed) -> Table:
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
        name, *cells = _line(item, has_bl=weighed.has_bl)
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
        rows.append((f"height of the CG taken, {source}", Quantity(weighed.cg_wl, "water")))
    rows += [
        (f"{'deducted' if line.mass < 0.0 else 'added'}: {line.name}", line.note)
        for line in weighed.corrections
        if line.note
    ]
    return Table("weighing-day", "Read and taken on the day", ("", ""), tuple(rows))


def _share_heads(references: tuple[Reference, ...]) -> tuple[str, ...]:
    return tuple(f"% MAC, {r.name}" for r in references)


def _shares(references: tuple[Reference, ...], fs: float) -> tuple[Cell, ...]:
    return tuple(Quantity(r.share(fs), "percent") for r in references)


def _empty(found: BalanceFindings, record: EmptyRecord) -> Table:
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
        ("", "weight", "CG station", *_share_heads(chords), "butt line", "waterline"),
        tuple(rows),
        tuple(remarks),
    )


def _change(k: int, record: EmptyRecord) -> Table:
    sheet = record.changes[k]
    rows = [_line(sheet.before), *(_line(item) for item in sheet.lines), _line(sheet.after)]
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


def _chords(references: tuple[Reference, ...]) -> Table:
    return Table(
        "references",
        "What % MAC is taken of",
        ("reference", "LEMAC", "MAC"),
        tuple((r.name, Quantity(r.lemac, "station"), Quantity(r.mac, "fine")) for r in references),
        ("A CG ahead of the MAC has a percentage below zero; on a canard that is usual.",),
    )


def _lift(found: BalanceFindings) -> Table:
    chords = found.answer.references
    rows: list[tuple[Cell, ...]] = []

    def row(words: str, figure: Figure, slope: Figure | None) -> None:
        rows.append(
            (
                words,
                Quantity(figure.value, "station", figure.change),
                *_shares(chords, figure.value),
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
        ("surfaces", "neutral point", *_share_heads(chords), "lift slope, 1/rad"),
        tuple(rows),
        tuple(remarks),
    )


def _shares_of_lift(found: BalanceFindings) -> Table:
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


def _stage_weights(found: BalanceFindings) -> Table:
    chords = found.answer.references
    rows = []
    for k, stage in enumerate(found.answer.standings):
        rows.append(
            (
                stage.standing.title,
                Quantity(stage.total.mass, "mass", found.spread(f"stages.{k}.mass").worst),
                Quantity(stage.total.fs, "station", found.spread(f"stages.{k}.fs").worst),
                *_shares(chords, stage.total.fs),
                Quantity(stage.total.bl, "butt"),
                Quantity(float(stage.total.wl or 0.0), "water"),
                Quantity(float(stage.over_floor[2]), "length"),
                stage.source,
            )
        )
    return Table(
        "stages",
        "Weight by stage",
        (
            "stage, stance",
            "weight",
            "CG station",
            *_share_heads(chords),
            "butt line",
            "waterline",
            "CG over floor",
            "weight from",
        ),
        tuple(rows),
        (
            "Nobody aboard. What is weighed or recorded comes first, less the mass items of parts "
            "that are off; where more is off than on, the mass items of the parts that are on.",
        ),
    )


GROUND_HEADS = (
    "carried by",
    "on the front",
    "tip back",
    "overturn",
    "what tips it",
    "what holds it",
)


TIP_BACK_WORDS = (
    "Tip back: seen from the side, the angle from upright of the line from the aft supports, at "
    "the floor, to the CG; below zero it sits on its tail."
)
"""The one convention of the tip-back angle, in words."""


def _on_the_ground(stages: tuple[Balanced, ...]) -> Table:
    return Table(
        "ground",
        "On the ground, empty seats",
        ("stage, stance", *GROUND_HEADS),
        tuple((stage.standing.title, *_ground(stage)) for stage in stages),
        (
            TIP_BACK_WORDS,
            "Common practice asks for at least 15 deg, and for an overturn angle of at most "
            "63 deg. Amounts that hold it are rounded up, those that tip it rounded down.",
        ),
    )


def _ground(stage: Balanced) -> tuple[Cell, ...]:
    return (
        _carried(stage.supports, stage.sits_on),
        Quantity(stage.front_load, "mass"),
        Quantity(stage.tip_back, "angle"),
        Quantity(stage.overturn, "angle"),
        _tips(stage),
        _holds(stage.ballast, stage.wanted),
    )


def _carried(supports: Sequence[Support], sits_on: str) -> Words:
    """What carries how much; in the words of what it sits on, or why there is no telling."""
    if any(s.load is None for s in supports):
        return Words("goes over further than anything holds it: no loads to tell")
    loads = [Quantity(s.load, "mass") for s in supports if s.load is not None]
    text = "; ".join(f"{literal(s.name)} {{{k}}}" for k, s in enumerate(supports))
    if sits_on:
        text = f"sat back on the {literal(sits_on)}: {text}"
    return Words(text, tuple(loads))


def _tips(stage: Balanced) -> Cell:
    words: list[str] = []
    values: list[Quantity] = []
    if not stage.stands:
        words.append("SITS ON ITS TAIL" if stage.tip_back <= 0.0 else "TIPS OVER")
    for force, verb in (
        (stage.push, "{} down at the {} lifts the nose"),
        (stage.lift, "{} up at the {} too"),
        (stage.set_down, "{} down at the {} sets it back on its nose"),
    ):
        if force is not None:
            kind = "mass_up" if force is stage.set_down else "mass_down"
            words.append(verb.format(f"{{{len(values)}}}", literal(force.at)))
            values.append(Quantity(force.mass, kind))
    if stage.tips_without:
        words.append(f"WOULD SIT ON ITS TAIL WITHOUT: {literal(', '.join(stage.tips_without))}")
    if 0.0 < stage.tip_back < USUAL_TIP_BACK:
        words.append("tip back under the usual 15 deg")
    if stage.overturn > USUAL_OVERTURN:
        words.append("overturn above the usual 63 deg")
    return Words("; ".join(words), tuple(values))


def _holds(held: Sequence[Ballast], wanted: float | None) -> Words:
    words: list[str] = []
    values: list[Quantity] = []
    for ballast in held:
        if ballast.mass is None:
            words.append(f"none at {literal(ballast.place)} helps")
        elif ballast.mass == 0.0:
            words.append(f"nothing needed at {literal(ballast.place)}")
        else:
            words.append(f"{{{len(values)}}} at {literal(ballast.place)}")
            values.append(Quantity(ballast.mass, "mass_up"))
    if words and wanted is not None:
        words.append(f"for {{{len(values)}}} on the front")
        values.append(Quantity(wanted, "mass"))
    return Words(", ".join(words), tuple(values))


def _leaving_rows(found: BalanceFindings) -> Table:
    """The sets of empty seats of every case that matter, with the loads they leave."""
    rows: list[tuple[Cell, ...]] = []
    for one in found.answer.leavings:
        for step in one.told:
            rows.append(
                (
                    f"{one.case}, {one.fuel}",
                    ", ".join(step.out),
                    Quantity(step.total.mass, "mass"),
                    Quantity(step.total.fs, "station"),
                    _carried(step.carried.supports, step.carried.sits_on),
                    Quantity(step.carried.front_load, "mass"),
                    Quantity(step.carried.tip_back, "angle"),
                    "stands" if step.carried.stands else _falls(step),
                )
            )
    return Table(
        "stepping-out",
        "Stepping out: who is out, and what it leaves on the wheels",
        (
            "case, fuel",
            "out",
            "weight",
            "CG station",
            "carried by",
            "on the front",
            "tip back",
            "then",
        ),
        tuple(rows),
        (
            "Each alone, all along the order above, the worst, and whatever does not stand; every "
            "other set of empty seats was worked out too and stands (they are in the JSON).",
            TIP_BACK_WORDS,
        ),
    )


def _falls(step: Emptied) -> str:
    return "SITS ON ITS TAIL" if step.carried.tip_back <= 0.0 else "TIPS OVER"


def _moment_of_exit(step: Emptied, hand: Force | None) -> Words:
    """Who is out at a moment, what the front then carries, and the hand that it needs."""
    text = f"{literal(', '.join(step.out))} out: {{0}} on the front"
    values = [Quantity(step.carried.front_load, "mass")]
    if not step.carried.stands:
        text += f", {_falls(step)}"
    if hand is None:
        text += "; no hand needed"
    else:
        text += f"; hold it with {{1}} down at the {literal(hand.at)}"
        values.append(Quantity(hand.mass, "mass_up"))
    return Words(text, tuple(values))


def _leaving_orders(found: BalanceFindings) -> Table:
    """For each case the order in which to get out, its worst moment, and what holds the nose."""
    rows: list[tuple[Cell, ...]] = []
    for one in found.answer.leavings:
        rows.append(
            (
                f"{one.case}, {one.fuel}",
                "; ".join(f"{k + 1}. {name}" for k, name in enumerate(one.order)),
                _moment_of_exit(one.least, one.hand),
                _moment_of_exit(one.worst, one.worst_hand),
                _holds(one.ballast, None),
            )
        )
    return Table(
        "order-out",
        "In which order to step out",
        ("case, fuel", "order", "least on the way", "worst of any order", "ballast for the order"),
        tuple(rows),
        (
            "Boarding goes the same way backward: the last to step out is the first to step in. "
            "The order keeps the most on the front supports at its worst moment, and the hand or "
            "ballast holds what is wanted there.",
            "An occupant's weight is taken to leave the seat and reach the floor at once. One who "
            "stands on a sill, a step or the wing puts it elsewhere: a hand holds the nose until "
            "both feet are on the floor.",
        ),
    )


def _cases(found: BalanceFindings) -> Table:
    answer = found.answer
    chords = answer.references
    source = found.neutral_point
    point = None if source is None else source[0]
    rows = []
    for k, case in enumerate(answer.cases):
        worst = found.spread(f"cases.{k}.fs").worst
        margins = (
            ()
            if point is None
            else tuple(
                Quantity(static_margin(point, case.total.fs, r.mac), "percent") for r in chords
            )
        )
        rows.append(
            (
                case.name,
                Quantity(case.total.mass, "mass", found.spread(f"cases.{k}.mass").worst),
                Quantity(case.total.fs, "station", worst),
                *_shares(chords, case.total.fs),
                *margins,
                case.verdict
                + (f" (over the limit of {', '.join(case.over)})" if case.over else "")
                + (f" (under the least of {', '.join(case.under)})" if case.under else ""),
            )
        )
    heads = (
        tuple(f"static margin, % of the MAC of {r.name}" for r in chords)
        if point is not None
        else ()
    )
    remarks = []
    if source is not None:
        remarks.append(f"Static margin from the neutral point {source[1]}: see the cautions.")
    return Table(
        "cases",
        "Loading cases",
        ("case", "weight", "CG station", *_share_heads(chords), *heads, "verdict"),
        tuple(rows),
        tuple(remarks),
    )


BOUND_WORDS = {
    "forward": "forward limit",
    "aft": "aft limit",
    "max_mass": "greatest weight",
    "min_mass": "least weight",
}


def _margins(found: BalanceFindings) -> Table:
    rows = []
    for k, case in enumerate(found.answer.cases):
        for m in case.margins:
            kind = "fine" if m.bound in ("forward", "aft") else "mass"
            worst = found.spread(f"cases.{k}.{m.bound}").worst
            rows.append(
                (
                    case.name,
                    BOUND_WORDS[m.bound],
                    Quantity(m.left, kind, worst),
                    Quantity(m.mass, "mass"),
                    Quantity(m.fs, "station"),
                )
            )
    limits = found.answer.design.balance.limits  # type: ignore[union-attr]
    record = (limits.record if limits is not None else "") or "no source named"
    return Table(
        "margins",
        "What is to spare to the limits, at the worst point of the burn",
        ("case", "limit", "to spare", "at weight", "at CG"),
        tuple(rows),
        (f"Limits as given by the user: {record}. Below zero is outside.",),
    )


def _case(case: Loaded) -> Table:
    useful = case.useful_left
    rows: list[tuple[Cell, ...]] = [_line(item) for item in case.lines] + [_line(case.total)]
    if useful is not None:
        rows.append(("useful load to spare", Quantity(useful, "mass"), None, None, None))
    return Table(
        f"case-{case.name}",
        f"Loading: {case.name}",
        ("item", "weight", "arm", "moment", "butt line"),
        tuple(rows),
    )


def _burn(cases: tuple[Loaded, ...], references: tuple[Reference, ...]) -> Table:
    rows = []
    for case in cases:
        for point in case.burn:
            rows.append(
                (
                    case.name,
                    point.what,
                    Quantity(point.mass, "mass"),
                    Quantity(point.fs, "station"),
                    *_shares(references, point.fs),
                )
            )
    return Table(
        "burn",
        "Fuel burn",
        ("case", "point", "weight", "CG station", *_share_heads(references)),
        tuple(rows),
        ("To the last usable fuel; between the points the CG moves one way only.",),
    )


def _adverse(found: BalanceFindings) -> Table:
    rows = []
    for one in found.answer.adverse:
        loads = one.lines[1:]
        text = "; ".join(f"{literal(line.name)} {{{k}}}" for k, line in enumerate(loads))
        rows.append(
            (
                one.side + (" (any ballast the places take)" if one.ballast else ""),
                Quantity(one.total.mass, "mass"),
                Quantity(one.total.fs, "station"),
                "no limit given" if one.margin is None else Quantity(one.margin, "fine"),
                Words(text or "nothing", tuple(Quantity(i.mass, "mass") for i in loads)),
            )
        )
    return Table(
        "adverse",
        "Adverse loadings, found among all that the places allow",
        ("toward", "weight", "CG station", "to spare to the limit", "aboard"),
        tuple(rows),
        (
            "Every amount between a place's least and limit was searched"
            + (
                "; ballast at its least, and in the lines that say so any amount of it. "
                if any(one.ballast for one in found.answer.adverse)
                else ". "
            )
            + "Places without a limit stay at their least. One below zero must be forbidden by a "
            "placard or a loading rule.",
        ),
    )


def _amounts(remedy: Remedy) -> tuple[Quantity, Quantity | None]:
    """A remedy's mass and volume, rounded up as far as the case stays inside with it."""
    spare = remedy.most - remedy.mass
    ending = "_up" if spare > 0.5 else "_up_fine" if spare > 0.005 else ""
    volume = None if remedy.volume is None else Quantity(remedy.volume, f"volume{ending}")
    return Quantity(remedy.mass, f"mass{ending}"), volume


def _remedies(cases: tuple[Loaded, ...]) -> Table:
    rows: list[tuple[Cell, ...]] = []
    for case in cases:
        for remedy in case.remedies:
            mass, volume = _amounts(remedy)
            rows.append(
                (
                    case.name,
                    remedy.what,
                    mass,
                    volume,
                    Quantity(remedy.after.mass, "mass"),
                    Quantity(remedy.after.fs, "station"),
                )
            )
        if case.verdict == "outside" and not case.remedies:
            rows.append((case.name, "no single change does it", None, None, None, None))
    return Table(
        "remedies",
        "Least changes that alone bring a case inside",
        ("case", "change", "at least", "as fluid", "weight then", "CG then"),
        tuple(rows),
        (
            "Each was worked out again and lies inside the limits. Amounts are rounded up, as far "
            "as more of it stays inside; whole occupants and whole loads stand as they are.",
        ),
    )


def _room(cases: tuple[Loaded, ...]) -> Table:
    rows = [
        (case.name, place, Quantity(mass, "mass_down"))
        for case in cases
        for place, mass in case.room
        if mass > 1e-6
    ]
    return Table(
        "room",
        "What each place still takes, alone",
        ("case", "place", "up to"),
        tuple(rows),
        ("Up to the place's own limit or the first limit of the envelope; rounded down.",),
    )


def _loaded_on_the_ground(found: BalanceFindings) -> Table:
    answer = found.answer
    rows = []
    for case, stood in zip(answer.cases, answer.loaded, strict=True):
        if stood is not None:
            rows.append((case.name, *_ground(stood)[:5]))
    stood = next(s for s in answer.loaded if s is not None)
    return Table(
        "loaded",
        f"On the ground, loaded ({stood.standing.title})",
        ("case", *GROUND_HEADS[:5]),
        tuple(rows),
    )
