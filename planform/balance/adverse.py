"""The adverse loadings: the worst of all that the places allow."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from planform.airframe.weight.items import Item, summed
from planform.balance.loading import Loader
from planform.core.mass.loading import (
    CLOSE,
    State,
    amounts_at,
    boundary,
    least_margin,
)
from planform.core.quantity import Metres

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Adverse:
    """The loading nearest to a limit (or farthest out where there is none) of all allowed ones.

    ballast : whether ballast places were filled too, as the worst would have it
    """

    side: str
    ballast: bool
    lines: tuple[Item, ...]
    total: Item
    margin: Metres | None

    @property
    def ballast_words(self) -> str:
        """How much ballast was looked at."""
        return "any amount allowed" if self.ballast else "at its least"


@dataclass(frozen=True, eq=False)
class _Filling:
    """The places as arrays, from the least of everything aboard; see `core.loading.boundary`."""

    names: tuple[str, ...]
    least: Array
    arms: Array
    more: Array
    base: State
    max_mass: float

    def order(self, sign: float) -> list[int]:
        """The places from the foremost (1.0) or the aftmost (-1.0) on."""
        return [int(k) for k in np.argsort(sign * self.arms, kind="stable")]

    def states(self, sign: float) -> Array:
        """Mass and moment as they fill up in that order."""
        return boundary(self.base, self.arms, self.more, self.max_mass, self.order(sign))


def _filling(loader: Loader, *, ballast: bool = False) -> _Filling:
    names = tuple(loader.places)
    least = np.array([loader.least(n) for n in names])
    free = [
        p.limit is not None and (ballast or p.kind != "ballast") for p in loader.places.values()
    ]
    most = np.array([loader.most(n) for n in names])
    return _Filling(
        names,
        least,
        np.array([loader.arm(n) for n in names]),
        np.where(free, most - least, 0.0),
        loader.state(dict(zip(names, map(float, least), strict=True))),
        loader.envelope.max_mass or np.inf,
    )


def adverse(loader: Loader) -> tuple[Adverse, ...]:
    """Forward and rearward adverse loading: the worst of all loadings within the places' limits.

    Any amount between a place's least and limit counts. For a mass, the foremost (aftmost) CG
    fills the places from the foremost (aftmost) on; the worst margin along that line has a closed
    form. Places without a limit stay at their least. Ballast is put where wanted, and may be
    forgotten or be in excess: where there are places for it, both are told, with it at its least
    and with any amount of it.
    """
    places = loader.places.values()
    has_ballast = any(p.kind == "ballast" and p.limit is not None for p in places)
    kinds = (False, True) if has_ballast else (False,)
    return tuple(
        one for ballast in kinds for one in _adverse(loader, _filling(loader, ballast=ballast),
                                                     ballast=ballast)
    )  # fmt: skip


def _adverse(loader: Loader, filling: _Filling, *, ballast: bool) -> Iterator[Adverse]:
    """The worst loading toward either side, of those that a filling of the places allows."""
    for side, sign, limit in (
        ("forward", 1.0, loader.envelope.forward),
        ("aft", -1.0, loader.envelope.aft),
    ):
        states = [(float(m), float(q)) for m, q in filling.states(sign)]
        margin = None
        if limit is None:
            mass = min(states, key=lambda s: sign * s[1] / s[0])[0]
        else:
            legs = list(pairwise(states)) or [(states[0], states[0])]
            margin, (mass, _) = min(
                (least_margin(limit, sign, a, b) for a, b in legs), key=lambda found: found[0]
            )
        more = amounts_at(mass, filling.base[0], filling.more, filling.order(sign))
        amounts = dict(zip(filling.names, map(float, filling.least + more), strict=True))
        lines = loader.lines({n: m for n, m in amounts.items() if m > CLOSE})
        total = summed(f"{side} adverse loading", lines)
        yield Adverse(side, ballast, lines, replace(total, wl=None), margin)


def reach(loader: Loader) -> Array:
    """The outline of every loading within the places' limits, shape (n, 2): mass, moment."""
    filling = _filling(loader)
    return np.concatenate([filling.states(1.0), filling.states(-1.0)[::-1]])
