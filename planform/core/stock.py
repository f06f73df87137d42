"""Pieces cut from sticks of stock: the fewest sticks, with a saw's kerf between pieces.

Bin packing: first fit decreasing (Johnson 1973, from memory) gives a plan, the sum of the lengths
and the count of those over half a stick give a least number; where they differ, every way is tried
by branch and bound, up to a number of steps.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

STEPS = 200_000
"""Branches looked into at most."""
SAME = 1e-9
"""Lengths that differ by less are one [m]."""


@dataclass(frozen=True)
class Stick:
    """One stick as bought, and the pieces cut from it, by their numbers in what was asked."""

    stock: float
    pieces: tuple[int, ...]


@dataclass(frozen=True)
class CutPlan:
    """The sticks, and the least number that any plan could do with; equal where proved fewest."""

    sticks: tuple[Stick, ...]
    least: int

    @property
    def proved(self) -> bool:
        """Whether no plan takes fewer sticks."""
        return len(self.sticks) == self.least


def cut_plan(lengths: Sequence[float], stock: Sequence[float], kerf: float) -> CutPlan:
    """A plan of cuts: the fewest sticks of the longest stock, then each as short as will do.

    lengths : of the pieces [m] ; stock : lengths that can be bought [m]
    kerf : what a cut takes [m]; a piece that ends with its stick needs none after it
    Raises ValueError for a piece longer than every stick.
    """
    longest = max(stock)
    if any(one > longest + SAME for one in lengths):
        raise ValueError(f"a piece of {max(lengths):.4f} m from sticks of {longest:.4f} m")
    order = sorted(range(len(lengths)), key=lambda k: -lengths[k])
    sizes = [lengths[k] + kerf for k in order]
    room = longest + kerf + SAME
    bins = _first_fit(sizes, room)
    least = _least(sizes, room)
    if len(bins) > least:
        search = _Search(sizes, room, bins, least)
        least = search.run()
        bins = search.best
    sticks = []
    for one in bins:
        used = sum(sizes[k] for k in one) - kerf
        short = min(size for size in stock if size + SAME >= used)
        sticks.append(Stick(short, tuple(order[k] for k in one)))
    return CutPlan(tuple(sticks), least)


def _first_fit(sizes: Sequence[float], room: float) -> list[list[int]]:
    bins: list[list[int]] = []
    left: list[float] = []
    for k, size in enumerate(sizes):
        spot = next((j for j, free in enumerate(left) if size <= free), None)
        if spot is None:
            bins.append([])
            left.append(room)
            spot = len(bins) - 1
        bins[spot].append(k)
        left[spot] -= size
    return bins


def _least(sizes: Sequence[float], room: float) -> int:
    """No plan takes fewer: by what they are long together, and by those that never share."""
    by_sum = math.ceil(sum(sizes) / room - SAME)
    return max(by_sum, sum(size > 0.5 * room for size in sizes))


class _Search:
    """Every way to put the pieces in, longest first, until the least number is reached."""

    def __init__(
        self, sizes: Sequence[float], room: float, best: list[list[int]], least: int
    ) -> None:
        self.sizes, self.room, self.best, self.least = sizes, room, best, least
        self.steps = 0
        self.bins: list[list[int]] = []
        self.left: list[float] = []

    def run(self) -> int:
        """The least number that is proved."""
        self._put(0)
        return len(self.best) if self.steps <= STEPS else self.least

    def _put(self, k: int) -> None:
        self.steps += 1
        if self.steps > STEPS or len(self.best) == self.least or len(self.bins) >= len(self.best):
            return
        if k == len(self.sizes):
            self.best = [list(one) for one in self.bins]
            return
        size, tried = self.sizes[k], set()
        for j, free in enumerate(self.left):
            if size <= free and free not in tried:
                tried.add(free)
                self.bins[j].append(k)
                self.left[j] = free - size
                self._put(k + 1)
                self.left[j] = free
                self.bins[j].pop()
        if len(self.bins) + 1 < len(self.best):
            self.bins.append([k])
            self.left.append(self.room - size)
            self._put(k + 1)
            self.bins.pop()
            self.left.pop()
