"""The measure command: a design as it stands."""

from __future__ import annotations

from collections.abc import Sequence

from planform.airframe.build import build
from planform.airframe.stages import stage_questions, stages_meant
from planform.airframe.stance import Standing, shaped, stand_on
from planform.cli.show import show
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
    return (*design_questions(design), *stage_questions(stood[0].airframe, stood))


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
