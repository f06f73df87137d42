"""What the lattice tells of one variant, at the lift that the base needs."""

from __future__ import annotations

from planform.aero.answer import reference_wing
from planform.airframe.stance import Standing
from planform.balance.answer import balance
from planform.design.problems import InputError
from planform.study.compare_flown import flown
from planform.study.terms import Figures, Terms


def wing_area(standing: Standing) -> float | None:
    """Area of the wing that lift coefficients are of [m2]; None without a wing."""
    try:
        return reference_wing(standing.airframe)[0]
    except InputError:
        return None


def flow_of(standing: Standing, base_area: float | None) -> Figures:
    """Neutral point, static margin and drag in trim, as far as the lattice can tell them.

    base_area : of the base's wing [m2], so that the lift is the same
    The CG is that of the first loading case; without one there is no trim.
    """
    try:
        area, mac, _ = reference_wing(standing.airframe)
        cases = balance(standing.airframe, (), searched=False).cases
        cg = float(cases[0].total.fs) if cases else None
        terms = Terms(standing.stage.name, standing.stance_name, cg=cg)
        return flown(standing, area, mac, terms, base_area or area)
    except InputError as error:
        return {"lattice": "; ".join(str(problem) for problem in error.problems)}
