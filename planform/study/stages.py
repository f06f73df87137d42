"""Every build stage against every place, and the last chance to come out of each."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass

from planform.airframe.stages import cannot_be_reached
from planform.airframe.stance import Standing
from planform.core.shown import Brief, Shown
from planform.design.models import Stage
from planform.design.place import Place
from planform.design.problems import InputError, Problem
from planform.fit.answer import FitAnswer
from planform.fit.room import Room, build_room
from planform.fit.verdict import UNJUDGED
from planform.study.side_by_side import Cell, answered


def comes_out(answer: FitAnswer) -> bool:
    """Whether it gets out of the place, with care or without."""
    return answer.out_verdict.good


@dataclass(frozen=True, eq=False)
class LastChance:
    """When the aircraft must leave a place at the latest.

    last : the last stage that comes out before it is shut in; None where none does
    first_shut : the first stage that no longer comes out, nor any after it; None where there is
        none
    step : the stage that cannot be taken back and shuts it in; where no stage of the design says
        what is permanent, that is `first_shut`
    by_order : whether build order alone decided, as no stage says what is permanent
    judged : whether there is a door to judge
    unjudged : the stages of which it is not judged whether they come out; they count as shut in
    """

    place: str
    last: Stage | None
    first_shut: Stage | None
    step: Stage | None
    by_order: bool
    judged: bool = True
    unjudged: tuple[str, ...] = ()

    def is_at(self, stage: Stage) -> bool:
        """Whether this stage is the last chance, and a step after it shuts the aircraft in."""
        return self.step is not None and self.last is stage

    @property
    def words(self) -> str:
        """The last chance in one sentence, and one more where some stages are not judged."""
        if not self.unjudged or not self.judged:
            return self._words
        names = ", ".join(f"“{name}”" for name in self.unjudged)
        if self.last is None and self.first_shut is not None:
            return f"{self.place}: no stage is known to come out; not judged: {names}."
        return f"{self._words} Not judged, and not counted on: {names}."

    @property
    def _words(self) -> str:
        if not self.judged:
            return f"{self.place}: not judged; the place gives no door."
        if self.first_shut is None:
            return f"{self.place}: comes out at the last stage; no step shuts it in."
        if self.last is None:
            return f"{self.place}: comes out at no stage."
        if self.step is None:
            return (
                f"{self.place}: no longer comes out from “{self.first_shut.name}” on, but no "
                f"permanent step shuts it in: it can be taken back to “{self.last.name}”."
            )
        chance = f"{self.place}: LAST CHANCE is “{self.last.name}”. Take it out before"
        if self.by_order:
            return (
                f"{chance} “{self.step.name}”, from which on it no longer comes out (build order "
                "alone: no stage says what is permanent)."
            )
        return (
            f"{chance} “{self.step.name}” ({self.step.permanent}): there is no way back from "
            "there, and no stage from there on comes out."
        )


@dataclass(frozen=True, eq=False, repr=False)
class StageTable(Shown):
    """Stages of a design in several places.

    rooms : the places, built
    cells : the answers, a row a stage in build order, a column a place
    """

    standings: tuple[Standing, ...]
    rooms: tuple[Room, ...]
    cells: tuple[tuple[FitAnswer, ...], ...]

    def column(self, k: int) -> tuple[FitAnswer, ...]:
        """All stages in one place."""
        return tuple(row[k] for row in self.cells)

    @property
    def last_chances(self) -> tuple[LastChance, ...]:
        """The last chance to come out of each place; none where not every stage was judged."""
        found = (chance_of(self.column(k)) for k in range(len(self.rooms)))
        return tuple(chance for chance in found if chance is not None)

    def brief(self) -> Brief:
        """The verdict of every stage in every place, and the last chances."""
        rows = [
            (f"{answer.stage}, in {answer.place}", str(answer.verdict))
            for row in self.cells
            for answer in row
        ]
        rows += [("last chance", chance.words) for chance in self.last_chances]
        name = self.standings[0].airframe.design.name
        return Brief(f"{name}, stage by stage", tuple(rows))


def chance_of(answers: Sequence[FitAnswer]) -> LastChance | None:
    """The last chance to come out of a place; None where not every stage was judged there."""
    airframe = answers[0].standing.airframe
    if len(answers) < len(airframe.design.stages):
        return None
    return last_chance(answers, cannot_be_reached(airframe))


def last_chance(answers: Sequence[FitAnswer], barred: Collection[str] = ()) -> LastChance:
    """The last chance to leave a place, from the answers of all stages there in build order.

    barred : names of stages that cannot be reached, which do not count; see `cannot_be_reached`
    A permanent step shuts the aircraft in where no stage from it on comes out.
    """
    answers = [a for a in answers if a.standing.stage.name not in barred] or answers
    stages = [answer.standing.stage for answer in answers]
    out = [comes_out(answer) for answer in answers]
    place = answers[0].place
    none_later = [not any(out[k:]) for k in range(len(out))]
    if all(answer.best_door is None for answer in answers):
        return LastChance(place, None, None, None, by_order=False, judged=False)
    by_order = not any(stage.permanent for stage in stages)
    unjudged = tuple(a.stage for a in answers if a.out_verdict == UNJUDGED)
    shut = none_later.index(True) if True in none_later else None
    if shut is None:
        return LastChance(place, None, None, None, by_order, unjudged=unjudged)
    steps = [k for k in range(shut, len(stages)) if by_order or stages[k].permanent]
    step = stages[steps[0]] if steps else None
    last = stages[shut - 1] if shut else None
    return LastChance(place, last, stages[shut], step, by_order, unjudged=unjudged)


def stage_table(
    standings: Sequence[Standing],
    places: Sequence[Place],
    progress: Callable[[str], None] = lambda step: None,
    workers: int | None = None,
) -> StageTable:
    """Judge stages in every place; each is parked on the place's first spot.

    standings : stages of one design as they stand, in build order
    workers : processes; as many as there are cores where None, this one alone where 1
    Raises InputError where two places share a name: their columns could not be told apart.
    """
    names = [place.name for place in places]
    twice = sorted({name for name in names if names.count(name) > 1})
    if twice:
        allowed = "each place once, under a name of its own; change the name in one of the files"
        raise InputError("places", [Problem("name", repr(name), allowed) for name in twice])
    rooms = tuple(build_room(place) for place in places)
    asked = [Cell(one, room, advised=False) for one in standings for room in rooms]
    found = [one.answer for one in answered(asked, progress, workers)]
    wide = len(rooms)
    cells = tuple(tuple(found[k : k + wide]) for k in range(0, len(found), wide))
    return StageTable(tuple(standings), rooms, cells)
