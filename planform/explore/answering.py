"""The answer to what a page asks, line by line, in the order of what each part takes."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Iterator
from dataclasses import dataclass, field

from planform.airframe.stance import Standing
from planform.balance.stages import Balanced, stage_balance
from planform.core.halting import look
from planform.design.problems import InputError
from planform.explore.asked import PageQuestion
from planform.explore.clerk import Line
from planform.explore.flown import flow_of, wing_area
from planform.explore.read import AsRead, Files, Refused, read, refused_by, values_of
from planform.explore.simple_look import look_of
from planform.explore.strip import (
    Sheet,
    of_balance,
    of_flow,
    of_heights,
    of_room,
    of_verdict,
    strip,
)
from planform.study.desk import Desk
from planform.study.judging import SoFar, Step
from planform.study.terms import Figures

BUILT, BALANCE, FLOW, BASE, ALL = "built", "balance", "flow", "the base", "all"
"""The steps beside those of a fit."""

KEPT_SHEETS = 24
"""Strips of bases that are kept, the last used ones; assumption."""


@dataclass
class Progress:
    """One variant as far as it is worked out.

    rows : the step that each figure of its sheet came with
    """

    standing: Standing
    so_far: SoFar | None = None
    balanced: Balanced | None = None
    flow: Figures | None = None
    done: list[str] = field(default_factory=list)
    sheet: Sheet = field(default_factory=dict)
    rows: dict[str, str] = field(default_factory=dict)

    def take(self, step: str, sheet: Sheet) -> None:
        """One step more with its figures."""
        self.done.append(step)
        self.sheet |= sheet
        self.rows |= dict.fromkeys(sheet, step)


def steps(files: Files) -> tuple[str, ...]:
    """The steps of an answer, in order."""
    fit = tuple(step.value for step in Step) if files.place is not None else ()
    return (BUILT, *fit, BALANCE, FLOW, BASE, ALL)


class Answering:
    """Answers the questions of one page, one at a time, and keeps what it worked out."""

    def __init__(self) -> None:
        self._desk = Desk()
        self._sheets: OrderedDict[str, Sheet] = OrderedDict()

    def lines(self, files: Files, question: PageQuestion) -> Iterator[Line]:
        """The lines of an answer; under a halt they end where it is asked for."""
        try:
            now = read(files, question.now)
            base = self._base(files, question)
        except Refused as refused:
            yield {"problems": refused.lines()}
            return
        try:
            yield from self._lines(files, question, now, base)
        except InputError as error:
            yield {"problems": refused_by(error, now).lines()}

    def _base(self, files: Files, question: PageQuestion) -> AsRead | None:
        """What the strip compares with; None where it cannot be read any more."""
        try:
            return read(files, question.base)
        except Refused:
            return None

    def _lines(
        self, files: Files, question: PageQuestion, now: AsRead, base: AsRead | None
    ) -> Iterator[Line]:
        there = self._sheet(f"{files.version} {question.base!r}")
        same = question.now == question.base
        every = steps(files)
        has = set(question.has)
        for here in self._steps(now, base, files.system):
            step = here.done[-1]
            if same:
                there |= here.sheet
            elif step == (BUILT if now.place is None else Step.PARKED.value):
                self._start(base, there, files.system)
            look()
            seen = look_of(
                here.standing, here.so_far.answer if here.so_far else None, frozenset(has)
            )
            has |= set(seen["meshes"])  # type: ignore[call-overload]
            yield {
                "step": step,
                "done": list(here.done),
                "left": [one for one in every if one not in here.done],
                "look": seen,
                "strip": strip(here.sheet, there, here.rows, files.system),
                **({"values": values_of(now)} if step == BUILT else {}),
            }
        yield from self._rest(base, same, here, there, files.system)

    def _rest(
        self, base: AsRead | None, same: bool, here: Progress, there: Sheet, system: str
    ) -> Iterator[Line]:
        """What is left of the base, and the end."""
        if not same and base is not None and not here.sheet.keys() <= there.keys():
            try:
                for part in self._steps(base, base, system):
                    there |= part.sheet
            except InputError:
                pass
        told = strip(here.sheet, there, here.rows, system)
        done = [*here.done, BASE]
        yield {"step": BASE, "done": done, "left": [ALL], "strip": told}
        yield {"step": ALL, "done": [*done, ALL], "left": []}

    def _start(self, base: AsRead | None, there: Sheet, system: str) -> None:
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

    def _steps(self, moved: AsRead, base: AsRead | None, system: str) -> Iterator[Progress]:
        """One variant, each time with one step more."""
        variant = moved.variant
        standing = self._desk.stood(moved.design, variant.stage, variant.stance)
        here = Progress(standing)
        here.take(BUILT, of_heights(standing, system))
        yield here
        if moved.place is not None:
            yield from self._fit(moved, here, system)
        look()
        here.balanced = stage_balance(standing)
        here.take(BALANCE, of_balance(here.balanced, system))
        yield here
        look()
        first = moved if base is None else base
        stood = self._desk.stood(first.design, first.variant.stage, first.variant.stance)
        here.flow = flow_of(standing, wing_area(stood))
        here.take(FLOW, of_flow(here.flow, system))
        yield here

    def _fit(self, moved: AsRead, here: Progress, system: str) -> Iterator[Progress]:
        """The steps of a fit."""
        assert moved.place is not None
        variant = moved.variant
        asked = moved.design, moved.place, variant.stage, variant.stance, moved.spot
        parts = self._desk.ask(*asked)
        for so_far in parts:
            here.so_far = so_far
            step = so_far.done[-1]
            sheet = of_room(so_far.answer, system)
            if step not in (Step.PARKED, Step.STRAIGHT):
                sheet |= of_verdict(so_far.answer)
            here.take(step.value, {k: v for k, v in sheet.items() if here.sheet.get(k) != v})
            yield here

    def _sheet(self, key: str) -> Sheet:
        """The figures of a base, as far as they are known."""
        found = self._sheets.setdefault(key, {})
        self._sheets.move_to_end(key)
        while len(self._sheets) > KEPT_SHEETS:
            self._sheets.popitem(last=False)
        return found
