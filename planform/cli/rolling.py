"""The roll-out command: from its options to the way out."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from planform.airframe.build import build
from planform.airframe.stages import stage_meant, stage_questions
from planform.airframe.stance import shaped, stand_on
from planform.cli.options import length_given
from planform.cli.show import show
from planform.cli.watching import watching
from planform.design.models import Design
from planform.design.place import Place
from planform.design.problems import InputError, Problem
from planform.design.questions import assumptions, design_questions, place_questions

DOLLIES, WHEELS = "dollies", "wheels"


@dataclass(frozen=True)
class WayOutAsked:
    """The options as they were given."""

    stage: str | None
    stance: str | None
    spot: str | None
    keep: str | None
    over: str | None
    moving: str
    seconds: float
    paper: str | None = None


def show_roll_out(
    design: Design,
    place: Place,
    asked: WayOutAsked,
    folder: Path | None,
    system: str,
    *,
    as_json: bool,
) -> int:
    """Print the way out and hand it over; 0 where there is one, 1 otherwise."""
    from planform.fit.question import spelled
    from planform.fit.room import build_room, spot_point
    from planform.fit.straight import Straight
    from planform.report.way_out.answer import WayOutAnswer
    from planform.report.way_out.words import touching
    from planform.study.judging import judged_way
    from planform.study.roll_out import Wish, find_way_out

    if asked.moving not in (DOLLIES, WHEELS):
        allowed = f"allowed: {DOLLIES} (any way) or {WHEELS} (no side-slip)"
        raise InputError("option", [Problem("--moving", repr(asked.moving), allowed)])
    airframe = build(shaped(design))
    stage, taken = stage_meant(airframe, asked.stage)
    standing = stand_on(airframe, stage, asked.stance)
    room = build_room(place)
    wish = Wish(
        level=length_given("--keep", asked.keep),
        over=length_given("--over", asked.over),
        gear=asked.moving == WHEELS,
    )
    with watching(asked.seconds) as watch:
        judged = judged_way(
            Straight(standing, room, asked.spot),
            lambda there: find_way_out(standing, there, asked.spot, wish, watch),
        )  # fmt: skip
    found = judged.way
    assert found is not None
    if found.meets is not None:
        spot = spot_point(place, asked.spot)
        assert spot is not None  # it was searched from there
        problem = Problem(f"spots: {spot.name}", spelled(spot), touching(found.meets, system))
        raise InputError(place.name, [problem])
    answer = WayOutAnswer(
        judged=judged,
        found=found,
        room=room,
        wheels=asked.moving == WHEELS,
        spot=asked.spot,
        paper=asked.paper,
        taken=(*taken, *assumptions(design, place)),
        questions=(
            *design_questions(design), *stage_questions(airframe, (standing,)),
            *place_questions(place),
        ),
    )  # fmt: skip
    return show(answer, folder, system, as_json=as_json)
