"""What the inputs' tolerances do to a result."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

Values = dict[str, float]

SHARE = 0.99
"""The share of all cases that the narrower band holds."""

TERMS = 4096
"""Terms of the series of `band_of`; the band is then right to one part in ten thousand or better,
of the worst case."""


@dataclass(frozen=True)
class Spread:
    """What each input's tolerance does to one result, most first; in the result's own SI unit.

    built : what all of them do together, where that corner was built and does more than the sum
    """

    by_input: tuple[tuple[str, float], ...] = ()
    built: float = 0.0

    @property
    def worst(self) -> float:
        """All inputs at the ends of their tolerances, every one to the same side."""
        return max(self.built, sum(change for _, change in self.by_input))

    @property
    def rss(self) -> float:
        """The root of the sum of the squares of the changes."""
        return math.sqrt(sum(change * change for _, change in self.by_input))

    @cached_property
    def within_99(self) -> float:
        """The half width that holds the result in 99 of 100 cases; see `band_of`."""
        return band_of([change for _, change in self.by_input])

    def but(self, name: str, share: float) -> Spread:
        """The spread with one input's part cut down to a share of it."""
        cut = [(n, change * share if n == name else change) for n, change in self.by_input]
        return Spread(tuple(sorted(cut, key=lambda pair: -pair[1])))


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
    return {key: ranked(inputs) for key, inputs in effect.items()}


def ranked(effects: dict[str, float]) -> Spread:
    """The spread of these effects by input; what is mere rounding is left out."""
    kept = ((name, change) for name, change in effects.items() if change > LEAST)
    return Spread(tuple(sorted(kept, key=lambda pair: -pair[1])))


def band_of(halves: Sequence[float], share: float = SHARE) -> float:
    """Half width of the band about zero that holds a sum of independent inputs, each anywhere.

    halves : half width of each input's own band; within it every value is as likely as another
        (JCGM 100:2008, 4.3.7: where only the bounds are known), and the inputs are independent
    share : of all cases that shall lie inside, between 0 and 1
    Returns the quantile of the true distribution of the sum, not that of a normal one: a sum of a
    few such inputs has no long tails, and the band never passes the worst case. The density is the
    Fourier series of the product of the inputs' sin(x)/x over the width of all it can reach.
    """
    parts = np.array([half for half in halves if half > 0.0])
    total = float(parts.sum())
    if len(parts) < 2:
        return share * total
    k = np.arange(1, TERMS)
    series = np.zeros(2 * TERMS)
    series[1:TERMS] = np.sinc(np.outer(k, parts / total)).prod(axis=1) * 2.0 / (np.pi * k)
    reach = np.linspace(0.0, 1.0, TERMS + 1)
    inside = reach - np.fft.fft(series).imag[: TERMS + 1]
    return total * float(np.interp(share, np.maximum.accumulate(inside), reach))
