"""The lattice's figures at every build stage, or why there are none."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from planform.aero.answer import Aerodynamics, aerodynamics
from planform.aero.lifting import lifting_surfaces
from planform.airframe.stance import Standing
from planform.design.problems import InputError


@dataclass(frozen=True, eq=False)
class LiftFindings:
    """For each stage its figures, or None with the reason in words."""

    stages: tuple[tuple[str, Aerodynamics | None, str], ...]

    @property
    def complete(self) -> Aerodynamics | None:
        """The figures of the last stage."""
        return self.stages[-1][1] if self.stages else None


def lift_findings(standings: Sequence[Standing]) -> LiftFindings:
    """The lattice's figures of every stage; those with the same surfaces are solved once."""
    out: list[tuple[str, Aerodynamics | None, str]] = []
    known: dict[tuple[str, ...], Aerodynamics] = {}
    for standing in standings:
        name = standing.stage.name
        airframe = standing.airframe
        try:
            if not airframe.halves_in("wing"):
                out.append((name, None, "no surface has the role wing"))
                continue
            surfaces = lifting_surfaces(airframe, standing.stage)
            key = tuple(f"{s.name} {len(s.incidence)}" for s in surfaces)
            if key not in known:
                known[key] = aerodynamics(airframe, standing.stage)
            out.append((name, known[key], ""))
        except InputError as error:
            out.append((name, None, "; ".join(str(p) for p in error.problems)))
    return LiftFindings(tuple(out))
