"""What would make it fit as a page: the changes in order, their prices, and the ways out."""

from __future__ import annotations

from collections.abc import Iterator

from planform.drawing.drawing import Drawing
from planform.report.changes.words import (
    notes,
    others,
    sized,
    told,
    untried,
    verdict,
)
from planform.report.page import Content, drawn, page, words_for
from planform.study.change_found import Change, Changes

DRAWN = 6
"""Changes that are drawn: the first of each kind, and at most so many."""


def plans(found: Changes, system: str) -> Iterator[tuple[int, Drawing]]:
    """The way out after a change, from above: the first of each kind, by number in the order."""
    seen: set[str] = set()
    for k, change in enumerate(found.found):
        if change.kind not in seen and len(seen) < DRAWN:
            seen.add(change.kind)
            plan = _plan(change, system)
            if plan is not None:
                yield k + 1, plan


def _plan(change: Change, system: str) -> Drawing | None:
    from planform.fit.steps import steps_of
    from planform.fit.swept import corners_of, plan_outline
    from planform.report.way_out.pictures import overview_drawing

    if change.found is None or change.found.route is None:
        return None
    case = change.found.case
    steps = steps_of(change.found.route, corners_of(plan_outline(case.standing)))
    return overview_drawing(case.standing, case.room, steps, sized(change, system), system)


def section(found: Changes, system: str, plans_made: dict[int, Drawing] | None = None) -> Content:
    """What a page needs to show the changes (`changes_section.html`).

    plans_made : the plans by number, where they are made already
    """
    made = dict(plans(found, system)) if plans_made is None else plans_made
    return {
        "title": f"{found.base.case.standing.title} in {found.base.case.place.name}",
        "free": found.free,
        "verdict": verdict(found, system),
        "told": told(found, system),
        "plans": {k: drawn(plan) for k, plan in made.items()},
        "others": others(found, system),
        "untried": untried(found, system),
        "notes": notes(found, system),
        "stopped": found.stopped,
    }


def changes_page(found: Changes, system: str, made: dict[int, Drawing]) -> str:
    """The changes in order, their prices and the ways out; made : the plans by number."""
    case = found.base.case
    return page(
        "changes.html",
        **words_for(system),
        c=section(found, system, made),
        design=case.design,
        place=case.place,
    )
