"""The dimension sheet for hangar planning as a page to print."""

from __future__ import annotations

from planform.airframe.measure import Measures
from planform.airframe.stages import usual_stage
from planform.airframe.stance import Standing
from planform.design.guidance import space_module
from planform.design.models import Design
from planform.drawing.drawing import Drawing
from planform.report.measures.sheet import Row, classes
from planform.report.measures.tables import guides_table, sheet_tables
from planform.report.page import drawn, page, words_for


def sheet_page(
    design: Design,
    standings: tuple[Standing, ...],
    lines: tuple[tuple[Row, ...], ...],
    heights: tuple[Measures, ...],
    system: str,
    fronts: tuple[Drawing | None, ...] | None = None,
) -> str:
    """The dimension sheet as a page to print."""
    shown = fronts or (None,) * len(standings)
    stage, _ = usual_stage(standings[0].airframe)
    pairs = tuple(zip(standings, heights, strict=True))
    meant, sizes = next((pair for pair in pairs if pair[0].stage is stage), pairs[-1])
    stages = [
        (standing, sheet_tables(own, system, k), drawn(front) or "")
        for k, (standing, own, front) in enumerate(zip(standings, lines, shown, strict=True))
    ]
    return page(
        "sheet.html",
        **words_for(system),
        design=design,
        stages=stages,
        guides=guides_table(system),
        module=space_module(sizes["length"], sizes["width"]),
        last=meant.title,
        classes=classes(design, meant, sizes),
    )
