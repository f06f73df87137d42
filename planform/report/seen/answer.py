"""The page in 3D of a design, in a place or alone: from its stages to one file."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from planform.airframe.measure import Measures, design_measures, standing_measures
from planform.airframe.stance import Standing
from planform.fit.room import Room, spot_point
from planform.report.folder import one_file
from planform.report.record import Record
from planform.report.seen.look import whole_look
from planform.report.seen.marks import marks_look
from planform.report.seen.meshes import Meshes
from planform.report.seen.page import seen_page
from planform.report.seen.plain import plain_page
from planform.report.seen.stage import balance_look, judged_look, measures_look, stage_look
from planform.report.seen.told import change_told
from planform.study.judging import SoFar
from planform.study.side_by_side import Cell, answered


@dataclass(frozen=True, eq=False)
class SeenStages:
    """What a page shows: an aircraft at some stages, each with its answer where there is a room.

    measures : of the design ; heights : the measures of each stage as it stands
    """

    standings: Sequence[Standing]
    measures: Measures
    heights: Sequence[Measures]
    room: Room | None
    answers: Sequence[SoFar]

    @property
    def title(self) -> str:
        """The aircraft and the place."""
        name = self.standings[0].airframe.design.name
        return name if self.room is None else f"{name} in {self.room.place.name}"

    def look(self, system: str) -> Record:
        """All of it, ready for a page."""
        meshes, airframe = Meshes(), self.standings[0].airframe
        stages = []
        for k, standing in enumerate(self.standings):
            spot = None if self.room is None else spot_point(self.room.place, self._spot(k))
            stage = stage_look(standing, meshes, system, spot)
            stage["measures"] = measures_look(standing, self.measures, system, self.heights[k])
            stage["balance"] = balance_look(standing, system)
            if k:
                stage["change"] = change_told(self.standings[k - 1], standing, system)
            if self.room is not None:
                stage |= judged_look(self.answers[k], self.room, meshes, system)
            if spot is not None:
                stage["marks"] = marks_look(standing, spot, system)
            stages.append(stage)
        return whole_look(airframe.design, self.room, stages, meshes, system)

    def _spot(self, number: int) -> str | None:
        return self.answers[number].answer.spot

    def page(self, system: str) -> str:
        """The page that shows it, with what is told without scripts too."""
        sizes = [(s.title, h) for s, h in zip(self.standings, self.heights, strict=True)]
        sizes.append((self.measures.of, self.measures))
        plain = plain_page(self.title, self.standings[-1], self.room, self.answers, system, sizes)
        return seen_page(self.look(system), self.title, plain)


def seen(
    standings: Sequence[Standing],
    room: Room | None,
    spot: str | None = None,
    progress: Callable[[str], None] = lambda step: None,
    workers: int | None = None,
) -> SeenStages:
    """Judge the stages where there is a room; `workers` processes, as many as cores where None."""
    measures = design_measures(standings[0].airframe)
    heights = [standing_measures(standing) for standing in standings]
    cells = [] if room is None else [Cell(standing, room, spot) for standing in standings]
    return SeenStages(standings, measures, heights, room, answered(cells, progress, workers))


def write_page(found: SeenStages, target: str | Path, system: str) -> None:
    """Write the page; system : one of 'ft-in', 'in', 'mm', 'm'.

    Raises InputError where the file cannot be written; then nothing is left behind.
    """
    one_file(Path(target), lambda: found.page(system).encode("utf-8"))
