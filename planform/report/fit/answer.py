"""Fits, and every stage in every place: the answers on their way to a reader."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from planform.design.models import Design
from planform.design.place import Place
from planform.fit.answer import FitAnswer
from planform.report.answer import Answer, Block
from planform.report.fit.advice import BAND_NOTE, sentences
from planform.report.fit.push import PUSHED
from planform.report.fit.record import RECORDER, fit_record, stages_record
from planform.report.fit.tables import checks_table, stages_table
from planform.report.record import Record
from planform.report.way_out.words import WAYS
from planform.report.words import ROOM_SIDES, gone_over
from planform.study.next_reading import Advice
from planform.study.stages import LastChance, StageTable, chance_of


@dataclass(frozen=True, eq=False, kw_only=True)
class FitsAnswer(Answer):
    """The stages asked for in one place, each with what to measure next."""

    kind = "fit"

    design: Design
    place: Place
    stages: tuple[tuple[FitAnswer, Advice], ...]

    @property
    def good(self) -> bool:
        """Whether all fit, with care or without."""
        return all(answer.verdict.good for answer, _ in self.stages)

    @property
    def chances(self) -> tuple[LastChance, ...]:
        """The last chance to come out, where every stage of several was judged."""
        chance = chance_of([answer for answer, _ in self.stages])
        return () if chance is None or len(self.stages) == 1 else (chance,)

    def said(self, system: str) -> Iterator[Block]:
        """The checks of each stage, and what to measure next."""
        for answer, found in self.stages:
            yield checks_table(answer, self.place, system)
            yield from sentences(found, system)
            yield from (f"note: {note}" for note in answer.notes)
            yield from gone_over(() if answer.way is None else answer.way.gone_over)
            yield ""
        yield from (chance.words for chance in self.chances)
        yield from (BAND_NOTE, WAYS, *PUSHED, ROOM_SIDES)

    def record(self, system: str) -> Record:
        """The stages in order."""
        return {
            "design": self.design.name,
            "place": self.place.name,
            "stages": [fit_record(*stage) for stage in self.stages],
            "last_chances": RECORDER.all(self.chances),
        }


@dataclass(frozen=True, eq=False, kw_only=True)
class StagesAnswer(Answer):
    """Every stage in every place."""

    kind = "stages"

    design: Design
    found: StageTable

    @property
    def good(self) -> bool:
        """Whether all fit, with care or without."""
        return all(answer.verdict.good for row in self.found.cells for answer in row)

    def said(self, system: str) -> Iterator[Block]:
        """The table, and the last chance to come out of each place."""
        yield stages_table(f"{self.design.name}, stage by stage", self.found, system)
        yield from (chance.words for chance in self.found.last_chances)
        yield WAYS
        yield "planform fit with one place shows every check, its tolerance and what to measure."

    def record(self, system: str) -> Record:
        """Every stage in every place."""
        return {"design": self.design.name, **stages_record(self.found)}
