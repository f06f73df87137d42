"""The fit and report commands: stages in a place, or in several."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from planform.airframe.stages import stage_questions
from planform.cli.measuring import standings
from planform.cli.show import ask, printed, progress_bar, show
from planform.design.models import Design
from planform.design.place import Place
from planform.design.questions import assumptions, design_questions, place_questions


@dataclass(frozen=True)
class FitAsked:
    """The options as they were given."""

    stages: Sequence[str]
    stance: str | None = None
    spot: str | None = None


def show_fit(design: Design, place: Place, asked: FitAsked, system: str, *, as_json: bool) -> int:
    """Print the verdicts; 0 where all fit (with care or without), 1 otherwise."""
    from planform.fit.room import build_room
    from planform.report.fit.answer import FitsAnswer
    from planform.study.side_by_side import Cell, answered

    room = build_room(place)
    stood, taken = standings(design, asked.stages, asked.stance)
    judged = answered([Cell(standing, room, asked.spot) for standing in stood])
    answer = FitsAnswer(
        design=design,
        place=place,
        stages=tuple((one.answer, one.advice) for one in judged),
        taken=(*taken, *assumptions(design, place)),
        questions=(
            *design_questions(design),
            *stage_questions(stood[0].airframe, stood),
            *place_questions(place),
        ),
    )
    return show(answer, None, system, as_json=as_json)


def show_stages(
    design: Design, places: Sequence[Place], stages: Sequence[str], system: str, *, as_json: bool
) -> int:
    """Print stages in every place; 0 where all fit (with care or without), 1 otherwise."""
    from planform.report.fit.answer import StagesAnswer
    from planform.study.stages import stage_table

    stood, taken = standings(design, stages, None)
    lines = [line for place in places for line in assumptions(design, place)]
    answer = StagesAnswer(
        design=design,
        found=stage_table(stood, places),
        taken=tuple(dict.fromkeys((*taken, *lines))),
        questions=(
            *design_questions(design),
            *stage_questions(stood[0].airframe, stood),
            *(q for place in places for q in place_questions(place)),
        ),
    )
    return show(answer, None, system, as_json=as_json)


def write_whole_report(
    design: Design, place: Place, target: Path, system: str, paper: str | None
) -> None:
    """The main job: a folder, or one PDF."""
    from planform.report.whole.report import report_file, write_report

    alone = printed(target)
    write = report_file if alone else write_report
    with progress_bar(len(design.stages) + 5) as step:
        found = write(design, place, target, system, step, paper)
    for answer in found.fits:
        print(f"{answer.standing.title}: {answer.verdict}")
    told = "report.html, report.pdf, sheet.html, dimensions.csv, answer.json, pictures, solids"
    print(f"wrote {target}" if alone else f"wrote {target}/{told}")
    if found.remark:
        print(f"note: {found.remark}", file=sys.stderr)
    ask(*found.questions)
