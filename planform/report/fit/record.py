"""Fits, stage tables and what to measure next as JSON."""

from __future__ import annotations

from planform.fit.answer import FitAnswer
from planform.fit.check import Check
from planform.fit.clearance import Clearance
from planform.fit.push import Push
from planform.fit.verdict import Verdict
from planform.report.checks import CHECK_SHAPES
from planform.report.record import Record, Recorder, known, number
from planform.report.way_out.record import SHAPES
from planform.study.inputs import Input
from planform.study.next_reading import Advice, Better
from planform.study.stages import LastChance, StageTable


def _advice(found: Advice, recorder: Recorder) -> Record:
    words = "check=key worst_case=worst within_99"
    return {
        "deciding_check": None if found.deciding is None else found.deciding.key,
        "checks": [
            {**recorder.told(check, words), "readings": recorder.all(better)}
            for check, better in found.better
        ],
        "without_tolerance": [
            {**recorder.of(one), "moves_the_gap_by": number(change, "length")}
            for one, change in found.bare
        ],
    }


RECORDER = Recorder(
    SHAPES
    | CHECK_SHAPES
    | {
        Clearance: "part thing kind gap direction at_part at_thing",
        Push: "door way across from=start to=end problem? remarks least=tightest",
        Better: "input=input.name as_written=input.reading.text read_to=careful worst_case=worst "
        "within_99 settles_as_written=settles can_turn verdict_as_written=verdict",
        Input: "input=name as_written=reading.text *step",
        Advice: _advice,
        FitAnswer: "stage stance place spot verdict in_the_room=room_verdict "
        "straight_out_of_a_door=door_verdict out=out_verdict way_out=way checks clearances=near "
        "pushes notes",
        LastChance: "place judged last_stage_that_comes_out=last.name "
        "no_longer_out_from=first_shut.name before_the_step_to=step.name "
        "permanent=step.permanent by_build_order_alone=by_order in_words=words",
    }
)


def fit_record(answer: FitAnswer, found: Advice) -> Record:
    """One stage's fit, and what to measure next."""
    return {**RECORDER.of(answer), "measure_next": RECORDER.of(found)}


def stages_record(found: StageTable) -> Record:
    """Every stage in every place."""
    return {
        "stages": [
            {
                "stage": standing.stage.name,
                "stance": standing.stance_name,
                "permanent": standing.stage.permanent,
                "places": [_cell(answer) for answer in row],
            }
            for standing, row in zip(found.standings, found.cells, strict=True)
        ],
        "last_chances": RECORDER.all(found.last_chances),
    }


def _cell(answer: FitAnswer) -> Record:
    """One stage in one place."""
    return {
        "place": answer.place,
        "verdict": answer.verdict,
        "standing_in_the_room": _deciding(answer.room_verdict, answer.deciding_in("room")),
        "out": {
            "turning_as_needed": answer.way is not None,
            "door": answer.best_door if answer.way is None else answer.way_door,
            **_deciding(answer.out_verdict, answer.deciding_out),
        },
    }


def _deciding(verdict: Verdict, check: Check | None) -> Record:
    """A verdict with the gap that decides it."""
    if check is None:
        return {"verdict": verdict, "gap": None}
    return {
        "verdict": verdict,
        "gap": known(check.gap, "length"),
        "detail": check.detail or check.missing,
        **RECORDER.told(check, "check=key worst_case=worst within_99"),
    }
