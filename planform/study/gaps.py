"""What the inputs' tolerances do to the gaps of a fit: see `planform.study.measures`.

The pair of things that governs a check is measured again with each input moved.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from planform.airframe.build import build
from planform.airframe.stance import Standing, stage_named, stand_on
from planform.core.contacts import CannotStand
from planform.core.distance import mesh_distance
from planform.core.spread import Values, spreads
from planform.design.models import Design
from planform.design.place import Place, Spot
from planform.design.vary import name_of, shifted, toleranced, toleranced_shape
from planform.fit.clearance import Clearance, clearances, placed
from planform.fit.door import passage
from planform.fit.rolling import Tightest, Way
from planform.fit.room import Room, build_room, spot_point
from planform.fit.verdict import FitAnswer, door_checks


def with_spreads(answer: FitAnswer, room: Room) -> FitAnswer:
    """The answer with every check's spread: the pair that governs it is measured again."""
    design, place = answer.standing.airframe.design, room.place
    base = {check.key: check.gap for check in answer.checks if check.gap is not None}
    if not base:
        return answer

    def again(d: Design, p: Place) -> Values:
        stage = stage_named(d, answer.stage)
        standing = answer.standing
        if d is not design:
            standing = stand_on(build(d, like=standing.airframe), stage, answer.stance)
        return _gaps(answer, standing, room if p is place else build_room(p))

    changes: list[tuple[str, Values]] = []
    for path, reading in toleranced_shape(design):
        for sign in (1.0, -1.0):
            moved = shifted(design, path, sign * reading.tolerance)
            changes.append((f"{design.name}: {name_of(path)}", again(moved, place)))
    for path, reading in toleranced(place):
        for sign in (1.0, -1.0):
            moved_place = shifted(place, path, sign * reading.tolerance)
            changes.append((f"{place.name}: {name_of(path)}", again(design, moved_place)))
    found = spreads(_gaps(answer, answer.standing, room), changes)
    checks = tuple(
        replace(check, spread=found[check.key]) if check.key in found else check
        for check in answer.checks
    )
    return replace(answer, checks=checks)


def _gaps(answer: FitAnswer, standing: Standing, room: Room) -> Values:
    out: Values = {}
    spot = spot_point(room.place, answer.spot) if answer.spot else None
    for check in answer.checks:
        if check.clearance is not None and spot is not None:
            out[check.key] = _pair_gap(check.clearance, standing, room, spot)
        if check.tight is not None:
            gap = _tight_gap(answer, check.group, check.tight, standing, room)
            if np.isfinite(gap):
                out[check.key] = gap
    for door in room.place.doors:
        for again in door_checks(passage(standing, door), room):
            if again.gap is not None:
                out[again.key] = again.gap
    return out


def _pair_gap(pair: Clearance, standing: Standing, room: Room, spot: Spot) -> float:
    one = replace(standing, parts=tuple(p for p in standing.parts if p.name == pair.part))
    things = tuple(t for t in room.fixed if t.name == pair.thing)
    if things and pair.gap > 0.0:
        _, points, faces, bulge = placed(one, spot)[0]
        return mesh_distance(points, faces, *things[0].mesh).distance - bulge
    found = clearances(one, replace(room, fixed=things), spot, limit=1e9)
    return next(c.gap for c in found if c.thing == pair.thing)


BESIDE = 0.06
"""How far beside the tightest instant the same part is looked at again [m]; assumption."""


def _tight_gap(
    answer: FitAnswer, door_name: str, tight: Tightest, standing: Standing, room: Room
) -> float:
    """About the same part's gap at the same instant of its way out; only its change counts.

    A little beside is looked at too, so that a part that comes to stand short of the thing, or
    beyond it, is still seen. What the instant itself moves is of second order where the gap is
    smoothly least. An input that may stop the push takes the whole gap.
    """
    push = next(p for p in answer.pushes if p.door == door_name)
    door = next(d for d in room.place.doors if d.name == door_name)
    way = Way(standing, room, door, push.ahead, push.across)
    try:
        return way.gap(tight.kind, tight.pose.along, tight.part, BESIDE)
    except CannotStand:
        return 0.0
