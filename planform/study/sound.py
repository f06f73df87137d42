"""What the commands would refuse of a design, found before any of them is asked."""

from __future__ import annotations

from planform.airframe.build import Airframe, build
from planform.airframe.measure import design_measures, standing_measures
from planform.airframe.stance import Standing, stand_all
from planform.balance.answer import balance
from planform.design.models import Design
from planform.design.problems import InputError, Problem
from planform.rigging.making import rigging_card
from planform.rigging.points import named_points
from planform.study.spreads_of_measures import measure_spreads


def refusals(design: Design) -> tuple[Problem, ...]:
    """Problems of a design that passed its own checks: built, measured, balanced, rigged."""
    try:
        airframe = build(design)
        standings = stand_all(airframe)
        _measured(airframe, standings)
        balance(airframe, standings)
        if design.points:
            named_points(airframe)
        for name in design.joints:
            rigging_card(airframe, name)
    except InputError as error:
        return error.problems
    return ()


def _measured(airframe: Airframe, standings: tuple[Standing, ...]) -> None:
    if standings:
        design_measures(airframe)
        measure_spreads(standings, whole=True)
    for standing in standings:
        standing_measures(standing)
