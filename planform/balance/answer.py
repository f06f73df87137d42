"""The whole balance of a design: record, stages, cases, adverse loadings, static margin."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from planform.airframe.build import Airframe
from planform.airframe.measure import design_measures
from planform.airframe.stages import complete_stage
from planform.airframe.stance import Standing, stand_on
from planform.airframe.weight.items import Item
from planform.airframe.weight.record import EmptyRecord, empty_record
from planform.balance.adverse import Adverse, adverse
from planform.balance.envelope import envelope_of
from planform.balance.exits import Leaving, leavings
from planform.balance.footing import Footing, footing
from planform.balance.loader import Loader
from planform.balance.loading import Loaded, load_case
from planform.balance.reference import Reference, references
from planform.balance.stages import Balanced, balanced, stage_balance
from planform.core.mass.loading import Envelope
from planform.core.quantity import Metres
from planform.core.shape.canard import neutral_point_by_rule
from planform.design.models import Design


@dataclass(frozen=True, eq=False)
class BalanceAnswer:
    """Everything balance has to say about a design.

    standings : balance of each stage that has mass items aboard
    loaded : for each case, how the complete aircraft stands with it; None where a height lacks
    leavings : for each case with people aboard, how they may step out of it
    neutral_point, rule_point : stations [m]; the user's own, and the rule of thumb's
    """

    design: Design
    references: tuple[Reference, ...]
    record: EmptyRecord | None
    standings: tuple[Balanced, ...]
    loader: Loader | None
    cases: tuple[Loaded, ...]
    loaded: tuple[Balanced | None, ...]
    leavings: tuple[Leaving, ...]
    adverse: tuple[Adverse, ...]
    neutral_point: Metres | None
    rule_point: Metres | None

    @property
    def reference(self) -> Reference | None:
        """The chord that percentages are taken of first."""
        return self.references[0] if self.references else None


def balance(
    airframe: Airframe, standings: Sequence[Standing], *, searched: bool = True
) -> BalanceAnswer:
    """Work out the balance of an airframe as it stands at some stages, in build order.

    What is loaded, and who steps out, is that of the complete aircraft, whatever stages these are.

    searched : also the adverse loadings, how the aircraft stands as each case loads it and the
        ways to step out, and what would bring a case inside
    """
    design = airframe.design
    chords = references(airframe)
    first = chords[0] if chords else None
    record = empty_record(design, first.mac if first else None)
    paper = design.balance
    loader = None
    cases: tuple[Loaded, ...] = ()
    worst: tuple[Adverse, ...] = ()
    envelope = envelope_of(paper, first)
    if record is not None and paper is not None:
        loader = Loader(
            record, paper.places, envelope or Envelope(), paper.joint_limits, paper.burn
        )
        cases = tuple(load_case(loader, case, searched=searched) for case in paper.cases)
        limited = any(place.limit is not None for place in paper.places.values())
        if searched and (limited or paper.joint_limits):
            worst = adverse(loader)
    stages = tuple(b for b in map(stage_balance, standings) if b is not None)
    on = _footing(airframe, standings) if searched and loader is not None else None
    out: tuple[Leaving, ...] = ()
    if on is not None and loader is not None and paper is not None:
        out = leavings(loader, paper.cases, on)
    return BalanceAnswer(
        design=design,
        references=chords,
        record=record,
        standings=stages,
        loader=loader,
        cases=cases,
        loaded=tuple(_stood(on, record, case.lines) for case in cases),
        leavings=out,
        adverse=worst,
        neutral_point=_neutral_point(design),
        rule_point=_rule_point(airframe),
    )


def _footing(airframe: Airframe, standings: Sequence[Standing]) -> Footing | None:
    """What the complete aircraft stands on, where a stage has every part on."""
    whole = complete_stage(airframe)
    if whole is None:
        return None
    stood = next((one for one in standings if one.stage is whole), None)
    return footing(stood or stand_on(airframe, whole))


def _stood(
    on: Footing | None, record: EmptyRecord | None, lines: tuple[Item, ...]
) -> Balanced | None:
    if on is None or record is None or any(line.wl is None for line in lines):
        return None
    return balanced(on.standing, lines, source=record.source, on=on)


def _neutral_point(design: Design) -> float | None:
    if design.balance is None or design.balance.neutral_point is None:
        return None
    return float(design.balance.neutral_point.fs)


def _rule_point(airframe: Airframe) -> float | None:
    """Neutral point by the canard designers' rule of thumb, where there are just two surfaces."""
    if not (airframe.halves_in("wing") and airframe.halves_in("foreplane")):
        return None
    if airframe.halves_in("tailplane"):
        return None
    found = design_measures(airframe)
    quarter = {
        role: found[f"{role}.lemac_fs"] + 0.25 * found[f"{role}.mac"]
        for role in ("wing", "foreplane")
    }
    ahead = neutral_point_by_rule(
        found["foreplane.area"], found["wing.area"], quarter["wing"] - quarter["foreplane"]
    )
    return quarter["wing"] - ahead
