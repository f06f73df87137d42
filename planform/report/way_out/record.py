"""The way out, its steps and the marks on the floor as JSON."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from planform.core.spread import Spread
from planform.fit.moves import Move, Pose, Route, Tight
from planform.fit.roll_out import RollOut
from planform.fit.second_check import GoneOver
from planform.fit.steps import Step
from planform.fit.taping import Taped
from planform.fit.way_out import GreatestClearance, WayOut
from planform.report.record import Json, Record, Recorder, Told, known, number, tolerance
from planform.report.way_out.card import CALLS, before
from planform.report.way_out.handover import Handover
from planform.report.way_out.marks import FloorMarks, MarkGroup


def _marks(group: MarkGroup, recorder: Recorder) -> Record:
    marks = [
        {**recorder.of(taped), "height": number(height, "length")}
        for taped, height in zip(group.taped, group.heights, strict=True)
    ]
    return {"marks": marks, **recorder.told(group, "key title off_the_floor=outside")}


def _taped(one: Taped, recorder: Recorder) -> Record:
    first = recorder.told(one, "from=first.name *from_first")
    second = recorder.told(one, "from=second.name *from_second")
    return {"tapes": [first, second], **recorder.told(one, "name at=point crossing")}


def _greatest(one: GreatestClearance, recorder: Recorder) -> Record:
    ends = {"at_least": known(one.low, "length"), "at_most": known(one.high, "length")}
    return {**ends, "limited_by": one.limited}


def _gone_over(one: GoneOver, recorder: Recorder) -> Record:
    looked = {one.of: one.looks} if one.of else None
    return {**recorder.told(one, "of=what done by? why_not=missing?"), "looked_at": looked}


def _roll_out(found: RollOut, recorder: Recorder) -> Record:
    """With what is asked for, the most there is, and how sure that is."""
    words = "verdict why with_clearances_asked=wished greatest_clearance=bare"
    gear = found.on_gear
    return {
        **recorder.told(found, f"{words} on_its_own_wheels=on_gear second_check=gone_over"),
        "tight_places": _tight_places(found.tight, found.spreads),
        "tight_on_its_own_wheels": _tight_places(gear.tight if gear else (), found.gear_spreads),
    }


SHAPES: dict[type, Told] = {
    Pose: "x y heading",
    Move: "start end turn centre carried",
    Tight: "part thing gap pose at_part at_thing move share",
    Step: "step=number kind first_move=first last_move=last start end turn=plain.turn "
    "travel_of_parking_point=travel centre=plain.centre strays_from_moves_by=stray",
    Route: lambda route, _: route_record(route),
    WayOut: "answer reason changes_of_direction=shunts boxes route",
    GreatestClearance: _greatest,
    RollOut: _roll_out,
    GoneOver: _gone_over,
    Taped: _taped,
    MarkGroup: _marks,
    FloorMarks: "spot groups",
}
"""A move with a centre turns about it; one without carries the aircraft's own point `carried`
straight while the heading changes evenly. Moves count from 0, steps from 1."""

RECORDER = Recorder(SHAPES)


def route_record(
    found: Route,
    steps: Sequence[Step] = (),
    instructions: Sequence[str] = (),
    tights: Sequence[Tight] = (),
) -> Record:
    """A route: its poses, its moves, the steps as they are called, and where it is tight."""

    def told(step: Step, words: str) -> Record:
        least = min((t.gap for t in tights if step.has(t.move)), default=None)
        tight = {"least_clearance_told": known(least, "length")}
        return {"instruction": words, **RECORDER.of(step), **tight}

    return {
        **RECORDER.told(found, "moving clearance_proved=clearance poses moves"),
        "steps": [told(*pair) for pair in zip(steps, instructions, strict=True)],
        "tight_places": RECORDER.all(tights),
    }


def handover_record(found: Handover, system: str) -> Record:
    """The route and the floor marks."""
    way = None
    if found.route is not None:
        way = route_record(found.route, found.steps, found.sentences(system), found.tights)
    return {
        "design": found.standing.airframe.design.name,
        "stage": found.standing.stage.name,
        "stance": found.standing.stance_name,
        "place": found.room.place.name,
        "route": way,
        "floor_marks": RECORDER.of(found.marks),
        "cautions": [*CALLS, *before(found.room.place.floor)],
    }


def _tight_places(tights: Sequence[Tight], spreads: Mapping[str, Spread]) -> list[Json]:
    def one(t: Tight) -> Record:
        taken = spreads.get(t.thing)
        return RECORDER.of(t) | ({} if taken is None else {"tolerance": tolerance(taken)})

    return [one(t) for t in tights]
