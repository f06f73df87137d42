"""What a change does beside freeing the aircraft, and what it makes dangerous."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from planform.airframe.measure import design_measures, standing_measures
from planform.balance.ends import OVER
from planform.balance.stages import Balanced, stage_balance
from planform.design.place import Place
from planform.fit.clearance import Clearance
from planform.study.change_cases import Case, Effect, Family
from planform.study.change_room import above_door, beside_door, door_sides
from planform.study.change_things import plan_shape

NEAR = 0.5
"""What comes nearer than this [m] is told beside a change; assumption."""

SAME = 5e-4
"""A length that changes by less [m] is not told as changed; assumption."""

TOLD = (
    "tip_height",
    "height",
    "width",
    "length",
    "lowest_point",
    "propeller_ground_clearance",
    "pitch",
)


def effects(family: Family, before: Case, after: Case) -> tuple[Effect, ...]:
    """What a change does beside freeing the aircraft, read off both as built."""
    out: list[Effect] = []
    out += _measured(before, after)
    if family.kind in ("cant", "length"):
        out += _winglet_measures(before, after)
    if family.kind in ("parts", "stage", "joined", "stance", "blocks", "shut"):
        out += _weight(stage_balance(before.standing), stage_balance(after.standing))
    if family.kind == "obstacle":
        out += _beside_moved(before.place, after.place)
    if family.kind in ("wider", "taller"):
        out += _door_left(before.place, after.place)
    return (*out, *_nearer(before, after))


ON_ITS_TAIL = "By its weights it would sit on its tail: hold the nose down before, not after."

SHORT_OF_NOSE = "By its weights it is nearer to sitting on its tail: hold the nose down."

ON_ITS_NOSE = "By its weights it would go over on its nose: hold the tail down before, not after."

SHORT_OF_TAIL = "By its weights it is nearer to going over on its nose: hold the tail down."


def dangers(before: Case, after: Case) -> tuple[str, ...]:
    """What a change makes dangerous, by the balance of the parts that are then on."""
    old, new = stage_balance(before.standing), stage_balance(after.standing)
    if new is None or old is None or new.tip_back >= old.tip_back - 1e-3:
        return ()
    if new.ends is OVER:
        return (ON_ITS_NOSE if new.tip_back <= 0.0 else SHORT_OF_TAIL,)
    return (ON_ITS_TAIL,) if new.tip_back <= 0.0 else (SHORT_OF_NOSE,)


def _compared(before: Any, after: Any, keys: tuple[str, ...]) -> Iterator[Effect]:
    was = {m.key: m for m in before.items}
    for m in after.items:
        if m.key not in keys:
            continue
        old = was.get(m.key)
        if old is None or abs(old.value - m.value) > SAME:
            yield Effect(m.label, None if old is None else old.value, m.value, m.kind)


def _measured(before: Case, after: Case) -> Iterator[Effect]:
    yield from _compared(
        standing_measures(before.standing), standing_measures(after.standing), TOLD
    )


def _winglet_measures(before: Case, after: Case) -> Iterator[Effect]:
    names = after.design.winglets
    told = (f"{side}{name}" for name in names for side in ("", "left ", "right "))
    each = [f"{name}.{one}" for name in told for one in ("length", "rise", "area")]
    keys = ("span_with_winglets", *each)
    old = design_measures(before.standing.airframe)
    yield from _compared(old, design_measures(after.standing.airframe), keys)


def _weight(before: Balanced | None, after: Balanced | None) -> Iterator[Effect]:
    """Mass and CG, and how near to tipping back."""
    if before is None or after is None:
        return
    off = before.total.mass - after.total.mass
    if abs(off) > 1e-6:
        yield Effect(f"weight, from {after.source}", before.total.mass, after.total.mass, "mass")
        yield Effect("CG", before.total.fs, after.total.fs, "station")
    if abs(before.tip_back - after.tip_back) > 1e-3:
        back = "tip-back angle (below zero: sits on its tail)"
        words = "nose-over angle (below zero: goes over)" if after.ends is OVER else back
        yield Effect(words, before.tip_back, after.tip_back, "angle")


def _beside_moved(before: Place, after: Place) -> Iterator[Effect]:
    """Gaps that the moved thing has to walls and other things where it then stands."""
    import shapely

    old = {o.name: o for o in before.obstacles}
    for thing in after.obstacles:
        if thing == old[thing.name]:
            continue
        here, there = (plan_shape(after, o) for o in (old[thing.name], thing))
        if not here.equals(there):
            walls = shapely.linearrings([start for start, _ in after.floor.walls.values()])
            yield Effect(f"{thing.name} to the nearest wall", float(shapely.distance(here, walls)),
                         float(shapely.distance(there, walls)), "length")  # fmt: skip
            for other in after.obstacles:
                if other.name != thing.name:
                    fixed = plan_shape(after, other)
                    gaps = [float(shapely.distance(p, fixed)) for p in (here, there)]
                    if gaps[1] < gaps[0] and gaps[1] < 2.0 * NEAR:
                        what = f"{thing.name} to the {other.name}"
                        yield Effect(what, gaps[0], gaps[1], "length")


def _door_left(before: Place, after: Place) -> Iterator[Effect]:
    for old, new in zip(before.doors, after.doors, strict=True):
        sides = zip(
            door_sides(after, new), beside_door(before, old), beside_door(after, new), strict=True
        )
        for words, was, now in sides:
            if abs(was - now) > SAME:
                yield Effect(f"wall remaining beside the door {words}", was, now, "length")
        if abs(float(old.clear_height) - float(new.clear_height)) > SAME and after.ceiling:
            yield Effect("wall remaining over the door, to the ceiling", above_door(before, old),
                         above_door(after, new), "length")  # fmt: skip


def _nearer(before: Case, after: Case) -> Iterator[Effect]:
    """Things in the room that come nearer to the parked aircraft than before."""
    was = _by_thing(before.answer.near)
    for thing, now in _by_thing(after.answer.near).items():
        old = was.get(thing)
        if now.gap < NEAR and (old is None or now.gap < old.gap - SAME):
            gap = None if old is None else float(old.gap)
            yield Effect(f"parked: {now.part} to {thing}", gap, float(now.gap), "length")


def _by_thing(near: tuple[Clearance, ...]) -> dict[str, Clearance]:
    out: dict[str, Clearance] = {}
    for one in near:
        if one.kind != "threshold" and one.thing not in out:
            out[one.thing] = one
    return out
