"""What the wheels of an aircraft do at a drain in the floor."""

from __future__ import annotations

import math
from collections.abc import Iterator

from planform.airframe.stance import Standing
from planform.design.sided import on_side
from planform.design.told import said
from planform.fit.room import Room

DEEP = 0.2
"""A wheel that sinks by this share of its radius or more as it rolls across a slot is stuck in it;
assumption."""


def sinks(radius: float, width: float) -> float:
    """How far a round wheel sinks as it rolls square across a slot [m].

    A chord as long as the slot is wide lies that far from the rim; infinite where it falls in.
    """
    half = 0.5 * width
    return math.inf if half >= radius else radius - math.sqrt(radius**2 - half**2)


def drain_notes(standing: Standing, room: Room) -> Iterator[str]:
    """A note for each drain that a wheel could drop into, with the wheels that could."""
    units, design = room.place.units, standing.airframe.design
    for drain in room.place.floor.drains:
        along, across = [], []
        for part in standing.parts:
            if part.role != "wheel":
                continue
            side = "left" if part.name.startswith("left ") else "right"
            wheel = on_side(design.wheels[part.group], side)
            if wheel.width < drain.width:
                along.append(part.name)
            radius = 0.5 * float(wheel.diameter)
            if sinks(radius, float(drain.width)) >= DEEP * radius:
                across.append(part.name)
        wide = said(float(drain.width), "length", units)
        if across:
            yield f"{drain.name}, {wide} wide: {_wheels(across)} would drop in; lay a plate over it"
        elif along:
            yield (
                f"{drain.name}, {wide} wide: {_wheels(along)} would drop in if rolled along it; "
                "cross it squarely, or lay a plate over it"
            )


def _wheels(names: list[str]) -> str:
    return f"the wheel{'s' if len(names) > 1 else ''} {', '.join(names)}"
