"""Which changes are looked at, in order, and where: in this process or in several.

Each change is looked at alone, with the same limits in boxes, so that the list is the same whoever
works it out and in whatever order it is ready.
"""

from __future__ import annotations

import pickle
from collections.abc import Callable, Collection, Iterator
from concurrent.futures import Future
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from planform.fit.ground_plan import Keep
from planform.fit.question import Watch
from planform.fit.same_proof import SameProof
from planform.study.change_aircraft import (
    blocks,
    earlier_stages,
    other_spots,
    other_stances,
    parts_off,
    shut,
    turned,
    winglets,
)
from planform.study.change_cases import Asked, Case, Family, Tried, lean
from planform.study.change_doors import opened
from planform.study.change_found import Change
from planform.study.change_room import doors
from planform.study.change_sizes import least
from planform.study.change_things import obstacles
from planform.study.change_trials import Trials
from planform.study.change_turning import locked, propeller_turned
from planform.study.processes import bound_to_parent, processes

Group = Callable[[Case, Tried, Asked], Iterator[Family]]

ASKS = "asks"
"""A group in which what is looked at next depends on what was found: it is looked at in one go."""

GROUPS: tuple[tuple[tuple[str, ...], str, Group], ...] = (
    (("shut",), "", lambda case, base, asked: shut(case)),
    (("propeller",), "", lambda case, base, asked: propeller_turned(case)),
    (("locked",), ASKS, lambda case, base, asked: locked(case, asked)),
    (("opened",), "", lambda case, base, asked: opened(case)),
    (("stance",), "", lambda case, base, asked: other_stances(case)),
    (("obstacle",), ASKS, lambda case, base, asked: obstacles(case, asked)),
    (("blocks",), "", lambda case, base, asked: blocks(case)),
    (("turn",), "", lambda case, base, asked: turned(case, base)),
    (("spot",), "", lambda case, base, asked: other_spots(case, base)),
    (("parts", "joined"), ASKS, lambda case, base, asked: parts_off(case, asked)),
    (("stage", "joined"), "", lambda case, base, asked: earlier_stages(case)),
    (("wider", "taller"), "", lambda case, base, asked: doors(case)),
    (("length", "cant"), "", lambda case, base, asked: winglets(case)),
)
"""Kinds of change that are found together, and how: by effort, but that it is turned or shifted
only after things are moved, as that asks many sizes."""


@dataclass(frozen=True)
class Task:
    """What is looked at in one go: one change of a group, or all of it where `number` is None."""

    group: int
    number: int | None


@dataclass(frozen=True, eq=False)
class Begun:
    """What every change is looked at from.

    base : the aircraft as it stands ; proof : what shuts it in, where that was proved by boxes
    """

    base: Tried
    keep: Keep
    boxes: int
    kinds: frozenset[str]
    proof: SameProof | None

    def families(self, group: int, asked: Asked) -> Iterator[Family]:
        """The changes of one group, of the kinds that are looked at."""
        some, _, found = GROUPS[group]
        if self.kinds.intersection(some):
            every = found(self.base.case, self.base, asked)
            yield from (one for one in every if one.kind in self.kinds)

    def tasks(self) -> list[Task]:
        """All there is to look at, what is soon tried first."""
        out: list[Task] = []
        for k, (some, asks, _) in enumerate(GROUPS):
            if asks and self.kinds.intersection(some):
                out.append(Task(k, None))
            elif not asks:
                out += [Task(k, n) for n, _ in enumerate(self.families(k, _nothing_asked))]
        return out

    def done(self, task: Task, watch: Watch) -> Iterator[tuple[Change, bool]]:
        """Each change of a task as it is looked at, and whether the time was over."""
        bench = Trials(self.keep, watch, self.boxes, self.proof)
        for n, family in enumerate(self.families(task.group, bench.asked)):
            if task.number in (None, n):
                yield least(family, self.base, bench), bench.stopped


def _nothing_asked(case: Case, step: str) -> str:
    raise AssertionError(step)


def in_this_process(begun: Begun, watch: Watch) -> Iterator[tuple[Change, bool]]:
    """Every change, one after the other."""
    for task in begun.tasks():
        yield from begun.done(task, watch)


class Workers:
    """Processes that look at changes; they get ready while this one looks at the aircraft.

    count : how many
    """

    EVERY = 0.1
    """How often it is asked whether the time is over [s]."""

    def __init__(self, count: int) -> None:
        from multiprocessing import get_context

        self.count, self.over = count, get_context("spawn").Event()

    def __enter__(self) -> Workers:
        words = "looks at changes", "try it again with --workers 1"
        self._opened = processes(self.count, *words, _ready, self.over)
        self.pool = self._opened.__enter__()
        for _ in range(self.count):
            self.pool.submit(_warm)
        return self

    def __exit__(self, *error: Any) -> None:
        """End the processes."""
        self._opened.__exit__(*error)

    def looked_at(self, begun: Begun, watch: Watch) -> Iterator[tuple[Change, bool]]:
        """Every change, in order."""
        from concurrent.futures import wait

        handed = pickle.dumps(begun)
        todo = [self.pool.submit(_look, handed, task) for task in begun.tasks()]
        for number, future in enumerate(todo):
            while not future.done():
                wait([future], self.EVERY)
                if not self.over.is_set() and not watch(*_told(todo, number)):
                    self.over.set()
            yield from future.result()


def _told(todo: list[Future[Any]], number: int) -> tuple[str, int, float]:
    """What a watch is told: how many changes are done."""
    done = sum(future.done() for future in todo)
    return f"{done} of {len(todo)} kinds of change", 0, 0.0


_over: Any = None
"""In a worker: set when the time is over."""


def _ready(over: Any) -> None:
    """In a worker: know when the time is over, and end with the parent."""
    global _over
    _over = over
    bound_to_parent()


def _warm() -> None:
    """In a worker: load what is needed, while the aircraft as it stands is looked at."""
    from planform.core.motion import cells

    _ = cells.Cells


@lru_cache(maxsize=1)
def _begun(handed: bytes) -> Begun:
    found: Begun = pickle.loads(handed)
    return found


def _look(handed: bytes, task: Task) -> list[tuple[Change, bool]]:
    """In a worker: look at one task."""
    begun = _begun(handed)
    return list(begun.done(task, lambda *_: not _over.is_set()))


def begun_with(base: Tried, bench: Trials, kinds: Collection[str]) -> Begun:
    """What every change is looked at from; the aircraft as it stands is shared among them."""
    return Begun(lean(base), bench.keep, bench.boxes, frozenset(kinds), bench.proof)
