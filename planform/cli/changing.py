"""The changes command: from its options to what would make it fit."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from planform.airframe.stages import stage_meant, stage_questions
from planform.cli.options import length_given
from planform.cli.progress import told_on_change
from planform.cli.show import show
from planform.cli.watching import watching
from planform.design.models import Design
from planform.design.place import Place
from planform.design.questions import assumptions, design_questions, place_questions

if TYPE_CHECKING:
    from planform.study.changes import Change


@dataclass(frozen=True)
class ChangesAsked:
    """The options as they were given."""

    stage: str | None
    stance: str | None
    spot: str | None
    keep: str | None
    seconds: float
    workers: int | None


def show_changes(
    design: Design,
    place: Place,
    asked: ChangesAsked,
    folder: Path | None,
    system: str,
    *,
    as_json: bool,
) -> int:
    """Print the least changes and write them; 0 where it comes out or a change frees it, else 1."""
    from planform.report.changes.answer import ChangesAnswer
    from planform.study.changes import least_changes

    tell = told_on_change()

    def done(change: Change) -> None:
        tell(f"{change.what}: {change.answer}")

    keep = length_given("--keep", asked.keep)
    with watching(asked.seconds) as watch:
        found = least_changes(
            design, place, asked.stage, asked.stance, asked.spot,
            keep=keep, watch=watch, workers=asked.workers or os.cpu_count() or 1, told=done,
        )  # fmt: skip
    airframe = found.base.case.standing.airframe
    answer = ChangesAnswer(
        found=found,
        taken=(*stage_meant(airframe, asked.stage)[1], *assumptions(design, place)),
        questions=(
            *design_questions(design), *stage_questions(airframe), *place_questions(place)
        ),
    )  # fmt: skip
    return show(answer, folder, system, as_json=as_json)
