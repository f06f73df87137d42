"""What to measure next: which better reading narrows the band of a verdict most."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Annotated

from planform.core.quantity import Metres, UnitOf
from planform.core.shown import Brief, Shown
from planform.design.naming import in_words
from planform.design.units import DEGREE, INCH
from planform.fit.answer import FitAnswer
from planform.fit.check import Check
from planform.fit.room import Room
from planform.study.inputs import Input, bare_inputs, given_inputs
from planform.study.spreads_of_fit import Reread, effects, read_better

CAREFUL = {"length": INCH / 16, "angle": 0.1 * DEGREE}
"""What a careful reading in a shop is good to: a tape to 1/16 in, a digital level to 0.1 deg.
Common practice, no source."""


@dataclass(frozen=True, eq=False)
class Better:
    """One input of a check read better, and what is then left of the check's band [m].

    careful : the tolerance it is read to [SI]
    after : the check judged again with that tolerance
    """

    check: Check
    input: Input
    careful: Annotated[float, UnitOf("input.reading.kind")]
    after: Reread

    @property
    def worst(self) -> Metres:
        """What the tolerances then take, all at their ends [m]."""
        return self.after.check.worst

    @property
    def within_99(self) -> Metres:
        """The same in 99 of 100 cases [m]."""
        return self.after.check.within_99

    @property
    def verdict(self) -> str:
        """The verdict then, where the reading comes out as written."""
        return self.after.check.verdict

    @property
    def settles(self) -> bool:
        """Whether the verdict cannot turn any more, where the reading comes out as written."""
        return not self.after.check.open

    @property
    def can_turn(self) -> bool:
        """Whether another verdict can come of it, the reading anywhere in its present tolerance."""
        found = self.after.check
        assert found.gap is not None
        gaps = (found.gap, *self.after.gaps)
        return any(found.word(gap, self.worst) != self.check.verdict for gap in gaps)


TOLD = 3
"""How many readings of a check are judged again and told."""


def better_readings(
    answer: FitAnswer, room: Room, check: Check, inputs: tuple[Input, ...]
) -> tuple[Better, ...]:
    """The inputs worth reading better, each judged again so, what narrows the band most first.

    inputs : those of the design and the place that carry a tolerance
    Which ones are judged again is foretold to first order from every strand of the check.
    """
    by_name = {one.name: one for one in inputs}
    names = dict.fromkeys(name for s in check.strands for name, _ in s.spread.by_input)
    found = []
    for one in map(by_name.__getitem__, names):
        careful = CAREFUL.get(one.reading.kind, one.step)
        if careful < one.step:
            share = careful / one.step
            cut = tuple(replace(s, spread=s.spread.but(one.name, share)) for s in check.strands)
            rough = replace(check, strands=cut, built=None)
            found.append((rough.worst, rough.within_99, one, careful))
    found.sort(key=lambda f: f[:2])
    out = [
        Better(check, one, careful, read_better(answer, room, check, one, careful))
        for *_, one, careful in found[:TOLD]
    ]
    return tuple(sorted(out, key=lambda better: (better.worst, better.within_99)))


@dataclass(frozen=True, eq=False, repr=False)
class Advice(Shown):
    """What to measure next for one answer.

    deciding : the check that makes the verdict, None where nothing was judged
    better : of each check whose verdict could turn inside its tolerance, the deciding one first,
        the readings that narrow it most
    bare : the readings without any tolerance that matter most for the deciding check, and what
        each alone does to it when moved by what `planform.study.inputs.ASSUMED` says [m]; empty
        where all of them moved so together could not turn it
    """

    deciding: Check | None
    better: tuple[tuple[Check, tuple[Better, ...]], ...]
    bare: tuple[tuple[Input, float], ...]

    def brief(self) -> Brief:
        """The check that decides, and the readings worth taking again."""
        rows = [] if self.deciding is None else [("decided by", self.deciding.title)]
        for check, readings in self.better:
            rows += [(check.title, f"read better: {in_words(one.input.name)}") for one in readings]
        return Brief("what to measure next", tuple(rows))


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
    better = tuple((check, better_readings(answer, room, check, inputs)) for check in checks)
    bare: list[tuple[Input, float]] = []
    if deciding is not None and deciding.open_within(deciding.worst + NEAR):
        candidates = {one.name: one for one in bare_inputs(design, room.place)}
        found = effects(answer, room, deciding, candidates.values())
        if deciding.open_within(deciding.worst + found.worst):
            bare = [(candidates[name], change) for name, change in found.by_input[:BARE]]
    return Advice(deciding, better, tuple(bare))
