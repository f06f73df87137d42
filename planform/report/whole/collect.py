"""Everything a report says about one design in one place, computed once."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from planform.airframe.build import Airframe, build
from planform.airframe.measure import Measures, design_measures, standing_measures
from planform.airframe.stages import cannot_be_reached, stage_questions, usual_stage
from planform.airframe.stance import Standing, shaped, stand_all
from planform.balance.questions import balance_assumptions, balance_questions
from planform.core.shown import Brief, Shown
from planform.core.spread import Spread
from planform.design.models import Design
from planform.design.place import Place
from planform.design.questions import assumptions, design_questions, place_questions
from planform.fit.answer import FitAnswer
from planform.fit.room import Room, build_room
from planform.study.next_reading import Advice
from planform.study.side_by_side import Cell, answered
from planform.study.spreads_of_balance import BalanceFindings, balance_findings
from planform.study.spreads_of_measures import measure_spreads
from planform.study.stages import LastChance, last_chance

Progress = Callable[[str], None]


@dataclass(frozen=True, eq=False, repr=False)
class Findings(Shown):
    """The built airframe, how it stands at each stage, what was measured and judged."""

    design: Design
    place: Place
    airframe: Airframe
    room: Room
    measures: Measures
    spreads: dict[str, Spread]
    standings: tuple[Standing, ...]
    heights: tuple[Measures, ...]
    height_spreads: tuple[dict[str, Spread], ...]
    fits: tuple[FitAnswer, ...]
    advices: tuple[Advice, ...]
    chance: LastChance
    balance: BalanceFindings | None
    questions: tuple[str, ...]
    assumed: tuple[str, ...]
    remark: str | None = None
    """What to tell of the pictures, once they are drawn."""

    @property
    def meant(self) -> Standing:
        """How the aircraft stands at its usual stage, the complete one where there is one."""
        stage, _ = usual_stage(self.airframe)
        return next(one for one in self.standings if one.stage is stage)

    def brief(self) -> Brief:
        """The verdict of every stage, and the last chance to come out."""
        rows = tuple((f"{f.stage}, {f.stance}", str(f.verdict)) for f in self.fits)
        chance = ("last chance", self.chance.words)
        return Brief(f"{self.design.name} in {self.place.name}", (*rows, chance))


def collect(design: Design, place: Place, progress: Progress = lambda step: None) -> Findings:
    """Build, measure and judge every stage; `progress` is told each step's name."""
    progress("building the airframe")
    airframe = build(shaped(design))
    room = build_room(place)
    progress("measuring")
    standings = stand_all(airframe)
    heights = tuple(standing_measures(s) for s in standings)
    spreads = measure_spreads(standings)
    whole = answered([Cell(standing, room) for standing in standings], progress)
    fits = [one.answer for one in whole]
    balance = None
    if design.masses or design.balance is not None:
        progress("working out the balance")
        balance = balance_findings(standings, design)
    return Findings(
        design=design,
        place=place,
        airframe=airframe,
        room=room,
        measures=design_measures(airframe),
        spreads=spreads.design,
        standings=standings,
        heights=heights,
        height_spreads=spreads.standings,
        fits=tuple(fits),
        advices=tuple(one.advice for one in whole),
        chance=last_chance(fits, cannot_be_reached(airframe)),
        balance=balance,
        questions=(
            *design_questions(design),
            *stage_questions(airframe, standings),
            *place_questions(place),
            *(balance_questions(balance.answer) if balance else ()),
        ),
        assumed=(
            *assumptions(design, place),
            *(balance_assumptions(balance.answer) if balance else ()),
        ),
    )
