"""Measures and the dimension sheet: the answers on their way to a reader."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from planform.airframe.measure import Measures, design_measures, standing_measures
from planform.airframe.opening import PanelOpening, openings
from planform.airframe.stance import Standing
from planform.design.models import Design
from planform.report.answer import Answer, Block
from planform.report.measures.openings import lines, opening_tables, openings_record
from planform.report.measures.record import measures_record
from planform.report.measures.tables import blocks
from planform.report.record import Record
from planform.study.spreads_of_measures import MeasureSpreads, measure_spreads


@dataclass(frozen=True, eq=False, kw_only=True)
class StandingMeasures(Answer):
    """A design as it stands, at the stages asked for; what is measured is worked out once."""

    design: Design
    standings: Sequence[Standing]

    @cached_property
    def spreads(self) -> MeasureSpreads:
        """What the tolerances do."""
        return measure_spreads(tuple(self.standings))

    @cached_property
    def heights(self) -> tuple[Measures, ...]:
        """The measures of each stage as it stands."""
        return tuple(standing_measures(s) for s in self.standings)


@dataclass(frozen=True, eq=False, kw_only=True)
class MeasuresAnswer(StandingMeasures):
    """Measures of the design, and of each stage as it stands."""

    kind = "measure"

    @cached_property
    def found(self) -> Measures:
        """The measures of the design."""
        return design_measures(self.standings[0].airframe)

    def said(self, system: str) -> Iterator[Block]:
        """How big, how high and what for balance: of the design, and of each stage."""
        yield from blocks(self.design.name, self.found, self.spreads.design)
        rows = zip(self.standings, self.heights, self.spreads.standings, strict=True)
        for standing, found, spread in rows:
            yield from blocks(standing.title, found, spread)
            yield from opening_tables(standing.title, self.openings[standing.title])
            yield from lines(self.openings[standing.title], system)

    @cached_property
    def openings(self) -> dict[str, tuple[PanelOpening, ...]]:
        """How the doors and canopies of each stage open, by stage and stance."""
        return {standing.title: openings(standing) for standing in self.standings}

    def record(self, system: str) -> Record:
        """The measures by key."""
        rows = zip(self.standings, self.heights, self.spreads.standings, strict=True)
        return {
            "design": self.design.name,
            "measures": measures_record(self.found, self.spreads.design),
            "stages": [
                {
                    "stage": standing.stage.name,
                    "stance": standing.stance_name,
                    "measures": measures_record(found, spread),
                    "openings": openings_record(self.openings[standing.title]),
                }
                for standing, found, spread in rows
            ],
        }
