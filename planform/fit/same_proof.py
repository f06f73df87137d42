"""A proof that there is no way out, taken over where what it rests on is left as it was.

It rests on the pairs of a piece and a thing that block its boxes, on what being outside means and
on where the aircraft starts. Where another question has all of these, to the last bit, it holds
there as well, and nothing is searched; the second check goes over it as over any other.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from planform.fit.ground_plan import GroundPlan
from planform.fit.question import Question

if TYPE_CHECKING:
    from planform.core.motion.closed import Closed

Array = NDArray[np.float64]
Pair = tuple[bytes, bytes, float]
"""A piece, a thing, and what is kept of it: what blocks a box."""


class SameProof:
    """A proof by boxes for one question, and for every other that leaves it as it is.

    question, closed : a question, and the boxes that prove that it has no way out
    """

    def __init__(self, question: Question, closed: Closed) -> None:
        self.closed = closed
        self._outside = _outside(question.searched)
        pairs = list(_pairs(question.searched))
        self._names = np.unique(closed.by)
        self._needed = [pairs[k] for k in self._names]

    def holds_for(self, question: Question) -> Closed | None:
        """The proof for another question; None where it does not hold there as it is."""
        plan, start = question.searched, question.searched_from
        if question.parked < 0.0 or _outside(plan) != self._outside or not self._reaches(start):
            return None
        there = {pair: k for k, pair in enumerate(_pairs(plan))}
        if not all(pair in there for pair in self._needed):
            return None
        number = np.array([there[pair] for pair in self._needed], np.int32)
        by = number[np.searchsorted(self._names, self.closed.by)]
        return replace(self.closed, start=start, by=by)

    def _reaches(self, start: tuple[float, float, float]) -> bool:
        """Whether a start is that of the proof, or in a box that is shut in as it is."""
        if start == self.closed.start:
            return True
        boxes = self.closed.reached
        x0, y0, half, turn = self.closed.frame
        share = 0.5 ** boxes[:, 0].astype(float)
        middles = (2 * boxes[:, 1:] + 1) * share[:, None] * np.array([half, half, turn])
        off = np.array(start) - np.array([x0, y0, 0.0]) - middles
        off[:, 2] = (off[:, 2] + np.pi) % (2.0 * np.pi) - np.pi
        within = share[:, None] * np.array([half, half, turn]) - 1e-9
        return bool((np.abs(off) <= within).all(axis=1).any())


def _pairs(plan: GroundPlan) -> Iterator[Pair]:
    """What can meet what, in the order in which the boxes of a search number it."""
    things = [(number, thing.outline.tobytes(), float(thing.keep)) for number, thing in plan.things]
    for k, (_, _, pieces) in enumerate(plan.ranges):
        for ring in pieces:
            piece = ring.tobytes()
            yield from ((piece, outline, keep) for number, outline, keep in things if number == k)


def _outside(plan: GroundPlan) -> tuple[bytes, tuple[bytes, ...], float]:
    """What being outside means."""
    return plan.hull.tobytes(), tuple(ring.tobytes() for ring in plan.floors), plan.beyond
