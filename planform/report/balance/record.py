"""The balance as JSON."""

from __future__ import annotations

from planform.aero.answer import Aerodynamics, Figure
from planform.airframe.weight.items import Item
from planform.airframe.weight.record import ChangeSheet, EmptyRecord
from planform.airframe.weight.tilting import ScaleLine, ScalesAt, TwoAttitudes
from planform.airframe.weight.weighing import Weighed
from planform.balance.adverse import Adverse
from planform.balance.answer import BalanceAnswer
from planform.balance.exits import Emptied, Leaving
from planform.balance.footing import Support
from planform.balance.loader import Margin
from planform.balance.loading import BurnPoint, Loaded
from planform.balance.reference import Reference
from planform.balance.remedies import Remedy
from planform.balance.stages import Balanced, Ballast, Force
from planform.core.shape.canard import static_margin
from planform.report.record import Record, Recorder, number, tolerance
from planform.study.spreads_of_balance import BalanceFindings

RECORDER = Recorder(
    {
        Item: "name mass fs bl wl moment",
        Support: "name load",
        Force: "at mass",
        Ballast: "*mass",
        Balanced: "stage=standing.stage.name stance=standing.stance_name weight_from=source total "
        "items height_over_floor=height supports stands sits_on_its_tail_on=sits_on? front_load "
        "tip_back_angle=tip_back overturn_angle=overturn push_down_that_lifts_the_nose=push "
        "lift_that_raises_the_nose=lift push_down_that_sets_it_on_its_nose=set_down tips_without "
        "wanted_on_the_front=wanted ground_ballast=ballast{place",
        Emptied: "out total stands=carried.stands sits_on_its_tail_on=carried.sits_on? "
        "front_load=carried.front_load front_load_or_lack=front tip_back_angle=carried.tip_back "
        "supports=carried.supports",
        Leaving: "case fuel steps order_out=order order_keeps_it_standing=stands "
        "least_front_in_that_order=least worst_of_all_orders=worst hand_on_the_nose=hand "
        "hand_on_the_nose_at_the_worst=worst_hand ground_ballast=ballast{place",
        Reference: "name lemac_fs=lemac mac",
        ChangeSheet: "name before lines after negligible",
        EmptyRecord: "source base now bl_known=has_bl changes weighing=weighed",
        ScaleLine: "at reading tare net fs bl wl",
        ScalesAt: "scales level lean",
        TwoAttitudes: "second tilt told cg_wl words",
        Weighed: "scales as_weighed levelled corrections cg_wl_taken=cg_wl crosswise_load=twist "
        "two_attitudes=tilted",
        BurnPoint: "point=what mass fs bl",
        Margin: "at_mass=mass at_fs=fs at_bl=bl",
        Remedy: "what mass still_inside_up_to=most volume after",
        Adverse: "side ballast=ballast_words total lines remaining=margin",
        Loaded: "name verdict over_limit_of=over under_least_of=under lines total "
        "zero_fuel_mass=zero_fuel burn "
        "useful_load_remaining=useful_left least_changes=remedies room_remaining=room_by_place",
        Figure: "*value refinement_difference=change!",
        Aerodynamics: "reference neutral_point_fs=neutral_point lift_slope "
        "lift_coefficient_at_zero=lift_at_zero "
        "moment_coefficient_about_neutral_point=moment_at_zero share_of_lift=shares "
        "span_efficiency=efficiency neutral_point_without=without_by_name",
        BalanceAnswer: "references{key rule_of_thumb_neutral_point_fs=rule_point "
        "neutral_point_fs=neutral_point stages=standings stepping_out=leavings adverse",
    }
)


def balance_record(found: BalanceFindings) -> Record:
    """The whole balance."""
    answer = found.answer
    return {
        **RECORDER.of(answer),
        "lattice": [
            {"stage": stage, **(RECORDER.of(lift) if lift is not None else {"problem": why})}
            for stage, lift, why in found.lift.stages
        ],
        "empty": None if answer.record is None else _empty(found, answer.record),
        "cases": [_case(found, k) for k in range(len(answer.cases))],
    }


def _shares(found: BalanceFindings, fs: float) -> Record:
    return {r.key: number(r.share(fs), "percent") for r in found.answer.references}


def _empty(found: BalanceFindings, record: EmptyRecord) -> Record:
    return {
        **RECORDER.of(record),
        "share_of_mac": _shares(found, record.now.fs),
        "mass_tolerance": tolerance(found.spread("empty.mass"), "mass"),
        "fs_tolerance": tolerance(found.spread("empty.fs")),
        "bl_tolerance": tolerance(found.spread("empty.bl")),
        "cg_wl_tolerance": tolerance(found.spread("record.cg_wl")),
    }


def _case(found: BalanceFindings, k: int) -> Record:
    """A loading case, and how the aircraft stands with it."""
    case, stood = found.answer.cases[k], found.answer.loaded[k]
    return {
        **RECORDER.of(case),
        "share_of_mac": _shares(found, case.total.fs),
        "static_margin": _static_margin(found, case.total.fs),
        "fs_tolerance": tolerance(found.spread(f"cases.{k}.fs")),
        "bl_tolerance": tolerance(found.spread(f"cases.{k}.bl")),
        "margins": {m.bound: _margin(found, f"cases.{k}.{m.bound}", m) for m in case.margins},
        "on_the_ground": None if stood is None else RECORDER.of(stood),
    }


def _static_margin(found: BalanceFindings, fs: float) -> Record | None:
    if found.neutral_point is None:
        return None
    point, source = found.neutral_point
    margins: Record = {
        r.key: number(static_margin(point, fs, r.mac), "percent") for r in found.answer.references
    }
    return {"from": source, **margins}


def _margin(found: BalanceFindings, key: str, one: Margin) -> Record:
    left, taken = number(one.left, one.kind), tolerance(found.spread(key), one.kind)
    return {"remaining": left, **RECORDER.of(one), "tolerance": taken}
