"""The points command: what can be read of an aircraft, by name."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from planform.airframe.build import build
from planform.airframe.stages import stage_meant, stand
from planform.airframe.stance import shaped
from planform.cli.show import show
from planform.design.models import Design
from planform.design.problems import InputError, unknown
from planform.report.points.answer import PointsAnswer
from planform.rigging.points import NamedPoint, named_points


@dataclass(frozen=True)
class PointsAsked:
    """What was asked; of : parts, all where none is named."""

    stage: str | None
    stance: str | None
    of: Sequence[str]
    output: Path | None


def show_points(design: Design, asked: PointsAsked, system: str, *, as_json: bool) -> int:
    """The named points of an aircraft at a stage."""
    airframe = build(shaped(design))
    stage, taken = stage_meant(airframe, asked.stage)
    standing = stand(airframe, stage, asked.stance)
    points = named_points(airframe, stage)
    for name in asked.of:
        if not any(_of(point, name) for point in points):
            names = dict.fromkeys(point.part for point in points)
            raise InputError("option", [unknown("--of", name, names)])
    if asked.of:
        points = tuple(p for p in points if any(_of(p, name) for name in asked.of))
    answer = PointsAnswer(standing=standing, points=points, taken=taken)
    return show(answer, asked.output, system, as_json=as_json)


def _of(point: NamedPoint, name: str) -> bool:
    """Whether a point is of a part, by its own name or that of the pair."""
    given = name.strip().lower()
    part = point.part.lower()
    return given in (part, part.removeprefix("left ").removeprefix("right "))
