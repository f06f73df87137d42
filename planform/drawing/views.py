"""Plan view of the room, and the view through the door: drawn from the posed parts themselves."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from planform.airframe.outlines import Shape, outline
from planform.airframe.part import Part
from planform.airframe.raised import raised
from planform.airframe.stance import Standing
from planform.core.frames import floor2place
from planform.design.doors import Door
from planform.design.kinds import ROLES
from planform.design.roof import RoofLine
from planform.design.told import said
from planform.drawing.drawing import Drawing
from planform.drawing.sheet import Sheet
from planform.fit.answer import FitAnswer
from planform.fit.room import Fixed, Room, spot_point

Array = NDArray[np.float64]

AROUND = 12.0
"""How far outside the walls a plan may reach [m]."""

MARGIN = 60.0
"""Free paper beside a plan, for words [px]."""


def _moved(part: Part, turn: Array, shift: Array) -> Part:
    from dataclasses import replace

    return replace(part, points=part.points @ turn.T + shift)


def _walls(room: Room) -> list[Fixed]:
    return [f for f in room.fixed if f.kind == "wall"]


def room_extent(room: Room) -> tuple[Array, Array]:
    """The least and the greatest corner of the room with its walls, shape (2,) [m].

    What stands outside is drawn too, as far as `AROUND`.
    """
    corners = np.concatenate([room.floor, *[w.outline for w in _walls(room)]])
    low, high = corners.min(axis=0), corners.max(axis=0)
    if room.place.outside is None:
        return low, high
    things = [corners, *(t.outline for t in room.fixed if t.kind == "obstacle")]
    near = np.clip(np.concatenate(things), low - AROUND, high + AROUND)
    return near.min(axis=0), near.max(axis=0)


def draw_room(sheet: Sheet, room: Room, system: str) -> None:
    """Floor, walls, door openings, things that stand and things that hang."""
    walls = _walls(room)
    sheet.polygon(room.floor, "floor")
    for thing in room.fixed:
        if thing in walls:
            sheet.polygon(thing.outline, "wall")
        elif thing.kind == "door head":
            sheet.polygon(thing.outline, "opening")
            name = thing.name.removeprefix("head of ")
            words = f"{name}, {_height(thing, True, system)} to its head"
            sheet.note(thing.outline[:2].mean(axis=0), words, "small")
    for thing in room.fixed:
        if thing.kind == "obstacle":
            hanging = thing.low > 0.0
            sheet.polygon(thing.outline, "hanging" if hanging else "standing")
        elif thing.kind in ("kept free", "kept off"):
            sheet.polygon(thing.outline, "kept")
    for drain in room.place.floor.drains:
        line = [(float(x), float(y)) for x, y in drain.line]
        sheet.line(line, "bend")
        sheet.note(line[0], drain.name, "small")
    _roof(sheet, room, system)
    for name, shape in parked(room):
        sheet.shape(shape, "parked", name)


def _roof(sheet: Sheet, room: Room, system: str) -> None:
    """Where a sloping ceiling bends, as a line with its height there; of an arch ends and crown."""
    import shapely

    floor = shapely.polygons(room.floor)
    low, high = room_extent(room)
    for line, at, height in _bends(room):
        ends = np.array([low, high])
        ends[:, line.axis] = at
        bend = shapely.linestrings(ends).intersection(floor)
        if len(room.roof) > 1:
            bend = _lowest(room, line, bend)
        pieces = shapely.get_parts(bend)
        lines = [piece for piece in pieces if piece.length > 1e-6]
        for piece in lines:
            sheet.line(list(piece.coords), "bend")
        end = np.array(max(lines, key=lambda one: one.length).coords[-1]) if lines else ends[1]
        sheet.note(end, f"ceiling {said(height, 'length', system)}", "small")


def _bends(room: Room) -> Iterator[tuple[RoofLine, float, float]]:
    """The lines of a sloping ceiling, where each bends, and its height there [m]."""
    for line in room.roof:
        count = len(line.at)
        wanted = range(count) if not line.arc else (0, count // 2, count - 1)
        for k in wanted if not line.level else ():
            yield line, line.at[k], line.height[k]


def _lowest(room: Room, line: RoofLine, bend: Shape) -> Shape:
    """Of a bend of one line of a ceiling, what no other line is lower than."""
    import shapely

    axis = 1 - line.axis
    kept = []
    for piece in shapely.get_parts(bend):
        ends = np.asarray(piece.coords)
        places = [at for other in room.roof if other.axis == axis for at in other.at]
        along = np.union1d(places, ends[:, axis])
        along = along[(along >= ends[:, axis].min()) & (along <= ends[:, axis].max())]
        points = np.repeat(ends[:1], len(along), axis=0)
        points[:, axis] = along
        middles = 0.5 * (points[:-1] + points[1:])
        free = line.over(middles[:, line.axis]) <= room.ceiling_over(middles) + 1e-9
        kept += [shapely.linestrings(points[k : k + 2]) for k in np.flatnonzero(free)]
    return shapely.line_merge(shapely.multilinestrings(kept)) if kept else bend


def margin_for(wide: float, width: int, least: float = 0.9) -> float:
    """Margin of a plan so wide on a sheet of so many px [m], with a place for words beside it."""
    return max(least, MARGIN * wide / (width - 2.0 * MARGIN))


def parked(room: Room) -> list[tuple[str, Shape]]:
    """The aircraft that stand in the room beside the one looked at: names and plan outlines."""
    import shapely

    names = dict.fromkeys(t.name for t in room.fixed if t.kind == "aircraft")
    rings = {n: [t.outline for t in room.fixed if t.name == n] for n in names}
    return [(n, shapely.union_all([shapely.polygons(r) for r in rings[n]])) for n in names]


def label_things(sheet: Sheet, room: Room, system: str) -> None:
    """The name of every thing, and how far down or up it reaches; alike ones of a row once."""
    found: dict[tuple[str, str], list[tuple[str, Array]]] = {}
    rows = {thing.name for thing in room.place.obstacles if thing.rows}
    for pieces in named(room):
        lowest = min(pieces, key=lambda piece: piece.low)
        hanging = lowest.low > 0.0
        far = lowest if hanging else max(pieces, key=lambda piece: piece.high)
        height = f"{'from' if hanging else 'to'} {_height(far, hanging, system)}"
        middle = np.concatenate([piece.outline for piece in pieces]).mean(axis=0)
        base, _, number = far.name.rpartition(" ")
        alike = base if base in rows and number.isdecimal() else far.name
        found.setdefault((alike, height), []).append((far.name, middle))
    for (alike, height), things in found.items():
        numbers = [name.removeprefix(f"{alike} ") for name, _ in things]
        name = things[0][0] if len(things) == 1 else f"{alike} {numbers[0]} to {numbers[-1]}"
        sheet.note(things[0][1], f"{name}, {height}", "small")
    for name, shape in parked(room):
        middle = shape.centroid
        sheet.note((middle.x, middle.y), f"{name}, parked", "small")


def named(room: Room) -> list[list[Fixed]]:
    """The pieces of each thing that stands, hangs or is kept free, by its name."""
    out: dict[str, list[Fixed]] = {}
    for thing in room.fixed:
        if thing.kind in ("obstacle", "kept free", "kept off"):
            out.setdefault(thing.name, []).append(thing)
    return list(out.values())


def _height(thing: Fixed, under: bool, system: str) -> str:
    """The height of its underside or top as the file gives it, and what it counts as if not so."""
    given, counts = thing.as_given[not under], thing.low if under else thing.high
    text = said(given, "length", system)
    safe = said(counts, "gap" if under else "over", system)
    return text if abs(counts - given) < 1e-9 or safe == text else f"{text} (counts as {safe})"


def plan_view(answer: FitAnswer, room: Room, system: str) -> Drawing:
    """The room from above with the aircraft on its spot and a leader at the least clearance."""
    low, high = room_extent(room)
    sheet = Sheet(low, high, margin=margin_for(float(high[0] - low[0]), 640))
    draw_room(sheet, room, system)
    spot = spot_point(room.place, answer.spot) if answer.spot else None
    if spot is not None:
        turn = floor2place(float(spot.heading))
        shift = np.array([float(spot.at[0]), float(spot.at[1]), 0.0])
        for part in sorted(answer.standing.parts, key=lambda p: float(p.points[:, 2].max())):
            moved = _moved(part, turn, shift)
            sheet.shape(outline(moved), ROLES[part.role].line, part.name)
    label_things(sheet, room, system)
    least = answer.least
    if least is not None:
        gap = said(least.gap, "gap", system)
        side = "overlap" if least.gap < 0.0 else least.direction
        sheet.dimension(least.at_part, least.at_thing, f"{gap} ({side})")
    scale_bar(sheet, system)
    return sheet.drawing(f"{room.place.name} from above: {answer.standing.title}")


def scale_bar(sheet: Sheet, system: str) -> None:
    """Five feet or two metres, at the lower left."""
    length = 1.524 if system in ("ft-in", "in") else 2.0
    start = sheet.low + np.array([0.3, 0.25])
    sheet.line([start, start + np.array([length, 0.0])], "thin")
    for end in (0.0, length):
        sheet.line([start + np.array([end, -0.07]), start + np.array([end, 0.07])], "thin")
    sheet.words(
        start + np.array([length + 0.1, -0.05]), said(length, "length", system), "small", "start"
    )


def silhouette(parts: tuple[Part, ...], across: Array) -> list[tuple[Part, Shape]]:
    """Each part's upright silhouette seen along the floor: `across` (3,) is the sheet's x axis."""
    from dataclasses import replace

    out = []
    for part in parts:
        flat = np.column_stack(
            [part.points @ across, part.points[:, 2], np.zeros(len(part.points))]
        )
        depth = np.cross(across, np.array([0.0, 0.0, 1.0]))
        flat[:, 2] = part.points @ depth
        out.append((part, outline(replace(part, points=flat))))
    return out


def front_view(answer: FitAnswer, room: Room, system: str) -> Drawing | None:
    """The aircraft from ahead, standing on the floor, drawn over the first door's clear opening."""
    if not room.place.doors:
        return None
    return front_views([answer.standing], room.place.doors[0], system)[0]


def front_views(
    standings: Sequence[Standing], door: Door | None, system: str, width: int = 640
) -> list[Drawing]:
    """Aircraft from ahead, all to one scale, over a door's clear opening where one is given."""
    standings = [raised(standing, 0.0) for standing in standings]  # as on the door's own floor
    points = [standing.all_points() for standing in standings]
    half = max(float(np.abs(p[:, 1]).max()) for p in points)
    top = max(float(p[:, 2].max()) for p in points)
    if door is not None:
        half, top = max(half, 0.5 * float(door.clear_width)), max(top, float(door.clear_height))
    return [_front(standing, door, system, half, top, width) for standing in standings]


def _front(
    standing: Standing, door: Door | None, system: str, half: float, top: float, width: int
) -> Drawing:
    points = standing.all_points()
    low, high_corner = np.array([-half, -0.15]), np.array([half, top + 0.3])
    sheet = Sheet(low, high_corner, width=width, margin=0.5)
    opening: list[tuple[float, float]] = []
    if door is not None:
        w, h, sill = 0.5 * float(door.clear_width), float(door.clear_height), float(door.threshold)
        opening = [(-w, sill), (w, sill), (w, h), (-w, h)]
        sheet.polygon(opening, "floor")
    across = np.array([0.0, -1.0, 0.0])  # from ahead, its right is on the reader's left
    for part, shape in silhouette(standing.parts, across):
        sheet.shape(shape, ROLES[part.role].line, part.name)
    sheet.line([(-half - 0.4, 0.0), (half + 0.4, 0.0)], "thin")
    over = ""
    if door is not None:
        sheet.polygon(opening, "opening")
        size = f"{said(2 * w, 'length', system)} x {said(h, 'length', system)} clear"
        sheet.note((0.0, h), f"{door.name}: {size}", "small")
        over = f", over {door.name}"
    high = points[int(np.argmax(points[:, 2]))]
    at = float(high @ across)
    sheet.dimension((at, 0.0), (at, high[2]), said(float(high[2]), "length", system), ends=None)
    return sheet.drawing(f"From ahead{over}: {standing.title}")
