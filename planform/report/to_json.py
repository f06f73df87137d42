"""Answers as JSON: SI with the unit beside every number, a schema name and the tool's version."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from planform.airframe.measure import Measure, Measures
from planform.core.shape.canard import static_margin
from planform.core.spread import Spread
from planform.design.texts import shown
from planform.design.told import plain_kind
from planform.design.units import SI_UNIT

if TYPE_CHECKING:
    from planform.aero.answer import Aerodynamics
    from planform.balance.exits import Emptied, Leaving
    from planform.balance.items import Item
    from planform.balance.stages import Balanced, Force, Support
    from planform.design.models import Stage
    from planform.fit.answer import FitAnswer
    from planform.fit.check import Check
    from planform.fit.clearance import Clearance
    from planform.fit.moves import Pose, Route, Tight
    from planform.fit.push import Push, Tightest
    from planform.fit.roll_out import RollOut
    from planform.fit.second_check import GoneOver
    from planform.fit.steps import Step
    from planform.fit.way_out import WayOut
    from planform.report.way_out.marks import FloorMarks
    from planform.study.inputs import Input
    from planform.study.next_reading import Advice
    from planform.study.spreads_of_balance import BalanceFindings
    from planform.study.stages import LastChance, StageTable

SCHEMA = "planform answer 1"


def number(value: float, kind: str) -> dict[str, Any]:
    """One value with its SI unit."""
    return {"value": float(value), "unit": SI_UNIT[plain_kind(kind)]}


def document(kind: str, content: dict[str, Any]) -> str:
    """A whole JSON answer; refuses anything that is not a finite number.

    What cannot be seen stands as its escape, so that the text may go to a terminal too.
    """
    from planform import __version__

    head = {"schema": SCHEMA, "answer": kind, "tool_version": __version__}
    text = json.dumps({**head, **content}, indent=2, allow_nan=False, ensure_ascii=False)
    return shown(text)


def measure(item: Measure, spread: Spread | None = None) -> dict[str, Any]:
    """One measure."""
    out = {"label": item.label, **number(item.value, item.kind), "reference": item.reference}
    if spread is not None and spread.worst > 0.0:
        out["tolerance"] = tolerance(spread, item.kind)
    return out


def measures(found: Measures, spreads: dict[str, Spread] | None = None) -> dict[str, Any]:
    """Measures by key."""
    spreads = spreads or {}
    return {item.key: measure(item, spreads.get(item.key)) for item in found.items}


def tolerance(spread: Spread, kind: str = "length") -> dict[str, Any]:
    """What the inputs' tolerances do, and which input does it."""
    unit = SI_UNIT[plain_kind(kind)]
    return {
        "worst_case": spread.worst,
        "within_99": spread.within_99,
        "root_sum_square": spread.rss,
        "unit": unit,
        "by_input": {name: change for name, change in spread.by_input},
    }


def _point(values: np.ndarray[Any, Any]) -> dict[str, Any]:
    return {"value": [float(v) for v in values], "unit": "m", "axes": "place"}


def clearance(item: Clearance) -> dict[str, Any]:
    """One clearance between a part and a fixed thing."""
    return {
        "part": item.part,
        "thing": item.thing,
        "kind": item.kind,
        "gap": number(item.gap, "length"),
        "direction": item.direction,
        "at_part": _point(item.at_part),
        "at_thing": _point(item.at_thing),
    }


def check(item: Check) -> dict[str, Any]:
    """One check with its verdict."""
    return {
        "key": item.key,
        "where": item.group,
        "what": item.what,
        "verdict": item.verdict,
        "why": item.why,
        "gap": None if item.gap is None else number(item.gap, "length"),
        "wanted": None if item.wanted is None else number(item.wanted, "length"),
        "wanted_from": item.wanted_from,
        "detail": item.detail,
        "tolerance": check_tolerance(item),
        "on_the_way": None if item.tight is None else tightest(item.tight),
    }


def tightest(item: Tightest) -> dict[str, Any]:
    """Where on the way out of a door a clearance is least."""
    return {
        "kind": item.kind,
        "gap_proved": number(item.gap, "length"),
        "bracket": number(item.bracket, "length"),
        "part": item.part,
        "thing": item.thing,
        "parking_point_outside_inner_wall_line": number(item.pose.along, "length"),
        "nose_up": number(item.pose.pitch, "angle"),
        "right_wing_down": number(item.pose.roll, "angle"),
        "at_part": _way_point(item.at_part),
        "at_thing": _way_point(item.at_thing),
    }


def _way_point(values: np.ndarray[Any, Any]) -> dict[str, Any]:
    axes = "outward from the inner wall line, right of the door's middle looking out, up"
    return {"value": [float(v) for v in values], "unit": "m", "axes": axes}


def push(item: Push) -> dict[str, Any]:
    """One push out of a door over uneven ground."""
    return {
        "door": item.door,
        "way": item.way,
        "across": number(item.across, "length"),
        "from": number(item.start, "length"),
        "to": number(item.end, "length"),
        "problem": item.problem or None,
        "remarks": list(item.remarks),
        "least": [tightest(t) for t in item.tightest],
    }


def check_tolerance(item: Check) -> dict[str, Any]:
    """What the tolerances do to a check; below zero, what they can give back."""
    return {
        **tolerance(item.spread),
        "worst_case": item.worst,
        "within_99": item.within_99,
        "first_order": item.spread.worst,
        "could_turn": item.open,
        "worst_corner_built_again": None
        if item.built is None
        else {
            "gap": number(item.built, "length"),
            "governed_then_by": item.built_detail or item.detail,
        },
    }


def reading_step(one: Input) -> dict[str, Any]:
    """An input and how far it was moved."""
    return {"input": one.name, "as_written": one.reading.text, **number(one.step, one.reading.kind)}


def measure_next(found: Advice) -> dict[str, Any]:
    """Which better reading narrows which verdict's band."""
    return {
        "deciding_check": None if found.deciding is None else found.deciding.key,
        "checks": [
            {
                "check": check.key,
                "worst_case": number(check.worst, "length"),
                "within_99": number(check.within_99, "length"),
                "readings": [
                    {
                        "input": one.input.name,
                        "as_written": one.input.reading.text,
                        "read_to": number(one.careful, one.input.reading.kind),
                        "worst_case": number(one.worst, "length"),
                        "within_99": number(one.within_99, "length"),
                        "settles_as_written": one.settles,
                        "can_turn": one.can_turn,
                        "verdict_as_written": one.verdict,
                    }
                    for one in better
                ],
            }
            for check, better in found.better
        ],
        "without_tolerance": [
            {**reading_step(one), "moves_the_gap_by": number(change, "length")}
            for one, change in found.bare
        ],
    }


def last_chance(found: LastChance) -> dict[str, Any]:
    """When the aircraft must leave a place at the latest."""

    def name(stage: Stage | None) -> str | None:
        return None if stage is None else stage.name

    return {
        "place": found.place,
        "judged": found.judged,
        "last_stage_that_comes_out": name(found.last),
        "no_longer_out_from": name(found.first_shut),
        "before_the_step_to": name(found.step),
        "permanent": None if found.step is None else found.step.permanent,
        "by_build_order_alone": found.by_order,
        "in_words": found.words,
    }


def deciding(verdict: str, check: Check | None) -> dict[str, Any]:
    """A verdict with the gap that decides it."""
    gap = None if check is None or check.gap is None else number(check.gap, "length")
    out: dict[str, Any] = {"verdict": verdict, "gap": gap}
    if check is not None:
        out |= {
            "check": check.key,
            "detail": check.detail or check.missing,
            "worst_case": number(check.worst, "length"),
            "within_99": number(check.within_99, "length"),
        }
    return out


def cell(answer: FitAnswer) -> dict[str, Any]:
    """One stage in one place."""
    return {
        "place": answer.place,
        "verdict": answer.verdict,
        "standing_in_the_room": deciding(answer.verdict_of("room"), answer.deciding_in("room")),
        "out": {
            "turning_as_needed": answer.way is not None,
            "door": answer.best_door if answer.way is None else answer.way_door,
            **deciding(answer.out_verdict, answer.deciding_out),
        },
    }


def stage_table(found: StageTable) -> dict[str, Any]:
    """Every stage in every place."""
    return {
        "stages": [
            {
                "stage": standing.stage.name,
                "stance": standing.stance_name,
                "permanent": standing.stage.permanent,
                "places": [cell(answer) for answer in row],
            }
            for standing, row in zip(found.standings, found.cells, strict=True)
        ],
        "last_chances": [last_chance(one) for one in found.last_chances],
    }


def fit(answer: FitAnswer, found: Advice) -> dict[str, Any]:
    """One stage's fit, and what to measure next."""
    return {
        "stage": answer.stage,
        "stance": answer.stance,
        "place": answer.place,
        "spot": answer.spot,
        "verdict": answer.verdict,
        "in_the_room": answer.verdict_of("room"),
        "straight_out_of_a_door": answer.door_verdict,
        "out": answer.out_verdict,
        "way_out": None if answer.way is None else roll_out(answer.way),
        "checks": [check(c) for c in answer.checks],
        "clearances": [clearance(c) for c in answer.near],
        "pushes": [push(p) for p in answer.pushes],
        "notes": list(answer.notes),
        "measure_next": measure_next(found),
    }


def pose(one: Pose) -> dict[str, Any]:
    """Where the parking point stands in place axes, and the way the nose points."""
    return {
        "x": number(one.x, "length"),
        "y": number(one.y, "length"),
        "heading": number(one.heading, "angle"),
    }


def tight(one: Tight) -> dict[str, Any]:
    """An instant at which a part comes near a thing."""
    return {
        "part": one.part,
        "thing": one.thing,
        "gap": number(one.gap, "length"),
        "pose": pose(one.pose),
        "at_part": _point(one.at_part),
        "at_thing": _point(one.at_thing),
        "move": one.move,
        "share": number(one.share, "ratio"),
    }


def _plan_point(values: Any) -> dict[str, Any]:
    return {"value": [float(v) for v in values], "unit": "m", "axes": "place"}


def route(
    found: Route,
    steps: Sequence[Step] = (),
    instructions: Sequence[str] = (),
    tights: Sequence[Tight] = (),
) -> dict[str, Any]:
    """A route: its poses, its moves, and the steps as they are called.

    A move with a centre turns about it; one without carries the aircraft's own point `carried`
    (floor axes: aft, right) straight while the heading changes evenly. Moves count from 0, steps
    from 1.
    """
    told = []
    for step, words in zip(steps, instructions, strict=True):
        gaps = [t.gap for t in tights if step.has(t.move)]
        told.append(
            {
                "step": step.number,
                "instruction": words,
                "kind": step.kind,
                "first_move": step.first,
                "last_move": step.last,
                "start": pose(step.start),
                "end": pose(step.end),
                "turn": number(step.plain.turn, "angle"),
                "travel_of_parking_point": number(step.travel, "length"),
                "centre": None if step.plain.centre is None else _plan_point(step.plain.centre),
                "strays_from_moves_by": number(step.stray, "length"),
                "least_clearance_told": number(min(gaps), "length") if gaps else None,
            }
        )
    return {
        "moving": found.moving,
        "clearance_proved": number(found.clearance, "length"),
        "poses": [pose(one) for one in found.poses],
        "moves": [
            {
                "start": pose(move.start),
                "end": pose(move.end),
                "turn": number(move.turn, "angle"),
                "centre": None if move.centre is None else _plan_point(move.centre),
                "carried": {
                    "value": [float(v) for v in move.carried],
                    "unit": "m",
                    "axes": "floor: aft, right",
                },
            }
            for move in found.moves
        ],
        "steps": told,
        "tight_places": [tight(one) for one in tights],
    }


def roll_out(found: RollOut) -> dict[str, Any]:
    """The way out of a room: with what is asked for, the most there is, and how sure that is."""
    bare, gear = found.bare, found.on_gear
    return {
        "verdict": found.verdict,
        "why": found.why,
        "with_clearances_asked": way(found.wished),
        "greatest_clearance": {
            "at_least": _bound(bare.low),
            "at_most": _bound(bare.high),
            "limited_by": bare.limited,
        },
        "on_its_own_wheels": None if gear is None else way(gear),
        "second_check": second_check(found.gone_over),
        "tight_places": _tight_places(found.tight, found.spreads),
        "tight_on_its_own_wheels": _tight_places(gear.tight if gear else (), found.gear_spreads),
    }


def second_check(found: Sequence[GoneOver]) -> list[dict[str, Any]]:
    """What the second, separate check went over: by what, and how much of it it looked at."""
    return [
        {
            "of": one.what,
            "done": one.done,
            "by": one.by or None,
            "looked_at": {one.of: one.looks} if one.of else None,
            "why_not": one.missing or None,
        }
        for one in found
    ]


def _tight_places(tights: Sequence[Tight], spreads: Mapping[str, Spread]) -> list[dict[str, Any]]:
    return [
        {**tight(t), "tolerance": tolerance(spreads[t.thing])} if t.thing in spreads else tight(t)
        for t in tights
    ]


def way(found: WayOut) -> dict[str, Any]:
    """One question for a way out and its answer."""
    return {
        "answer": found.answer,
        "reason": found.reason,
        "changes_of_direction": found.shunts,
        "boxes": found.boxes,
        "route": None if found.route is None else route(found.route),
    }


def _bound(value: float) -> dict[str, Any] | None:
    return number(value, "length") if math.isfinite(value) else None


def floor_marks(marks: FloorMarks) -> dict[str, Any]:
    """The marks on the floor, each by two tapes and by place coordinates."""
    return {
        "spot": pose(marks.spot),
        "groups": [
            {
                "key": group.key,
                "title": group.title,
                "marks": [
                    {
                        "name": taped.name,
                        "at": _plan_point(taped.point),
                        "height": number(height, "length"),
                        "tapes": [
                            {"from": taped.first.name, **number(taped.from_first, "length")},
                            {"from": taped.second.name, **number(taped.from_second, "length")},
                        ],
                        "crossing": number(taped.crossing, "angle"),
                    }
                    for taped, height in zip(group.taped, group.heights, strict=True)
                ],
                "off_the_floor": group.outside,
            }
            for group in marks.groups
        ],
    }


def item(line: Item) -> dict[str, Any]:
    """One line of a balance sheet."""
    return {
        "name": line.name,
        "mass": number(line.mass, "mass"),
        "fs": number(line.fs, "length"),
        "bl": number(line.bl, "length"),
        "wl": None if line.wl is None else number(line.wl, "length"),
        "moment": number(line.moment, "moment"),
    }


def standing_balance(found: Balanced) -> dict[str, Any]:
    """How a standing aircraft carries its weight."""
    return {
        "stage": found.standing.stage.name,
        "stance": found.standing.stance_name,
        "weight_from": found.source,
        "total": item(found.total),
        "items": [item(line) for line in found.items],
        "height_over_floor": number(found.over_floor[2], "length"),
        "supports": _supports(found.supports),
        "stands": found.stands,
        "sits_on_its_tail_on": found.sits_on or None,
        "front_load": number(found.front_load, "mass"),
        "tip_back_angle": number(found.tip_back, "angle"),
        "overturn_angle": number(found.overturn, "angle"),
        "push_down_that_lifts_the_nose": _force(found.push),
        "lift_that_raises_the_nose": _force(found.lift),
        "push_down_that_sets_it_on_its_nose": _force(found.set_down),
        "tips_without": list(found.tips_without),
        "wanted_on_the_front": None if found.wanted is None else number(found.wanted, "mass"),
        "ground_ballast": {
            b.place: None if b.mass is None else number(b.mass, "mass") for b in found.ballast
        },
    }


def _force(one: Force | None) -> dict[str, Any] | None:
    return None if one is None else {"at": one.at, "mass": number(one.mass, "mass")}


def _supports(supports: tuple[Support, ...]) -> list[dict[str, Any]]:
    """What each support carries; no load where it tips over."""
    return [
        {"name": s.name, "load": None if s.load is None else number(s.load, "mass")}
        for s in supports
    ]


def leaving(one: Leaving) -> dict[str, Any]:
    """How the occupants of a case may step out; every set of empty seats a step."""

    def step(this: Emptied) -> dict[str, Any]:
        return {
            "out": list(this.out),
            "total": item(this.total),
            "stands": this.carried.stands,
            "sits_on_its_tail_on": this.carried.sits_on or None,
            "front_load": number(this.carried.front_load, "mass"),
            "front_load_or_lack": number(this.front, "mass"),
            "tip_back_angle": number(this.carried.tip_back, "angle"),
            "supports": _supports(this.carried.supports),
        }

    return {
        "case": one.case,
        "fuel": one.fuel,
        "steps": [step(this) for this in one.steps],
        "order_out": list(one.order),
        "order_keeps_it_standing": one.stands,
        "least_front_in_that_order": step(one.least),
        "worst_of_all_orders": step(one.worst),
        "hand_on_the_nose": _force(one.hand),
        "hand_on_the_nose_at_the_worst": _force(one.worst_hand),
        "ground_ballast": {
            b.place: None if b.mass is None else number(b.mass, "mass") for b in one.ballast
        },
    }


def lift(stage: str, found: Aerodynamics | None, why: str) -> dict[str, Any]:
    """What the lattice says of a stage."""
    if found is None:
        return {"stage": stage, "problem": why}

    def figure(one: Any, kind: str) -> dict[str, Any]:
        return {**number(one.value, kind), "refinement_difference": one.change}

    return {
        "stage": stage,
        "reference": found.reference,
        "neutral_point_fs": figure(found.neutral_point, "length"),
        "lift_slope": figure(found.lift_slope, "ratio"),
        "lift_coefficient_at_zero": figure(found.lift_at_zero, "ratio"),
        "moment_coefficient_about_neutral_point": figure(found.moment_at_zero, "ratio"),
        "share_of_lift": {name: figure(one, "ratio") for name, one in found.shares.items()},
        "span_efficiency": figure(found.efficiency, "ratio"),
        "neutral_point_without": {name: figure(one, "length") for name, one in found.without},
    }


def balance(found: BalanceFindings) -> dict[str, Any]:
    """The whole balance."""
    answer = found.answer
    record = answer.record

    def shares(fs: float) -> dict[str, Any]:
        return {r.key: number(r.share(fs), "percent") for r in answer.references}

    def spread(key: str, kind: str) -> dict[str, Any]:
        return tolerance(found.spread(key), kind)

    out: dict[str, Any] = {
        "references": {
            r.key: {
                "name": r.name,
                "lemac_fs": number(r.lemac, "length"),
                "mac": number(r.mac, "length"),
            }
            for r in answer.references
        },
        "rule_of_thumb_neutral_point_fs": None
        if answer.rule_point is None
        else number(answer.rule_point, "length"),
        "neutral_point_fs": None
        if answer.neutral_point is None
        else number(answer.neutral_point, "length"),
        "lattice": [lift(*stage) for stage in found.lift.stages],
        "empty": None,
        "stages": [standing_balance(stage) for stage in answer.standings],
        "cases": [],
        "stepping_out": [leaving(one) for one in answer.leavings],
        "adverse": [],
    }
    if record is not None:
        out["empty"] = {
            "source": record.source,
            "base": item(record.base),
            "now": item(record.now),
            "share_of_mac": shares(record.now.fs),
            "mass_tolerance": spread("empty.mass", "mass"),
            "fs_tolerance": spread("empty.fs", "length"),
            "bl_known": record.has_bl,
            "bl_tolerance": spread("empty.bl", "length"),
            "changes": [
                {
                    "name": c.name,
                    "before": item(c.before),
                    "lines": [item(line) for line in c.lines],
                    "after": item(c.after),
                    "negligible": c.negligible,
                }
                for c in record.changes
            ],
        }
    point = found.neutral_point
    for k, case in enumerate(answer.cases):
        stood = answer.loaded[k]
        out["cases"].append(
            {
                "name": case.name,
                "verdict": case.verdict,
                "over_limit_of": list(case.over),
                "under_least_of": list(case.under),
                "lines": [item(line) for line in case.lines],
                "total": item(case.total),
                "share_of_mac": shares(case.total.fs),
                "static_margin": {
                    "from": point[1],
                    **{
                        r.key: number(static_margin(point[0], case.total.fs, r.mac), "percent")
                        for r in answer.references
                    },
                }
                if point is not None
                else None,
                "fs_tolerance": spread(f"cases.{k}.fs", "length"),
                "margins": {
                    m.bound: {
                        "remaining": number(m.left, _bound_kind(m.bound)),
                        "at_mass": number(m.mass, "mass"),
                        "at_fs": number(m.fs, "length"),
                        "tolerance": spread(f"cases.{k}.{m.bound}", _bound_kind(m.bound)),
                    }
                    for m in case.margins
                },
                "burn": [
                    {
                        "point": p.what,
                        "mass": number(p.mass, "mass"),
                        "fs": number(p.fs, "length"),
                    }
                    for p in case.burn
                ],
                "useful_load_remaining": None
                if case.useful_left is None
                else number(case.useful_left, "mass"),
                "least_changes": [
                    {
                        "what": r.what,
                        "mass": number(r.mass, "mass"),
                        "still_inside_up_to": number(r.most, "mass"),
                        "volume": None if r.volume is None else number(r.volume, "volume"),
                        "after": item(r.after),
                    }
                    for r in case.remedies
                ],
                "room_remaining": {place: number(mass, "mass") for place, mass in case.room},
                "on_the_ground": None if stood is None else standing_balance(stood),
            }
        )
    for worst in answer.adverse:
        out["adverse"].append(
            {
                "side": worst.side,
                "ballast": "any amount allowed" if worst.ballast else "at its least",
                "total": item(worst.total),
                "lines": [item(line) for line in worst.lines],
                "remaining": None if worst.margin is None else number(worst.margin, "length"),
            }
        )
    return out


def _bound_kind(bound: str) -> str:
    return "length" if bound in ("forward", "aft") else "mass"
