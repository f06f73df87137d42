"""The aircraft as it stands from ahead, from the side and from above, each with its dimensions.

The views belong together by first or third angle projection (ISO 128-3, ISO 5456-2): the nose
points down the page from above, so that plan and front view share their butt lines.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from planform.airframe.builders.propellers import disc
from planform.airframe.measure import Measures
from planform.airframe.measure_wheels import BASE, TRACK, wheel_lines
from planform.airframe.part import Part
from planform.airframe.presence import of_wing, surface_role
from planform.airframe.stance import Standing
from planform.design.drawings import AskedDimension, DrawingNotes
from planform.drawing.lines.frames import FRAMES
from planform.drawing.lines.line_view import line_view
from planform.drawing.lines.united import United, only_swept, united
from planform.drawing.paper.arranging import Side
from planform.drawing.paper.marks import Array, Mark, line
from planform.drawing.paper.placing import Seen, Wanted
from planform.report.sheets.telling import Teller

AHEAD, ABOVE, FROM_LEFT, FROM_RIGHT = (FRAMES[name] for name in ("ahead", "above", "left", "right"))

SAME = 1e-3
"""Heights nearer to each other than this are told once [m]."""
PAST = 0.12
"""How far the floor's line runs past the aircraft [m]."""


@dataclass(frozen=True, eq=False)
class Aircraft:
    """An aircraft as it stands, with what a sheet tells of it.

    hidden : what lies behind is drawn too, dashed
    """

    standing: Standing
    found: Measures
    teller: Teller
    hidden: bool = False

    @property
    def drawings(self) -> DrawingNotes:
        """What its file says of its drawings."""
        return self.standing.airframe.design.drawings or DrawingNotes()

    @cached_property
    def points(self) -> Array:
        """All its points, shape (n, 3) [m]."""
        return self.standing.all_points()

    @cached_property
    def solid(self) -> United:
        """All that is on it, united; panels cut from a skin lie on it, see `_on_the_skin`."""
        design = self.standing.airframe.design
        cut = {name for name, panel in design.panels.items() if panel.frames is not None}
        parts = [_on_the_skin(p) if p.group in cut else p for p in self.standing.parts]
        return united(parts, swept=only_swept(self.standing))

    @cached_property
    def arc(self) -> Array:
        """What the blades of its propeller sweep, shape (n, 3) [m]; empty where it has none."""
        propeller = self.standing.airframe.design.propeller
        if propeller is None or propeller.blades is None or not self.of_role("propeller"):
            return np.zeros((0, 3))
        return self.standing.to_floor(disc(propeller)[0])

    def farthest(self, axis: int, sign: float) -> Array:
        """Its outermost point along an axis of the floor, shape (3,) [m]."""
        return np.asarray(self.points[int(np.argmax(sign * self.points[:, axis]))])

    def of_role(self, role: str) -> list[Part]:
        """Its parts with this role."""
        return [part for part in self.standing.parts if part.role == role]


def _on_the_skin(panel: Part) -> Part:
    """A panel drawn out by as much as it may lie under the skin that it is cut from.

    Its facets are not those of the skin, so the two run in and out of each other; drawn out, what
    is seen of it is its rim.
    """
    sides = panel.points[panel.faces]
    square = np.cross(sides[:, 1] - sides[:, 0], sides[:, 2] - sides[:, 0])
    outward = np.zeros_like(panel.points)
    for corner in range(3):
        np.add.at(outward, panel.faces[:, corner], square)
    size = np.linalg.norm(outward, axis=1, keepdims=True)
    return replace(panel, points=panel.points + panel.bulge * outward / np.maximum(size, 1e-12))


def from_ahead(aircraft: Aircraft) -> Seen:
    """The front view: track, tip heights, overall width and height."""
    return _seen(aircraft, "from ahead", AHEAD, _front(aircraft))


def from_above(aircraft: Aircraft) -> Seen:
    """The plan: overall length, foreplane span, wheel base."""
    return _seen(aircraft, "from above", ABOVE, _plan(aircraft))


def from_side(aircraft: Aircraft, *, left: bool) -> Seen:
    """The side view: length, wheel base, heights of nose, hull and propeller."""
    name = "side, from the left" if left else "side, from the right"
    frame = FROM_LEFT if left else FROM_RIGHT
    return _seen(aircraft, name, frame, _side(aircraft, frame))


def _seen(aircraft: Aircraft, name: str, frame: Array, wanted: Iterable[Wanted]) -> Seen:
    flat = np.concatenate([aircraft.points, aircraft.arc]) @ frame[:2].T
    low, high = flat.min(axis=0), flat.max(axis=0)
    marks: list[Mark] = [*_turning(aircraft, frame), *lines_of(aircraft, frame)]
    if frame[1, 2] == 1.0:
        low[1] = min(0.0, low[1])
        marks.append(line([(low[0] - PAST, 0.0), (high[0] + PAST, 0.0)], "floor"))
    if frame[0, 1] != 0.0:
        marks.append(line([(0.0, low[1] - PAST), (0.0, high[1] + PAST)], "centre"))
    asked = [_asked(aircraft, one, frame) for one in aircraft.drawings.ask if one.view in name]
    told = [one for one in (*wanted, *asked) if one.key not in aircraft.drawings.hide]
    return Seen(name, tuple(marks), low, high, tuple(_farther(aircraft, one) for one in told))


def _turning(aircraft: Aircraft, frame: Array) -> Iterator[Mark]:
    """The rim of what the blades sweep as they turn."""
    import shapely

    if len(aircraft.arc):
        rim = shapely.convex_hull(shapely.multipoints(aircraft.arc @ frame[:2].T))
        yield line(np.array(rim.exterior.coords)[:-1], "swept", closed=True)


def _farther(aircraft: Aircraft, one: Wanted) -> Wanted:
    """The dimension as far off as the file moves it."""
    move = aircraft.drawings.move.get(one.key)
    return one if move is None else replace(one, extra=1000.0 * float(move))


def _asked(aircraft: Aircraft, one: AskedDimension, frame: Array) -> Wanted:
    """A dimension that the file asks for, between two points of the aircraft's axes."""
    given = np.array([[float(p.fs), float(p.bl), float(p.wl)] for p in (one.start, one.end)])
    start, end = aircraft.standing.to_floor(given) @ frame[:2].T
    step = np.abs(end - start)
    value = {"level": step[0], "upright": step[1], "straight": np.hypot(*step)}[one.along]
    side: Side | None = {"level": "below", "upright": "right", "straight": None}[one.along]
    words = aircraft.teller.words(float(value))
    if side is None:  # the name stands under the line, which is seldom long enough for both
        return Wanted(one.name, float(value), words, start, end, side, one.name)
    return Wanted(one.name, float(value), f"{words} {one.name}", start, end, side)


def _between(
    aircraft: Aircraft, key: str, frame: Array, ends: tuple[Array, Array], side: Side
) -> Wanted:
    """A dimension of a measure, between two points of the floor's axes."""
    start, end = (frame[:2] @ one for one in ends)
    axis = 0 if side in ("above", "below") else 1
    value = abs(float(end[axis] - start[axis]))
    words = aircraft.teller.words(value)
    return Wanted(key, value, words, start, end, side, aircraft.teller.tail(key))


def _height(aircraft: Aircraft, key: str, frame: Array, top: Array, side: Side) -> Wanted:
    """The height of a point over the floor."""
    foot = np.array([top[0], top[1], 0.0])
    return _between(aircraft, key, frame, (foot, top), side)


def _front(aircraft: Aircraft) -> Iterator[Wanted]:
    left, right = aircraft.farthest(1, -1.0), aircraft.farthest(1, 1.0)
    yield _between(aircraft, "width", AHEAD, (left, right), "below")
    for one in wheel_lines(aircraft.standing):
        if one.key == TRACK:
            yield _between(aircraft, TRACK, AHEAD, (one.start, one.end), "below")
    tips = {
        "right": _tip(aircraft, -1.0),
        "left": _tip(aircraft, 1.0),
    }
    heights = [float(tip[2]) for tip in tips.values() if tip is not None]
    sides: dict[str, Side] = {"right": "right", "left": "left"}
    for name, tip in tips.items():
        if tip is not None and (name == "left" or np.ptp(heights) > SAME):
            key = "tip_height" if name == "left" else "right_tip_height"
            yield _height(aircraft, key, AHEAD, tip, sides[name])
    top = aircraft.farthest(2, 1.0)
    if not heights or abs(float(top[2]) - max(heights)) > SAME:
        yield _height(aircraft, "height", AHEAD, top, "right")


def _tip(aircraft: Aircraft, side: float) -> Array | None:
    """The highest point of the wing and what stands on it, on one side; None where there is none.

    side : -1.0 left, 1.0 right
    """
    standing = aircraft.standing
    points = [p.points for p in standing.parts if of_wing(standing.airframe, p)]
    if not points:
        return None
    every = np.concatenate(points)
    mine = every[side * every[:, 1] > 0.0]
    return None if not len(mine) else np.asarray(mine[int(np.argmax(mine[:, 2]))])


def _plan(aircraft: Aircraft) -> Iterator[Wanted]:
    standing = aircraft.standing
    nose, tail = aircraft.farthest(0, -1.0), aircraft.farthest(0, 1.0)
    yield _between(aircraft, "length", ABOVE, (nose, tail), "left")
    fore = [p for p in standing.parts if surface_role(standing.airframe, p) == "foreplane"]
    if fore:
        points = np.concatenate([part.points for part in fore])
        ends = tuple(points[int(np.argmax(sign * points[:, 1]))] for sign in (-1.0, 1.0))
        yield _between(aircraft, "foreplane_span", ABOVE, (ends[0], ends[1]), "below")


def _side(aircraft: Aircraft, frame: Array) -> Iterator[Wanted]:
    nose, tail = aircraft.farthest(0, -1.0), aircraft.farthest(0, 1.0)
    yield _between(aircraft, "length", frame, (nose, tail), "below")
    middle = np.zeros(3)
    yield _between(aircraft, "nose_to_spot", frame, (nose, middle), "below")
    yield _between(aircraft, "spot_to_tail", frame, (middle, tail), "below")
    for one in wheel_lines(aircraft.standing):
        if one.key == BASE:
            yield _between(aircraft, BASE, frame, (one.start, one.end), "below")
    ahead: Side = "left" if frame[0, 0] > 0.0 else "right"
    aft: Side = "right" if ahead == "left" else "left"
    bodies = aircraft.standing.airframe.design.bodies
    hulls = [p for p in aircraft.standing.parts if p.group in bodies]
    if hulls:
        points = np.concatenate([part.points for part in hulls])
        yield _height(aircraft, "hull_top", frame, points[int(np.argmax(points[:, 2]))], ahead)
        yield _height(aircraft, "nose_height", frame, points[int(np.argmin(points[:, 0]))], ahead)
    for part in aircraft.of_role("propeller"):
        turning = aircraft.arc if len(aircraft.arc) else part.points
        low, high = (turning[k(turning[:, 2])] for k in (np.argmin, np.argmax))
        yield _height(aircraft, "propeller_ground_clearance", frame, low, aft)
        yield _height(aircraft, "propeller_top", frame, high, aft)


def lines_of(aircraft: Aircraft, frame: Array) -> Iterator[Mark]:
    """What is seen of the aircraft: lines in the picture's plane [m]."""
    for one in line_view(aircraft.solid, frame, hidden=aircraft.hidden).lines:
        yield line(one.points, one.kind)
