"""Several aircraft in one hangar: where each stands, and in which order they are moved in.

An order is worked out from the back: the first in comes out last. For each aircraft a way out is
proved with those parked before it standing; backwards it is its way in. What is found is proved;
that nothing was found proves nothing, and better arrangements were not looked for.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from planform.airframe.footprint import plan_hull
from planform.airframe.stance import Standing
from planform.core.quantity import Metres
from planform.core.shown import Brief, Shown
from planform.design.told import said
from planform.fit.berth import Berth
from planform.fit.clearance import Clearance
from planform.fit.ground_plan import Keep
from planform.fit.moves import Pose
from planform.fit.open_doors import standing_out
from planform.fit.parked import as_things
from planform.fit.parked_gaps import Between, Flat, between, flat_tyres, gaps_to_room
from planform.fit.question import (
    Question,
    Watch,
    box_limit,
    door_ways,
    question_at,
)
from planform.fit.room import Room
from planform.fit.second_check import GoneOver, go_over
from planform.fit.way_out import NONE, WAY, WayOut, by_heights, proved, way_out

Array = NDArray[np.float64]

STEP = 0.25
"""Places are looked at this far apart [m]; assumption."""

MOST_PLACES = 12_000
"""Places of that grid; on a wider floor, over some 27 m square, they are further apart.
Assumption."""

TURNS = 24
"""Headings are looked at this many to a full turn; assumption."""

CHOICES = 10
"""Places of one aircraft that are followed up, at each turn of the search; assumption."""

ASIDE = 0.8
"""Places followed up stand this far apart [m], or point another way; assumption."""

BOXES = 30_000
"""Boxes that one search for a way may use here; assumption."""

Goes = Callable[[str], bool]
"""Told what is tried; False ends the search."""


@dataclass(frozen=True, eq=False, repr=False)
class Packing(Shown):
    """The answer.

    berths : in the order in which they are moved in; empty where nothing was found
    refused : why it certainly cannot be, where that is proved
    alone : of each, whether it comes out with all the others standing
    gone_over : what the second, separate check went over
    tried : places that were asked for a way ; whole : whether the search ran to its end
    """

    room: Room
    gap: Metres
    over: Metres
    berths: tuple[Berth, ...]
    refused: str
    between: tuple[Between, ...]
    walls: tuple[tuple[str, Clearance], ...]
    alone: tuple[tuple[str, str], ...]
    flats: tuple[Flat, ...]
    tried: int
    whole: bool
    gone_over: tuple[GoneOver, ...] = ()

    @property
    def found(self) -> bool:
        """Whether an arrangement was found and proved."""
        return bool(self.berths)

    @property
    def reserve(self) -> float:
        """The least that is left with any one tyre flat [m]; infinite where none was looked at."""
        return min((flat.left for flat in self.flats), default=np.inf)

    def brief(self) -> Brief:
        """Who stands where in which order, how far apart, and what a flat tyre leaves."""
        units = self.room.place.units
        if not self.found:
            why = self.refused or ("none found" if self.whole else "the search was ended")
            return Brief(f"{self.room.place.name}: no arrangement", (("why", why),))
        rows = [("order in", ", ".join(berth.name for berth in self.berths))]
        rows += [(f"{b.first} to {b.second}", said(b.apart, "gap", units)) for b in self.between]
        if self.flats:
            rows.append(("least with one tyre flat", said(self.reserve, "gap", units)))
        head = f"{self.room.place.name}: {len(self.berths)} aircraft parked"
        return Brief(head, tuple(rows))


def keeping(room: Room, gap: float, over: float) -> Keep:
    """What the place asks for, and between aircraft what is given [m]."""
    keep = Keep.wished(room)
    return Keep(keep.level | {"aircraft": gap}, keep.upright | {"aircraft": over})


def with_parked(room: Room, berths: Sequence[Berth]) -> Room:
    """The room with aircraft standing in it."""
    things = [t for b in berths for t in as_things(b.standing, b.pose, b.name)]
    return replace(room, fixed=(*room.fixed, *things))


def pack(
    room: Room,
    aircraft: Sequence[tuple[str, Standing]],
    gap: float,
    over: float,
    goes: Goes = lambda step: True,
) -> Packing:
    """Places and an order for several aircraft, found by trying; every way proved.

    aircraft : names, each once, with the aircraft as they stand
    gap, over : to keep between aircraft, across and upright [m]
    Deterministic where `goes` does not end it.
    """
    search = _Search(room, gap, over, goes)
    refused = search.refused(aircraft)
    berths: tuple[Berth, ...] = ()
    if refused is None:
        for order in search.orders(aircraft):
            berths = search.placed(order, ())
            if berths or search.ended:
                break
    berths = tuple(_told(berth) for berth in berths)
    alone = search.alone(berths)
    return Packing(
        room=room,
        gap=gap,
        over=over,
        berths=berths,
        refused="" if refused is None else f"{refused[0]}: {refused[1].reason}",
        between=between(berths),
        walls=gaps_to_room(berths, room),
        alone=tuple((name, way.answer) for name, way in alone),
        flats=flat_tyres(berths, room),
        tried=search.tried,
        whole=not search.ended,
        gone_over=_gone_over(berths, alone, refused),
    )


def _gone_over(
    berths: Sequence[Berth],
    alone: Sequence[tuple[str, WayOut]],
    refused: tuple[str, WayOut] | None,
) -> tuple[GoneOver, ...]:
    """The second check of every way in, of who comes out with all standing, of what cannot be."""
    found = [go_over(berth.way, f"the way in of {berth.name}") for berth in berths]
    words = {WAY: "the way by which {} comes", NONE: "the proof that {} does not come"}
    for name, way in alone:
        if berths[-1].name != name:  # its own way is gone over already
            told = words.get(way.answer, "").format(name)
            found.append(go_over(way, f"{told} out with all the others standing"))
    if refused is not None:
        found.append(go_over(refused[1], f"the proof that {refused[0]} cannot come in"))
    return tuple(one for one in found if one is not None)


def _told(berth: Berth) -> Berth:
    """The berth with the whole clearance that its way is proved to keep, nothing set aside."""
    bare = question_at(berth.standing, berth.room, berth.pose, Keep.nothing())
    route = replace(berth.route, clearance=proved(bare, berth.route))
    return replace(berth, question=bare, route=route)


class _Search:
    """The search: the deepest places first, each asked for its way, and back where one fails."""

    def __init__(self, room: Room, gap: float, over: float, goes: Goes) -> None:
        self.room, self.goes = room, goes
        self.keep = keeping(room, gap, over)
        self.tried = 0
        self.ended = False
        self._free: dict[str, list[Pose]] = {}

    def refused(self, aircraft: Sequence[tuple[str, Standing]]) -> tuple[str, WayOut] | None:
        """One of them that certainly cannot come in, with the proof; None where none is proved."""
        for name, standing in aircraft:
            question = question_at(standing, self.room, self._middle(), self.keep)
            if any(by_heights(question)):
                return name, way_out(question)
        return None

    def _middle(self) -> Pose:
        low, high = self.room.floor.min(axis=0), self.room.floor.max(axis=0)
        x, y = 0.5 * (low + high)
        return Pose(float(x), float(y), 0.0)

    def orders(
        self, aircraft: Sequence[tuple[str, Standing]]
    ) -> Iterator[tuple[tuple[str, Standing], ...]]:
        """Orders to try, the largest in first; those that stand alike do not change places."""

        def size(one: tuple[str, Standing]) -> float:
            return -float(np.prod(np.ptp(plan_hull(one[1].all_points()), axis=0)))

        seen = set()
        for order in itertools.permutations(sorted(aircraft, key=size)):
            kinds = tuple((id(s.airframe), s.stage.name, s.stance_name) for _, s in order)
            if kinds not in seen:
                seen.add(kinds)
                yield order

    def placed(
        self, order: tuple[tuple[str, Standing], ...], berths: tuple[Berth, ...]
    ) -> tuple[Berth, ...]:
        """Berths for all of an order after these, or none."""
        if len(berths) == len(order):
            return berths
        name, standing = order[len(berths)]
        room = with_parked(self.room, berths)
        for pose in self._chosen(name, standing, room, berths):
            words = f"{name}, place {self.tried + 1}"
            if not self.goes(words):
                self.ended = True
                return ()
            self.tried += 1
            question = question_at(standing, room, pose, self.keep)
            way = way_out(question, 0.0, self._watched(question.cells.boxes + BOXES, words))
            if way.answer != WAY or way.route is None:
                continue
            number = len(berths) + 1
            one = Berth(number, name, standing, pose, room, way.route, question)
            found = self.placed(order, (*berths, one))
            if found or self.ended:
                return found
        return ()

    def _watched(self, boxes: int, words: str) -> Watch:
        """A watch that ends a search at a number of boxes, and where all are to end."""
        limited = box_limit(boxes)
        return lambda step, used, gone: limited(step, used, gone) and self.goes(words)

    def _chosen(
        self, name: str, standing: Standing, room: Room, berths: tuple[Berth, ...]
    ) -> Iterator[Pose]:
        """Free poses, the deepest first, well apart."""
        free = self._free_alone(name, standing)
        if berths:
            probe = question_at(standing, with_only(room, "aircraft"), self._middle(), self.keep)
            free = [p for p in free if _clear(probe, p) >= 0.0]
        chosen: list[Pose] = []
        for pose in free:
            if all(_another(pose, other) for other in chosen):
                chosen.append(pose)
                yield pose
            if len(chosen) == CHOICES:
                return

    def _free_alone(self, name: str, standing: Standing) -> list[Pose]:
        """Spots out of no door, then places wholly on the floor, the deepest first; all free."""
        if name not in self._free:
            probe = question_at(standing, kept_off(self.room), self._middle(), self.keep)
            spots = [p for p in _spots(self.room) if not standing_out(standing, self.room, p)]
            poses = [*spots, *_grid(standing, self.room)]
            free = [p for p in poses if _clear(probe, p) >= 0.0]
            doors = np.array([middle for middle, _ in door_ways(self.room.place)])

            def depth(pose: Pose) -> tuple[float, float, float, float]:
                x, y, _ = probe.plan.pivot_at(pose)
                off = float(np.hypot(*(doors - (x, y)).T).min())
                return -round(off, 6), pose.x, pose.y, pose.heading

            known = [p for p in free if p in spots]
            self._free[name] = [*known, *sorted((p for p in free if p not in known), key=depth)]
        return self._free[name]

    def alone(self, berths: tuple[Berth, ...]) -> tuple[tuple[str, WayOut], ...]:
        """Of each, whether it comes out with all the others standing."""
        out = []
        for berth in berths:
            if berth.number == len(berths):
                out.append((berth.name, berth.way))
                continue
            there = with_parked(self.room, [b for b in berths if b is not berth])
            question = question_at(berth.standing, there, berth.pose, self.keep)
            out.append(
                (berth.name, way_out(question, 0.0, box_limit(question.cells.boxes + BOXES)))
            )
        return tuple(out)


def kept_off(room: Room) -> Room:
    """The room with what is kept free while parked taken: no place is chosen in it."""
    fixed = (replace(t, kind="kept off") if t.kind == "kept free" else t for t in room.fixed)
    return replace(room, fixed=tuple(fixed))


def with_only(room: Room, kind: str) -> Room:
    """The room with the things of one kind alone."""
    return replace(room, fixed=tuple(t for t in room.fixed if t.kind == kind))


def _clear(question: Question, pose: Pose) -> float:
    return question.scene.clearance(question.plan.pivot_at(pose))[0]


def _another(pose: Pose, other: Pose) -> bool:
    turn = abs((pose.heading - other.heading + np.pi) % (2.0 * np.pi) - np.pi)
    off = float(np.hypot(pose.x - other.x, pose.y - other.y))
    return off > ASIDE or turn > np.radians(50.0)


def _spots(room: Room) -> list[Pose]:
    return [
        Pose(float(s.at[0]), float(s.at[1]), float(s.heading) % (2.0 * np.pi))
        for s in room.place.spots
    ]


def _centred(first: float, last: float, step: float) -> Array:
    """Places a step apart from one to another, as many as there is room for, in its middle."""
    count = int(np.floor((last - first) / step + 1e-9)) + 1
    middle = 0.5 * (first + last)
    return np.asarray(middle + step * (np.arange(max(count, 0)) - 0.5 * (count - 1)))


def _grid(standing: Standing, room: Room) -> Iterator[Pose]:
    """Poses on a grid with the whole plan hull over the floor."""
    import shapely

    hull = plan_hull(standing.all_points())
    floor = shapely.polygons(room.floor)
    shapely.prepare(floor)
    low, high = room.floor.min(axis=0), room.floor.max(axis=0)
    step = max(STEP, float(np.sqrt((high - low).prod() / MOST_PLACES)))
    for k in range(TURNS):
        heading = 2.0 * np.pi * k / TURNS
        ring = Pose(0.0, 0.0, heading).place(hull)
        ends = zip(low - ring.min(axis=0), high - ring.max(axis=0), strict=True)
        xs, ys = (_centred(first, last, step) for first, last in ends)
        if not len(xs) or not len(ys):
            continue
        at = np.array(np.meshgrid(xs, ys)).reshape(2, -1).T
        inside = shapely.covers(floor, shapely.polygons(ring[None] + at[:, None]))
        for x, y in at[inside]:
            yield Pose(float(x), float(y), heading)
