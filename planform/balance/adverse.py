"""The adverse loadings: the worst of all that the places allow."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from planform.airframe.weight.items import Item, summed
from planform.balance.loader import Loader
from planform.core.mass.limits import Limit, State, least_margin
from planform.core.mass.loading import STATIONS, amounts_at, boundary
from planform.core.mass.program import Region, outline
from planform.core.quantity import OfKind

Array = NDArray[np.float64]

Loading = tuple[State, Array]
"""A state, and what is then in every place on top of its least, shape (n,) [kg]."""


@dataclass(frozen=True)
class Adverse:
    """The loading nearest to a limit (or farthest out where there is none) of all allowed ones.

    ballast : whether ballast places were filled too, as the worst would have it
    kind : the kind of quantity of its margin
    """

    side: str
    ballast: bool
    lines: tuple[Item, ...]
    total: Item
    margin: OfKind | None
    kind: str = "length"

    @property
    def ballast_words(self) -> str:
        """How much ballast was looked at."""
        return "any amount allowed" if self.ballast else "at its least"


@dataclass(frozen=True, eq=False)
class _Filling:
    """The places as arrays, from the least of everything aboard; see `core.loading.boundary`."""

    loader: Loader
    names: tuple[str, ...]
    least: Array
    more: Array

    @property
    def base(self) -> State:
        """The state with the least of everything aboard."""
        return self.loader.state(self.amounts(np.zeros(len(self.names))))

    @property
    def arms(self) -> Array:
        """Stations of the places [m]."""
        return np.array([self.loader.arm(n) for n in self.names])

    def amounts(self, more: Array) -> dict[str, float]:
        """What is in every place [kg] with so much on top of the least."""
        return dict(zip(self.names, map(float, self.least + more), strict=True))

    @property
    def simple(self) -> bool:
        """Whether nothing but each place's own limit and the greatest mass bounds a loading."""
        envelope = self.loader.envelope
        alone = not self.loader.joints and envelope.max_zero_fuel_mass is None
        return alone and not envelope.sideways

    def region(self, bounds: tuple[str, ...]) -> Region:
        """What may come on top of the least: by the places, joint limits and named bounds.

        Weights that the least itself is over take nothing more.
        """
        n = len(self.names)
        rows, most = [*np.eye(n)], [*map(float, self.more)]
        for joint in self.loader.joints.values():
            rows.append(np.array([self.loader.per_kilogram(joint, name) for name in self.names]))
            most.append(max(0.0, -self.loader.beyond(joint, self.amounts(np.zeros(n)))))
        per_place = np.array([self.loader.step({name: 1.0}) for name in self.names])
        for name, factors, constant in self.loader.envelope.rows:
            if name in bounds:
                left = float(factors @ np.array(self.base)) + constant
                rows.append(-(per_place @ factors))
                most.append(left if name in SIDEWAYS else max(0.0, left))
        return Region(np.array(rows), np.array(most))

    def corners(self, across: int, bounds: tuple[str, ...]) -> list[Loading]:
        """The loadings at the corners of all, seen in mass and moment (1) or side moment (2)."""
        per_place = np.array([self.loader.step({name: 1.0}) for name in self.names])
        if not self.names:
            return [(self.base, np.zeros(0))]
        found = outline(self.region(bounds), per_place[:, [0, across]].T)
        return [(self.loader.state(self.amounts(x)), x) for x in found]

    def most_even(self, more: Array, bounds: tuple[str, ...]) -> Array:
        """Of all loadings of this mass and moment, the one whose CG is nearest to the middle.

        So it hangs on no order in which the places stand in the file.
        """
        per_place = np.array([self.loader.step({name: 1.0}) for name in self.names])
        side, fixed = per_place[:, 2], per_place[:, :2].T
        region, size = self.region(bounds), len(more)
        wide = Region(np.column_stack([region.rows, np.zeros(len(region.bounds))]), region.bounds)
        even = [[*side, -1.0], [*-side, -1.0]]
        rows = np.array([*even, *([*row, 0.0] for row in (*fixed, *-fixed))])
        held = fixed @ more
        ends = [-self.base[2], self.base[2], *(held + SLACK), *(SLACK - held)]
        found = wide.with_rows(rows, np.array(ends)).most(np.array([*np.zeros(size), -1.0]))
        return more if found is None else found[:size]

    def foremost(self, more: Array) -> Array:
        """Of all loadings of this mass and moment to the right, the one with its CG foremost."""
        per_place = np.array([self.loader.step({name: 1.0}) for name in self.names])
        fixed = per_place[:, [0, 2]].T
        held = fixed @ more
        ends = np.concatenate([held + SLACK, SLACK - held])
        region = self.region(WEIGHTS).with_rows(np.vstack([fixed, -fixed]), ends)
        found = region.most(-per_place[:, 1])
        return more if found is None else found

    def filled(self, sign: float) -> list[Loading]:
        """As the places fill up from the foremost (1.0) or the aftmost (-1.0) on.

        Of simple bounds, these are the corners to that side.
        """
        order = [int(k) for k in np.argsort(sign * self.arms, kind="stable")]
        cap = self.loader.envelope.max_mass or np.inf
        base = (self.base[0], self.base[1])
        found = boundary(base, self.arms, self.more, cap, order)
        return [
            ((float(m), float(q)), amounts_at(float(m), base[0], self.more, order))
            for m, q in found
        ]


SLACK = 1e-10
"""Kilograms, and kilogram metres, to which loadings count as alike."""
DUST = 1e-6
"""Kilograms that are not told of as aboard."""
WEIGHTS = ("max_mass", "max_zero_fuel_mass")
SIDEWAYS = ("left", "right", "lateral_moment")


def _filling(loader: Loader, *, ballast: bool = False) -> _Filling:
    names = tuple(loader.places)
    least = np.array([loader.least(n) for n in names])
    most = np.array([loader.most(n) for n in names])
    free = np.isfinite(most) & np.array(
        [ballast or p.kind != "ballast" for p in loader.places.values()], bool
    )
    return _Filling(loader, names, least, np.where(free, most - least, 0.0).clip(0.0))


def adverse(loader: Loader) -> tuple[Adverse, ...]:
    """The adverse loadings to every side that has a limit: the worst of all that is allowed.

    Any amount between a place's least and limit counts, as far as joint limits, the greatest mass
    and the greatest zero-fuel mass go; toward the forward and aft limits also as far as those to
    the left and right go, where any loading lies within them. Seen in mass and moment that is a
    convex figure, and the worst margin along each of its sides has a closed form. Places without a
    limit stay at their least. Ballast is put where wanted, and may be forgotten or be in excess:
    where there are places for it, both are told, with it at its least and with any amount of it.
    """
    ballast = [n for n, p in loader.places.items() if p.kind == "ballast"]
    has_ballast = any(np.isfinite(loader.most(n)) for n in ballast)
    kinds = (False, True) if has_ballast else (False,)
    fillings = {kind: _filling(loader, ballast=kind) for kind in kinds}
    along = (one for b, filling in fillings.items() for one in _along(filling, ballast=b))
    across = (one for b, filling in fillings.items() for one in _across(filling, ballast=b))
    return (*along, *across)


def _along(filling: _Filling, *, ballast: bool) -> Iterator[Adverse]:
    """The worst loading toward the forward and the aft limit."""
    loader = filling.loader
    for side, sign, limit in (
        ("forward", 1.0, loader.envelope.forward),
        ("aft", -1.0, loader.envelope.aft),
    ):
        bounds: tuple[str, ...] = (*WEIGHTS, *SIDEWAYS)
        if filling.simple:
            found = filling.filled(sign)
            legs = list(pairwise(found)) or [(found[0], found[0])]
        else:
            found = filling.corners(1, bounds)
            if not found:  # nothing lies within the limits to the sides
                bounds = WEIGHTS
                found = filling.corners(1, bounds)
            legs = list(zip(found, [*found[1:], found[0]], strict=True))
        margin = None
        if limit is None:
            more = min(found, key=lambda one: sign * one[0][1] / one[0][0])[1]
        else:
            margin, more = min(
                (_worst(leg, sign, limit) for leg in legs), key=lambda worst: worst[0]
            )
        if not filling.simple:
            more = filling.most_even(more, bounds)
        yield _told(filling, (side, "length"), ballast, more, margin)


def _worst(leg: tuple[Loading, Loading], sign: float, limit: Limit) -> tuple[float, Array]:
    """The least margin between two loadings, and what is aboard there."""
    (a, here), (b, there) = leg
    margin, state = least_margin(limit, sign, a, b)
    along = 0 if abs(b[0] - a[0]) > abs(b[1] - a[1]) else 1
    whole = b[along] - a[along]
    share = (state[along] - a[along]) / whole if whole else 0.0
    return margin, here + share * (there - here)


def _told(
    filling: _Filling, side: tuple[str, str], ballast: bool, more: Array, margin: float | None
) -> Adverse:
    """An adverse loading by what is aboard; side : its name and its margin's kind."""
    name, kind = side
    amounts = filling.amounts(more)
    lines = filling.loader.lines({n: m for n, m in amounts.items() if m > DUST})
    total = summed(f"{name} adverse loading", lines)
    return Adverse(name, ballast, lines, replace(total, wl=None), margin, kind)


def _across(filling: _Filling, *, ballast: bool) -> Iterator[Adverse]:
    """The worst loading toward the left and right limits, of the CG and of the moment."""
    loader = filling.loader
    rows = [row for row in loader.envelope.rows if row[0] in SIDEWAYS]
    found = filling.corners(2, WEIGHTS) if rows else []
    for name, factors, constant in rows:
        states = np.array([state for state, _ in found])
        left = states @ factors + constant
        if name in STATIONS:
            left = left / states[:, 0]
        least = left.min()
        near = [k for k in range(len(found)) if left[k] <= least + 1e-7 * max(1.0, abs(least))]
        worst = min(near, key=lambda k: states[k, 0])
        side, kind = name, "length"
        if name == "lateral_moment":
            side, kind = ("left" if factors[2] > 0.0 else "right") + ", moment", "moment"
        yield _told(filling, (side, kind), ballast, filling.foremost(found[worst][1]), float(least))


def reach(loader: Loader, across: int = 1) -> Array:
    """The outline of every loading that weights allow, shape (n, 2): mass, moment.

    across : 1 for the moment about the datum, 2 for that to the right
    """
    filling = _filling(loader)
    if across == 1 and filling.simple:
        found = [*filling.filled(1.0), *filling.filled(-1.0)[::-1]]
    else:
        found = filling.corners(across, WEIGHTS)
    return np.array([[state[0], state[across]] for state, _ in found])
