"""How it stands on the ground, and stepping out of it, as tables."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from planform.balance.ends import BACK, OVER, Ends
from planform.balance.exits import Emptied
from planform.balance.footing import Borne, Support
from planform.balance.stages import USUAL_OVERTURN, USUAL_TIP_BACK, Balanced, Ballast, Force
from planform.report.balance.cells import share_heads, shares
from planform.report.table import Cell, Quantity, Table, Words, literal
from planform.study.spreads_of_balance import BalanceFindings


def stage_weights_table(found: BalanceFindings) -> Table:
    """Weight and CG at each stage."""
    chords = found.answer.references
    rows = []
    for k, stage in enumerate(found.answer.standings):
        rows.append(
            (
                stage.standing.title,
                Quantity(stage.total.mass, "mass", found.spread(f"stages.{k}.mass").worst),
                Quantity(stage.total.fs, "station", found.spread(f"stages.{k}.fs").worst),
                *shares(chords, stage.total.fs),
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
            *share_heads(chords),
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

NOSE_OVER_WORDS = (
    "Nose over, of what stands with a tail wheel: seen from the side, the angle from upright of "
    "the line from the main wheels, at the floor, to the CG behind it; below zero it goes over on "
    "its nose. No usual value is held against it. On the front: what the tail wheel carries."
)
"""The same of an aircraft with a tail wheel."""


def _tip_words(ends: Iterable[Ends]) -> tuple[str, ...]:
    """What the tipping angle is, of the ends that the rows of a table have."""
    found = set(ends)
    words = ((BACK, TIP_BACK_WORDS), (OVER, NOSE_OVER_WORDS))
    return tuple(told for one, told in words if one in found or (one is BACK and not found))


def _tip_head(ends: Iterable[Ends]) -> str:
    """The head of the tipping angle's column."""
    found = set(ends) or {BACK}
    return " or ".join(one.angle for one in (BACK, OVER) if one in found)


def ground_table(stages: tuple[Balanced, ...]) -> Table:
    """How each stage stands with nobody aboard."""
    ends = [stage.ends for stage in stages]
    return Table(
        "ground",
        "On the ground, empty seats",
        ("stage, stance", *(_tip_head(ends) if h == BACK.angle else h for h in GROUND_HEADS)),
        tuple((stage.standing.title, *_ground(stage)) for stage in stages),
        (
            *_tip_words(ends),
            "Common practice asks for at least 15 deg, and for an overturn angle of at most "
            "63 deg. Amounts that hold it are rounded up, those that tip it rounded down.",
        ),
    )


def _ground(stage: Balanced) -> tuple[Cell, ...]:
    return (
        _carried(stage.supports, stage.sits_on, stage.ends),
        Quantity(stage.front_load, "mass"),
        Quantity(stage.tip_back, "angle"),
        Quantity(stage.overturn, "angle"),
        _tips(stage),
        _holds(stage.ballast, stage.wanted),
    )


def _carried(supports: Sequence[Support], sits_on: str, ends: Ends) -> Words:
    """What carries how much; in the words of what it sits on, or why there is no telling."""
    if any(s.load is None for s in supports):
        return Words("goes over further than anything holds it: no loads to tell")
    loads = [Quantity(s.load, "mass") for s in supports if s.load is not None]
    text = "; ".join(f"{literal(s.name)} {{{k}}}" for k, s in enumerate(supports))
    if sits_on:
        text = f"{ends.lies} the {literal(sits_on)}: {text}"
    return Words(text, tuple(loads))


def fallen(on: Balanced | Borne) -> str:
    """What becomes of an aircraft that does not stand."""
    return on.ends.falls if on.tip_back <= 0.0 else "TIPS OVER"


def _tips(stage: Balanced) -> Cell:
    words: list[str] = []
    values: list[Quantity] = []
    if not stage.stands:
        words.append(fallen(stage))
    for force, verb in (
        (stage.push, f"{{}} down at the {{}} lifts the {stage.ends.up}"),
        (stage.lift, "{} up at the {} too"),
        (stage.set_down, f"{{}} down at the {{}} sets it back on {stage.ends.back_on}"),
    ):
        if force is not None:
            kind = "mass_up" if force is stage.set_down else "mass_down"
            words.append(verb.format(f"{{{len(values)}}}", literal(force.at)))
            values.append(Quantity(force.mass, kind))
    if stage.tips_without:
        words.append(f"{stage.ends.without}: {literal(', '.join(stage.tips_without))}")
    if stage.ends is BACK and 0.0 < stage.tip_back < USUAL_TIP_BACK:
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


def leaving_table(found: BalanceFindings) -> Table:
    """The sets of empty seats of every case that matter, with the loads they leave."""
    rows: list[tuple[Cell, ...]] = []
    ends = [step.carried.ends for one in found.answer.leavings for step in one.told]
    for one in found.answer.leavings:
        for step in one.told:
            rows.append(
                (
                    f"{one.case}, {one.fuel}",
                    ", ".join(step.out),
                    Quantity(step.total.mass, "mass"),
                    Quantity(step.total.fs, "station"),
                    _carried(step.carried.supports, step.carried.sits_on, step.carried.ends),
                    Quantity(step.carried.front_load, "mass"),
                    Quantity(step.carried.tip_back, "angle"),
                    "stands" if step.carried.stands else fallen(step.carried),
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
            _tip_head(ends),
            "then",
        ),
        tuple(rows),
        (
            "Each alone, all along the order above, the worst, and whatever does not stand; every "
            "other set of empty seats was worked out too and stands (they are in the JSON).",
            *_tip_words(ends),
        ),
    )


def _moment_of_exit(step: Emptied, hand: Force | None) -> Words:
    """Who is out at a moment, what the front then carries, and the hand that it needs."""
    text = f"{literal(', '.join(step.out))} out: {{0}} on the front"
    values = [Quantity(step.carried.front_load, "mass")]
    if not step.carried.stands:
        text += f", {fallen(step.carried)}"
    if hand is None:
        text += "; no hand needed"
    else:
        text += f"; hold it with {{1}} down at the {literal(hand.at)}"
        values.append(Quantity(hand.mass, "mass_up"))
    return Words(text, tuple(values))


def orders_table(found: BalanceFindings) -> Table:
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


def loaded_table(found: BalanceFindings) -> Table:
    """How the complete aircraft stands with each case."""
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
