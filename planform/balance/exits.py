"""Stepping out and in: who may leave a loaded aircraft, in which order, before it tips.

An occupant's weight leaves the seat at once and goes to the floor. Someone who stands on a sill,
a step or the wing meanwhile puts it elsewhere; that is not worked out here, and is said.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from planform.airframe.weight.items import Item, summed
from planform.balance.footing import Borne, Footing, carried
from planform.balance.loader import Amounts, Loader
from planform.balance.stages import Ballast, Force, ground_ballast, nose_hold
from planform.core.quantity import Kilograms
from planform.design.loading import LoadingCase

MOST_OCCUPANTS = 8
"""Occupied seats up to which every order is looked at: 2 to this power of loadings a case."""


@dataclass(frozen=True, eq=False)
class Emptied:
    """The aircraft with some of its occupants out; weight in kg.

    out : the seats that are empty now
    """

    out: tuple[str, ...]
    total: Item
    carried: Borne

    @property
    def front(self) -> Kilograms:
        """What the front supports carry [kg]; below zero: what they lack to stay on the floor."""
        return self.total.mass * self.carried.inside / self.carried.arm


@dataclass(frozen=True, eq=False)
class Leaving:
    """How the occupants of a case may step out; boarding goes the same way backward.

    fuel : which fuel is aboard, in words
    steps : every set of seats that can be empty, the fewest first
    order : the order that keeps the most on the front supports at its worst moment
    least : that worst moment; worst : the worst of all orders
    hand, ballast : what keeps the front down at the worst moment of the order told, at the nose
        or at each ballast place; no hand is needed where it is None
    worst_hand : the same at the worst of all orders
    """

    case: str
    fuel: str
    steps: tuple[Emptied, ...]
    order: tuple[str, ...]
    least: Emptied
    worst: Emptied
    hand: Force | None
    worst_hand: Force | None
    ballast: tuple[Ballast, ...]

    @property
    def stands(self) -> bool:
        """Whether the order told keeps it on its wheels from the first to the last."""
        return all(step.carried.stands for step in self.steps if self._on_the_way(step))

    @property
    def told(self) -> tuple[Emptied, ...]:
        """The steps that matter: each alone, the order's, the worst, those that fall."""
        return tuple(
            step
            for step in self.steps
            if len(step.out) == 1
            or step is self.worst
            or not step.carried.stands
            or self._on_the_way(step)
        )

    def _on_the_way(self, step: Emptied) -> bool:
        return set(step.out) == set(self.order[: len(step.out)])


def not_looked_at(loader: Loader, cases: Sequence[LoadingCase]) -> dict[str, str]:
    """The cases with people aboard whose stepping out is not worked out, and why."""
    out = {}
    for case in cases:
        amounts = {n: m for n, m in loader.amounts(case).items() if m > 0.0}
        seats = [n for n in amounts if loader.places[n].kind == "seat"]
        flat = [line.name for line in loader.lines(amounts) if line.wl is None]
        if seats and flat:
            out[case.name] = f"the height of {', '.join(flat)} is not given"
        elif len(seats) > MOST_OCCUPANTS:
            out[case.name] = f"more than {MOST_OCCUPANTS} seats are taken"
    return out


def leavings(loader: Loader, cases: Sequence[LoadingCase], on: Footing) -> tuple[Leaving, ...]:
    """Every case's ways to step out, with the fuel it starts with and with its tanks dry.

    A case with a load whose height is not known, or with nobody aboard, has none.
    """
    return tuple(one for case in cases for one in _of_case(loader, case, on))


def _of_case(loader: Loader, case: LoadingCase, on: Footing) -> Iterator[Leaving]:
    amounts = {n: m for n, m in loader.amounts(case).items() if m > 0.0}
    seats = [n for n in amounts if loader.places[n].kind == "seat"]
    if not seats or not_looked_at(loader, [case]):
        return
    dry = {n: m for n, m in amounts.items() if n not in loader.burning(case).tanks}
    yield _leaving(loader, case.name, "as loaded", amounts, seats, on)
    if dry != amounts:
        yield _leaving(loader, case.name, "tanks dry", dry, seats, on)


def _leaving(
    loader: Loader, case: str, fuel: str, amounts: Amounts, seats: list[str], on: Footing
) -> Leaving:
    steps = {
        frozenset(out): _step(loader, amounts, out, on)
        for k in range(1, len(seats) + 1)
        for out in combinations(seats, k)
    }
    order = _best_order(steps, seats)
    passed = [steps[frozenset(order[:k])] for k in range(1, len(order) + 1)]
    least = min(passed, key=lambda step: step.front)
    worst = min(steps.values(), key=lambda step: step.front)
    return Leaving(
        case=case,
        fuel=fuel,
        steps=tuple(steps.values()),
        order=order,
        least=least,
        worst=worst,
        hand=nose_hold(on, least.total.mass, least.carried),
        worst_hand=nose_hold(on, worst.total.mass, worst.carried),
        ballast=ground_ballast(on, least.total.mass, least.carried),
    )


def _step(loader: Loader, amounts: Amounts, out: tuple[str, ...], on: Footing) -> Emptied:
    rest = {n: m for n, m in amounts.items() if n not in out}
    total = summed(f"{', '.join(out)} out", loader.lines(rest))
    return Emptied(out, replace(total, note=""), carried(on, total))


def _best_order(steps: dict[frozenset[str], Emptied], seats: list[str]) -> tuple[str, ...]:
    """The order whose least front load is greatest; of equal ones the fewest drops, file's order.

    By halves of the same question: the best way to empty a set of seats ends with one of them.
    """
    best: dict[frozenset[str], tuple[tuple[float, ...], tuple[str, ...]]] = {frozenset(): ((), ())}
    for k in range(1, len(seats) + 1):
        for out in map(frozenset, combinations(seats, k)):
            here = round(steps[out].front, 6)
            ways = []
            for last in reversed(seats):
                if last in out:
                    fronts, order = best[out - {last}]
                    ways.append((tuple(sorted((*fronts, here))), (*order, last)))
            best[out] = max(ways, key=lambda way: way[0])
    return best[frozenset(seats)][1]
