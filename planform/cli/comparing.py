"""The compare command: from what was asked to a study, and from its records to the reader."""

from __future__ import annotations

import sys
from dataclasses import dataclass
from pathlib import Path

from planform.airframe.stages import one_stage
from planform.airframe.stance import shaped, stance_named
from planform.cli.options import quantity_given
from planform.cli.show import printed, progress_bar, show
from planform.design.models import Design
from planform.design.place import Place
from planform.design.problems import InputError, Problem
from planform.study.comparison import compare
from planform.study.options import Variation, grid, variation
from planform.study.run import WHOLE


@dataclass(frozen=True)
class ComparisonAsked:
    """The command's options as written."""

    varied: dict[str, str]
    fields: tuple[str, ...]
    stage: str | None
    stance: str | None
    lift: float | None
    cg: str | None
    skin: str | None
    workers: int | None
    scheduler: str | None
    yes: bool


def _variations(asked: ComparisonAsked) -> list[Variation]:
    out = [variation(name, text) for name, text in asked.varied.items()]
    for text in asked.fields:
        path, equals, values = text.partition("=")
        if not equals:
            allowed = "allowed: a field, =, and values: 'winglets.winglet.cant = 0 deg, 15 deg'"
            raise InputError("option", [Problem("--vary", repr(text), allowed)])
        out.append(variation(path.strip(), values))
    return out


def show_comparison(
    design: Design,
    place: Place | None,
    asked: ComparisonAsked,
    folder: Path | None,
    system: str,
    *,
    as_json: bool,
) -> int:
    """Run the study, print or write it; 1 where no option fits the place, 0 otherwise."""
    from planform.report.compare.answer import ComparisonAnswer

    shaped(design)
    if asked.stage is not None:
        one_stage(design, asked.stage)
    if asked.stance is not None:
        stance_named(design, asked.stance)
    if asked.lift is not None and not 0.0 < asked.lift < 5.0:
        allowed = "allowed: a lift coefficient above 0 and below 5"
        raise InputError("option", [Problem("--lift", repr(asked.lift), allowed)])
    cg, skin = (
        quantity_given("--cg", asked.cg, "length"),
        quantity_given("--skin", asked.skin, "area_density"),
    )
    variations = _variations(asked)
    count = len(grid(design, variations, confirmed=asked.yes))
    stream = None if folder is None or printed(folder) else folder
    if stream is not None and not _streams():
        stream = None
        print("records are not streamed: pip install 'planform[sweep]' for that", file=sys.stderr)
    with progress_bar(count) as step:
        found = compare(
            design, variations, place, stage=asked.stage, stance=asked.stance, lift=asked.lift,
            cg=cg, skin=skin, confirmed=asked.yes, workers=asked.workers,
            scheduler=asked.scheduler, folder=stream,
            progress=lambda done, whole: step(f"{done} of {whole} options", done),
        )  # fmt: skip
    answer = ComparisonAnswer(
        found=found, taken=found.taken, carried=() if stream is None else (WHOLE,)
    )
    return show(answer, folder, system, as_json=as_json)


def _streams() -> bool:
    from importlib.util import find_spec

    return find_spec("pyarrow") is not None
