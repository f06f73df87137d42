"""The lattice's figures at every build stage, or why there are none."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from planform.aero.answer import Aerodynamics, aerodynamics
from planform.aero.lifting import lifting_surfaces
from planform.airframe.build import Airframe
from planform.airframe.stance import Standing
from planform.design.models import Stage
from planform.design.problems import InputError


@dataclass(frozen=True, eq=False)
class LiftFindings:
    """For each stage its figures, or None with the reason in words.

    complete : those of the aircraft with every part on, whether a stage says so or not
    """

    stages: tuple[tuple[str, Aerodynamics | None, str], ...]
    complete: Aerodynamics | None


def lift_findings(standings: Sequence[Standing]) -> LiftFindings:
    """The lattice's figures of every stage; those with the same surfaces are solved once."""
    known: dict[tuple[str, ...], Aerodynamics] = {}
    out = [
        (standing.stage.name, *_figures(standing.airframe, standing.stage, known))
        for standing in standings
    ]
    whole = _figures(standings[0].airframe, None, known)[0] if standings else None
    return LiftFindings(tuple(out), whole)


def _figures(
    airframe: Airframe, stage: Stage | None, known: dict[tuple[str, ...], Aerodynamics]
) -> tuple[Aerodynamics | None, str]:
    """The figures at a stage, or with every part on, or why there are none; `known` is filled."""
    try:
        if not airframe.halves_in("wing"):
            return None, "no surface has the role wing"
        surfaces = lifting_surfaces(airframe, stage)
        key = tuple(f"{s.name} {len(s.incidence)}" for s in surfaces)
        if key not in known:
            known[key] = aerodynamics(airframe, stage)
    except InputError as error:
        return None, "; ".join(str(p) for p in error.problems)
    return known[key], ""
