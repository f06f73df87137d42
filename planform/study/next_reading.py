"""What to measure next: which better reading narrows the band of a verdict most."""

from __future__ import annotations

from dataclasses import dataclass

from planform.fit.room import Room
from planform.fit.verdict import Check, FitAnswer
from planform.study.gaps import effects
from planform.study.inputs import Input, bare_inputs, given_inputs

CAREFUL = {"length": 0.0015875, "angle": 0.0017453292519943296}
"""What a careful reading in a shop is good to: a tape to 1/16 in, a digital level to 0.1 deg.
Common practice, no source."""


@dataclass(frozen=True, eq=False)
class Better:
    """One input of a check read better, and what is then left of the check's band [m].

    careful : the tolerance it is read to [SI]
    """

    check: Check
    input: Input
    careful: float
    worst: float
    within_99: float

    @property
    def verdict(self) -> str:
        """The verdict then, where the reading comes out as written."""
        assert self.check.gap is not None
        return self.check.word(self.check.gap, self.worst)

    @property
    def settles(self) -> bool:
        """Whether the verdict cannot turn any more, where the reading comes out as written."""
        return not self.check.open_within(self.worst)

    @property
    def can_turn(self) -> bool:
        """Whether another verdict can come of it, the reading anywhere in its present tolerance."""
        gap = self.check.gap
        assert gap is not None
        shift = self.check.worst - self.worst
        return any(
            self.check.word(gap + side * shift, self.worst) != self.check.verdict
            for side in (-1.0, 0.0, 1.0)
        )


def better_readings(check: Check, inputs: tuple[Input, ...]) -> tuple[Better, ...]:
    """Every input that can be read better, the one that narrows the band of the verdict most first.

    inputs : those of the design and the place that carry a tolerance
    """
    by_name = {one.name: one for one in inputs}
    out = []
    for name, change in check.spread.by_input:
        one = by_name[name]
        careful = CAREFUL.get(one.reading.kind, one.step)
        if careful >= one.step:
            continue
        rest = check.spread.but(name, careful / one.step)
        worst = max(0.0, check.worst - change * (1.0 - careful / one.step))
        narrower = check.within_99 - (check.spread.within_99 - rest.within_99)
        out.append(Better(check, one, careful, worst, min(max(0.0, narrower), worst)))
    return tuple(sorted(out, key=lambda better: (better.worst, better.within_99)))


@dataclass(frozen=True, eq=False)
class Advice:
    """What to measure next for one answer.

    deciding : the check that makes the verdict, None where nothing was judged
    better : of each check whose verdict could turn inside its tolerance, the deciding one first,
        the readings that narrow it
    bare : the readings without any tolerance that matter most for the deciding check, and what
        each alone does to it when moved by what `planform.study.inputs.ASSUMED` says [m]; empty
        where all of them moved so together could not turn it
    """

    deciding: Check | None
    better: tuple[tuple[Check, tuple[Better, ...]], ...]
    bare: tuple[tuple[Input, float], ...]


BARE = 3
"""How many readings without a tolerance are told."""

NEAR = 0.15
"""How far outside its tolerance a verdict may turn for them to be looked at [m]; assumption."""


def advice(answer: FitAnswer, room: Room) -> Advice:
    """What to measure next for an answer with its spreads."""
    design = answer.standing.airframe.design
    inputs = given_inputs(design, room.place)
    deciding = answer.deciding
    checks = sorted(
        (c for c in answer.checks if c.open), key=lambda c: (c is not deciding, c.spare)
    )
    better = tuple((check, better_readings(check, inputs)) for check in checks)
    bare: list[tuple[Input, float]] = []
    if deciding is not None and deciding.open_within(deciding.worst + NEAR):
        candidates = {one.name: one for one in bare_inputs(design, room.place)}
        found = effects(answer, room, deciding, candidates.values())
        if deciding.open_within(deciding.worst + found.worst):
            bare = [(candidates[name], change) for name, change in found.by_input[:BARE]]
    return Advice(deciding, better, tuple(bare))
