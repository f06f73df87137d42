"""Stages in places, judged on all the cores there are: the same answers, sooner."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from time import monotonic

from planform.airframe.stance import Standing
from planform.design.models import Design
from planform.design.place import Place
from planform.fit.room import Room
from planform.study.desk import Desk
from planform.study.judging import SoFar, Step, answer_in_parts, as_far_as
from planform.study.processes import processes

WORTH = 1.5
"""A process of its own is begun where the first answer took longer than this [s]; assumption."""


@dataclass(frozen=True, eq=False)
class Cell:
    """One stage in one place, on a spot of it.

    advised : whether to say what to measure next too
    """

    standing: Standing
    room: Room
    spot: str | None = None
    advised: bool = True

    def answered(self) -> SoFar:
        """Its answer."""
        return as_far_as(self.last, answer_in_parts(self.standing, self.room, self.spot))

    @property
    def last(self) -> Step:
        """The last part that is asked for."""
        return Step.NEXT if self.advised else Step.TOLERANCES


def answered(
    cells: Sequence[Cell],
    progress: Callable[[str], None] = lambda step: None,
    workers: int | None = None,
) -> list[SoFar]:
    """The answers, in order.

    workers : processes; as many as there are cores where None, this one alone where 1
    Where the first answer comes soon the others are worked out here too. Raises Failure where a
    process was stopped from outside.
    """
    out: list[SoFar] = []
    count = min(workers or os.cpu_count() or 1, len(cells) - 1)
    for k, cell in enumerate(cells):
        progress(f"judging {cell.standing.title}")
        began = monotonic()
        out.append(cell.answered())
        left = cells[k + 1 :]
        if count > 1 and len(left) > 1 and monotonic() - began > WORTH:
            return out + list(_elsewhere(left, min(count, len(left)), progress))
    return out


def _elsewhere(
    cells: Sequence[Cell], count: int, progress: Callable[[str], None]
) -> Iterator[SoFar]:
    with processes(count, "judges stages", "try one stage at a time") as pool:
        asked = [
            pool.submit(
                _answer,
                cell.standing.airframe.design,
                cell.room.place,
                (cell.standing.stage.name, cell.standing.stance_name, cell.spot),
                cell.last,
            )
            for cell in cells
        ]
        for cell, future in zip(cells, asked, strict=True):
            progress(f"judging {cell.standing.title}")
            found = future.result()
            yield replace(found, answer=replace(found.answer, standing=cell.standing))


_desk: Desk | None = None
"""In a worker: what was built for an earlier cell is used again."""


def _answer(design: Design, place: Place, how: tuple[str, str, str | None], last: Step) -> SoFar:
    """In a worker: one cell."""
    global _desk
    if _desk is None:
        _desk = Desk()
    return as_far_as(last, _desk.ask(design, place, *how))
