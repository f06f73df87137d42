"""Can it be moved out of the room, along which route, and with what clearance."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from functools import cached_property
from time import monotonic
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from planform.airframe.build import Part
from planform.airframe.stance import Standing
from planform.design.place import Place, Spot
from planform.design.problems import InputError, Problem
from planform.design.roof import breaks
from planform.design.slope import least_clear_height
from planform.design.standing import contacts_of
from planform.fit.clearance import outside_floor
from planform.fit.cut_off import hangs, shut_in
from planform.fit.ground_plan import GroundPlan, Keep, Thing, ground_plan
from planform.fit.handed import Hand, hand_of, handed_room, handed_standing
from planform.fit.moves import Move, Pose, Route, Tight
from planform.fit.room import Fixed, Room, spot_point

if TYPE_CHECKING:
    from planform.core.motion.cells import Cells, Decision, Scene
    from planform.core.motion.gear import Gear

Array = NDArray[np.float64]

WAY, NONE, OPEN, NOT_FOUND = "way out", "no way out", "not decided", "not found"
"""Proved by a route; proved that there is none; neither; the search on its own gear found none."""

BY_HEIGHTS, BY_CEILING, BY_SPOT, BY_LINE, BY_BOXES = "heights", "ceiling", "spot", "line", "boxes"
"""By what it is proved that there is none: heights alone, the ceiling, what is left on the spot,
the line of a highest point, or boxes of poses."""

WIDTH = 0.012
"""The greatest clearance is bracketed to this [m]."""

MOST = 1.0
"""No greater clearance is looked for [m]; assumption."""

DEEP = 1.0
"""How much overlap is tried to find where it jams [m]; assumption."""

MORE = 40_000
"""Boxes that each question about how deep it jams may add; a jam is told as well as they allow."""

ASIDE = (0.025, 0.05, 0.1, 0.2)
"""Clearances that are asked for on both sides of one that was not decided [m]."""

SAMPLED = 0.005
"""The least gap of a route may be told so much less, as what is proved of all of it [m]."""

Watch = Callable[[str, int, float], bool]
"""Told what is asked, the boxes in use and the seconds gone; False ends the search early."""


MOST_WORK = 40_000_000
"""Boxes gone over in all rounds of the searches of one verdict: about half a minute. The demo
rooms take a quarter of it at the most. Assumption."""


def patient(step: str, boxes: int, seconds: float) -> bool:
    """A watch that never ends the search."""
    return True


def time_limit(limit: float) -> Watch:
    """A watch that ends each search after a number of seconds."""
    return lambda step, boxes, seconds: seconds < limit


def box_limit(boxes: int) -> Watch:
    """A watch that ends each search at a number of boxes: the same on every machine.

    All searches together end when they have gone over `MOST_WORK` boxes, again and again counted.
    """
    work = 0

    def going(step: str, used: int, seconds: float) -> bool:
        nonlocal work
        work += used
        return used < boxes and work < MOST_WORK

    return going


@dataclass(frozen=True, eq=False)
class Question:
    """One aircraft on one spot of one room, ready to be asked about ways out.

    plan, scene : as asked, in place axes
    searched, cells : the same in the hand that it is searched in, see `handed`
    """

    plan: GroundPlan
    start: Pose
    scene: Scene
    cells: Cells
    parked: float
    hand: Hand
    searched: GroundPlan

    @cached_property
    def shut_in(self) -> Part | None:
        """A part whose highest point is cut off from every way out; None proves nothing."""
        standing, room = self.plan.standing, self.plan.room
        if not hangs(standing, room):
            return None
        return shut_in(standing, room, self.start, self.plan.keep)

    @property
    def start_at(self) -> tuple[float, float, float]:
        """The pivot's pose on the spot."""
        return self.plan.pivot_at(self.start)


@dataclass(frozen=True, eq=False)
class WayOut:
    """The answer to: is there a way out that keeps what is wanted.

    answer : 'way out', 'no way out', 'not decided', or on its own gear 'not found'
    wanted : level clearance asked for beside what the question keeps [m]
    reason : one clause on what decided it
    proof : by what it is proved that there is none; '' where it is not
    route : the way, where there is one
    boxes, seconds : what the search took
    """

    question: Question
    answer: str
    wanted: float
    reason: str
    route: Route | None = None
    shunts: int | None = None
    boxes: int = 0
    seconds: float = 0.0
    proof: str = ""

    @cached_property
    def tight(self) -> tuple[Tight, ...]:
        """The tightest instants of the route, least first; empty without a route."""
        if self.route is None:
            return ()
        return tightest(self.question, self.route)


@dataclass(frozen=True, eq=False)
class GreatestClearance:
    """The greatest clearance any way out has, bracketed [m].

    low : proved by `way` ; high : proved by `none` that none has more (or `limited` says what caps
        it)
    high below zero : no way; forced through it would overlap by that much where it jams
    low below zero, high above : not decided whether there is one
    """

    low: float
    high: float
    way: WayOut | None
    limited: str
    asked: tuple[tuple[float, str, float], ...] = field(default=())
    none: WayOut | None = None


def question_for(
    standing: Standing, room: Room, spot_name: str | None = None, keep: Keep | None = None
) -> Question:
    """The question for an aircraft on a spot; refuses a spot where it cannot stand.

    Raises InputError where no spot is given, its middle is off the floor, or it is in contact.
    """
    spot = spot_point(room.place, spot_name)
    if spot is None:
        allowed = "give the place a spot: [[spots]] with name, at and heading"
        raise InputError(room.place.name, [Problem("spots", "none", allowed)])
    if outside_floor(standing, room, spot):
        allowed = "its middle must stand on the floor; move the spot, or the floor's outline"
        raise InputError(room.place.name, [Problem(f"spots: {spot.name}", spelled(spot), allowed)])
    if not room.place.doors:
        allowed = "a door to come out of: [[doors]] with wall, from_corner, width and height"
        raise InputError(room.place.name, [Problem("doors", "none", allowed)])
    pose = Pose(float(spot.at[0]), float(spot.at[1]), float(spot.heading))
    return question_at(standing, room, pose, keep or Keep.nothing())


def question_at(standing: Standing, room: Room, pose: Pose, keep: Keep) -> Question:
    """The question for an aircraft at a pose on the floor of a room with a door."""
    from planform.core.motion.cells import Cells

    hand = hand_of(standing, room, pose)
    there = handed_standing(standing, hand.side), handed_room(room, hand)
    searched = ground_plan(*there, keep)
    plan = hand.back(searched, standing, room)
    built = _scene_of(plan)
    parked, _ = built.clearance(plan.pivot_at(pose)) if plan.things else (MOST, -1)
    start = searched.pivot_at(hand.pose(pose))
    cells = Cells(_scene_of(searched), start, cap=min(MOST, max(parked, 0.0)))
    return Question(plan, pose, built, cells, parked, hand, searched)


def _scene_of(plan: GroundPlan) -> Scene:
    from planform.core.motion.cells import scene

    pieces = [(k, ring) for k, band in enumerate(plan.ranges) for ring in band[2]]
    things = [(k, thing.outline, thing.keep) for k, thing in plan.things]
    return scene(pieces, things, plan.hull, list(plan.floors), plan.beyond)


def spelled(spot: Spot) -> str:
    """Where a spot is, as a file would say it."""
    return f"at {spot.at[0].text}, {spot.at[1].text}"


def at_once(question: Question) -> str:
    """Why it certainly cannot come out, by heights alone; '' where heights do not decide.

    Whatever stands higher than every door head must pass under one of them, and cannot.
    """
    plan = question.plan
    rise = plan.keep.upright.get("door head", 0.0)
    part = max(plan.standing.parts, key=lambda p: float(p.points[:, 2].max()) + p.bulge)
    top = float(part.points[:, 2].max()) + part.bulge
    place = plan.room.place
    heads = [least_clear_height(place, door) for door in place.doors]
    if top > max(heads):
        return f"{part.name} stands higher than every door head"
    if top + rise > max(heads):
        return f"{part.name} leaves less than is kept under every door head"
    return ""


def headroom(question: Question) -> str:
    """Why it cannot stand under a level ceiling; '' where it can."""
    plan, place = question.plan, question.plan.room.place
    if place.ceiling is None or len(breaks(place)[1]) > 1:
        return ""
    top = float(plan.standing.all_points()[:, 2].max()) + plan.standing.bulge
    if top + plan.keep.upright.get("ceiling", 0.0) > breaks(place)[2][0]:
        return "it does not stand under the ceiling"
    return ""


def way_out(question: Question, wanted: float = 0.0, watch: Watch = patient) -> WayOut:
    """Whether the aircraft, free to go any way on dollies, comes out with a clearance [m].

    wanted : level clearance beside what the question keeps; below zero, by how much it may overlap
    """
    began = monotonic()

    def told(answer: str, reason: str, route: Route | None = None, proof: str = "") -> WayOut:
        return WayOut(
            question, answer, wanted, reason, route,
            boxes=question.cells.boxes, seconds=monotonic() - began, proof=proof,
        )  # fmt: skip

    for reason, proof in ((at_once(question), BY_HEIGHTS), (headroom(question), BY_CEILING)):
        if reason:
            return told(NONE, reason, proof=proof)
    if question.parked < wanted:
        return told(NONE, "the parked spot itself leaves less", proof=BY_SPOT)
    direct = _direct(question, wanted)
    if direct is not None:
        return told(WAY, "straight out, as it stands", direct)
    if wanted >= 0.0 and question.shut_in is not None:
        reason = f"its {question.shut_in.name} is higher than what hangs in the way"
        return told(NONE, reason, proof=BY_LINE)
    decision = question.cells.decide(min(wanted, question.cells.cap), _told(watch, "way out"))
    if decision.answer == "none":
        reason = "however it turns, something is in the way of every route"
        return told(NONE, reason, proof=BY_BOXES)
    if decision.answer == "open":
        return told(OPEN, "the search ended before a proof either way")
    return told(WAY, "turning as needed, proved all along", _route(question, decision))


def _told(watch: Watch, step: str) -> Callable[[int, float], bool]:
    return lambda boxes, seconds: watch(step, boxes, seconds)


def _ways(question: Question) -> Array:
    """Unit vectors out of the doors as they are searched, each once, shape (n, 2)."""
    ways = np.array([out for _, out in door_ways(question.plan.room.place)])
    return np.unique(np.round(question.hand.ways(ways), 12) + 0.0, axis=0)


def door_ways(place: Place) -> list[tuple[Array, Array]]:
    """Middle of each door on the inner wall line and the unit vector out of it, each (2,)."""
    walls = place.floor.walls
    out = []
    for door in place.doors:
        start, end = (np.array(p) for p in walls[door.wall])
        along = (end - start) / np.linalg.norm(end - start)
        middle = start + (float(door.from_corner) + 0.5 * float(door.clear_width)) * along
        out.append((middle, np.array([along[1], -along[0]])))
    return out


def _direct(question: Question, c: float) -> Route | None:
    """The push straight out as it stands, where it is proved."""
    from planform.core.motion.routes import straight_out

    cells = question.cells
    move = straight_out(cells.scene, np.array(cells.start), c, _ways(question))
    return None if move is None else Route((_move(question, move),), c, "dollies")


def _route(question: Question, decision: Decision) -> Route:
    """Few moves from the route of boxes."""
    from planform.core.motion.routes import fewer_moves

    assert decision.path is not None
    c = decision.clearance
    moves = fewer_moves(question.cells.scene, decision.path, c, _ways(question))
    return Route(tuple(_move(question, m) for m in moves), c, "dollies")


def _move(question: Question, move: Array) -> Move:
    from planform.core.motion.kernel import along

    plan, move = question.plan, question.hand.move(move)
    start = plan.pose_at(*(float(v) for v in move[:3]))
    end = plan.pose_at(*(float(v) for v in along(move, 1.0)))
    centre = (float(move[7]), float(move[8])) if move[6] else None
    return Move(start, end, centre, (float(plan.pivot[0]), float(plan.pivot[1])))


def proved(question: Question, route: Route, fine: float = 1e-3) -> float:
    """The clearance that a route is proved to keep all along in a question [m], to `fine`.

    -inf where it is not even proved to keep none; at most `MOST`.
    """
    moves = [_flat(question, move) for move in route.moves]

    def keeps(c: float) -> bool:
        return all(question.scene.keeps(move, c) for move in moves)

    if not keeps(0.0):
        return -np.inf
    low, high = 0.0, MOST
    if keeps(high):
        return high
    while high - low > fine:
        middle = 0.5 * (low + high)
        low, high = (middle, high) if keeps(middle) else (low, middle)
    return low


def _flat(question: Question, move: Move) -> Array:
    """A move as numbers of `kernel.along`."""
    start = np.array(question.plan.pivot_at(move.start))
    end = np.array(question.plan.pivot_at(move.end))
    if move.centre is None:
        return np.array([*start, *(end - start), 0.0, 0.0, 0.0])
    return np.array([*start, 0.0, 0.0, move.turn, 1.0, *move.centre])


def greatest_clearance(
    question: Question, width: float = WIDTH, watch: Watch = patient
) -> GreatestClearance:
    """The greatest clearance of any way out, bracketed to `width` [m] where the watch allows."""
    asked: list[tuple[float, str, float]] = []
    best: WayOut | None = None
    none: dict[float, WayOut] = {}

    def way(c: float) -> str:
        nonlocal best
        most = question.cells.boxes + MORE

        def sparing(step: str, boxes: int, seconds: float) -> bool:
            return boxes < most and watch(step, boxes, seconds)

        answer = way_out(question, c, watch if c >= 0.0 else sparing)
        asked.append((c, answer.answer, answer.seconds))
        if answer.answer == WAY:
            best = answer
        elif answer.answer == NONE:
            none[c] = answer
        return answer.answer

    def told(low: float, high: float, limited: str) -> GreatestClearance:
        return GreatestClearance(low, high, best, limited, tuple(asked), none.get(high))

    for reason in (at_once(question), headroom(question)):
        if reason:
            way(0.0)
            return told(-np.inf, 0.0, reason)
    first = way(0.0) if question.parked >= 0.0 else NONE
    if first == NONE and question.shut_in is not None:
        return told(-np.inf, 0.0, "something hangs too low, from wall to wall")
    if first == OPEN:
        high = next((c for c in ASIDE if way(c) == NONE), np.inf)
        low = next((-c for c in ASIDE if way(-c) == WAY), -np.inf)
        return told(low, high, "not decided closer")
    top = question.cells.cap
    if first == WAY:
        low, high = 0.0, top
        if way(top) == WAY:
            limited = (
                "the parked spot itself" if top == question.parked else "more is not looked for"
            )
            return told(top, top if top == question.parked else np.inf, limited)
    else:
        high, step = min(0.0, question.parked), 0.05
        low = high - step
        while low > -DEEP and (answer := way(low)) != WAY:
            if answer == OPEN:
                return told(-np.inf, high, "how deep it jams was not decided")
            high, step = low, 2.0 * step
            low = high - step
        if best is None:
            return told(-np.inf, high, "the jam is deeper than was looked for")
    while high - low > width:
        for share in (0.5, 0.35, 0.65):
            middle = low + share * (high - low)
            answer = way(middle)
            if answer != OPEN:
                break
        else:
            jam = "how deep it jams was " if high <= 0.0 else ""
            return told(low, high, f"{jam}not decided closer")
        low, high = (middle, high) if answer == WAY else (low, middle)
    return told(low, high, "")


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
            height = 0.5 * (max(thing.low, part.points[:, 2].min()) + part.points[:, 2].max())
            best = rank, gap, part.name, np.array([*a, height]), np.array([*b, height])
    assert best is not None
    gap = best[1] if reach >= 0.0 else reach + thing.keep - plan.standing.bulge
    return Tight(pose, best[2], thing.name, gap, best[3], best[4], k, share)


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


def _overlap(region: Any, thing: Any) -> float:
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


def gear_of(question: Question) -> Gear | None:
    """How the aircraft rolls on its own wheels; None where it does not stand on a pair of them.

    It turns about points of the main axle's line: about a braked main wheel, and further out as
    far as the nose wheel steers; a castering nose wheel sets no limit.
    """
    from planform.core.motion.gear import Gear

    standing = question.plan.standing
    design = standing.airframe.design
    on = contacts_of(design, design.stances[standing.stance_name])
    pairs = [c for c in on if c.radius > 0.0 and c.name.startswith("left ")]
    others = [c for c in on if c.radius == 0.0]
    if not pairs or others:
        return None
    main = pairs[0]
    axle = standing.to_floor(np.array([[main.point[0], 0.0, main.point[2]]]))[0]
    half = abs(main.point[1])
    least = half
    for wheel in design.wheels.values():
        if wheel.steers is not None:
            base = abs(float(wheel.fs) - main.point[0])
            least = max(least, base / float(np.tan(float(wheel.steers))))
    offsets = tuple(s * least * f for f in (1.0, 2.0, 4.0, 8.0) for s in (1.0, -1.0))
    return Gear(float(axle[0] - question.plan.pivot[0]), offsets)


def roll_out(question: Question, wanted: float = 0.0, watch: Watch = patient) -> WayOut:
    """The way out on its own gear: no side-slip, few changes of direction.

    Free moves are asked first: where they have no way, rolling has none. A way that the lattice
    of pushes does not find is 'not found', which proves nothing.
    """
    from planform.core.motion.gear import roll_out as search
    from planform.core.motion.gear import shunts

    began = monotonic()
    free = way_out(question, wanted, watch)
    if free.answer == NONE:
        return free
    gear = gear_of(question)
    if gear is None:
        reason = "it does not stand on a pair of wheels with nothing dragging"
        return WayOut(question, NOT_FOUND, wanted, reason, seconds=monotonic() - began)
    cells, doors = question.cells, door_ways(question.plan.room.place)
    aims = question.hand.points(np.array([at + out * cells.scene.reach for at, out in doors]))

    def go_on(poses: int) -> bool:
        return watch("on its own wheels", poses, monotonic() - began)

    moves, ended = search(cells.scene, cells.start, gear, wanted, aims, go_on)
    seconds = monotonic() - began
    if moves is None:
        return WayOut(question, NOT_FOUND, wanted, ended, seconds=seconds)
    route = Route(tuple(_move(question, m) for m in moves), wanted, "gear")
    count = shunts(moves, gear)
    return WayOut(question, WAY, wanted, "each push proved", route, count, seconds=seconds)
