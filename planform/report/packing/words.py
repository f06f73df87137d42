"""Several aircraft in one hangar in words."""

from __future__ import annotations

from collections.abc import Mapping

from planform.core.spread import Spread
from planform.fit.berth import Berth
from planform.fit.packing import Packing
from planform.fit.steps import steps_of
from planform.fit.swept import corners_of, plan_outline
from planform.fit.way_out import NONE, OPEN, WAY
from planform.report.way_out.instructions import instruction
from planform.report.words import gone_over

ALONE = {
    WAY: "yes",
    NONE: "no: those in its way go first",
    OPEN: "not decided in the boxes it was given",
}

PROVED = (
    "Proved: every place keeps what is wanted of the room (to a wall with a door, what is wanted "
    "beside the door) and of the aircraft parked before it; every way in is the way out "
    "backwards, proved between its poses. An aircraft already parked counts slice by slice of its "
    "height, each slice as wide as the widest there, so that one surface may pass over another.",
    "Not proved: that there is no better arrangement. Places are tried on a grid, the deepest "
    "first, and the first arrangement that works is told. Nothing found is no proof that none is.",
)

MINDED = (
    "Walkers at tips, nose and tail of the one that moves, and one at the closest gap; anyone's "
    "STOP stops all. Chock each aircraft before the next one moves, and do not walk under a "
    "surface that is being moved over another.",
    "Even floor assumed. Tyres, struts and loads as the files give them; look at the "
    "reserve for a flat tyre before you go home for the night.",
)


def headline(found: Packing) -> str:
    """The answer in one sentence."""
    if found.refused:
        return f"cannot be: {found.refused}"
    if found.found and found.reserve <= 0.0:
        worst = found.flats[0]
        return (
            f"found and proved, but with {worst.name}'s {worst.wheel} tyre flat "
            f"{worst.part} touches {worst.thing}: ask for a larger gap"
        )
    if found.found:
        return "found and proved: the order below works"
    if not found.whole:
        return "not found in the time given; that proves nothing"
    return f"not found among the {found.tried} places tried; that proves nothing"


Spreads = Mapping[str, Spread]
"""What the inputs' tolerances do to the gaps, by the keys of `study.spreads_of_parked`."""

NOTHING: Spreads = {}


def proofs(found: Packing) -> tuple[str, ...]:
    """What is proved of the answer and what is not."""
    again = gone_over(found.gone_over)
    return (PROVED[0], *again, PROVED[1]) if found.found else (*again, PROVED[1])


def steps_in(berth: Berth, system: str) -> list[str]:
    """The way in, step by step, in words."""
    corners = corners_of(plan_outline(berth.standing))
    return [
        instruction(berth.standing, berth.room, step, system)
        for step in steps_of(berth.way_in, corners)
    ]
