"""Tapes, strings and wires that hang: how far they sag, what they read too much, and why.

Lengths m, weights per length N/m, pulls N, stiffness E A in N, temperatures in degrees C.
Sag and stretch are the usual surveyor's formulae; the exact curve is the catenary.
"""

from __future__ import annotations

import math

STEEL = 1.16e-5
"""Expansion of steel per degree C: 0.00000645 per F, 0.0000116 per C, as measurers give it."""
STEEL_AT = 20.0
"""Temperature at which steel tapes are true: 68 F, 20 C."""


def sag_shortens(span: float, weight: float, pull: float) -> float:
    """How much a tape that hangs between two points reads too much [m]: w2 L3 / 24 P2.

    span : between the supports [m] ; weight : [N/m] ; pull : [N]
    """
    return weight**2 * span**3 / (24.0 * pull**2)


def belly(span: float, weight: float, pull: float) -> float:
    """How far the middle of a string hangs under the line of its ends [m]: w L2 / 8 P."""
    return weight * span**2 / (8.0 * pull)


def stretch(length: float, pull: float, at_pull: float, stiffness: float) -> float:
    """How much longer a tape is than at the pull at which it is true [m]: (P - P0) L / EA."""
    return (pull - at_pull) * length / stiffness


def warmth(
    length: float, temperature: float, rate: float = STEEL, true_at: float = STEEL_AT
) -> float:
    """How much longer a tape is than at the temperature at which it is true [m].

    A tape that is longer reads too little by as much.
    """
    return rate * (temperature - true_at) * length


def catenary_length(span: float, weight: float, pull: float) -> float:
    """Length of a hanging tape whose ends are level, its pull at the lowest point [m]."""
    a = pull / weight
    return 2.0 * a * math.sinh(span / (2.0 * a))


def catenary_of(span: float, rise: float, length: float) -> float:
    """The parameter a = pull / weight of a chain of a length between two points [m].

    span, rise : between its ends, across and up [m] ; length : more than their distance
    Raises ValueError where it is too short.
    """
    straight = math.hypot(span, rise)
    if not length > straight:
        raise ValueError(
            f"{length:.4f} m; allowed: longer than the {straight:.4f} m between its ends"
        )
    aim = math.sqrt(length**2 - rise**2) / span

    def off(u: float) -> float:
        return math.sinh(u) / u - aim

    low, high = 1e-9, 1.0
    while off(high) < 0.0:
        high *= 2.0
    for _ in range(200):
        middle = 0.5 * (low + high)
        if off(middle) < 0.0:
            low = middle
        else:
            high = middle
    return span / (2.0 * 0.5 * (low + high))
