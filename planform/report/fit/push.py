"""The push out of a door over uneven ground: in words, and drawn from the side."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from planform.airframe.on_the_move import on_the_move
from planform.airframe.outlines import Shape
from planform.airframe.part import Part
from planform.core.motion.uneven_ground import GroundPose
from planform.design.kinds import ROLES
from planform.design.told import said
from planform.drawing.drawing import Drawing
from planform.drawing.sheet import Sheet
from planform.drawing.views import silhouette
from planform.fit.answer import FitAnswer
from planform.fit.push import Push
from planform.fit.push_path import PushPath, Tightest
from planform.fit.room import Room

Array = NDArray[np.float64]

SHOWN = (("head", "under the head"), ("ceiling", "to the ceiling"), ("ground", "over the ground"))
"""Kinds of clearance that are seen from the side, and their words."""

PUSHED = (
    "Each door is also judged as one straight push from wholly inside to wholly outside; walkers "
    "at tips and nose. Over a threshold, slope or plank the aircraft is followed on its own three "
    "wheels, along the door's middle, wheels taken as round and stiff; what is told there is "
    "proved to 1 mm.",
    "On a slope an aircraft rolls by itself: someone at the brakes, chocks carried along, a line "
    "to hold it, nobody below it. Planks slip and wheels climb with a jerk.",
)
"""What a reader must know about a judged push."""

LETTERS = "ABC"
ROW = 0.3
"""Height of a line of words under the ground [m]."""

MARGIN = 0.7
"""Ground drawn beyond the aircraft [m]."""
ASIDE = 1.8
"""Ground drawn at least this far either side of the wall, so that words have room [m]."""


def degrees(angle: float) -> str:
    """An angle to a tenth of a degree."""
    return f"{abs(np.degrees(angle)):.1f}\N{DEGREE SIGN}"


def leaning(pose: GroundPose) -> str:
    """How the aircraft stands, where it is not level to a twentieth of a degree."""
    out = []
    if abs(pose.pitch) > 0.00087:
        out.append(f"nose {'up' if pose.pitch > 0.0 else 'down'} {degrees(pose.pitch)}")
    if abs(pose.roll) > 0.00087:
        out.append(f"{'right' if pose.roll > 0.0 else 'left'} wing down {degrees(pose.roll)}")
    return ", ".join(out) or "level"


def place_on_the_way(along: float, system: str) -> str:
    """A place along the way in words."""
    side = "outside" if along >= 0.0 else "inside"
    return f"{said(abs(along), 'length', system)} {side} the inner wall line"


def instant(tight: Tightest, system: str) -> str:
    """Where on the way the least clearance is, and how the aircraft then stands."""
    where = place_on_the_way(tight.pose.along, system)
    return f"parking point {where}, {leaning(tight.pose)}"


def side_views(answer: FitAnswer, room: Room, system: str) -> list[Drawing]:
    """A side view of every push that could be followed."""
    return [side_view(answer, push, room, system) for push in answer.pushes if push.tightest]


def side_view(answer: FitAnswer, push: Push, room: Room, system: str) -> Drawing:
    """One push from the side: ground, wall over the door, the aircraft where it is tightest."""
    door = next(d for d in room.place.doors if d.name == push.door)
    way = PushPath(on_the_move(answer.standing), room, door, push.ahead, push.across)
    shown = [(t, words) for kind, words in SHOWN if (t := push.least(kind)) is not None]
    instants = _apart([t for t, _ in shown])
    ghosts = [_silhouettes(way, pose) for pose in instants]
    box = np.array([shape.bounds for ghost in ghosts for _, shape in ghost])
    left = min(float(box[:, 0].min()), -ASIDE) - MARGIN
    right = max(float(box[:, 2].max()), ASIDE) + MARGIN
    floor = [height for along, height in way.ground.line if left < along < right]
    ends = np.interp([left, right], *np.array(way.ground.line).T)
    low = min(0.0, *floor, *map(float, ends)) - 0.45 - ROW * len(instants)
    high = max(float(door.clear_height), float(box[:, 3].max())) + 1.0
    sheet = Sheet(np.array([left, low]), np.array([right, high]), width=1040, margin=0.15)
    _ground(sheet, way, left, right, low)
    for k, ghost in reversed(list(enumerate(ghosts))):
        for part, shape in ghost:
            css = "ghost" if k else ROLES[part.role].line
            sheet.shape(shape, css, part.name)
    _wall(sheet, way, high, left, system)
    for k, pose in sorted(enumerate(instants), key=lambda pair: pair[1].along):
        _stand(sheet, way, pose, LETTERS[k])
    for tight, words in shown:
        letter = LETTERS[instants.index(tight.pose)]
        said_so = f"{letter}: {said(tight.gap, 'gap', system)} {words}"
        sheet.dimension(tight.at_part[[0, 2]], tight.at_thing[[0, 2]], said_so)
    for k, pose in enumerate(instants):
        words = f"{LETTERS[k]}: {place_on_the_way(pose.along, system)}, {leaning(pose)}"
        sheet.words((left + 0.15, low + ROW * (len(instants) - k - 0.6)), words, "small", "start")
    return sheet.drawing(f"{push.door}, {push.way}, from the side: {answer.standing.title}")


def _apart(found: list[Tightest]) -> list[GroundPose]:
    """The instants to draw, tightest first."""
    return list(dict.fromkeys(t.pose for t in sorted(found, key=lambda t: t.gap)))


def _silhouettes(way: PushPath, pose: GroundPose) -> list[tuple[Part, Shape]]:
    parts = tuple(replace(piece.part, points=way.seen(piece.points, pose)) for piece in way.pieces)
    nearest_last = sorted(parts, key=lambda part: float(part.points[:, 1].max()))
    return silhouette(tuple(nearest_last), np.array([1.0, 0.0, 0.0]))


def _ground(sheet: Sheet, way: PushPath, left: float, right: float, low: float) -> None:
    line = [(along, height) for along, height in way.ground.line if left < along < right]
    a, b = np.interp([left, right], *np.array(way.ground.line).T)
    line = [(left, float(a)), *line, (right, float(b))]
    sheet.polygon([*line, (right, low - 1.0), (left, low - 1.0)], "earth")
    sheet.line(line, "surface")
    for strip in way.ground.strips[1:]:
        for top in strip.tops:
            under = np.interp([top.start, top.end], *np.array(way.ground.line).T)
            corners = [
                (top.start, top.start_height),
                (top.end, top.end_height),
                (top.end, float(under[1])),
                (top.start, float(under[0])),
            ]
            sheet.polygon(corners, "standing")


def _wall(sheet: Sheet, way: PushPath, high: float, left: float, system: str) -> None:
    head = float(way.door.clear_height)
    thick = way.thickness
    sheet.polygon([(0.0, head), (thick, head), (thick, high + 1.0), (0.0, high + 1.0)], "wall")
    sheet.line([(0.0, 0.0), (0.0, head)], "sight")
    sheet.line([(thick, 0.0), (thick, head)], "sight")
    label = f"{way.door.name}: {said(head, 'length', system)} to its head"
    sheet.note((thick, high - 0.25), label, "small")
    if way.room.place.ceiling is None:
        return
    along = np.linspace(left, 0.0, 60)
    points = np.column_stack([along, np.full(60, way.across), np.zeros(60)])
    heights = way.room.ceiling_over(way.to_place(points))
    sheet.line(np.column_stack([along, heights]), "roof")


def _stand(sheet: Sheet, way: PushPath, pose: GroundPose, letter: str) -> None:
    ground = float(np.interp(pose.along, *np.array(way.ground.line).T))
    sheet.line([(pose.along, ground - 0.03), (pose.along, ground - 0.15)], "leader")
    sheet.note((pose.along, ground - 0.2), letter, "strong")
