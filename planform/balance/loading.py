"""Loading cases against the user's limits: margins, fuel burn, adverse loadings, least changes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from planform.airframe.weight.items import Item, summed
from planform.airframe.weight.record import EmptyRecord
from planform.core.mass.loading import (
    CLOSE,
    Envelope,
    State,
    least_margin,
    least_step,
    room_left,
)
from planform.core.quantity import CubicMetres, Kilograms, Metres
from planform.design.balance import (
    LoadingCase,
    LoadPlace,
    density_of,
    kilograms,
)

Array = NDArray[np.float64]
Amounts = dict[str, float]

INSIDE, CARE, OUTSIDE, UNJUDGED = "inside", "inside only with care", "outside", "not judged"
LIGHTEST = 30.0
"""Kilograms below which nobody is looked for to sit in a seat. Assumption."""
BOUNDS = ("forward", "aft", "max_mass", "min_mass")


@dataclass(frozen=True)
class Margin:
    """What is left to one bound at its worst along the burn [m or kg], and the state there."""

    bound: str
    left: float
    mass: Kilograms
    fs: Metres


@dataclass(frozen=True)
class Remedy:
    """One least change that alone brings a case inside; mass in kg, volume in m3 for fuel.

    most : up to how much of it the case stays inside [kg]
    """

    what: str
    mass: Kilograms
    volume: CubicMetres | None
    after: Item
    most: Kilograms


@dataclass(frozen=True)
class BurnPoint:
    """A point of the fuel burn: which tank runs dry there, total mass and CG [kg, m]."""

    what: str
    mass: Kilograms
    fs: Metres


@dataclass(frozen=True)
class Loaded:
    """One loading case worked out; margins at their worst from full to the last of its fuel.

    over, under : places that carry more than their limit, or less than the least they must
    """

    name: str
    lines: tuple[Item, ...]
    total: Item
    burn: tuple[BurnPoint, ...]
    margins: tuple[Margin, ...]
    over: tuple[str, ...]
    under: tuple[str, ...]
    verdict: str
    remedies: tuple[Remedy, ...]
    room: tuple[tuple[str, float], ...]
    useful_left: Kilograms | None

    @property
    def room_by_place(self) -> dict[str, Kilograms]:
        """What each place still takes, alone [kg]."""
        return dict(self.room)


@dataclass(frozen=True, eq=False)
class Loader:
    """An aircraft's empty weight with its places to load and the limits around it."""

    record: EmptyRecord
    places: dict[str, LoadPlace]
    envelope: Envelope

    def most(self, name: str) -> float:
        """The most a place may carry [kg]; infinite where no limit is given."""
        place = self.places[name]
        return np.inf if place.limit is None else kilograms(place.limit, place)

    def least(self, name: str) -> float:
        """The least a place carries [kg]."""
        place = self.places[name]
        return 0.0 if place.least is None else kilograms(place.least, place)

    def arm(self, name: str) -> float:
        """Station of a place [m]."""
        return float(self.places[name].fs)

    def amounts(self, case: LoadingCase) -> Amounts:
        """What a case puts into each place [kg]."""
        return {n: kilograms(amount, self.places[n]) for n, amount in case.loads.items()}

    def lines(self, amounts: Amounts) -> tuple[Item, ...]:
        """Empty weight and loads, line by line."""
        out = [self.record.now]
        for name, mass in amounts.items():
            place = self.places[name]
            wl = None if place.wl is None else float(place.wl)
            out.append(Item(name, mass, float(place.fs), float(place.bl), wl))
        return tuple(out)

    def state(self, amounts: Amounts) -> State:
        """Mass and moment with these loads aboard."""
        now = self.record.now
        mass = now.mass + sum(amounts.values())
        return mass, now.moment + sum(m * self.arm(n) for n, m in amounts.items())

    def burn_order(self, case: LoadingCase) -> tuple[str, ...]:
        """The tanks in the order they are burned: as the case says, else as the file lists them."""
        if case.burn is not None:
            return case.burn
        return tuple(n for n, p in self.places.items() if p.kind == "fuel" and n in case.loads)

    def path(self, amounts: Amounts, order: Sequence[str]) -> list[tuple[str, State]]:
        """States from all aboard to the last tank dry; straight in mass and moment between."""
        left = dict(amounts)
        out = [("all aboard", self.state(left))]
        for name in order:
            if left.get(name, 0.0) > 0.0:
                left[name] = 0.0
                out.append((f"{name} dry", self.state(left)))
        return out

    def margins(self, states: Sequence[State]) -> list[Margin]:
        """The worst margin to each bound along the states' straight lines."""
        found: dict[str, Margin] = {}

        def note(bound: str, left: float, state: State) -> None:
            if bound not in found or left < found[bound].left:
                found[bound] = Margin(bound, left, state[0], state[1] / state[0])

        for state in states:
            for bound, left in self.envelope.margins(state).items():
                note(bound, left, state)
        for a, b in pairwise(states):
            for bound, limit, sign in (
                ("forward", self.envelope.forward, 1.0),
                ("aft", self.envelope.aft, -1.0),
            ):
                if limit is not None:
                    note(bound, *least_margin(limit, sign, a, b))
        return [found[bound] for bound in BOUNDS if bound in found]

    def over(self, amounts: Amounts) -> tuple[str, ...]:
        """The places that carry more than their limit."""
        return tuple(n for n, m in amounts.items() if m > self.most(n) + CLOSE)

    def under(self, amounts: Amounts) -> tuple[str, ...]:
        """The places that carry less than the least they must, an empty one too."""
        return tuple(n for n in self.places if amounts.get(n, 0.0) < self.least(n) - CLOSE)

    def holds(self, amounts: Amounts, order: Sequence[str]) -> bool:
        """Whether a loading stays inside the limits, and within each place's, down to dry tanks."""
        states = [state for _, state in self.path(amounts, order)]
        within = not self.over(amounts) and not self.under(amounts)
        return within and all(m.left >= -CLOSE for m in self.margins(states))


def load_case(loader: Loader, case: LoadingCase, *, searched: bool = True) -> Loaded:
    """One case worked out.

    searched : also what would bring it inside, and what it still takes
    """
    amounts, order = loader.amounts(case), loader.burn_order(case)
    path = loader.path(amounts, order)
    margins = loader.margins([state for _, state in path])
    over, under = loader.over(amounts), loader.under(amounts)
    judged = loader.envelope.forward or loader.envelope.aft or loader.envelope.max_mass
    bad = over or under or any(m.left < -CLOSE for m in margins)
    verdict = OUTSIDE if bad else UNJUDGED if judged is None else INSIDE
    lines = loader.lines(amounts)
    most = loader.envelope.max_mass
    return Loaded(
        name=case.name,
        lines=lines,
        total=summed(case.name, lines),
        burn=tuple(BurnPoint(what, mass, moment / mass) for what, (mass, moment) in path),
        margins=tuple(margins),
        over=over,
        under=under,
        verdict=verdict,
        remedies=tuple(_remedies(loader, amounts, order))
        if searched and verdict == OUTSIDE
        else (),
        room=tuple(_room(loader, amounts, order)) if searched and verdict == INSIDE else (),
        useful_left=None if most is None else most - path[0][1][0],
    )


def _room(loader: Loader, amounts: Amounts, order: Sequence[str]) -> Iterator[tuple[str, float]]:
    """How much more each place takes with the case still inside [kg]."""
    states = [state for _, state in loader.path(amounts, order)]
    for name in loader.places:
        step = (1.0, loader.arm(name))
        spare = max(0.0, loader.most(name) - amounts.get(name, 0.0))
        room = min(room_left(loader.envelope, s, step, spare) or 0.0 for s in states)
        if np.isfinite(room):
            yield name, _verified(loader, amounts, order, name, room)


def _verified(
    loader: Loader, amounts: Amounts, order: Sequence[str], name: str, room: float
) -> float:
    """The room, lessened where the burn between its ends is what meets a limit first."""

    def good(more: float) -> bool:
        return loader.holds({**amounts, name: amounts.get(name, 0.0) + more}, order)

    if good(room):
        return room
    low, high = 0.0, room
    for _ in range(60):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if good(middle) else (low, middle)
    return low


def _remedies(loader: Loader, amounts: Amounts, order: Sequence[str]) -> list[Remedy]:
    """Least changes that alone bring a case inside, the smallest first."""
    found: list[Remedy] = []
    for what, name, changes, most in _options(loader, amounts):
        mass = _least(loader, amounts, order, changes, most)
        if mass is None or mass <= 0.0:
            continue
        after = _changed(amounts, changes, mass)
        place = loader.places[name]
        density = density_of(place) if place.kind in ("fuel", "fluid") else None
        volume = mass / float(density) if density is not None else None
        still = _still_good(loader, amounts, order, changes, mass, most)
        found.append(Remedy(what, mass, volume, summed("after", loader.lines(after)), still))
    for what, moved in _reseated(loader, amounts):
        if loader.holds(moved, order):
            mass = max(abs(moved.get(n, 0.0) - m) for n, m in amounts.items())
            found.append(Remedy(what, mass, None, summed("after", loader.lines(moved)), mass))
    return sorted(found, key=lambda r: r.mass)


def _still_good(
    loader: Loader,
    amounts: Amounts,
    order: Sequence[str],
    changes: dict[str, float],
    mass: float,
    most: float,
) -> float:
    """Up to how much of a change the case stays inside [kg], at most a kilogram more than least."""
    low, high = mass, min(most, mass + 1.0)
    if loader.holds(_changed(amounts, changes, high), order):
        return high
    for _ in range(40):
        middle = 0.5 * (low + high)
        good = loader.holds(_changed(amounts, changes, middle), order)
        low, high = (middle, high) if good else (low, middle)
    return low


def _options(
    loader: Loader, amounts: Amounts
) -> Iterator[tuple[str, str, dict[str, float], float]]:
    """Ways to change a loading: words, place, what one kilogram does to each place, the most."""
    kinds = {name: place.kind for name, place in loader.places.items()}
    for name, kind in kinds.items():
        aboard = amounts.get(name, 0.0)
        if kind == "ballast":
            yield f"add ballast at {name}", name, {name: 1.0}, loader.most(name) - aboard
        spare = aboard - loader.least(name)
        if kind == "seat" and aboard > 0.0:
            lighter = aboard - max(loader.least(name), LIGHTEST)
            yield f"someone lighter at {name}, by", name, {name: -1.0}, lighter
            yield f"someone heavier at {name}, by", name, {name: 1.0}, loader.most(name) - aboard
        elif kind == "seat" and loader.least(name) > 0.0:
            yield f"seat someone at {name}, of", name, {name: 1.0}, loader.most(name)
        elif spare > 0.0:
            words = "drain from" if kind in ("fuel", "fluid") else "take out of"
            yield f"{words} {name}", name, {name: -1.0}, spare
        elif kind in ("fuel", "fluid", "baggage") and spare < 0.0:
            yield f"put into {name}", name, {name: 1.0}, loader.most(name) - aboard
    movable = [n for n, k in kinds.items() if k in ("baggage", "ballast")]
    for one in movable:
        for two in movable:
            aboard = amounts.get(one, 0.0) - loader.least(one)
            most = min(aboard, loader.most(two) - amounts.get(two, 0.0))
            if one != two and most > 0.0:
                yield f"move from {one} to {two}", two, {one: -1.0, two: 1.0}, most


def _reseated(loader: Loader, amounts: Amounts) -> Iterator[tuple[str, Amounts]]:
    """Every way to leave a seat empty, to move to an empty seat, or to let two change seats."""
    seats = [n for n, p in loader.places.items() if p.kind == "seat"]
    for k, one in enumerate(seats):
        if amounts.get(one, 0.0) > 0.0:
            yield f"leave {one} empty", {n: m for n, m in amounts.items() if n != one}
        for two in seats[k + 1 :]:
            a, b = amounts.get(one, 0.0), amounts.get(two, 0.0)
            if a == b:
                continue
            words = f"change the occupants of {one} and {two}"
            if not a or not b:
                words = f"move the occupant of {one if a else two} to {two if a else one}"
            yield words, {**amounts, one: b, two: a}


def _changed(amounts: Amounts, changes: dict[str, float], mass: float) -> Amounts:
    out = dict(amounts)
    for name, sign in changes.items():
        out[name] = out.get(name, 0.0) + sign * mass
        if abs(out[name]) < CLOSE:
            out[name] = 0.0
    return out


def _least(
    loader: Loader,
    amounts: Amounts,
    order: Sequence[str],
    changes: dict[str, float],
    most: float,
) -> float | None:
    """The least change that brings every state of the burn inside, or None."""
    step = (sum(changes.values()), sum(s * loader.arm(n) for n, s in changes.items()))
    mass = max(
        max(0.0, a - loader.most(n)) if sign < 0.0 else max(0.0, loader.least(n) - a)
        for n, sign in changes.items()
        for a in [amounts.get(n, 0.0)]
    )
    for _ in range(40):
        if mass > most + CLOSE:
            return None
        here = _changed(amounts, changes, mass)
        if loader.holds(here, order):
            return mass
        states = [state for _, state in loader.path(here, order)]
        worst = [m for m in loader.margins(states) if m.left < -CLOSE]
        states += [(m.mass, m.mass * m.fs) for m in worst]
        steps = [least_step(loader.envelope, s, step, max(0.0, most - mass)) for s in states]
        more = max((t for t in steps if t is not None), default=0.0)
        if more <= 0.0:
            return None
        mass += more
    return None
