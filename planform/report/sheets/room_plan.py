"""The room in plan and section with the aircraft in it, its floor marks and the way out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from planform.airframe.part import Part
from planform.core.frames import floor2place
from planform.design.doors import Door
from planform.design.levels import door_floor
from planform.design.told import said
from planform.drawing.lines.line_view import line_view
from planform.drawing.paper.arranging import Side
from planform.drawing.paper.frame import TITLE_HEIGHT, Title, bordered
from planform.drawing.paper.marks import Area, Array, Box, Lettering, Mark, line
from planform.drawing.paper.page import Page
from planform.drawing.paper.placing import Seen, Wanted, at_scale, taken_at
from planform.drawing.paper.sizes import DrawingScale, PaperSize, scales_for
from planform.drawing.paper.tables import FactRow, listed
from planform.drawing.views import room_extent
from planform.fit.moves import Pose
from planform.fit.own_floor import there
from planform.fit.question import box_limit, question_for
from planform.fit.room import Fixed, Room, door_ends
from planform.fit.way_out import NONE, WAY, WayOut, way_out
from planform.report.sheets.aircraft_views import Aircraft
from planform.report.way_out.handover import Handover, handover

TITLE = "Room plan with the aircraft on its spot"
COLUMN = 66.0
PAD = 4.0
NUMBER = 1.8
MOST_BOXES = 25_000
"""The search for the way out ends at so many boxes; it is then told as not decided here."""
BEYOND = 0.2
"""How far past the walls the track of a way is drawn [m]."""
CROSS = 0.12
"""Half an arm of a floor mark [m]."""


@dataclass(frozen=True, eq=False)
class Shop:
    """A room, an aircraft on its spot, and how it comes out as far as that was found."""

    aircraft: Aircraft
    room: Room
    found: WayOut | None
    plan: Handover

    @property
    def spot(self) -> Pose:
        """Where the aircraft stands."""
        return self.plan.marks.spot

    @property
    def say(self) -> str:
        """The reader's units."""
        return self.aircraft.teller.system


def shop_of(aircraft: Aircraft, room: Room) -> Shop:
    """The aircraft on the room's first spot, its way out searched to `MOST_BOXES`."""
    from planform.design.problems import InputError
    from planform.fit.ground_plan import Keep

    found = None
    if room.place.spots:
        standing, room = there(aircraft.standing, room, None)
        aircraft = replace(aircraft, standing=standing)
    if room.place.doors:
        try:
            question = question_for(aircraft.standing, room, None, Keep.wished(room))
            found = way_out(question, 0.0, box_limit(MOST_BOXES))
        except InputError:
            found = None  # no such question here; the plan shows it parked alone
    route = found.route if found is not None and found.answer == WAY else None
    return Shop(aircraft, room, found, handover(aircraft.standing, room, route))


def room_page(shop: Shop, paper: PaperSize, title: Title) -> Page:
    """Plan and section of the room, one under the other to one scale, and a list."""
    left, bottom, right, top = paper.frame()
    numbers = _numbered(shop.room)
    plan, cut = _plan(shop, numbers), _section(shop)
    room = (left + PAD, bottom + TITLE_HEIGHT + PAD, right - COLUMN - PAD, top - PAD)
    scale = _scale(plan, cut, room, scales_for(shop.say))
    boxes = [taken_at(one, scale) for one in (plan, cut)]
    wide = max(box[2] - box[0] for box in boxes)
    high = sum(box[3] - box[1] for box in boxes)
    spare = (room[3] - room[1] - high) / 3.0
    x = room[0] + 0.5 * (room[2] - room[0] - wide)
    low_y = room[1] + spare - boxes[1][1]
    high_y = room[3] - spare - boxes[0][3]
    views = (
        at_scale(plan, scale, np.array([x - boxes[0][0], high_y])),
        at_scale(cut, scale, np.array([x - boxes[1][0], low_y])),
    )
    marks: list[Mark] = [*bordered(paper, replace(title, scale=scale.words))]
    marks += listed([*_rows(shop, numbers)], (right - COLUMN, bottom + TITLE_HEIGHT, right, top))
    return Page(TITLE, paper, views, tuple(marks))


def _scale(plan: Seen, cut: Seen, room: Box, scales: Sequence[DrawingScale]) -> DrawingScale:
    for scale in scales:
        boxes = [taken_at(one, scale) for one in (plan, cut)]
        wide = max(box[2] - box[0] for box in boxes)
        high = sum(box[3] - box[1] for box in boxes) + 3.0 * PAD
        if wide <= room[2] - room[0] and high <= room[3] - room[1]:
            return scale
    return scales[-1]


def _numbered(room: Room) -> dict[str, int]:
    """The things of the room by name, numbered in the order of the file."""
    kinds = ("obstacle", "kept free", "kept off", "pit", "aircraft")
    names = dict.fromkeys(thing.name for thing in room.fixed if thing.kind in kinds)
    return {name: k + 1 for k, name in enumerate(names)}


def _moved(shop: Shop) -> tuple[Part, ...]:
    turn = floor2place(shop.spot.heading)
    shift = np.array([shop.spot.x, shop.spot.y, 0.0])
    return tuple(
        replace(part, points=part.points @ turn.T + shift) for part in shop.aircraft.standing.parts
    )


def _plan(shop: Shop, numbers: dict[str, int]) -> Seen:
    low, high = room_extent(shop.room)
    marks: list[Mark] = [*_floor(shop.room)]
    marks += [*_way(shop)]
    for one in line_view(_moved(shop), np.eye(3)).lines:
        marks.append(line(one.points, one.kind))
    marks += [*_numbers(shop.room, numbers)]
    marks += [*_floor_marks(shop)]
    return Seen("room from above", tuple(marks), low, high, tuple(_plan_sizes(shop)))


def _floor(room: Room) -> Iterator[Mark]:
    fills = {"wall": ("wall", "wall"), "obstacle": ("thing", "thing"), "pit": ("shade", "hanging")}
    yield Area((room.floor,), "paper")
    for thing in room.fixed:
        if thing.kind == "obstacle" and thing.low > 0.0:
            yield line(thing.outline, "hanging", closed=True)
        elif thing.kind in fills:
            fill, pen = fills[thing.kind]
            yield Area((thing.outline,), fill, pen)
        elif thing.kind == "door head":
            yield line(thing.outline, "door", closed=True)
        elif thing.kind in ("kept free", "kept off", "aircraft"):
            yield line(thing.outline, "other", closed=True)


def _way(shop: Shop) -> Iterator[Mark]:
    """The floor that the aircraft covers on its way, and the track of its parking point."""
    import shapely

    if shop.found is None or shop.found.answer != WAY:
        return
    low, high = room_extent(shop.room)
    shown = shapely.box(*(low - BEYOND), *(high + BEYOND))
    for piece in shapely.get_parts(shop.plan.marks.chalk):
        if piece.geom_type == "Polygon":
            yield line(np.array(piece.exterior.coords), "swept", closed=True)
    for step in shop.plan.steps:
        for move in step.moves:
            poses = [move.at(k / 12) for k in range(13)]
            track = shapely.linestrings([(p.x, p.y) for p in poses]).intersection(shown)
            for piece in shapely.get_parts(track):
                if piece.geom_type == "LineString" and piece.length > 0.0:
                    yield line(np.array(piece.coords), "way")


def _numbers(room: Room, numbers: dict[str, int]) -> Iterator[Mark]:
    seen: set[str] = set()
    for thing in room.fixed:
        if thing.name in numbers and thing.name not in seen:
            seen.add(thing.name)
            at = np.array([*thing.outline.mean(axis=0)])
            yield Lettering(at, str(numbers[thing.name]), NUMBER, "middle", bold=True)


def _floor_marks(shop: Shop) -> Iterator[Mark]:
    group = shop.plan.marks.groups[0]
    for taped in group.taped:
        x, y = taped.point
        for arm in (np.array([CROSS, CROSS]), np.array([CROSS, -CROSS])):
            yield line([np.array([x, y]) - arm, np.array([x, y]) + arm], "mark")


def _plan_sizes(shop: Shop) -> Iterator[Wanted]:
    floor = shop.room.floor
    low, high = floor.min(axis=0), floor.max(axis=0)

    def wanted(key: str, start: Array, end: Array, side: Side) -> Wanted:
        axis = 0 if side in ("above", "below") else 1
        value = abs(float(end[axis] - start[axis]))
        return Wanted(key, value, said(value, "length", shop.say), start, end, side)

    yield wanted("room width", low, np.array([high[0], low[1]]), "above")
    yield wanted("room depth", low, np.array([low[0], high[1]]), "left")
    for door in shop.room.place.doors:
        ends = door_ends(shop.room.place, door)
        span = np.abs(ends[1] - ends[0])
        off = ends.mean(axis=0) - 0.5 * (low + high)
        sides: tuple[Side, Side] = ("below", "above") if span[0] >= span[1] else ("left", "right")
        beyond = off[1] if span[0] >= span[1] else off[0]
        yield wanted(f"door {door.name}", ends[0], ends[1], sides[int(beyond > 0.0)])
    spot = np.array([shop.spot.x, shop.spot.y])
    yield wanted("spot across", low, spot, "below")
    yield wanted("spot deep", low, spot, "right")


def _section(shop: Shop) -> Seen:
    """The room cut across, seen toward its front wall, with the aircraft behind the cut."""
    room = shop.room
    frame = np.array([[-1.0, 0.0, 0.0], [0.0, 0.0, 1.0], [0.0, 1.0, 0.0]])
    marks: list[Mark] = [*_cut_through(shop)]
    for one in line_view(_moved(shop), frame).lines:
        marks.append(line(one.points, one.kind))
    low = np.array([-float(room.floor[:, 0].max()), 0.0])
    high = np.array([-float(room.floor[:, 0].min()), _top(shop)])
    return Seen("room cut across", tuple(marks), low, high, tuple(_section_sizes(shop)))


def _top(shop: Shop) -> float:
    place = shop.room.place
    heads = [float(door.clear_height) + door_floor(place, door) for door in place.doors]
    ceiling = shop.room.ceiling_over(np.array([[shop.spot.x, shop.spot.y, 0.0]]))
    known = [float(h) for h in ceiling if np.isfinite(h)]
    tall = float(shop.aircraft.points[:, 2].max())
    return max([*heads, *known, tall])


def _cut_through(shop: Shop) -> Iterator[Mark]:
    """Floor, walls and ceiling where the room is cut through the aircraft's spot; its doors."""
    room, y = shop.room, shop.spot.y
    low, high = float(room.floor[:, 0].min()), float(room.floor[:, 0].max())
    thick, top = 0.15, _top(shop)
    across = np.linspace(low, high, 61)
    heights = room.ceiling_over(np.column_stack([across, np.full(61, y)]))
    yield Area((_box(-high - thick, -0.12, -low + thick, 0.0),), "wall", "wall")
    for edge, way in ((-high, -1.0), (-low, 1.0)):
        a, b = sorted((edge, edge + way * thick))
        yield Area((_box(a, 0.0, b, top),), "wall", "wall")
    if np.isfinite(heights).all():
        yield line(np.column_stack([-across, heights]), "cut")
    for door in room.place.doors:
        yield from _door_seen(shop, door)
    for thing in room.fixed:
        if thing.kind == "obstacle":
            a, b = -float(thing.outline[:, 0].max()), -float(thing.outline[:, 0].min())
            pen = "hanging" if thing.low > 0.0 else "thing"
            yield line(_box(a, max(0.0, thing.low), b, min(thing.high, top)), pen, closed=True)


def _door_seen(shop: Shop, door: Door) -> Iterator[Mark]:
    """A door of the front or back wall as it is seen across the room."""
    ends = door_ends(shop.room.place, door)
    if abs(ends[0][0] - ends[1][0]) < 1e-6:
        return
    a, b = sorted((-float(ends[0][0]), -float(ends[1][0])))
    sill = door_floor(shop.room.place, door)
    low, high = sill + float(door.threshold), sill + float(door.clear_height)
    yield line(_box(a, low, b, high), "door", closed=True)


def _box(left: float, low: float, right: float, high: float) -> Array:
    return np.array([(left, low), (right, low), (right, high), (left, high)])


def _section_sizes(shop: Shop) -> Iterator[Wanted]:
    points = np.concatenate([part.points for part in _moved(shop)])
    tallest = points[points[:, 2] > points[:, 2].max() - 1e-3]
    top = tallest[int(np.argmax(tallest[:, 0]))]  # the one on the side that its height stands on
    at = np.array([-top[0], top[2]])
    told, floor = shop.aircraft.teller, shop.room.height
    high = float(top[2]) - floor
    yield Wanted(
        "height", high, told.words(high), np.array([at[0], floor]), at, "left",
        told.tail("height"),
    )  # fmt: skip
    for door in shop.room.place.doors[:1]:
        ends = door_ends(shop.room.place, door)
        head = float(door.clear_height)
        x = -float(ends[0][0])
        words = said(head, "length", shop.say)
        sill = door_floor(shop.room.place, door)
        start, end = np.array([x, sill]), np.array([x, sill + head])
        yield Wanted("door head", head, words, start, end, "right")


def _rows(shop: Shop, numbers: dict[str, int]) -> Iterator[FactRow]:
    yield FactRow("room", shop.room.place.name)
    yield FactRow("way out", *_told_way(shop))
    pieces: dict[str, list[Fixed]] = {}
    for thing in shop.room.fixed:
        pieces.setdefault(thing.name, []).append(thing)
    for name, number in numbers.items():
        thing = pieces[name][0]
        low = min(piece.as_given[0] for piece in pieces[name])
        high = max(piece.as_given[1] for piece in pieces[name])
        words = thing.kind
        if thing.kind == "obstacle":
            words = (
                f"from {said(low, 'length', shop.say)}"
                if low > 0.0
                else (f"to {said(high, 'length', shop.say)}")
            )
        yield FactRow(f"{number}  {name}", words)
    group = shop.plan.marks.groups[0]
    for taped in group.taped:
        yield FactRow(
            f"x  {taped.name}",
            f"{said(taped.from_first, 'length', shop.say)}, "
            f"{said(taped.from_second, 'length', shop.say)}",
        )
    if group.taped:
        one = group.taped[0]
        yield FactRow("", "", f"x: tapes from {one.first.name} and {one.second.name}")


def _told_way(shop: Shop) -> tuple[str, str]:
    if shop.found is None:
        return "not asked", "no door, or it stands where none is found"
    if shop.found.answer == WAY:
        steps = len(shop.plan.steps)
        return f"in {steps} step{'' if steps == 1 else 's'}", "the broken line: keep clear"
    if shop.found.answer == NONE:
        return "none", "that keeps what the place asks; planform rollout tells why"
    return "not decided here", "planform rollout searches longer"
