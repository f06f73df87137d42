"""A winglet in its own plane, with its chords, length and sweep, and its joint angle from ahead."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from planform.airframe.part import Part
from planform.airframe.surfaces import Half
from planform.drawing.lines.frames import FRAMES
from planform.drawing.lines.line_view import line_view
from planform.drawing.paper.arranging import Side
from planform.drawing.paper.frame import Title
from planform.drawing.paper.marks import Array, Mark, line
from planform.drawing.paper.page import Page
from planform.drawing.paper.placing import Seen, Wanted, WantedAngle
from planform.drawing.paper.sizes import PaperSize, scales_for
from planform.report.sheets.aircraft_views import Aircraft
from planform.report.sheets.gallery import Captioned, gallery

TITLE = "Winglets in their own plane"
AHEAD = FRAMES["ahead"]
ARC = 14.0
"""Radius of an angle's arc on paper [mm]."""


def winglet_halves(aircraft: Aircraft) -> tuple[Half, ...]:
    """The winglets that are on, one of each pair whose sides are alike."""
    on = {part.name for part in aircraft.standing.parts}
    found: dict[tuple[object, ...], Half] = {}
    for half in aircraft.standing.airframe.halves_in("winglet"):
        if any(name == half.name or name.startswith(f"{half.name} ") for name in on):
            key = (half.group, half.chord.tobytes(), half.leading_edge.tobytes())
            found.setdefault(key, half)
    return tuple(found.values())


def winglet_page(aircraft: Aircraft, paper: PaperSize, title: Title) -> Page:
    """Each winglet seen square to its plane, and from ahead with its cant."""
    views = []
    for half in winglet_halves(aircraft):
        views.append(Captioned(_own_plane(aircraft, half), f"{half.name} in its own plane"))
        views.append(Captioned(_joint(aircraft, half), f"{half.name} from ahead"))
    return gallery(views, paper, scales_for(aircraft.teller.system), title)


def _frame(half: Half) -> Array:
    """The picture's right (aft), up (along the winglet) and toward the eye, in aircraft axes."""
    edge = half.leading_edge[[0, -1]] * [1.0, half.side, 1.0]
    along = edge[1] - edge[0]
    along[0] = 0.0
    along /= np.linalg.norm(along)
    aft = np.array([1.0, 0.0, 0.0])
    return np.array([aft, along, np.cross(aft, along)])


def _parts_of(aircraft: Aircraft, half: Half) -> list[Part]:
    """The winglet and what stands on it, in the aircraft's axes."""
    every = aircraft.standing.airframe.parts
    return [part for part in every if part.name == half.name or half.name in part.hosts]


def _own_plane(aircraft: Aircraft, half: Half) -> Seen:
    """True lengths of one winglet."""
    frame = _frame(half)
    parts = _parts_of(aircraft, half)
    marks = tuple(line(one.points, one.kind) for one in line_view(parts, frame).lines)
    flat = np.concatenate([p.points for p in parts]) @ frame[:2].T
    edge = half.leading_edge * [1.0, half.side, 1.0] @ frame[:2].T
    return Seen(
        f"{half.name} in its own plane", marks, flat.min(axis=0), flat.max(axis=0),
        tuple(_sizes(aircraft, half, edge)), (_sweep(aircraft, half, edge),),
    )  # fmt: skip


def _sizes(aircraft: Aircraft, half: Half, edge: Array) -> Iterator[Wanted]:
    say = aircraft.teller.words
    chords: tuple[tuple[str, int, Side], ...] = (("root", 0, "below"), ("tip", -1, "above"))
    for key, k, side in chords:
        chord = float(half.chord[k])
        ends = edge[k], edge[k] + [chord, 0.0]
        yield Wanted(f"{half.name} {key} chord", chord, say(chord), *ends, side)
    long = float(edge[-1, 1] - edge[0, 1])
    yield Wanted(f"{half.name} length", long, say(long), edge[0], edge[-1], "left")
    aft = float(edge[-1, 0] - edge[0, 0])
    yield Wanted(f"{half.name} aft", aft, say(aft), edge[0], edge[-1], "below")


def _sweep(aircraft: Aircraft, half: Half, edge: Array) -> WantedAngle:
    """The sweep of the leading edge in the winglet's plane, from its root on."""
    way = edge[-1] - edge[0]
    sweep = float(np.arctan2(way[0], way[1]))
    start = np.pi / 2.0 - max(sweep, 0.0)
    words = aircraft.teller.words(sweep, "angle")
    return WantedAngle(f"{half.name} sweep", abs(sweep), words, edge[0], start, abs(sweep), ARC)


def _joint(aircraft: Aircraft, half: Half) -> Seen:
    """The winglet from ahead in the aircraft's axes, its cant from upright."""
    frame = AHEAD
    parts = _parts_of(aircraft, half)
    marks: list[Mark] = [line(o.points, o.kind) for o in line_view(parts, frame).lines]
    flat = np.concatenate([p.points for p in parts]) @ frame[:2].T
    low, high = flat.min(axis=0), flat.max(axis=0)
    edge = half.leading_edge * [1.0, half.side, 1.0] @ frame[:2].T
    way = edge[-1] - edge[0]
    turn = float(np.arctan2(way[1], way[0]))
    cant = abs(np.pi / 2.0 - turn)
    first = min(turn, np.pi / 2.0)
    marks.append(line([edge[0], edge[0] + [0.0, 0.7 * float(way[1])]], "centre"))
    say = aircraft.teller.words
    angle = WantedAngle(
        f"{half.name} cant", cant, say(cant, "angle"), edge[0], first, cant, 2.0 * ARC
    )
    side: Side = "left" if way[0] < 0.0 else "right"
    rise, out = abs(float(way[1])), abs(float(way[0]))
    sizes = (
        Wanted(f"{half.name} rise", rise, say(rise), edge[0], edge[-1], side),
        Wanted(f"{half.name} outboard", out, say(out), edge[0], edge[-1], "below"),
    )
    return Seen(f"{half.name} from ahead", tuple(marks), low, high, sizes, (angle,))
