"""A survey on its way to a reader."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from planform.drawing.drawing import Drawing
from planform.report.answer import Answer, Block, Files, Headline
from planform.report.folder import Content, pictured
from planform.report.printed.document import pdf
from planform.report.printed.pieces import Printed
from planform.report.record import Record, document
from planform.report.survey.page import survey_page
from planform.report.survey.picture import pictures
from planform.report.survey.printed import survey_document
from planform.report.survey.record import survey_record
from planform.report.survey.tables import found_table, readings_table, sheet_tables
from planform.report.survey.words import CAUTIONS, MOST, all_lines, remaining_line, verdict
from planform.report.writers import tabled
from planform.study.surveyed import Surveyed


@dataclass(frozen=True, eq=False, kw_only=True)
class SurveyAnswer(Answer):
    """What was read of an aircraft, what explains it, and what it does."""

    kind = "survey"
    writes = "survey"

    found: Surveyed

    @property
    def good(self) -> bool:
        """Whether the readings have one explanation, and it leaves no more than tolerances give."""
        told = self.found.explanation
        return told.certain and told.remaining.explained

    @cached_property
    def _views(self) -> dict[str, Drawing]:
        return pictures(self.found)

    def said(self, system: str) -> Iterator[Block]:
        """What was found, its table, every list, and drawn against as built."""
        yield Headline(f"{self.found.drawn.airframe.design.name}: as built against as drawn")
        yield from self.in_short(system)
        yield from () if self.found.sheet is None else sheet_tables(self.found.sheet)
        yield f"caution: {CAUTIONS[0]}"

    def in_short(self, system: str) -> Iterator[Block]:
        """The same without what it does, which stands in the files."""
        yield verdict(self.found, system)
        table = found_table(self.found)
        if table is not None:
            yield ""
            yield table
        if not self.found.explanation.too_few:
            yield remaining_line(self.found)
        for heading, lines in all_lines(self.found, system):
            yield f"\n{heading}:"
            yield from (f"- {line}" for line in lines[:MOST])
            if len(lines) > MOST:
                yield f"- and {len(lines) - MOST} more, in the sheet (-o) and the JSON."
        yield ""

    def record(self, system: str) -> Record:
        """All of it in SI."""
        return survey_record(self.found, system)

    def files(self, system: str) -> Files:
        """The sheet as page and PDF, the pictures, tables, the record and the design as built."""
        found, views = self.found, self._views
        tables = [readings_table(found)]
        tables += () if found.sheet is None else sheet_tables(found.sheet)
        files: dict[str, Content] = {
            **pictured(views),
            **tabled("survey", tuple(tables), system),
            "survey.json": document(self.kind, self.record(system)),
            "survey.html": survey_page(found, views, system),
            "survey.pdf": pdf(self.document(system)),
        }
        if not found.as_built:
            return files
        return {**found.beside, **files, "as-built.toml": found.as_built}

    def document(self, system: str) -> Printed:
        """The sheet to print."""
        return survey_document(self.found, self._views, system, self.paper)
