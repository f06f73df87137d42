"""The least changes that alone bring a loading inside its limits."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from planform.airframe.weight.items import Item, summed
from planform.balance.loader import Amounts, Burn, Loader, Margin
from planform.core.mass.limits import CLOSE, State
from planform.core.mass.loading import least_step
from planform.core.quantity import CubicMetres, Kilograms
from planform.design.loading import density_of

LIGHTEST = 30.0
"""Kilograms below which nobody is looked for to sit in a seat. Assumption."""


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


def remedies(loader: Loader, amounts: Amounts, burn: Burn) -> list[Remedy]:
    """Least changes that alone bring a case inside, the smallest first."""
    found: list[Remedy] = []
    for what, name, changes, most in _options(loader, amounts):
        mass = _least(loader, amounts, burn, changes, most)
        if mass is None or mass <= 0.0:
            continue
        after = _changed(amounts, changes, mass)
        place = loader.places[name]
        density = density_of(place) if place.kind in ("fuel", "fluid") else None
        volume = mass / float(density) if density is not None else None
        still = _still_good(loader, amounts, burn, changes, mass, most)
        found.append(Remedy(what, mass, volume, summed("after", loader.lines(after)), still))
    for what, seated in _reseated(loader, amounts):
        if loader.holds(seated, burn):
            mass = max(abs(seated.get(n, 0.0) - m) for n, m in amounts.items())
            found.append(Remedy(what, mass, None, summed("after", loader.lines(seated)), mass))
    return sorted(found, key=lambda r: r.mass)


def _still_good(
    loader: Loader,
    amounts: Amounts,
    burn: Burn,
    changes: dict[str, float],
    mass: float,
    most: float,
) -> float:
    """Up to how much of a change the case stays inside [kg], at most a kilogram more than least."""
    low, high = mass, min(most, mass + 1.0)
    if loader.holds(_changed(amounts, changes, high), burn):
        return high
    for _ in range(40):
        middle = 0.5 * (low + high)
        good = loader.holds(_changed(amounts, changes, middle), burn)
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
            yield f"add ballast at {name}", name, {name: 1.0}, loader.spare(name, amounts)
        spare = aboard - loader.least(name)
        if kind == "seat" and aboard > 0.0:
            lighter = aboard - max(loader.least(name), LIGHTEST)
            yield f"someone lighter at {name}, by", name, {name: -1.0}, lighter
            yield f"someone heavier at {name}, by", name, {name: 1.0}, loader.spare(name, amounts)
        elif kind == "seat" and loader.least(name) > 0.0:
            yield f"seat someone at {name}, of", name, {name: 1.0}, loader.spare(name, amounts)
        elif spare > 0.0:
            words = "drain from" if kind in ("fuel", "fluid") else "take out of"
            yield f"{words} {name}", name, {name: -1.0}, spare
        elif kind in ("fuel", "fluid", "baggage") and spare < 0.0:
            yield f"put into {name}", name, {name: 1.0}, loader.spare(name, amounts)
    movable = [n for n, k in kinds.items() if k in ("baggage", "ballast")]
    tanks = [n for n, k in kinds.items() if k == "fuel" and loader.envelope.sideways]
    for group in (movable, tanks):
        yield from _moves(loader, amounts, group)


def _moves(
    loader: Loader, amounts: Amounts, places: list[str]
) -> Iterator[tuple[str, str, dict[str, float], float]]:
    """Ways to move a load from one place of a group to another."""
    for one in places:
        for two in places:
            aboard = amounts.get(one, 0.0) - loader.least(one)
            freed = {**amounts, one: loader.least(one)} if aboard > 0.0 else amounts
            most = min(aboard, loader.spare(two, freed))
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
    burn: Burn,
    changes: dict[str, float],
    most: float,
) -> float | None:
    """The least change that brings every state of the burn inside, or None."""
    step = loader.step(changes)
    mass = _needed(loader, amounts, changes)
    for _ in range(40):
        if mass > most + CLOSE:
            return None
        here = _changed(amounts, changes, mass)
        if loader.holds(here, burn):
            return mass
        states = [state for _, state in burn.path(here)]
        worst = [m for m in loader.margins(states) if m.left < -CLOSE]
        states += [_at(loader, here, m) for m in worst]
        steps = [least_step(loader.envelope, s, step, max(0.0, most - mass)) for s in states]
        more = max((t for t in steps if t is not None), default=0.0)
        if more <= 0.0:
            return None
        mass += more
    return None


def _at(loader: Loader, amounts: Amounts, margin: Margin) -> State:
    """The state of a margin, somewhere along the burn: what is not fuel is all aboard there."""
    mass, _, _, fuel = loader.state(amounts)
    left = fuel - (mass - margin.mass)
    return margin.mass, margin.mass * margin.fs, margin.mass * margin.bl, left


def _needed(loader: Loader, amounts: Amounts, changes: dict[str, float]) -> float:
    """The least of a change that brings its places within their own and their joint limits."""
    needed = [0.0]
    for name, sign in changes.items():
        aboard = amounts.get(name, 0.0)
        needed.append(aboard - loader.most(name) if sign < 0.0 else loader.least(name) - aboard)
    for joint in loader.joints.values():
        rate = sum(sign * loader.per_kilogram(joint, n) for n, sign in changes.items())
        if rate < 0.0:
            needed.append(loader.beyond(joint, amounts) / -rate)
    return max(needed)
