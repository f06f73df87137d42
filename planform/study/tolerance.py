"""What the inputs' tolerances do to measures and gaps: each input moved by its tolerance, rebuilt.

First order: every input is moved up and down alone, the whole geometry is built again, and the
larger of the two changes counts. Worst case adds the changes; root-sum-square takes the inputs
as independent.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

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


def measure_spreads(design: Design) -> dict[str, Spread]:
    """Spread of every design measure from the design's toleranced inputs."""

    def values(d: Design) -> Values:
        return {m.key: m.value for m in design_measures(build(d)).items}

    return spreads(values(design), _moved(design, values))


def height_spreads(standing: Standing) -> dict[str, Spread]:
    """Spread of the overall measures of the standing aircraft (not of the outlines' areas)."""
    design = standing.airframe.design

    def values(d: Design) -> Values:
        stage = stage_named(d, standing.stage.name)
        return {m.key: m.value for m in extents(stand_on(build(d), stage, standing.stance_name))}

    return spreads(values(design), _moved(design, values))


def _moved(design: Design, values: Callable[[Design], Values]) -> Iterable[tuple[str, Values]]:
    for path, reading in toleranced(design):
        for sign in (1.0, -1.0):
            yield name_of(path), values(shifted(design, path, sign * reading.tolerance))


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
            standing = stand_on(build(d), stage, answer.stance)
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
