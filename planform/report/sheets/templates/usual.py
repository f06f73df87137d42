"""The templates that a set of drawings holds without being asked for single ones."""

from __future__ import annotations

from planform.airframe.build import Airframe
from planform.design.kinds import LYING
from planform.design.problems import InputError
from planform.drawing.paper.page import Page
from planform.drawing.paper.sizes import PaperSize
from planform.report.sheets.templates.asked import TemplateAsked, template_pages
from planform.report.sheets.templates.pages import Heading


def usual_asks(airframe: Airframe) -> tuple[TemplateAsked, ...]:
    """Every winglet's joint, and an incidence board half way out on every surface that lies."""
    joints = (TemplateAsked(name, "joint") for name in airframe.design.winglets)
    lying = dict.fromkeys(half.group for half in airframe.halves if half.role in LYING)
    boards = (TemplateAsked(name, "incidence", at="50 %") for name in lying)
    return (*joints, *boards)


def usual_pages(
    airframe: Airframe, paper: PaperSize, heading: Heading, system: str
) -> tuple[tuple[Page, ...], tuple[str, ...]]:
    """The pages of the usual templates, and a sentence on each that cannot be drawn."""
    pages: list[Page] = []
    left_out = []
    for asked in usual_asks(airframe):
        try:
            pages += template_pages(airframe, asked, paper, heading, system)
        except InputError as error:
            left_out.append(f"no template of the {asked.part}, {asked.of}: {error.problems[0]}")
    return tuple(pages), tuple(left_out)
