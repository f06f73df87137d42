"""The gaps between parked aircraft and to the room, as they stand and with a tyre flat."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from planform.airframe.outlines import outline
from planform.airframe.stance import Standing
from planform.core.quantity import Metres
from planform.core.shape.distance import mesh_distance
from planform.design.place import Spot
from planform.fit.berth import Berth
from planform.fit.clearance import Clearance, clearances
from planform.fit.moves import Pose
from planform.fit.room import Room
from planform.fit.swept import at_pose

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Between:
    """The least distance between two parked aircraft [m], with the parts that have it.

    over : where one stands partly over the other, the closest first
    """

    first: str
    second: str
    apart: Metres
    part: str
    other: str
    over: tuple[OneOver, ...]


@dataclass(frozen=True)
class OneOver:
    """A part of one aircraft over a part of another, and the distance between the two [m]."""

    above: str
    under: str
    apart: Metres


@dataclass(frozen=True)
class Flat:
    """What is left with one tyre flat [m]: between which parts, to which thing or aircraft."""

    name: str
    wheel: str
    left: Metres
    part: str
    thing: str
    before: Metres


def between(berths: Sequence[Berth]) -> tuple[Between, ...]:
    """The gaps between every two parked aircraft, least first."""
    found = [_between(a, b) for a, b in itertools.combinations(berths, 2)]
    return tuple(sorted(found, key=lambda one: one.apart))


def _between(one: Berth, other: Berth) -> Between:
    apart, part, beside = least_between(one.solids, other.solids)
    over = tuple(sorted(_overs(one, other), key=lambda o: o.apart))
    return Between(one.name, other.name, apart, part, beside, over)


def _overs(one: Berth, other: Berth) -> Iterator[OneOver]:
    """Parts of one over parts of the other, either way round."""
    here, there = (
        [(at_pose(outline(p), b.pose), s) for p, s in zip(b.standing.parts, b.solids, strict=True)]
        for b in (one, other)
    )
    for (shape, solid), (shadow, beside) in itertools.product(here, there):
        if not shape.intersects(shadow) or shape.intersection(shadow).area < 1e-4:
            continue
        apart = least_between([solid], [beside])[0]
        names = f"{one.name}: {solid[0]}", f"{other.name}: {beside[0]}"
        first = float(solid[1][:, 2].mean()) > float(beside[1][:, 2].mean())
        yield OneOver(*(names if first else names[::-1]), apart)


def least_between(
    solids: Sequence[tuple[str, Array, NDArray[np.int64], float]],
    others: Sequence[tuple[str, Array, NDArray[np.int64], float]],
) -> tuple[float, str, str]:
    """Least distance between two sets of solids, what bulges taken off [m], and the two names."""
    best: tuple[float, str, str] = (np.inf, "", "")
    for name, points, faces, bulge in solids:
        for other, corners, sides, more in others:
            limit = best[0] + bulge + more
            room = np.maximum(points.min(axis=0) - corners.max(axis=0), 0.0)
            room = np.maximum(room, corners.min(axis=0) - points.max(axis=0))
            if float(np.linalg.norm(room)) >= limit:
                continue
            near = mesh_distance(points, faces, corners, sides, limit=limit).distance
            if near - bulge - more < best[0]:
                best = near - bulge - more, name, other
    return best


def spot_at(pose: Pose, name: str) -> Spot:
    """A pose as a spot of a place."""
    words = {
        "name": name,
        "at": [f"{pose.x:.9f} m", f"{pose.y:.9f} m"],
        "heading": f"{np.degrees(pose.heading):.9f} deg",
    }
    return Spot.model_validate(words)


def gaps_to_room(berths: Sequence[Berth], room: Room) -> tuple[tuple[str, Clearance], ...]:
    """The least clearance of each to the room."""
    out = []
    for berth in berths:
        near = _in_room(berth.standing, room, berth.pose, berth.name)
        if near is not None:
            out.append((berth.name, near))
    return tuple(out)


def _in_room(standing: Standing, room: Room, pose: Pose, name: str) -> Clearance | None:
    for limit in (1.0, 20.0):
        found = clearances(standing, room, spot_at(pose, name), limit)
        if found:
            return found[0]
    return None


def flat_tyres(berths: Sequence[Berth], room: Room) -> tuple[Flat, ...]:
    """What each flat tyre, one at a time, leaves to the others and to the room."""
    out = []
    for berth in berths:
        others = [(b.name, solid) for b in berths if b is not berth for solid in b.solids]
        before = _left(berth.standing, berth.pose, berth.name, others, room)
        for wheel, standing in on_flats(berth.standing):
            after = _left(standing, berth.pose, berth.name, others, room)
            out.append(Flat(berth.name, wheel, *after, before[0]))
    return tuple(sorted(out, key=lambda flat: flat.left))


def _left(
    standing: Standing,
    pose: Pose,
    name: str,
    others: Sequence[tuple[str, tuple[str, Array, NDArray[np.int64], float]]],
    room: Room,
) -> tuple[float, str, str]:
    """The least that is left [m], of which part, to which part of which other or which thing."""
    solids = [(p.name, pose.place(p.points), p.faces, p.bulge) for p in standing.parts]
    best = (np.inf, "", "")
    for other in dict.fromkeys(n for n, _ in others):
        apart, part, beside = least_between(solids, [s for n, s in others if n == other])
        if apart < best[0]:
            best = apart, part, f"{beside} of {other}"
    near = _in_room(standing, room, pose, name)
    if near is not None and near.gap < best[0]:
        best = near.gap, near.part, near.thing
    return best


def on_flats(standing: Standing) -> Iterator[tuple[str, Standing]]:
    """The aircraft with one tyre flat, for each wheel it stands on that says how far it sinks."""
    from planform.airframe.stance import stand_on
    from planform.design.gear import Wheel
    from planform.design.standing import contacts_of, support_of

    design = standing.airframe.design
    stance = design.stances[standing.stance_name]
    for contact in contacts_of(design, stance):
        _, wheel = support_of(design, contact.name) or ("", None)
        if (
            not isinstance(wheel, Wheel)
            or not float(wheel.flat_drop) > 0.0
            or contact.name in stance.flat
        ):
            continue
        sunk = stance.model_copy(update={"flat": (*stance.flat, contact.name)})
        stances = {**design.stances, standing.stance_name: sunk}
        changed = replace(standing.airframe, design=design.model_copy(update={"stances": stances}))
        yield contact.name, stand_on(changed, standing.stage, standing.stance_name)
