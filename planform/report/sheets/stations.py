"""The aircraft in its own axes with scales of stations, butt lines and water lines; sections."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from planform.airframe.surfaces import Half
from planform.design.kinds import INNER, roles_in
from planform.design.told import said
from planform.design.units import INCH
from planform.drawing.lines.cut import PlaneSection, section_across
from planform.drawing.lines.frames import FRAMES
from planform.drawing.lines.line_view import line_view
from planform.drawing.paper.frame import Title
from planform.drawing.paper.marks import Array, Foot, Lettering, Mark, line
from planform.drawing.paper.page import Page
from planform.drawing.paper.placing import Seen
from planform.drawing.paper.sizes import PaperSize, scales_for
from planform.report.sheets.aircraft_views import Aircraft
from planform.report.sheets.gallery import Captioned, gallery

TITLE = "Stations, butt lines and water lines"
SECTIONS = "Sections"
STEP = {True: (10.0 * INCH, 5), False: (0.25, 4)}
"""Between two ticks of a scale [m], 10 in or 250 mm, and every how many are named."""
HUNDREDTHS = {"tick": 0.6, "long": 1.4, "off": 1.5, "words": 2.6, "name": 9.0}
"""Sizes of a scale in hundredths of the aircraft's largest size: ticks, the free paper beside the
aircraft, how far below a long tick its words stand, and below it the scale's name."""
LETTER = 1.6
INBOARD = 1e-3
"""A section at the end of a panel is taken so far inboard of it [m]."""
DEEP = 0.15
"""How far a section reaches over or under its chord, of the chord; assumption."""
HULL_CUTS = 6
"""Sections of the hull, evenly along it; assumption."""


def stations_page(aircraft: Aircraft, paper: PaperSize, title: Title) -> Page:
    """Side view, plan and front view in the aircraft's own axes, a scale along their edges."""
    views = [
        Captioned(_scaled(aircraft, "left", (1.0, 1.0), ("FS", "WL")), "from the left"),
        Captioned(_scaled(aircraft, "above", (-1.0, 1.0), ("BL", "FS")), "from above"),
        Captioned(_scaled(aircraft, "ahead", (-1.0, 1.0), ("BL", "WL")), "from ahead"),
    ]
    return gallery(views, paper, scales_for(aircraft.teller.system), title)


def sections_page(aircraft: Aircraft, paper: PaperSize, title: Title) -> Page:
    """The hull cut at stations, and the wing where its panels begin and end."""
    views = [*_hull(aircraft), *_wing(aircraft)]
    return gallery(views, paper, scales_for(aircraft.teller.system), title)


def _scaled(
    aircraft: Aircraft, name: str, signs: tuple[float, float], axes: tuple[str, str]
) -> Seen:
    """A view in the aircraft's own axes with its two scales.

    signs : whether each axis of the picture runs as the aircraft's own does
    """
    standing = aircraft.standing
    frame = FRAMES[name] @ standing.turn.T  # type: ignore[index]
    shift = frame @ standing.shift
    marks: list[Mark] = []
    for one in line_view(aircraft.solid, frame, hidden=aircraft.hidden).lines:
        marks.append(line(one.points - shift[:2], one.kind))
    flat = aircraft.points @ frame[:2].T - shift[:2]
    low, high = flat.min(axis=0), flat.max(axis=0)
    marks += _scale(aircraft, axes[0], 0, low, high, signs[0])
    marks += _scale(aircraft, axes[1], 1, low, high, signs[1])
    size = _hundredth(low, high)
    reach = size * (HUNDREDTHS["off"] + HUNDREDTHS["long"] + HUNDREDTHS["name"])
    room = size * np.array([0.0, 1.0 + HUNDREDTHS["words"]])
    return Seen(f"{name}, own axes", tuple(marks), low - reach, high + room)


def _hundredth(low: Array, high: Array) -> float:
    return float((high - low).max()) / 100.0


def _scale(
    aircraft: Aircraft, words: str, axis: int, low: Array, high: Array, sign: float
) -> Iterator[Mark]:
    """A scale under a view or on its left: a line, ticks at round values, every few named."""
    inches = aircraft.teller.system in ("ft-in", "in")
    step, named = STEP[inches]
    size = {name: share * _hundredth(low, high) for name, share in HUNDREDTHS.items()}
    across = float(low[1 - axis]) - size["off"]

    def point(along: float, off: float) -> Array:
        return np.array([along, across - off] if axis == 0 else [across - off, along])

    yield line([point(float(low[axis]), 0.0), point(float(high[axis]), 0.0)], "scale")
    first = int(np.ceil(low[axis] / step - 1e-9))
    last = int(np.floor(high[axis] / step + 1e-9))
    for k in range(first, last + 1):
        long = k % named == 0
        tick = size["long" if long else "tick"]
        yield line([point(k * step, 0.0), point(k * step, tick)], "scale")
        if long:
            told = f"{sign * k * step / (INCH if inches else 0.001):.0f}"
            told = told.removeprefix("-") if words == "BL" else told
            off = size["long"] + (size["words"] if axis == 0 else 0.5 * size["tick"])
            foot: Foot = "middle" if axis == 0 else "end"
            yield Lettering(point(k * step, off), told, LETTER, foot)
    told = f"{words}, {'in' if inches else 'mm'}"
    if axis == 0:
        at = point(float(low[0]), size["long"] + size["name"])
        yield Lettering(at, told, LETTER, "start", bold=True)
    else:
        at = point(float(high[1]) + size["tick"], 0.0)
        yield Lettering(at, told, LETTER, "middle", bold=True)


def _hull(aircraft: Aircraft) -> Iterator[Captioned]:
    standing = aircraft.standing
    roles = {*roles_in("bodies"), *roles_in("panels")}
    points = [
        p.points for p in standing.airframe.parts if p.group in standing.airframe.design.bodies
    ]
    if not points or not any(p.role in roles for p in standing.parts):
        return
    every = np.concatenate(points)
    low, high = float(every[:, 0].min()), float(every[:, 0].max())
    for share in (np.arange(HULL_CUTS) + 0.5) / HULL_CUTS:
        at = low + float(share) * (high - low)
        words = said(at, "station", aircraft.teller.system)
        yield from _cut(aircraft, section_across(standing, "station", at), words, roles)


def _wing(aircraft: Aircraft) -> Iterator[Captioned]:
    """The right wing just inboard of where each of its panels ends."""
    standing = aircraft.standing
    halves = [half for half in standing.airframe.halves_in("wing") if half.side > 0]
    for half in halves[:1]:
        for k, bl in enumerate(half.leading_edge[1:, 1], start=1):
            words = said(float(bl), "butt", aircraft.teller.system)
            found = section_across(standing, "butt line", float(bl) - _inboard(half, k))
            yield from _cut(aircraft, found, words, {half.role})


def _inboard(half: Half, k: int) -> float:
    """How far inboard of a cut an upright plane clears the end of its panel, which leans [m]."""
    lean = float(np.abs(np.sin(half.angle[k - 1 : k + 1])).max())
    high = float(half.chord[k]) * (DEEP + abs(float(np.sin(half.incidence[k]))))
    span = float(half.leading_edge[k, 1] - half.leading_edge[k - 1, 1])
    return max(INBOARD, min(INBOARD + high * lean, 0.5 * span))


def _cut(
    aircraft: Aircraft, found: PlaneSection, words: str, roles: set[str]
) -> Iterator[Captioned]:
    """The rings of parts with these roles in a section, and of the inner parts in them."""
    parts = aircraft.standing.airframe.by_name
    skins = [ring for ring in found.rings if parts[ring.part].role in roles]
    on = {name for ring in skins for name in (ring.part, parts[ring.part].group)}
    inner = [
        ring
        for ring in found.rings
        if parts[ring.part].role in INNER and on & {*parts[ring.part].hosts}
    ]
    if not skins:
        return
    marks = (
        *(line(ring.points, "cut", closed=True) for ring in skins),
        *(line(ring.points, "joint", closed=True) for ring in inner),
    )
    points = np.concatenate([ring.points for ring in skins])
    yield Captioned(Seen(words, marks, points.min(axis=0), points.max(axis=0)), words)
