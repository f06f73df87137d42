"""The cautions that stand on every sheet, and words that several pages share."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from planform.design.told import counted, said

if TYPE_CHECKING:
    from planform.design.place import Place
    from planform.fit.check import Check
    from planform.fit.second_check import GoneOver

BALANCE_CAUTIONS = (
    "A weight and balance record is made by weighing, by a person entitled to sign it. What is "
    "estimated here plans a lift or a move, never a flight.",
    "The limits are the user's own, from the designer and flight test; none is made up here. "
    "Body, propeller and stall are in none of these figures: a body commonly moves the neutral "
    "point forward by several % MAC.",
    "Ground ballast is tagged, in a place where it is seen, and is not flight ballast; take it "
    "out before the aircraft is loaded. Flight ballast is fixed and entered in the record.",
    "A canard's empty CG is far aft: before anyone steps off, the engine goes on or a foreplane "
    "comes off, hold the nose down or support the tail. Keep out from under the nose and clear "
    "of the propeller; a nose that rises goes fast.",
    "Weigh in a closed building, level, with the tare of chocks and stands known and the fluids "
    "aboard written down; chock the wheels and steady the aircraft on its scales.",
)

CAUTIONS = (
    "Planning aid only. Structure, loads and airworthiness are the designer's and a licensed "
    "person's to judge; nothing here approves a flight.",
    "Weights given here plan a lift. A weight and balance record is made by weighing, by a person "
    "entitled to sign it.",
    "Before lifting or blocking: chock, support the tail, keep hands and heads out from under, and "
    "never trust a single jack or hoist.",
    "Measure the door opening again on the day, doors fully open, and put a walker at each tip, "
    "the nose and the propeller; one word stops all.",
    "Open canopies and doors fall: pin the struts. Stand ladders on level ground. Look up for "
    "lines and lamps before anything tall goes outside.",
    "Local building, fire and electrical codes come first, whatever a clearance here says.",
)


ROOM_SIDES = (
    "Left and right of the room: as one stands inside with the front wall behind. Of the aircraft: "
    "as one sits in it. Walls and jambs beside a door: before it and past it, from the corner that "
    "it is measured from."
)
"""The one rule for sides, told on every page with a room."""


NAMED = 3
"""Things gone over that one sentence names; more are counted."""


def gone_over(found: Sequence[GoneOver]) -> tuple[str, ...]:
    """What the second, separate check went over, by what and how much; and what it did not."""
    out = []
    for by in dict.fromkeys(one.by for one in found if one.done):
        some = [one for one in found if one.done and one.by == by]
        looks = f"{sum(one.looks for one in some):,} {some[0].of}"
        out.append(f"A second, separate check went over {_names(some)} again: {by} ({looks}).")
    for why in dict.fromkeys(one.missing for one in found if not one.done):
        some = [one for one in found if one.missing == why]
        out.append(f"The second check did not go over {_names(some)} again: {why}.")
    return tuple(out)


def _names(some: Sequence[GoneOver]) -> str:
    """What was gone over, by name where that is not too many."""
    if len(some) > NAMED:
        proofs = sum("proof" in one.what for one in some)
        both = [counted(len(some) - proofs, "way"), counted(proofs, "proof")]
        return " and ".join(words for words in both if not words.startswith("0 "))
    names = [one.what for one in some]
    return ", ".join([*names[:-2], " and ".join(names[-2:])])


def curved(check: Check, system: str) -> str:
    """What of a gap is taken off for curves, where a tape would show it."""
    if check.curves < 0.0005:
        return ""
    return f"{said(check.curves, 'over', system)} taken off for curves that stand beyond the facets"


MOST_OUTSIDE = 4
"""Parts that stand out of a door which a sentence names."""


def outside(check: Check, system: str) -> str:
    """Which parts stand how far out of an open door; '' where none does."""
    if not check.outside:
        return ""
    told = [f"{o.part} {said(o.by, 'over', system)}" for o in check.outside[:MOST_OUTSIDE]]
    more = len(check.outside) - len(told)
    told += [f"{counted(more, 'more part')} less far"] if more else []
    return f"outside the inner wall line: {', '.join(told)}"


def whence(place: Place, check: Check) -> str:
    """Where a wanted clearance comes from, where the place takes any of them from a guide."""
    return f"wanted: {check.wanted_from}" if place.clearances.guide and check.wanted_from else ""
