"""The answer to what a page asks, line by line, in the order of what each part takes."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Iterator
from dataclasses import dataclass, field

from planform.airframe.stance import Standing
from planform.balance.stages import stage_balance
from planform.core.halting import look
from planform.design.problems import InputError
from planform.explore.asked import PageQuestion
from planform.explore.clerk import Line
from planform.explore.flown import flow_of, wing_area
from planform.explore.read import AsRead, Files, Refused, read, refused_by, values_of
from planform.explore.shown import MESHES, ShownStage, shown_room
from planform.explore.strip import (
    Figured,
    of_balance,
    of_flow,
    of_heights,
    of_room,
    of_verdict,
    strip,
)
from planform.fit.room import Room
from planform.report.record import Record
from planform.report.seen.meshes import Meshes
from planform.study.desk import Desk
from planform.study.judging import SoFar, Step

BUILT, MEASURES, BALANCE, FLOW = "built", "measures", "balance", "flow"
BASE, ALL = "the base", "all"
"""The steps beside those of a fit."""

KEPT_STRIPS = 24
"""Figures of bases that are kept, the last used ones; assumption."""


@dataclass
class Progress:
    """One variant as far as it is worked out.

    so_far : what the last step told of the room; None where it told nothing of it
    came_with : the step that each figure came with
    """

    standing: Standing
    so_far: SoFar | None = None
    done: list[str] = field(default_factory=list)
    figures: Figured = field(default_factory=dict)
    came_with: dict[str, str] = field(default_factory=dict)

    def take(self, step: str, figures: Figured, so_far: SoFar | None = None) -> Progress:
        """One step more with its figures."""
        new = {key: one for key, one in figures.items() if self.figures.get(key) != one}
        self.done.append(step)
        self.figures |= new
        self.came_with |= dict.fromkeys(new, step)
        self.so_far = so_far
        return self


def steps(files: Files) -> tuple[str, ...]:
    """The steps of an answer, in order."""
    if files.place is None:
        return (BUILT, MEASURES, BALANCE, FLOW, BASE, ALL)
    first, *rest = (step.value for step in Step)
    return (BUILT, first, MEASURES, *rest, BALANCE, FLOW, BASE, ALL)


class Answering:
    """Answers the questions of one page, one at a time, and keeps what it worked out."""

    def __init__(self) -> None:
        self._desk = Desk()
        self._meshes = Meshes(MESHES)
        self._strips: OrderedDict[str, Figured] = OrderedDict()

    def lines(self, files: Files, question: PageQuestion) -> Iterator[Line]:
        """The lines of an answer; under a halt they end where it is asked for."""
        try:
            now = read(files, question.now)
        except Refused as refused:
            yield {"problems": refused.lines()}
            return
        try:
            base = read(files, question.base)
        except Refused:
            base = None  # it cannot be read any more; nothing is compared
        try:
            yield from self._lines(files, question, now, base)
        except InputError as error:
            yield {"problems": refused_by(error, now).lines()}

    def _lines(
        self, files: Files, question: PageQuestion, now: AsRead, base: AsRead | None
    ) -> Iterator[Line]:
        there = self._known(f"{files.version} {question.base!r}")
        same = question.now == question.base
        every, system = steps(files), files.system
        stage: ShownStage | None = None
        room = None if now.place is None else self._desk.room(now.place)
        for here in self._steps(now, base, system):
            step = here.done[-1]
            if stage is None:
                stage = ShownStage(here.standing, room, now.spot, self._meshes, system)
            if step == MEASURES:
                stage.measure()
            if step == BALANCE:
                stage.weigh()
            if here.so_far is not None:
                stage.judge(here.so_far)
            if same:
                there |= here.figures
            elif step == (BUILT if now.place is None else Step.PARKED.value):
                self._start(base, there, system)
            look()
            first = self._first(now, room, files) if step == BUILT else {}
            yield {
                "step": step,
                "done": list(here.done),
                "left": [one for one in every if one not in here.done],
                "look": stage.look(first.pop("room", None), question.has),
                "strip": strip(here.figures, there, here.came_with, system),
                **first,
            }
        yield from self._rest(base, here, there, system)

    def _first(self, now: AsRead, room: Room | None, files: Files) -> dict[str, Record]:
        """What the first line tells beside the aircraft: the changed values, the room."""
        out: dict[str, Record] = {"values": values_of(now)}
        if room is not None and files.place is not None:
            out["room"] = shown_room(room, files.place, self._meshes, files.system)
        return out

    def _rest(
        self, base: AsRead | None, here: Progress, there: Figured, system: str
    ) -> Iterator[Line]:
        """What is left of the base, and the end."""
        if base is not None and not here.figures.keys() <= there.keys():
            try:
                for part in self._steps(base, base, system):
                    there |= part.figures
            except InputError:
                pass  # the base cannot be built; what is known of it stays
        told = strip(here.figures, there, here.came_with, system)
        done = [*here.done, BASE]
        yield {"step": BASE, "done": done, "left": [ALL], "strip": told}
        yield {"step": ALL, "done": [*done, ALL], "left": []}

    def _start(self, base: AsRead | None, there: Figured, system: str) -> None:
        """The figures of the base that take least, where they are not known."""
        if base is None or "width" in there:
            return
        stage, stance = base.variant.stage, base.variant.stance
        try:
            there |= of_heights(self._desk.stood(base.design, stage, stance), system)
            if base.place is not None:
                parked = self._desk.parked(base.design, base.place, stage, stance, base.spot)
                there |= of_room(parked, system)
        except InputError:
            return

    def _steps(self, read: AsRead, base: AsRead | None, system: str) -> Iterator[Progress]:
        """One variant, each time with one step more."""
        variant = read.variant
        standing = self._desk.stood(read.design, variant.stage, variant.stance)
        here = Progress(standing)
        yield here.take(BUILT, of_heights(standing, system))
        if read.place is None:
            yield here.take(MEASURES, {})
        else:
            yield from self._fit(read, here, system)
        look()
        yield here.take(BALANCE, of_balance(stage_balance(standing), system))
        look()
        first = read if base is None else base
        stood = self._desk.stood(first.design, first.variant.stage, first.variant.stance)
        yield here.take(FLOW, of_flow(flow_of(standing, wing_area(stood)), system))

    def _fit(self, read: AsRead, here: Progress, system: str) -> Iterator[Progress]:
        """The steps of a fit, and the measures after the first."""
        assert read.place is not None
        variant = read.variant
        asked = read.design, read.place, variant.stage, variant.stance, read.spot
        for so_far in self._desk.ask(*asked):
            step = so_far.done[-1]
            figures = of_room(so_far.answer, system)
            if step not in (Step.PARKED, Step.STRAIGHT):
                figures |= of_verdict(so_far.answer)
            yield here.take(step.value, figures, so_far)
            if step == Step.PARKED:
                yield here.take(MEASURES, {})

    def _known(self, key: str) -> Figured:
        """The figures of a base, as far as they are known."""
        found = self._strips.setdefault(key, {})
        self._strips.move_to_end(key)
        while len(self._strips) > KEPT_STRIPS:
            self._strips.popitem(last=False)
        return found
