"""What the inputs' tolerances do to measures and gaps: each input moved by its tolerance, rebuilt.

First order: every input is moved up and down alone, the whole geometry is built again, and the
larger of the two changes counts. Worst case adds the changes; root-sum-square takes the inputs
as independent.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from planform.airframe.build import build
from planform.airframe.measure import design_measures, extents
from planform.airframe.stance import Standing, stage_named, stand_on
from planform.core.distance import mesh_distance
from planform.design.models import Design
from planform.design.place import Place
from planform.design.vary import name_of, shifted, toleranced
from planform.fit.clearance import Clearance, clearances, placed
from planform.fit.door import passage
from planform.fit.room import Room, build_room, spot_point
from planform.fit.verdict import FitAnswer, Spread, door_checks

Values = dict[str, float]


def spreads(base: Values, changes: Iterable[tuple[str, Values]]) -> dict[str, Spread]:
    """Spread of each value from the values with one input moved at a time, up and down."""
    effect: dict[str, dict[str, float]] = {key: {} for key in base}
    for name, values in changes:
        for key, value in values.items():
            if key in base:
                moved = abs(value - base[key])
                effect[key][name] = max(effect[key].get(name, 0.0), moved)
    out = {}
    for key, inputs in effect.items():
        ranked = sorted(((n, d) for n, d in inputs.items() if d > 1e-7), key=lambda p: -p[1])
        out[key] = Spread(
            worst=sum(d for _, d in ranked),
            rss=sum(d * d for _, d in ranked) ** 0.5,
            by_input=tuple(ranked),
        )
    return out


@dataclass(frozen=True)
class MeasureSpreads:
    """Spreads of the design's measures, and of each standing's sizes and heights."""

    design: dict[str, Spread]
    standings: tuple[dict[str, Spread], ...]


def measure_spreads(standings: Sequence[Standing]) -> MeasureSpreads:
    """Spreads of every measure but the outlines' areas; each input moved, built again once.

    standings : of one design, at least one
    """
    design = standings[0].airframe.design

    def values(d: Design) -> list[Values]:
        airframe = build(d, like=standings[0].airframe)
        stood = [stand_on(airframe, stage_named(d, s.stage.name), s.stance_name) for s in standings]
        found = [list(design_measures(airframe).items), *map(extents, stood)]
        return [{m.key: m.value for m in items} for items in found]

    base = values(design)
    moved = [
        (name_of(path), values(shifted(design, path, sign * reading.tolerance)))
        for path, reading in toleranced(design)
        for sign in (1.0, -1.0)
    ]
    found = [
        spreads(one, [(name, groups[k]) for name, groups in moved]) for k, one in enumerate(base)
    ]
    return MeasureSpreads(found[0], tuple(found[1:]))


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
    for path, reading in toleranced(design):
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
    for door in room.place.doors:
        for again in door_checks(passage(standing, door), room):
            if again.gap is not None:
                out[again.key] = again.gap
    return out


def _pair_gap(pair: Clearance, standing: Standing, room: Room, spot: object) -> float:
    one = replace(standing, parts=tuple(p for p in standing.parts if p.name == pair.part))
    things = tuple(t for t in room.fixed if t.name == pair.thing)
    from planform.design.place import Spot

    assert isinstance(spot, Spot)
    if things and pair.gap > 0.0:
        _, points, faces, bulge = placed(one, spot)[0]
        return mesh_distance(points, faces, *things[0].mesh).distance - bulge
    found = clearances(one, replace(room, fixed=things), spot, limit=1e9)
    return next(c.gap for c in found if c.thing == pair.thing)
