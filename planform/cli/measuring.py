"""The measure, sheet and preview commands: a design as it stands."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path

from planform.airframe.build import build
from planform.airframe.stages import stage_meant, stage_questions, stages_meant
from planform.airframe.stance import Standing, shaped, stand_on
from planform.cli.show import ask, progress_bar, show
from planform.design.models import Design
from planform.design.questions import assumptions, design_questions


def standings(
    design: Design, stages: Sequence[str], stance: str | None
) -> tuple[tuple[Standing, ...], tuple[str, ...]]:
    """The stages asked for as they stand, and what was taken where none was."""
    airframe = build(shaped(design))
    meant, taken = stages_meant(airframe, stages)
    stood = tuple(stand_on(airframe, stage, stance) for stage in meant)
    return stood, (*taken, *(line for one in stood for line in one.remarks))


def _asked(design: Design, stood: Sequence[Standing]) -> tuple[str, ...]:
    return (*design_questions(design), *stage_questions(stood[0].airframe))


def show_measures(
    design: Design, stages: Sequence[str], stance: str | None, system: str, *, as_json: bool
) -> int:
    """Measures of the design, and of each stage asked for as it stands."""
    from planform.report.measures.answer import MeasuresAnswer

    stood, taken = standings(design, stages, stance)
    answer = MeasuresAnswer(
        design=design,
        standings=stood,
        taken=(*taken, *assumptions(design)),
        questions=_asked(design, stood),
    )
    return show(answer, None, system, as_json=as_json)


def write_preview(design: Design, stage: str | None, stance: str | None, folder: Path) -> None:
    """Stills of one stage (the complete one where none is named) and its solids."""
    from planform.airframe.export import write_solids
    from planform.drawing.pictures import render
    from planform.drawing.scenes import aircraft_scene
    from planform.report.folder import whole_folder

    airframe = build(shaped(design))
    chosen, taken = stage_meant(airframe, stage)
    standing = stand_on(airframe, chosen, stance)
    with progress_bar(2) as step, whole_folder(folder, "preview") as workshop:
        step("writing solids")
        write_solids(standing, workshop)
        step("drawing pictures")
        pictures = render(aircraft_scene(standing), workshop)
        names = sorted(path.name for path in workshop.iterdir())
    print(f"{standing.title}: wrote {', '.join(names)} to {folder}")
    for line in (*taken, *standing.remarks):
        print(f"taken: {line}")
    if pictures.remark:
        print(f"note: {pictures.remark}", file=sys.stderr)
    ask(*design_questions(design), *stage_questions(airframe))
