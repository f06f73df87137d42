"""A check as JSON, whichever answer it stands in."""

from __future__ import annotations

from planform.fit.check import Check
from planform.fit.open_doors import StandsOut
from planform.fit.push_path import Tightest
from planform.report.record import Record, Recorder, Told, number, tolerance


def _check(item: Check, recorder: Recorder) -> Record:
    words = "key where=group what verdict why gap wanted wanted_from detail on_the_way=tight"
    outside = {"standing_out": recorder.all(item.outside)} if item.outside else {}
    return {**recorder.told(item, words), **outside, "tolerance": _tolerance(item)}


def _tolerance(item: Check) -> Record:
    """What the tolerances do to a check; below zero, what they can give back."""
    again: Record = {"governed_then_by": item.built_detail or item.detail}
    return {
        **tolerance(item.spread),
        "worst_case": item.worst,
        "within_99": item.within_99,
        "first_order": item.spread.worst,
        "could_turn": item.open,
        "worst_corner_built_again": None
        if item.built is None
        else {"gap": number(item.built, "length"), **again},
    }


CHECK_SHAPES: dict[type, Told] = {
    Tightest: "kind gap_proved=gap bracket part thing "
    "parking_point_outside_inner_wall_line=pose.along nose_up=pose.pitch "
    "right_wing_down=pose.roll at_part at_thing",
    StandsOut: "door part outside_inner_wall_line=by",
    Check: _check,
}
