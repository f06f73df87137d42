"""Where a route is tightest, and the level gap between an aircraft at a pose and a thing."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from planform.airframe.outlines import Shape
from planform.airframe.part import Part
from planform.airframe.stance import Standing
from planform.core.halting import look
from planform.fit.ground_plan import Thing
from planform.fit.moves import Pose, Route, Tight
from planform.fit.question import Question
from planform.fit.room import Fixed, Room

Array = NDArray[np.float64]

SAMPLED = 0.005
"""The least gap of a route may be told so much less, as what is proved of all of it [m]."""


def tightest(question: Question, route: Route, count: int = 4) -> tuple[Tight, ...]:
    """Where a route is tightest: the least level gap to each thing that comes near, least first.

    Looked for at close steps of the route and then refined; the proved figure is `route.clearance`.
    """
    found: dict[str, tuple[float, int, float, Thing]] = {}
    scene, plan = question.scene, question.plan
    for k, move in enumerate(route.moves):
        length = float(np.hypot(move.end.x - move.start.x, move.end.y - move.start.y))
        length += scene.reach * abs(move.turn)
        for share in np.linspace(0.0, 1.0, max(2, int(length / 0.02))):
            look()
            gap, pair = scene.clearance(plan.pivot_at(move.at(float(share))))
            if pair < 0:
                continue
            thing = plan.things[int(scene.planar.thing[pair])][1]
            if thing.name not in found or gap < found[thing.name][0]:
                found[thing.name] = (gap, k, float(share), thing)
    ranked = sorted(found.values(), key=lambda f: f[0])[:count]
    tights = [
        _tight(question, route.moves[k].at(share), gap, thing, k, share)
        for gap, k, share, thing in ranked
    ]
    if tights and 0.0 <= route.clearance < tights[0].gap < route.clearance + SAMPLED:
        tights[0] = replace(tights[0], gap=route.clearance)  # one figure: the one that is proved
    return tuple(tights)


def touching_where_parked(question: Question) -> Tight | None:
    """What the aircraft already meets on its spot; None where it stands free."""
    if question.parked >= 0.0:
        return None
    gap, pair = question.scene.clearance(question.start_at)
    thing = question.plan.things[int(question.scene.planar.thing[pair])][1]
    return _tight(question, question.start, gap, thing)


def met_at(question: Question, pivot: tuple[float, float, float]) -> Tight:
    """The part and the thing that are nearest, or meet most, with the pivot at a pose."""
    gap, pair = question.scene.clearance(pivot)
    thing = question.plan.things[int(question.scene.planar.thing[pair])][1]
    return _tight(question, question.plan.pose_at(*pivot), gap, thing)


def _tight(
    question: Question, pose: Pose, reach: float, thing: Thing, k: int = 0, share: float = 0.0
) -> Tight:
    """The part that is nearest to a thing at an instant, on the exact outlines.

    reach : the clearance beyond what is kept there [m]; where they overlap, the gap told
    k, share : which move of a route it is in, and how much of that is done
    """
    import shapely

    from planform.airframe.outlines import band_outline

    plan = question.plan
    fixed = shapely.polygons(thing.outline)
    best: tuple[tuple[float, float], float, str, Array, Array] | None = None
    for part in plan.standing.parts:
        if thing.kind == "threshold" and part.role == "wheel":
            continue
        rise = plan.keep.upright.get(thing.kind, 0.0) + plan.standing.bulge
        region = band_outline(part, thing.low - rise, thing.high + rise)
        if region.is_empty:
            continue
        there = shapely.transform(region, pose.place)
        line = shapely.shortest_line(there, fixed)
        a, b = np.asarray(line.coords)
        gap = float(shapely.distance(there, fixed)) - plan.standing.bulge
        # of parts that are equally near, the one further to the side that the search leans to
        rank = round(gap, 9), -question.hand.side * float(part.points[:, 1].mean())
        if best is None or rank < best[0]:
            reach_of = thing.low - rise, thing.high + rise
            height = _height_at(part, pose, np.asarray(a), reach_of)
            best = rank, gap, part.name, np.array([*a, height]), np.array([*b, height])
    assert best is not None
    gap = best[1] if reach >= 0.0 else reach + thing.keep - plan.standing.bulge
    return Tight(pose, best[2], thing.name, gap, best[3], best[4], k, share)


SAME_PLACE = 1e-5
"""Points of a part this near to each other in plan [m] stand over the same place."""


def _height_at(part: Part, pose: Pose, point: Array, within: tuple[float, float]) -> float:
    """The height at which a part reaches a point of its outline, shape (2,), in a range [m].

    The middle of all such heights where it stands upright there.
    """
    edges = np.concatenate([part.faces[:, [0, 1]], part.faces[:, [1, 2]], part.faces[:, [2, 0]]])
    plan, z = pose.place(part.points[:, :2])[edges], part.points[:, 2][edges]
    run = plan[:, 1] - plan[:, 0]
    length = np.maximum((run * run).sum(axis=1), 1e-18)
    share = np.clip(((point - plan[:, 0]) * run).sum(axis=1) / length, 0.0, 1.0)
    off = np.linalg.norm(plan[:, 0] + share[:, None] * run - point, axis=1)
    height = z[:, 0] + share * (z[:, 1] - z[:, 0])
    inside = (height >= within[0] - SAME_PLACE) & (height <= within[1] + SAME_PLACE)
    if not inside.any():
        return float(np.clip(height[off.argmin()], *within))
    near = height[inside & (off <= off[inside].min() + SAME_PLACE)]
    return 0.5 * float(near.min() + near.max())


def level_gap(standing: Standing, room: Room, pose: Pose, name: str) -> float | None:
    """The level gap at a pose between the aircraft and a fixed thing [m], below zero an overlap.

    None where no part of the aircraft is in the thing's height range, or there is no such thing.
    """
    import shapely

    from planform.airframe.outlines import band_outline

    best: float | None = None
    for thing in (t for t in room.fixed if t.name == name):
        fixed = shapely.polygons(thing.outline)
        for off, part in sorted(_boxes_off(standing, pose, thing), key=lambda pair: pair[0]):
            if thing.kind == "threshold" and part.role == "wheel":
                continue
            if best is not None and off > max(best, 0.0):
                break  # nor is any part further off nearer
            region = band_outline(part, thing.low - standing.bulge, thing.high + standing.bulge)
            if not region.is_empty:
                there = shapely.transform(region, pose.place)
                gap = float(shapely.distance(there, fixed)) or -_overlap(there, fixed)
                best = gap if best is None else min(best, gap)
    return None if best is None else best - standing.bulge


def _boxes_off(standing: Standing, pose: Pose, thing: Fixed) -> Iterator[tuple[float, Part]]:
    """How far the box of each part is from the box of a thing in plan [m]; no less is the part."""
    low, high = thing.outline.min(axis=0), thing.outline.max(axis=0)
    for part in standing.parts:
        there = pose.place(part.points[:, :2])
        apart = np.maximum(low - there.max(axis=0), there.min(axis=0) - high)
        yield float(np.linalg.norm(np.maximum(apart, 0.0))), part


def _overlap(region: Shape, thing: Shape) -> float:
    """How far a convex thing must go to leave what it shares with a region, the least way [m]."""
    import shapely

    ring = shapely.get_coordinates(shapely.normalize(thing))[:-1]
    run = np.roll(ring, -1, axis=0) - ring
    inward = np.column_stack([run[:, 1], -run[:, 0]]) / np.linalg.norm(run, axis=1)[:, None]
    shared = shapely.get_coordinates(shapely.intersection(region, thing))
    if not len(shared):
        return 0.0
    deep = np.einsum("nkd,kd->nk", shared[:, None] - ring[None], inward)
    return float(deep.max(axis=0).min())
