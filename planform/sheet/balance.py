"""The balance as tables of data: every writer prints the same cells."""

from __future__ import annotations

from planform.aero.answer import Figure
from planform.balance.items import Item
from planform.balance.loading import Loaded
from planform.balance.record import EmptyRecord
from planform.balance.reference import Reference
from planform.balance.stages import (
    TEXTBOOK_OVERTURN,
    TEXTBOOK_TIP_BACK,
    Balanced,
)
from planform.balance.weighing import Weighed
from planform.core.canard import static_margin
from planform.design.naming import chief
from planform.sheet.tables import Cell, Quantity, SheetTable, Words, literal
from planform.study.balance import BalanceFindings


def tables(found: BalanceFindings) -> tuple[SheetTable, ...]:
    """Every table of a balance, in the order it is read."""
    answer = found.answer
    out: list[SheetTable] = []
    record = answer.record
    if record is not None and record.weighed is not None:
        out.append(_weighing(record.weighed))
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


def _weighing(weighed: Weighed) -> SheetTable:
    rows: list[tuple[Cell, ...]] = []
    for s in weighed.scales:
        rows.append(
            (
                s.at,
                Quantity(s.reading, "mass"),
                Quantity(s.tare, "mass") if s.tare_given else "none given",
                Quantity(s.net, "mass"),
                Quantity(s.fs, "station"),
                Quantity(s.net * s.fs, "moment"),
                None if s.bl is None else Quantity(s.bl, "butt"),
            )
        )

    def total(item: Item) -> tuple[Cell, ...]:
        name, *cells = _line(item, has_bl=weighed.has_bl)
        return (name, None, None, *cells)

    rows.append(total(weighed.as_weighed))
    change = weighed.level_change * weighed.as_weighed.mass
    if weighed.level_change or weighed.lean_change:
        moved = (Quantity(weighed.level_change, "fine"), Quantity(change, "moment"))
        rows.append(("level correction", None, None, None, *moved, None))
        rows.append(total(weighed.levelled))
    rows += [total(item) for item in weighed.corrections]
    rows.append(total(weighed.empty))
    return SheetTable(
        "weighing",
        "Weighing",
        ("point or item", "reading", "tare", "weight", "arm", "moment", "butt line"),
        tuple(rows),
        (
            "Weight is reading less tare. Level correction: CG station = centre of the scales + "
            "tan(level) x (height of the weighing points - height of the CG), nose up positive.",
        ),
    )


def _share_heads(references: tuple[Reference, ...]) -> tuple[str, ...]:
    return tuple(f"% MAC, {r.name}" for r in references)


def _shares(references: tuple[Reference, ...], fs: float) -> tuple[Cell, ...]:
    return tuple(Quantity(r.share(fs), "percent") for r in references)


def _empty(found: BalanceFindings, record: EmptyRecord) -> SheetTable:
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
            f"Most of the CG's uncertainty ({share:.0%}) comes from the {chief(spread.by_input)}."
        )
    return SheetTable(
        "empty",
        "Empty weight and CG",
        ("", "weight", "CG station", *_share_heads(chords), "butt line", "waterline"),
        tuple(rows),
        tuple(remarks),
    )


def _change(k: int, record: EmptyRecord) -> SheetTable:
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
    return SheetTable(
        f"change-{k + 1}",
        f"Change of equipment: {sheet.name}",
        ("item", "weight", "arm", "moment", "butt line"),
        tuple(rows),
        tuple(remarks),
    )


def _chords(references: tuple[Reference, ...]) -> SheetTable:
    return SheetTable(
        "references",
        "What % MAC is taken of",
        ("reference", "LEMAC", "MAC"),
        tuple((r.name, Quantity(r.lemac, "station"), Quantity(r.mac, "fine")) for r in references),
        ("A CG ahead of the MAC has a percentage below zero; on a canard that is usual.",),
    )


def _lift(found: BalanceFindings) -> SheetTable:
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
        row(f"last stage without {name}", figure, None)
    remarks.append(
        "± is the change from a lattice of half as many strips and rows. Thin surfaces alone: no "
        "body, no propeller, no stall; a body commonly moves the neutral point several % MAC "
        "forward."
    )
    return SheetTable(
        "neutral-point",
        "Neutral point by the lattice",
        ("surfaces", "neutral point", *_share_heads(chords), "lift slope, 1/rad"),
        tuple(rows),
        tuple(remarks),
    )


def _shares_of_lift(found: BalanceFindings) -> SheetTable:
    rows = [
        (f"stage {stage}", name, Quantity(share.value, "percent", share.change))
        for stage, lift, _ in found.lift.stages
        if lift is not None
        for name, share in lift.shares.items()
    ]
    return SheetTable(
        "lift-shares",
        "Who carries the lift that incidence adds",
        ("surfaces on", "surface", "share"),
        tuple(rows),
    )


def _stage_weights(found: BalanceFindings) -> SheetTable:
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
            )
        )
    return SheetTable(
        "stages",
        "Estimate by stage",
        (
            "stage, stance",
            "weight",
            "CG station",
            *_share_heads(chords),
            "butt line",
            "waterline",
            "CG over floor",
        ),
        tuple(rows),
        ("Estimated from the mass items of the parts that are on; nobody aboard.",),
    )


GROUND_HEADS = (
    "carried by",
    "on the front",
    "tip back",
    "overturn",
    "what tips it",
    "what holds it",
)


def _on_the_ground(stages: tuple[Balanced, ...]) -> SheetTable:
    return SheetTable(
        "ground",
        "On the ground, empty seats",
        ("stage, stance", *GROUND_HEADS),
        tuple((stage.standing.title, *_ground(stage)) for stage in stages),
        (
            "Tip back: how far the nose must rise until the CG stands over the aft supports; "
            "textbooks ask for about 15 deg, and for an overturn angle of at most 63 deg (both "
            "from memory).",
        ),
    )


def _ground(stage: Balanced) -> tuple[Cell, ...]:
    carried = "; ".join(
        f"{literal(s.name)} {{{k}}}"
        if s.load >= 0.0
        else f"{literal(s.name)} LIFTED, short of {{{k}}}"
        for k, s in enumerate(stage.supports)
    )
    return (
        Words(carried, tuple(Quantity(abs(s.load), "mass") for s in stage.supports)),
        Quantity(stage.front_load, "mass"),
        Quantity(stage.tip_back, "angle"),
        Quantity(stage.overturn, "angle"),
        _tips(stage),
        _holds(stage),
    )


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
            words.append(verb.format(f"{{{len(values)}}}", literal(force.at)))
            values.append(Quantity(force.mass, "mass"))
    if stage.tips_without:
        words.append(f"WOULD SIT ON ITS TAIL WITHOUT: {literal(', '.join(stage.tips_without))}")
    if 0.0 < stage.tip_back < TEXTBOOK_TIP_BACK:
        words.append("under the textbooks' 15 deg")
    if stage.overturn > TEXTBOOK_OVERTURN:
        words.append("overturn above the textbooks' 63 deg")
    return Words("; ".join(words), tuple(values))


def _holds(stage: Balanced) -> Cell:
    words: list[str] = []
    values: list[Quantity] = []
    for ballast in stage.ballast:
        if ballast.mass is None:
            words.append(f"none at {literal(ballast.place)} helps")
        elif ballast.mass == 0.0:
            words.append(f"nothing needed at {literal(ballast.place)}")
        else:
            words.append(f"{{{len(values)}}} at {literal(ballast.place)}")
            values.append(Quantity(ballast.mass, "mass"))
    if words and stage.wanted is not None:
        words.append(f"for {{{len(values)}}} on the front")
        values.append(Quantity(stage.wanted, "mass"))
    return Words(", ".join(words), tuple(values))


def _cases(found: BalanceFindings) -> SheetTable:
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
                + (f" (over the limit of {', '.join(case.over)})" if case.over else ""),
            )
        )
    heads = tuple(f"static margin, % {r.name}" for r in chords) if point is not None else ()
    remarks = []
    if source is not None:
        remarks.append(f"Static margin from the neutral point {source[1]}: see the cautions.")
    return SheetTable(
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


def _margins(found: BalanceFindings) -> SheetTable:
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
    return SheetTable(
        "margins",
        "What is left to the limits, at the worst point of the burn",
        ("case", "limit", "left", "at weight", "at CG"),
        tuple(rows),
        (f"Limits as given by the user: {record}. Below zero is outside.",),
    )


def _case(case: Loaded) -> SheetTable:
    useful = case.useful_left
    rows: list[tuple[Cell, ...]] = [_line(item) for item in case.lines] + [_line(case.total)]
    if useful is not None:
        rows.append(("useful load left", Quantity(useful, "mass"), None, None, None))
    return SheetTable(
        f"case-{case.name}",
        f"Loading: {case.name}",
        ("item", "weight", "arm", "moment", "butt line"),
        tuple(rows),
    )


def _burn(cases: tuple[Loaded, ...], references: tuple[Reference, ...]) -> SheetTable:
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
    return SheetTable(
        "burn",
        "Fuel burn",
        ("case", "point", "weight", "CG station", *_share_heads(references)),
        tuple(rows),
        ("To the last usable fuel; between the points the CG moves one way only.",),
    )


def _adverse(found: BalanceFindings) -> SheetTable:
    rows = []
    for one in found.answer.adverse:
        loads = one.lines[1:]
        text = "; ".join(f"{literal(line.name)} {{{k}}}" for k, line in enumerate(loads))
        rows.append(
            (
                one.side,
                Quantity(one.total.mass, "mass"),
                Quantity(one.total.fs, "station"),
                "no limit given" if one.margin is None else Quantity(one.margin, "fine"),
                Words(text or "nothing", tuple(Quantity(i.mass, "mass") for i in loads)),
            )
        )
    return SheetTable(
        "adverse",
        "Adverse loadings, found among all that the places allow",
        ("toward", "weight", "CG station", "left to the limit", "aboard"),
        tuple(rows),
        (
            "Every amount between a place's least and limit was searched; one below zero must be "
            "forbidden by a placard or a loading rule.",
        ),
    )


def _remedies(cases: tuple[Loaded, ...]) -> SheetTable:
    rows: list[tuple[Cell, ...]] = []
    for case in cases:
        for remedy in case.remedies:
            volume = None if remedy.volume is None else Quantity(remedy.volume, "volume")
            rows.append(
                (
                    case.name,
                    remedy.what,
                    Quantity(remedy.mass, "mass_up"),
                    volume,
                    Quantity(remedy.after.mass, "mass"),
                    Quantity(remedy.after.fs, "station"),
                )
            )
        if case.verdict == "outside" and not case.remedies:
            rows.append((case.name, "no single change does it", None, None, None, None))
    return SheetTable(
        "remedies",
        "Least changes that alone bring a case inside",
        ("case", "change", "at least", "as fluid", "weight then", "CG then"),
        tuple(rows),
        ("Amounts are rounded up; each was worked out again and lies inside the limits.",),
    )


def _room(cases: tuple[Loaded, ...]) -> SheetTable:
    rows = [
        (case.name, place, Quantity(mass, "mass_down"))
        for case in cases
        for place, mass in case.room
        if mass > 1e-6
    ]
    return SheetTable(
        "room",
        "What each place still takes, alone",
        ("case", "place", "up to"),
        tuple(rows),
        ("Up to the place's own limit or the first limit of the envelope; rounded down.",),
    )


def _loaded_on_the_ground(found: BalanceFindings) -> SheetTable:
    answer = found.answer
    rows = []
    for case, stood in zip(answer.cases, answer.loaded, strict=True):
        if stood is not None:
            rows.append((case.name, *_ground(stood)[:5]))
    stood = next(s for s in answer.loaded if s is not None)
    return SheetTable(
        "loaded",
        f"On the ground, loaded ({stood.standing.title})",
        ("case", *GROUND_HEADS[:5]),
        tuple(rows),
    )
