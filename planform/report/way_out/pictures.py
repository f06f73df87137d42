"""Pictures of a route from above: one for each step, the floor marks, and the whole as frames."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planform.airframe.outlines import Shape, outline
from planform.airframe.stance import Standing
from planform.design.kinds import ROLES
from planform.design.told import said
from planform.drawing.drawing import Drawing
from planform.drawing.sheet import Sheet
from planform.drawing.views import (
    draw_room,
    label_things,
    margin_for,
    room_extent,
    scale_bar,
)
from planform.fit.moves import Pose, Tight
from planform.fit.room import Room
from planform.fit.steps import Step
from planform.fit.swept import (
    Mark,
    at_pose,
    contact_marks,
    end_marks,
    plan_outline,
    swept_outline,
)
from planform.fit.taping import Taped
from planform.fit.walkers import Post, shown_poses
from planform.report.way_out.instructions import turning_about
from planform.report.way_out.marks import FloorMarks

Array = NDArray[np.float64]

WIDTH = 640
SMALL = 300
LETTERS = {"left tip": "L", "right tip": "R", "nose": "N", "propeller": "P", "tail": "T"}
SHORT = 30.0
"""An arrow shorter than this [px] is drawn this long, beside its place."""


def aircraft_shapes(standing: Standing) -> list[tuple[Shape, str, str]]:
    """The outlines of the parts in floor axes, lowest first, with class and name."""
    parts = sorted(standing.parts, key=lambda p: float(p.points[:, 2].max()))
    return [(outline(part), ROLES[part.role].line, part.name) for part in parts]


def _sheet(low: Array, high: Array, heading: str, width: int) -> Sheet:
    """A sheet with its heading in words at the top."""
    lines = textwrap.wrap(heading, int(width / 9.2))
    margin = margin_for(float(high[0] - low[0]), width)
    scale = width / float(high[0] - low[0] + 2.0 * margin)
    tall = np.array([0.0, (19.0 * len(lines) - 12.0) / scale])
    sheet = Sheet(low, high + tall, width=width, margin=margin)
    for k, line in enumerate(lines):
        point = np.array([sheet.low[0] + 12.0 / sheet.scale, 0.0])
        point[1] = sheet.high[1] - (21.0 + 19.0 * k) / sheet.scale
        sheet.words(point, line, "called", "start")
    return sheet


def draw_ground(sheet: Sheet, room: Room, system: str) -> None:
    """The room, with what hangs hatched."""
    draw_room(sheet, room, system)
    for thing in room.fixed:
        if thing.kind == "obstacle" and thing.low > 0.0:
            sheet.hatch(thing.outline, "hatch")


def _hang(sheet: Sheet, room: Room) -> None:
    """What hangs, once more over the aircraft below it."""
    for thing in room.fixed:
        if thing.kind == "obstacle" and thing.low > 0.0:
            sheet.line([*thing.outline, thing.outline[0]], "hatch")
            sheet.hatch(thing.outline, "hatch", 9.0)


def _aircraft(sheet: Sheet, standing: Standing, pose: Pose) -> None:
    for shape, css, name in aircraft_shapes(standing):
        sheet.shape(at_pose(shape, pose), css, name)


def extent_with(room: Room, *shapes: Shape) -> tuple[Array, Array]:
    """The least and the greatest corner of the room and of shapes, shape (2,) [m]."""
    low, high = room_extent(room)
    for shape in shapes:
        x0, y0, x1, y1 = shape.bounds
        low, high = np.minimum(low, (x0, y0)), np.maximum(high, (x1, y1))
    return low, high


@dataclass(frozen=True, eq=False)
class StepShown:
    """A step with what its picture tells of it: its words, who walks where, where it is tight."""

    standing: Standing
    room: Room
    step: Step
    words: str
    places: Sequence[Post] = ()
    tights: Sequence[Tight] = ()


def step_drawing(shown: StepShown, system: str, small: bool = False) -> Drawing:
    """One step from above: start (dashed), places between, end (solid), and who stands where.

    small : a thumbnail, with no words but the walkers' letters
    """
    import shapely

    standing, room, step = shown.standing, shown.room, shown.step
    shape = plan_outline(standing)
    sweep = swept_outline(shape, step.moves)
    people = shapely.MultiPoint([place.point for place in shown.places]).buffer(0.3)
    extent = extent_with(room, sweep, *([people] if shown.places else []))
    heading = f"{step.number}. {shown.words}"
    if small:
        sheet = Sheet(*extent, width=SMALL, margin=0.3, wordless=True)
    else:
        sheet = _sheet(*extent, heading, WIDTH)
    draw_ground(sheet, room, system)
    sheet.shape(sweep, "sweep")
    first, *between = shown_poses(step, shape)
    for pose in between:
        sheet.shape(at_pose(shape, pose), "between")
    sheet.shape(at_pose(shape, first), "ghost", "start of the step")
    _aircraft(sheet, standing, step.end)
    _hang(sheet, room)
    label_things(sheet, room, system)
    _motion(sheet, standing, step, system)
    _walkers(sheet, shown.places)
    for tight in shown.tights:
        _leader(sheet, tight, shape, system)
    if not small:
        scale_bar(sheet, system)
    return sheet.drawing(heading)


def _track(step: Step, mark: Array) -> Array:
    return np.array([step.plain.at(k / 32).place(mark[None, :2])[0] for k in range(33)])


def _motion(sheet: Sheet, standing: Standing, step: Step, system: str) -> None:
    """The arrow of the motion: of the nose in a turn, of what goes straight in a slide."""
    nose = next(m for m in end_marks(standing) if m.kind == "nose")
    if step.plain.turn == 0.0 or step.kind not in ("turn", "slide and turn"):
        _arrow(sheet, _track(step, np.zeros(2)))
        return
    _arrow(sheet, _track(step, nose.point))
    if step.plain.centre is None:
        _arrow(sheet, _track(step, np.array(step.plain.carried)))
        return
    centre = np.array(step.plain.centre)
    for pose in (step.start, step.end):
        sheet.line([centre, nose.at(pose)[:2]], "arc")
    sheet.dot(centre, "pivot", 6.0)
    sheet.dot(centre, "head", 2.0)
    about = turning_about(standing, step, system)
    sheet.note(centre, "turning point" if "floor mark" in about else about, "called")


def _arrow(sheet: Sheet, track: Array) -> None:
    run = float(np.linalg.norm(np.diff(track, axis=0), axis=1).sum())
    if run <= 0.0:
        return
    if run * sheet.scale < SHORT:
        way = track[-1] - track[-2]
        way = way / float(np.linalg.norm(way))
        track = np.array([track[0], track[0] + way * SHORT / sheet.scale])
    sheet.arrow(track, "motion", "head")


def _walkers(sheet: Sheet, places: Sequence[Post]) -> None:
    for place in places:
        sheet.dot(place.point, "walker" if place.enough else "keepoff", 9.0)
        letter = LETTERS[place.mark.name]
        sheet.letter(place.point - np.array([0.0, 4.0 / sheet.scale]), letter, "person")


def _leader(sheet: Sheet, tight: Tight, shape: Shape, system: str) -> None:
    sheet.shape(at_pose(shape, tight.pose), "between")
    sheet.dimension(tight.at_part, tight.at_thing, tight_words(tight, system))


def tight_words(tight: Tight, system: str) -> str:
    """A tight instant in words."""
    run = tight.at_thing - tight.at_part
    upright = abs(float(run[2])) > float(np.hypot(run[0], run[1]))
    way = (" up" if run[2] > 0.0 else " down") if upright else ""
    return f"{said(tight.gap, 'gap', system)}{way}: {tight.part}, {tight.thing}"


def overview_drawing(
    standing: Standing, room: Room, steps: Sequence[Step], heading: str, system: str
) -> Drawing:
    """The whole way: swept outline, the pose before every step and after the last."""
    shape = plan_outline(standing)
    sweep = swept_outline(shape, [move for step in steps for move in step.moves])
    sheet = _sheet(*extent_with(room, sweep), heading, WIDTH)
    draw_ground(sheet, room, system)
    sheet.shape(sweep, "sweep")
    for step in steps[1:]:
        sheet.shape(at_pose(shape, step.start), "ghost")
    _aircraft(sheet, standing, steps[0].start)
    sheet.shape(at_pose(shape, steps[-1].end), "ghost")
    _hang(sheet, room)
    track = np.concatenate([_track(step, np.zeros(2)) for step in steps])
    sheet.arrow(track, "motion", "head")
    label_things(sheet, room, system)
    scale_bar(sheet, system)
    return sheet.drawing(heading)


def jam_drawing(
    standing: Standing, room: Room, parked: Pose, tights: Sequence[Tight], system: str
) -> Drawing:
    """Where it jams least of all: the aircraft there, from its spot (dashed), and what it meets."""
    jams = [t for t in tights if t.gap < 0.0]
    over = said(-jams[0].gap, "over", system)
    shape = plan_outline(standing)
    shapes = [at_pose(shape, pose) for pose in (parked, *(t.pose for t in jams))]
    heading = f"{standing.title}: where it jams least, over by {over}"
    sheet = _sheet(*extent_with(room, *shapes), heading, WIDTH)
    draw_ground(sheet, room, system)
    sheet.shape(shapes[0], "ghost")
    for other in shapes[2:]:
        sheet.shape(other, "between")
    _aircraft(sheet, standing, jams[0].pose)
    _hang(sheet, room)
    label_things(sheet, room, system)
    for tight in jams:
        sheet.dot(tight.at_thing[:2], "keepoff", 9.0)
        sheet.note(tight.at_thing[:2], f"{tight.part}, {tight.thing}", "strong")
    scale_bar(sheet, system)
    return sheet.drawing(heading)


def packed_drawing(
    room: Room, parked: Sequence[tuple[Standing, Pose, str]], heading: str, system: str
) -> Drawing:
    """Several aircraft parked in one room, each with its label, the higher parts over the lower."""
    outlines = [at_pose(plan_outline(standing), pose) for standing, pose, _ in parked]
    sheet = _sheet(*extent_with(room, *outlines), heading, WIDTH)
    draw_ground(sheet, room, system)
    shapes = []
    for standing, pose, label in parked:
        for part in standing.parts:
            top = float(part.points[:, 2].max())
            shape = at_pose(outline(part), pose)
            shapes.append((top, shape, ROLES[part.role].line, f"{label}: {part.name}"))
    for _, shape, css, title in sorted(shapes, key=lambda one: one[0]):
        sheet.shape(shape, css, title)
    _hang(sheet, room)
    label_things(sheet, room, system)
    for shape, (_, _, label) in zip(outlines, parked, strict=True):
        middle = shape.centroid
        sheet.note((middle.x, middle.y), label, "called")
    scale_bar(sheet, system)
    return sheet.drawing(heading)


def marks_drawing(standing: Standing, room: Room, marks: FloorMarks, system: str) -> Drawing:
    """The parked aircraft with its wheel, tip and stop marks and the tapes to the wheels."""
    heading = f"{standing.title}: floor marks of the spot"
    here = at_pose(plan_outline(standing), marks.spot)
    sheet = _sheet(*extent_with(room, here), heading, WIDTH)
    draw_ground(sheet, room, system)
    sheet.shape(here, "ghost")
    label_things(sheet, room, system)
    for mark in contact_marks(standing):
        _tyre(sheet, standing, mark, marks.spot)
    group = marks.group("parked")
    taped: tuple[Taped, ...] = group.taped if group else ()
    for one in taped:
        if "wheel" in one.name:
            for corner in (one.first, one.second):
                sheet.line([corner.point, one.point], "tape")
    for stop in marks.stops:
        sheet.line(stop.at(marks.spot), "board")
    for one in taped:
        sheet.dot(one.point, "spot", 5.0)
    for corner in {c.name: c for one in taped for c in (one.first, one.second)}.values():
        sheet.dot(corner.point, "spot", 4.0)
        sheet.note(corner.point, corner.name, "small")
    for one in taped:
        sheet.note(one.point, one.name)
    for stop in marks.stops:
        sheet.note(stop.at(marks.spot)[1], "stop board" if stop.on_floor else "tyre edge", "strong")
    scale_bar(sheet, system)
    return sheet.drawing(heading)


def _tyre(sheet: Sheet, standing: Standing, mark: Mark, pose: Pose) -> None:
    for part in standing.parts:
        if part.role == "wheel" and part.name == mark.part:
            sheet.shape(at_pose(outline(part), pose), "part", mark.name)


def chalk_drawing(standing: Standing, room: Room, marks: FloorMarks, system: str) -> Drawing:
    """The chalk line with its numbered corners round the parked aircraft."""
    heading = f"{standing.title}: keep the floor inside the chalk line clear"
    here = at_pose(plan_outline(standing), marks.spot)
    sheet = _sheet(*extent_with(room, here), heading, WIDTH)
    draw_ground(sheet, room, system)
    sheet.shape(marks.chalk, "sweep")
    sheet.shape(marks.chalk, "chalk")
    sheet.shape(here, "ghost")
    label_things(sheet, room, system)
    group = marks.group("chalk")
    for one in group.taped if group else ():
        sheet.dot(one.point, "spot", 3.5)
    for one in group.taped if group else ():
        sheet.note(one.point, one.name, "small")
    scale_bar(sheet, system)
    return sheet.drawing(heading)
