"""What is told beside a fit of what turns: the disc of a propeller that counts as its blades."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from planform.airframe.build import Airframe
from planform.airframe.builders.propellers import disc
from planform.airframe.on_the_move import swing_radius
from planform.airframe.part import Part
from planform.airframe.presence import in_words
from planform.airframe.stance import Standing
from planform.design.place import Spot
from planform.design.sided import on_side
from planform.design.told import said
from planform.fit.clearance import Gaps
from planform.fit.room import Room


def turning_notes(standing: Standing, room: Room, spot: Spot | None, gaps: Gaps) -> Iterator[str]:
    """Notes on what counts as it is turned here, and what it sweeps.

    spot : where it stands on the floor; None where it does not ; gaps : with those kept
    """
    design = standing.airframe.design
    yield from _controls(standing)
    yield from _moved(standing)
    propeller = design.propeller
    part = next((p for p in standing.parts if p.role == "propeller"), None)
    if part is None or propeller is None or propeller.blades is None:
        return
    counts = f"the {part.name} counts as its {propeller.blades} blades as they are parked"
    if spot is None:
        yield counts
        return
    points, faces = disc(propeller)
    swept = replace(part, points=standing.to_floor(points), faces=faces)
    near = gaps.near(replace(standing, parts=(swept,)), room, spot, limit=float("inf"))
    least = next((c for c in near if c.kind not in ("threshold", "pit")), None)
    if least is None:
        yield counts
    elif least.gap > 0.0:
        gap = said(least.gap, "gap", design.units)
        yield f"{counts}; as it turns, its disc comes within {gap} of {least.thing}"
    else:
        gap = said(-least.gap, "over", design.units)
        yield f"{counts}; its disc reaches {gap} into {least.thing}: it cannot be turned round here"


def _moved(standing: Standing) -> Iterator[str]:
    """What counts only while it is moved: castering wheels with what they sweep, a tow bar."""
    design = standing.airframe.design
    for part in standing.parts:
        wheel = design.wheels.get(part.group) if part.role == "wheel" else None
        if wheel is None:
            continue
        side = on_side(wheel, "left" if part.name.startswith("left ") else "right")
        if side.trail is not None:
            wide = said(2.0 * swing_radius(side), "over", design.units)
            yield f"while moved the {part.name} wheel counts with the {wide} circle it swings on"
        if side.tow_bar is not None:
            long = said(float(side.tow_bar.length), "length", design.units)
            yield (
                f"while moved a tow bar {long} long at the {part.name} wheel counts, straight "
                f"{side.tow_bar.toward}, and who pulls it beyond its handle: swung aside it "
                "takes more room, so watch its end"
            )


def _controls(standing: Standing) -> Iterator[str]:
    """How control surfaces count: free, with all that they sweep; deflected; else neutral."""
    airframe = standing.airframe
    free: list[Part] = []
    neutral: list[Part] = []
    held: dict[float, list[Part]] = {}
    for part in standing.parts:
        if part.role != "control" or part.hinge is None:
            continue
        angle = standing.turns.get(part.name)
        if angle:
            held.setdefault(angle, []).append(part)
        elif part.hinge.free and angle is None:
            free.append(part)
        else:
            neutral.append(part)
    counts = "control surfaces count"
    if free:
        yield f"{counts} free, with all that they sweep: {_named(airframe, free)}"
    for angle in sorted(held):
        told = said(angle, "angle", airframe.design.units)
        yield f"{counts} as deflected by {told}: {_named(airframe, held[angle])}"
    if neutral:
        yield f"{counts} neutral: {_named(airframe, neutral)}"


def _named(airframe: Airframe, parts: list[Part]) -> str:
    return ", ".join(in_words(airframe, parts))
