"""What would make it fit: the least change of each kind that lets the aircraft stand and come out.

Every size is found on the real check: the aircraft and the room built again with the change made,
parked, and searched for a way out, or shut in by just what shuts it in as it stands. Nothing is
scaled from a gap.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator
from contextlib import ExitStack
from dataclasses import replace
from time import monotonic
from typing import TypedDict, Unpack

from planform.design.models import Design
from planform.design.place import Place
from planform.fit.ground_plan import Keep
from planform.fit.question import Watch, patient
from planform.fit.second_check import GoneOver, go_over
from planform.study.change_cases import EFFORT, FREES, Tried, first_case
from planform.study.change_found import Change, Changes
from planform.study.change_runs import Begun, Workers, begun_with, in_this_process
from planform.study.change_trials import BOXES, FIRST, Trials

__all__ = ["Change", "Changes", "Search", "least_changes"]


class Search(TypedDict, total=False):
    """How a search for changes may be bounded and followed, by name.

    keep : level clearance kept to everything, parked and on the way [m]; None: just not touching
    kinds : the kinds of change to look at, keys of `EFFORT`
    boxes, first : boxes that the search of one change may use, and that of the aircraft as it
        stands
    workers : processes that look at changes; this one alone where 1
    watch : told what is tried; False ends the whole, and what was found is kept
    told : called with each change as it is done
    """

    keep: float | None
    kinds: Collection[str]
    boxes: int
    first: int
    workers: int
    watch: Watch
    told: Callable[[Change], None]


def least_changes(
    design: Design,
    place: Place,
    stage: str | None = None,
    stance: str | None = None,
    spot: str | None = None,
    **search: Unpack[Search],
) -> Changes:
    """The least change of every kind that lets the aircraft stand on its spot and come out.

    stage : the complete aircraft where None ; stance : the stage's own ; spot : the place's first
    Raises InputError where the question cannot be asked: no spot, no door, off the floor.
    """
    began = monotonic()
    keep, told, watch = search.get("keep"), search.get("told"), search.get("watch", patient)
    kept = Keep.nothing() if not keep else Keep.same(keep)
    base_case = first_case(design, place, stage, stance, spot)
    bench = Trials(kept, watch, search.get("boxes", BOXES))
    with ExitStack() as ending:
        count = search.get("workers", 1)
        workers = ending.enter_context(Workers(count)) if count > 1 else None
        base = bench.first(base_case, search.get("first", FIRST))
        out = Changes(base, keep)
        if base.answer == FREES:
            return replace(out, gone_over=_gone_over(base, []), seconds=monotonic() - began)
        begun = begun_with(base, bench, search.get("kinds", tuple(EFFORT)))
        done, stopped = [], bench.stopped
        for change, over in _looked_at(begun, workers, watch):
            done.append(change)
            stopped |= over
            if told is not None:
                told(change)
    again = _gone_over(base, done)
    return replace(
        out, all=tuple(done), gone_over=again, stopped=stopped, seconds=monotonic() - began
    )


def _looked_at(
    begun: Begun, workers: Workers | None, watch: Watch
) -> Iterator[tuple[Change, bool]]:
    if workers is None:
        return in_this_process(begun, watch)
    return workers.looked_at(begun, watch)


def _gone_over(base: Tried, done: list[Change]) -> tuple[GoneOver, ...]:
    """The second check of every way told, then of the proofs that a change does not free it."""
    what = "the way out" if base.answer == FREES else "the proof that it does not come out"
    first = go_over(base.way, f"{what} as it stands")
    ways = [one for change in done for one in change.gone_over[:1] if change.answer == FREES]
    proofs = [one for change in done for one in change.gone_over if one not in ways]
    return (*ways, *([] if first is None else [first]), *proofs)
