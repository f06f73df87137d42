"""Canard designers' rules of thumb: cross-checks, never the answer.

A practitioner's published canard notes, Equations 2-1, 2-2 and 2-7, as quoted.
"""

from __future__ import annotations

DOWNWASH_SHARE = 0.8
"""How much of the rear wing counts behind the foreplane; the notes' rule of thumb."""


def neutral_point_by_rule(
    foreplane_area: float, wing_area: float, arm: float, share: float = DOWNWASH_SHARE
) -> float:
    """Neutral point ahead of the wing's aerodynamic centre [m].

    arm : between the aerodynamic centres of foreplane and wing [m]
    """
    return foreplane_area * arm / (foreplane_area + share * wing_area)


def static_margin(neutral_point: float, cg: float, mac: float) -> float:
    """(neutral point - CG) / MAC, stable above zero; name the chord beside it."""
    return (neutral_point - cg) / mac
