"""Options from ahead, all to one scale: what a winglet's cant does to tip height and width."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from planform.airframe.build import build
from planform.airframe.measure import standing_sizes
from planform.airframe.stance import Standing, stage_named, stand_on
from planform.design.problems import InputError
from planform.drawing.paper.frame import Title
from planform.drawing.paper.page import Page
from planform.drawing.paper.sizes import PaperSize, scales_for
from planform.report.sheets.aircraft_views import Aircraft, from_ahead
from planform.report.sheets.gallery import Captioned, gallery
from planform.report.sheets.stage_heights import TOLD
from planform.report.sheets.telling import Teller
from planform.study.options import changed_design, grid, variation

TITLE = "Winglet cant options to one scale"
CANTS = "0 deg, 15 deg, 30 deg"
"""Drawn beside the cant as designed, from upright outward; assumption."""
Named = tuple[str, Standing]


def options_page(options: Sequence[Named], paper: PaperSize, title: Title, system: str) -> Page:
    """Each option as it stands, from ahead, with its width and heights."""
    views = []
    for name, standing in options:
        teller = Teller(standing.airframe.design, {}, system)
        seen = from_ahead(Aircraft(standing, standing_sizes(standing), teller))
        told = tuple(one for one in seen.wanted if one.key in TOLD)
        views.append(Captioned(replace(seen, wanted=told), name))
    return gallery(views, paper, scales_for(system), title)


def cants_of(standing: Standing) -> tuple[Named, ...]:
    """The aircraft as designed and with its winglets at `CANTS`; those that can be built and stand.

    Empty where it has no winglets on at this stage.
    """
    design = standing.airframe.design
    if not any(part.role == "winglet" for part in standing.parts):
        return ()
    out: list[Named] = []
    for option in grid(design, [variation("cant", CANTS)]):
        try:
            changed = changed_design(design, option.changes)
            stage = stage_named(changed, standing.stage.name)
            stood = stand_on(build(changed), stage, standing.stance_name)
        except InputError:
            continue  # such a winglet is refused by the checks of a design
        out.append((option.name, stood))
    return tuple(out)
