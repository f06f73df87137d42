"""The template and mockup commands: their options read, their files written."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from planform.airframe.build import build
from planform.airframe.stages import stage_meant
from planform.airframe.stance import shaped, stand_on
from planform.design.models import Design
from planform.design.problems import InputError, Problem

if TYPE_CHECKING:
    from planform.drawing.paper.page import Page
    from planform.drawing.paper.sizes import PaperSize
    from planform.report.sheets.mockup import MockupAsked
    from planform.report.sheets.templates.asked import TemplateAsked

TRUE_SIZE = ("pdf", "svg", "dxf")
"""The kinds of files that hold true size."""


@dataclass(frozen=True)
class Written:
    """Where to, on which paper and in which units."""

    output: Path
    paper: str | None
    system: str

    def ending(self, known: tuple[str, ...]) -> str:
        """The kind of file; InputError for one not among those known."""
        ending = self.output.suffix.removeprefix(".").lower()
        if ending not in known:
            allowed = f"allowed: a file that ends in {', '.join(f'.{one}' for one in known)}"
            raise InputError("output", [Problem("-o", str(self.output), allowed)])
        return ending

    def sheet(self) -> PaperSize:
        """The paper; by the units where none is named."""
        from planform.drawing.paper.sizes import PAPERS, paper_for, paper_named

        if self.paper is None:
            return paper_for(self.system)
        paper = paper_named(self.paper)
        if paper is None:
            allowed = f"allowed: {', '.join(PAPERS)}"
            raise InputError("option", [Problem("--paper", repr(self.paper), allowed)])
        return paper

    def put(self, pages: tuple[Page, ...], ending: str, title: str) -> int:
        """Write the pages as one file; the exit code."""
        from planform.drawing.writers.papers import written_as
        from planform.report.folder import one_file

        if ending != "pdf" and len(pages) > 1:
            allowed = f"{len(pages)} pages, of which this kind of file holds one; write a .pdf"
            raise InputError("output", [Problem("-o", str(self.output), allowed)])
        one_file(self.output, lambda: written_as(pages, ending, title))
        print(f"wrote {self.output}")
        return 0


def write_template(design: Design, asked: TemplateAsked, to: Written) -> int:
    """Write the template of a part; the exit code."""
    from planform.report.sheets.templates.asked import template_pages, template_sheet
    from planform.report.sheets.templates.pages import Heading
    from planform.report.sheets.titles import date_of

    ending, paper = to.ending(TRUE_SIZE), to.sheet()
    airframe = build(shaped(design))
    heading = Heading(design.name, date_of(design))
    if ending == "pdf":
        pages = template_pages(airframe, asked, paper, heading, to.system)
    else:
        pages = (template_sheet(airframe, asked, heading, to.system),)
    code = to.put(pages, ending, f"{design.name}: {pages[0].title}")
    joined = f", {len(pages)} pages of {paper.name}" if ending == "pdf" else ""
    print(f"true size{joined}: print at 100 % and measure the ruler before cutting")
    return code


def write_mockup(
    design: Design, asked: MockupAsked, stands: tuple[str | None, str | None], to: Written
) -> int:
    """Write the cut list of a mock-up; the exit code.

    stands : stage and stance, as the options name them
    """
    from planform.drawing.writers.papers import ENDINGS
    from planform.report.sheets.mockup import mockup
    from planform.report.sheets.mockup_page import CAUTION, mockup_pages
    from planform.report.sheets.titles import title_of

    ending, paper = to.ending(ENDINGS), to.sheet()
    airframe = build(shaped(design))
    chosen, taken = stage_meant(airframe, stands[0])
    standing = stand_on(airframe, chosen, stands[1])
    made = mockup(standing, asked, to.system)
    title = title_of(design, to.system, f"Mock-up: {made.title}", cautions=CAUTION)
    code = to.put(mockup_pages(made, paper, title, to.system), ending, title.drawing)
    for text in taken:
        print(f"taken: {text}")
    return code
