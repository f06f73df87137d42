"""The hall with everything parked, and each way in."""

from __future__ import annotations

from collections.abc import Iterator

from planform.design.told import counted
from planform.drawing.drawing import Drawing
from planform.fit.berth import Berth
from planform.fit.packing import Packing
from planform.fit.steps import steps_of
from planform.fit.swept import corners_of, plan_outline
from planform.report.way_out.pictures import overview_drawing, packed_drawing


def plan(found: Packing, system: str) -> Drawing:
    """The hall from above with everything parked, by number."""
    heading = f"{found.room.place.name}: {len(found.berths)} aircraft, numbered as they go in"
    parked = [(b.standing, b.pose, f"{b.number}. {b.name}") for b in found.berths]
    return packed_drawing(found.room, parked, heading, system)


def ways(found: Packing, system: str) -> Iterator[tuple[Berth, Drawing]]:
    """Each way in from above, with those parked before it."""
    for berth in found.berths:
        corners = corners_of(plan_outline(berth.standing))
        steps = steps_of(berth.way_in, corners)
        heading = f"{berth.number}. {berth.name}: the way in, {counted(len(steps), 'step')}"
        yield berth, overview_drawing(berth.standing, berth.room, steps, heading, system)
