"""The space that a part sweeps as it turns between its limits, and what it comes near there."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from planform.airframe.build import Airframe
from planform.airframe.part import Part
from planform.airframe.presence import in_words
from planform.airframe.turns import turned, turns_of
from planform.core.halting import look
from planform.core.shape.distance import mesh_distance
from planform.core.shape.hull import convex_hull
from planform.design.controls import ways
from planform.design.kinds import roles_in
from planform.design.models import Stance

Array = NDArray[np.float64]
Faces = NDArray[np.int64]

STEP = math.radians(10.0)
"""Between angles this far apart the space is that of a hull, with the arcs outside it told."""

ROUNDING = 1e-9

FINE = math.radians(1.0)
"""How closely it is looked at where a part touches another."""


@lru_cache(maxsize=64)
def swept(part: Part) -> Part:
    """The part with the space that it sweeps in place of its own shape, from outside.

    Hulls around its places at neighbouring angles; `bulge` tells how far the arcs between them may
    stand outside: r (1 - cos(step / 2)) at the distance r from the hinge line, besides the part's
    own. A part without a hinge is itself.
    """
    hinge = part.hinge
    if hinge is None or hinge.most <= hinge.least:
        return part
    count = max(1, math.ceil((hinge.most - hinge.least) / STEP))
    step = (hinge.most - hinge.least) / count
    corners, hull = convex_hull(np.concatenate([part.points, _at(part, step)]))
    turns = [hinge.at(hinge.least + k * step) for k in range(count)]
    points = [corners @ turn.T + shift for turn, shift in turns]
    faces = [hull + k * len(corners) for k in range(count)]
    arm = part.points - hinge.origin
    along = arm @ (hinge.axis / np.linalg.norm(hinge.axis))
    reach = float(np.sqrt(max(0.0, ((arm * arm).sum(axis=1) - along * along).max())))
    bulge = part.bulge + reach * (1.0 - math.cos(0.5 * step))
    return replace(
        part, points=np.concatenate(points), faces=np.concatenate(faces), bulge=bulge, caps=0
    )


def _at(part: Part, angle: float) -> Array:
    assert part.hinge is not None
    turn, shift = part.hinge.at(angle)
    return np.asarray(part.points @ turn.T + shift)


def beside(part: Part, parts: Sequence[Part]) -> list[Part]:
    """The parts that one may come against: all but itself, what carries it, and what is on it."""
    return [
        other
        for other in parts
        if other.name != part.name and other.name not in part.hosts and part.name not in other.hosts
    ]


def least_gap(part: Part, parts: Sequence[Part]) -> tuple[float, str] | None:
    """The least gap of what a part sweeps to other parts [m], and to which; None: there are none.

    parts : of the airframe as built; below what the curves may take it is zero
    """
    others = beside(part, parts)
    moved = swept(part)
    near = sorted(((_apart(moved, other), k) for k, other in enumerate(others)), key=lambda o: o[0])
    best: tuple[float, str] | None = None
    for boxes, k in near:
        other = others[k]
        taken = moved.bulge + other.bulge
        most = math.inf if best is None else best[0] + taken
        if boxes >= most:
            continue
        look()
        found = mesh_distance(moved.points, moved.faces, other.points, other.faces, limit=most)
        gap = max(0.0, float(found.distance) - taken)
        if best is None or gap < best[0]:
            best = gap, other.name
    return best


def _apart(part: Part, other: Part) -> float:
    """How far the boxes round two parts are apart [m]."""
    a, b = part.points, other.points
    off = np.maximum(a.min(axis=0) - b.max(axis=0), b.min(axis=0) - a.max(axis=0))
    return float(np.linalg.norm(np.maximum(off, 0.0)))


def turning_questions(airframe: Airframe) -> tuple[str, ...]:
    """Where a control as it moves, or a panel as it is folded, touches another part: asked back.

    Of a pair of which both sides do so alike, once.
    """
    found: dict[tuple[str, str], list[Part]] = {}
    for part in airframe.parts:
        if part.role == "control":
            for other, where in _touches(airframe, part):
                found.setdefault((airframe.by_name[other].group, where), []).append(part)
    moved = tuple(
        f"the {' and the '.join(in_words(airframe, parts))} touches the {other} {where}"
        for (other, where), parts in sorted(found.items(), key=lambda one: one[0])
    )
    folded = (
        f"stance “{name}”: {touch}; is it meant to?"
        for name, stance in airframe.design.stances.items()
        for touch in _folded_on(airframe, stance)
    )
    return (*moved, *folded)


def _touching(part: Part, other: Part) -> str:
    """That two parts touch which are both folded, each by its side."""
    if part.group == other.group:
        return f"as it is folded, the left {part.group} touches the right one"
    return f"as they are folded, the {part.name} touches the {other.name}"


def _folded_on(airframe: Airframe, stance: Stance) -> list[str]:
    """Which parts touch in a stance because one or both are folded, and not spread, in words.

    Of pairs of groups that touch more than once, the first. What lies inside skins is left out:
    they touch before it does.
    """
    folds = roles_in("lifting")
    turns = {
        name: angle
        for name, angle in turns_of(airframe, airframe.design.stages[0], stance).items()
        if airframe.by_name[name].role in folds
    }
    if not turns:
        return []

    def carried(part: Part) -> set[str]:
        return {part.name, *part.hosts} & turns.keys()

    shown = [part for part in airframe.parts if not part.within]
    places = turned(shown, turns, airframe.by_name)
    out: dict[tuple[str, ...], str] = {}
    for part, other in itertools.combinations(places, 2):
        if carried(part) == carried(other) or {part.name, other.name} & {*part.hosts, *other.hosts}:
            continue
        if _apart(part, other) > 0.0 or not _meets(part.points, part.faces, other):
            continue
        spread = airframe.by_name[part.name]
        if not _meets(spread.points, spread.faces, airframe.by_name[other.name]):
            first, second = (part, other) if carried(part) else (other, part)
            if carried(second):
                first, second = sorted((first, second), key=lambda one: one.name)
                words = _touching(first, second)
            else:
                words = f"the folded {first.group} touches the {second.group}"
            out.setdefault(tuple(sorted((first.group, second.group))), words)
    return [out[groups] for groups in sorted(out)]


def _touches(airframe: Airframe, part: Part) -> Iterator[tuple[str, str]]:
    """Which part one touches first as it moves either way, and where, as a question."""
    hinge = part.hinge
    assert hinge is not None
    fields = ways(airframe.design.controls[part.group])
    for end, way in zip((hinge.most, hinge.least), fields, strict=True):
        count = math.ceil(abs(end) / FINE - ROUNDING)
        near = _in_reach(part, end, airframe.parts)
        for angle in np.linspace(0.0, end, count + 1) if near else ():
            points = _at(part, float(angle))
            hit = next((one for one in near if _meets(points, part.faces, one)), None)
            if hit is None:
                continue
            if not angle:
                yield hit.name, "where it is neutral; is it meant to be so near?"
                return
            told, limit = (f"{abs(math.degrees(a)):.0f} deg" for a in (angle, end))
            looked = f"(looked at every degree up to {limit})"
            yield hit.name, f"at {told} {way} {looked}; does it go so far?"
            break


def _meets(points: Array, faces: Faces, other: Part) -> bool:
    return mesh_distance(points, faces, other.points, other.faces, limit=1e-6).distance <= 0.0


def _in_reach(part: Part, end: float, parts: Sequence[Part]) -> list[Part]:
    """The parts whose boxes the box round a part's places up to an angle meets."""
    places = [_at(part, end * share) for share in np.linspace(0.0, 1.0, 9)]
    points = np.concatenate(places)
    low, high = points.min(axis=0), points.max(axis=0)
    return [
        one
        for one in beside(part, parts)
        if np.all(one.points.min(axis=0) <= high) and np.all(low <= one.points.max(axis=0))
    ]
