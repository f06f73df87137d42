"""What the inputs' tolerances do to a result."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

Values = dict[str, float]


@dataclass(frozen=True)
class Spread:
    """All inputs at their worst, and the root-sum-square; in the result's own SI unit."""

    worst: float = 0.0
    rss: float = 0.0
    by_input: tuple[tuple[str, float], ...] = ()


NO_SPREAD = Spread()

LEAST = 1e-7
"""A change below this is rounding and is not counted."""


def spreads(base: Values, changes: Iterable[tuple[str, Values]]) -> dict[str, Spread]:
    """Spread of each value from the values with one input moved at a time, up and down."""
    effect: dict[str, dict[str, float]] = {key: {} for key in base}
    for name, values in changes:
        for key, value in values.items():
            if key in base:
                moved = abs(value - base[key])
                effect[key][name] = max(effect[key].get(name, 0.0), moved)
    out = {}
    for key, inputs in effect.items():
        ranked = sorted(((n, d) for n, d in inputs.items() if d > LEAST), key=lambda p: -p[1])
        out[key] = Spread(
            worst=sum(d for _, d in ranked),
            rss=sum(d * d for _, d in ranked) ** 0.5,
            by_input=tuple(ranked),
        )
    return out
