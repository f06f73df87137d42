"""The sheet command: the drawings of an aircraft, one file or a folder of all."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from planform.airframe.build import build
from planform.airframe.stages import stage_meant
from planform.airframe.stance import shaped, stand_on
from planform.cli.show import ask, show
from planform.design.models import Design
from planform.design.place import Place
from planform.design.problems import InputError, Problem
from planform.design.questions import design_questions

if TYPE_CHECKING:
    from planform.drawing.paper.sizes import DrawingScale, PaperSize
    from planform.report.sheets.three_view import Angle


@dataclass(frozen=True)
class PagesAsked:
    """What the options of the command say."""

    stage: str | None = None
    stance: str | None = None
    paper: str | None = None
    scale: str | None = None
    projection: str | None = None
    hidden: bool = False


def write_drawings(
    design: Design, place: Place | None, asked: PagesAsked, output: Path, system: str
) -> int:
    """Write one drawing, or a folder of all of them; the exit code."""
    from planform.drawing.writers.papers import ENDINGS, written_as
    from planform.report.folder import one_file
    from planform.report.sheets.answer import DrawingsAnswer, DrawnAircraft
    from planform.report.sheets.dimension_sheet import SheetAsked

    ending = output.suffix.removeprefix(".").lower()
    if ending and ending not in ENDINGS:
        known = ", ".join(f".{one}" for one in ENDINGS)
        allowed = f"allowed: {known}; a name without an ending is a folder, which gets all"
        raise InputError("output", [Problem("-o", str(output), allowed)])
    airframe = build(shaped(design))
    chosen, taken = stage_meant(airframe, asked.stage)
    standing = stand_on(airframe, chosen, asked.stance)
    drawn = DrawnAircraft(
        standing, place, SheetAsked(*_options(asked, system), asked.hidden), system
    )
    told = (*taken, *standing.remarks)
    questions = design_questions(design)
    if not ending:
        answer = DrawingsAnswer(drawn=drawn, taken=told, questions=questions)
        return show(answer, output, system)
    one_file(output, lambda: written_as((drawn.dimension_sheet(),), ending, design.name))
    print(f"wrote {output}")
    for line in told:
        print(f"taken: {line}")
    ask(*questions)
    return 0


def _options(asked: PagesAsked, system: str) -> tuple[PaperSize, DrawingScale | None, Angle]:
    """Paper, scale and projection as the options name them; every mistake at once."""
    from planform.drawing.paper.sizes import PAPERS, paper_for, paper_named, scale_named

    problems = []
    paper = paper_for(system) if asked.paper is None else paper_named(asked.paper)
    if paper is None:
        problems.append(Problem("--paper", repr(asked.paper), f"allowed: {', '.join(PAPERS)}"))
    scale = None if asked.scale is None else scale_named(asked.scale)
    if asked.scale is not None and scale is None:
        allowed = "allowed: a scale of reduction as 1:50, or as '1/4 in' for 1/4 in = 1 ft"
        problems.append(Problem("--scale", repr(asked.scale), allowed))
    angle = asked.projection or "third"
    if angle not in ("first", "third"):
        problems.append(Problem("--projection", repr(angle), "allowed: first, third"))
    if problems:
        raise InputError("option", problems)
    assert paper is not None
    return paper, scale, "first" if angle == "first" else "third"
