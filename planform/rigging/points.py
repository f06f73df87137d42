"""Named points of a built airframe: what a builder can put a tape, a level or a plumb bob to."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from planform.airframe.build import Airframe, build, drawn
from planform.airframe.deviated import nearest_part
from planform.airframe.part import Part
from planform.airframe.presence import on_stage
from planform.airframe.sections import Section, along_at, section_at
from planform.airframe.surfaces import Half, spans
from planform.core.shape.distance import contains
from planform.core.vectors import Array
from planform.design.kinds import roles_in, supports
from planform.design.models import Stage
from planform.design.points import FarEnd, OwnPoint
from planform.design.problems import InputError, Problem, unknown
from planform.design.sided import SIDES, on_side


@dataclass(frozen=True, eq=False)
class NamedPoint:
    """A point with a name.

    name : as a builder says it, with its side ; part : the built part that it moves with
    at : shape (3,), aircraft axes [m] ; sort : what it is, such as 'tip' or 'axle'
    side : 'left', 'right' or ''
    """

    name: str
    part: str
    at: Array
    sort: str
    side: str = ""

    @property
    def mirrored_name(self) -> str:
        """The name of the point on the other side; its own on the centre line."""
        return _other(self.name)


def _other(name: str) -> str:
    swap = {"left": "right", "right": "left"}
    return re.sub(r"\b(left|right)\b", lambda found: swap[found[1]], name)


def named_points(airframe: Airframe, stage: Stage | None = None) -> tuple[NamedPoint, ...]:
    """All named points, of the parts that are on at a stage; names are unique.

    Raises InputError for a builder's own point off its surface, or of a name that is taken.
    """
    if airframe.moved is not None:
        plain = named_points(build(drawn(airframe.design)), stage)
        return tuple(replace(p, at=airframe.carried(p.part, p.at)) for p in plain)
    out: dict[str, NamedPoint] = {}
    own: dict[tuple[str, ...], NamedPoint] = {}
    for point in _all(airframe):
        taken = own.get(_words(point.name))
        if taken is not None:
            allowed = "allowed: a name that no other point has, whatever its case and commas"
            raise InputError(airframe.design.name, [Problem("points", repr(taken.name), allowed)])
        if point.sort == "own":
            own[_words(point.name)] = point
        out.setdefault(point.name, point)
    if stage is None:
        return tuple(out.values())
    on = {part.name for part in airframe.parts if on_stage(stage, part)}
    known = set(airframe.names)
    return tuple(p for p in out.values() if p.part in on or p.part not in known)


def _all(airframe: Airframe) -> Iterator[NamedPoint]:
    for name, point in airframe.design.points.items():
        yield from _own_points(airframe, name, point)
    for half in airframe.halves:
        yield from _of_half(half)
    for part in airframe.parts:
        maker = MAKERS.get(part.role)
        if maker is not None:
            yield from maker(airframe, part)
    yield from _of_supports(airframe)


def _side(name: str) -> str:
    first = name.partition(" ")[0]
    return first if first in SIDES else ""


def _of_half(half: Half) -> Iterator[NamedPoint]:
    """Leading and trailing edge at the ends of each panel, and where its edge bends."""
    panels = spans(half)
    for name, first, last in panels:
        for k in range(first, last + 1):
            where = _where(panels, (name, first, last), k)
            section = section_at(half, float(half.developed[k]))
            on_centre = k == 0 and half.leading_edge[0, 1] == 0.0
            named = half.group if on_centre else name
            side = "" if on_centre else _side(name)
            for edge, at in _edges(section):
                yield NamedPoint(f"{named} {where}, {edge}", name, at, where.split(" ")[0], side)


def _where(panels: list[tuple[str, int, int]], panel: tuple[str, int, int], k: int) -> str:
    name, first, last = panel
    if k == first:
        return "root"
    if k == last:
        return "tip" if name == panels[-1][0] else "outer end"
    return "bend" if last - first == 2 else f"bend {k - first}"


def _edges(section: Section) -> tuple[tuple[str, Array], ...]:
    return ("leading edge", section.leading_edge), ("trailing edge", section.trailing_edge)


def _of_fuselage(airframe: Airframe, part: Part) -> Iterator[NamedPoint]:
    yield _end(part, "nose tip" if _longest(airframe, part) else f"{part.name} nose", 1.0)
    yield _end(part, f"{part.name} tail end", -1.0)
    yield from _of_body(airframe, part)


def _longest(airframe: Airframe, part: Part) -> bool:
    hulls = [p for p in airframe.parts if p.role == part.role]
    return part is max(hulls, key=lambda p: float(np.ptp(p.points[:, 0])))


def _end(part: Part, name: str, ahead: float) -> NamedPoint:
    """The middle of a part's foremost or aftmost points."""
    x = ahead * part.points[:, 0]
    there = part.points[x <= x.min() + 1e-6][:, 1:]
    middle = 0.5 * (there.min(axis=0) + there.max(axis=0))
    at = np.array([float(ahead * x.min()), float(middle[0]), float(middle[1])])
    return NamedPoint(name, part.name, at, "end")


def _of_body(airframe: Airframe, part: Part) -> Iterator[NamedPoint]:
    """Top, bottom and sides at every cut of a body."""
    body = airframe.design.bodies.get(part.group)
    cuts = () if body is None else tuple(float(cut.fs) for cut in body.cuts)
    for k, fs in enumerate(cuts):
        ring = part.points[np.abs(part.points[:, 0] - fs) < 1e-6]
        if len(ring) >= 4:
            yield from _around(part, f"{part.name} cut {k + 1}", ring)


def _around(part: Part, named: str, ring: Array) -> Iterator[NamedPoint]:
    """The topmost, lowest and outermost points of a ring."""
    for words, axis, hand in (
        ("top", 2, 1.0),
        ("bottom", 2, -1.0),
        ("right side", 1, 1.0),
        ("left side", 1, -1.0),
    ):
        value = hand * ring[:, axis]
        found = ring[value >= value.max() - 1e-9]
        at = 0.5 * (found.min(axis=0) + found.max(axis=0))
        side = _side(part.name) or (words.split(" ")[0] if axis == 1 else "")
        yield NamedPoint(f"{named}, {words}", part.name, at, "corner", side)


def _of_spinner(_: Airframe, part: Part) -> Iterator[NamedPoint]:
    yield _end(part, f"{part.name} tip", -1.0)


def _of_bulkhead(_: Airframe, part: Part) -> Iterator[NamedPoint]:
    """Its front face: top, bottom and both sides."""
    front = part.points[part.points[:, 0] <= part.points[:, 0].min() + 1e-6]
    yield from _around(part, part.name, front)


def _of_beam(_: Airframe, part: Part) -> Iterator[NamedPoint]:
    """The four corners of each end of a spar: of one that stands, inboard and outboard."""
    along = _axis(part.points)
    upright = abs(float(along[2])) > abs(float(along[1]))
    out = part.points @ along
    reach = float(np.ptp(out))
    ends = [
        part.points[out <= out.min() + 0.02 * reach],
        part.points[out >= out.max() - 0.02 * reach],
    ]
    if not upright and abs(float(ends[0][:, 1].mean())) > abs(float(ends[1][:, 1].mean())):
        ends.reverse()
    words = ("inboard", "outboard") if upright else ("lower", "upper")
    for named, end in zip(("root", "tip"), ends, strict=True):
        outward = 1.0 if float(end[:, 1].mean()) >= 0.0 else -1.0
        across = outward * end[:, 1] if upright else end[:, 2]
        for word, hand in zip(words, (-1.0, 1.0), strict=True):
            for face, ahead in (("front", -1.0), ("aft", 1.0)):
                at = end[int(np.argmax(ahead * end[:, 0] + hand * across))]
                name = f"{part.name} {named}, {word} {face}"
                yield NamedPoint(name, part.name, at, "spar end", _side(part.name))


def _axis(points: Array) -> Array:
    """The long direction of a part."""
    around = points - points.mean(axis=0)
    found: Array = np.linalg.eigh(around.T @ around)[1][:, -1]
    return found if found[int(np.argmax(np.abs(found)))] > 0.0 else -found


def _of_wheel(_: Airframe, part: Part) -> Iterator[NamedPoint]:
    at = 0.5 * (part.points.min(axis=0) + part.points.max(axis=0))
    yield NamedPoint(f"{part.name} axle", part.name, at, "axle", _side(part.name))


def _of_hinged(_: Airframe, part: Part) -> Iterator[NamedPoint]:
    """The ends of the line that a part turns about."""
    if part.hinge is None:
        return
    axis = part.hinge.axis / np.linalg.norm(part.hinge.axis)
    along = (part.points - part.hinge.origin) @ axis
    ends = [part.hinge.origin + axis * float(v) for v in (along.min(), along.max())]
    lean = int(np.argmax(np.abs(axis)))
    words = (("fore", "aft"), ("inner", "outer"), ("lower", "upper"))[lean]
    value = [abs(float(end[1])) if lean == 1 else float(end[lean]) for end in ends]
    first, second = ends if value[0] <= value[1] else ends[::-1]
    for word, at in zip(words, (first, second), strict=True):
        yield NamedPoint(f"{part.name} hinge, {word} end", part.name, at, "hinge", _side(part.name))


def _of_propeller(_: Airframe, part: Part) -> Iterator[NamedPoint]:
    at = 0.5 * (part.points.min(axis=0) + part.points.max(axis=0))
    if part.hinge is not None:
        at = part.hinge.origin
    yield NamedPoint(f"{part.name} hub", part.name, np.asarray(at), "hub")


def _of_rib(_: Airframe, part: Part) -> Iterator[NamedPoint]:
    for words, k in (
        ("front", np.argmin(part.points[:, 0])),
        ("aft", np.argmax(part.points[:, 0])),
    ):
        named = f"{part.name}, {words} corner"
        yield NamedPoint(named, part.name, part.points[int(k)], "rib", _side(part.name))


MAKERS = {
    "fuselage": _of_fuselage,
    "cowl": _of_body,
    "pod": _of_body,
    "boom": _of_body,
    "spinner": _of_spinner,
    "bulkhead": _of_bulkhead,
    "firewall": _of_bulkhead,
    "spar": _of_beam,
    "rib": _of_rib,
    "wheel": _of_wheel,
    "control": _of_hinged,
    "panel": _of_hinged,
    "propeller": _of_propeller,
}
"""What names points of a part, by its role."""


def _of_supports(airframe: Airframe) -> Iterator[NamedPoint]:
    """The pads that it may stand on; each moves with the part that is nearest."""
    wheels = set(airframe.design.wheels)
    for name, item in supports(airframe.design).items():
        if name in wheels:
            continue
        for side in SIDES if item.side == "both" else ("",):
            own = on_side(item, side) if side else item
            hand = -1.0 if "left" in (side, item.side) else 1.0
            at = np.array([float(own.fs), hand * float(own.bl), float(own.wl)])
            named = f"{side} {name} pad".strip().replace("_", " ")
            yield NamedPoint(named, nearest_part(airframe.parts, at), at, "pad", side)


def _own_points(airframe: Airframe, name: str, point: OwnPoint) -> Iterator[NamedPoint]:
    """A builder's own point, on each of its sides; of a line both ends."""
    for side in SIDES if point.side == "both" else (point.side.removesuffix("centre"),):
        named = f"{side} {name}".strip()
        hand = np.array([1.0, -1.0 if side == "left" else 1.0, 1.0])
        part = _moves_with(airframe, point, side)
        if point.on_surface:
            yield NamedPoint(named, part, _on_surface(airframe, name, point, side), "own", side)
            continue
        ends: list[OwnPoint | FarEnd] = [point] if point.to is None else [point, point.to]
        for k, end in enumerate(ends):
            at = np.array([float(end.fs or 0.0), float(end.bl or 0.0), float(end.wl or 0.0)]) * hand
            words = f"{named}, {('one', 'other')[k]} end" if point.to is not None else named
            yield NamedPoint(words, part, at, "own", side)


def _moves_with(airframe: Airframe, point: OwnPoint, side: str) -> str:
    names = airframe.by_name
    if point.on is None:
        hulls = [p for p in airframe.parts if p.role == "fuselage"]
        return max(hulls, key=lambda p: float(np.ptp(p.points[:, 0]))).name if hulls else ""
    for name in (point.on, f"{side} {point.on}", f"right {point.on}"):
        if name in names:
            return name
    return point.on


def _on_surface(airframe: Airframe, name: str, point: OwnPoint, side: str) -> Array:
    """Where a point of a surface's skin, or of its chord line, is."""
    half, start = next(
        (half, first)
        for half in airframe.halves
        for panel, first, _ in spans(half)
        if panel.endswith(str(point.on)) and (not side or _side(panel) in ("", side))
    )
    try:
        if point.bl is not None:
            along = along_at(half, float(point.bl))
        else:
            along = float(half.developed[start]) + float(point.along or 0.0)
        section = section_at(half, along)
    except ValueError as error:
        given = point.along if point.bl is None else point.bl
        path = f"points.{name}.{'along' if point.bl is None else 'bl'}"
        problem = Problem(path, repr(given.text if given is not None else ""), str(error))
        raise InputError(airframe.design.name, [problem]) from None
    share = np.array([float(point.chord_fraction or 0.0)])
    upper, lower = (skin[0] for skin in section.skin(share))
    if point.face == "chord line":
        line = section.trailing_edge - section.leading_edge
        return np.asarray(section.leading_edge + share[0] * line)
    return np.asarray(upper if point.face == "upper" else lower)


def buried(airframe: Airframe, points: Sequence[NamedPoint]) -> dict[str, str]:
    """Points that lie inside a body of which they are not, with the body: no tape reaches them."""
    out: dict[str, str] = {}
    bodies = roles_in("bodies")
    at = np.array([point.at for point in points]).reshape(-1, 3)
    for part in airframe.parts:
        if part.role in bodies and len(at):
            inside = contains(part.points, part.faces, at)
            for point, hidden in zip(points, inside, strict=True):
                if hidden and part.name not in (point.part, *_hosts(airframe, point.part)):
                    out.setdefault(point.name, part.name)
    return out


def _hosts(airframe: Airframe, part: str) -> tuple[str, ...]:
    found = airframe.by_name.get(part)
    return () if found is None else found.hosts


def point_named(points: Sequence[NamedPoint], name: str, source: str, where: str) -> NamedPoint:
    """The point by a name; case, blanks, commas and the order of its words do not matter.

    source, where : the file and the place in it that name it
    Raises InputError with the nearest real names.
    """
    found = find_point(points, name)
    if found is not None:
        return found
    raise InputError(source, [unknown_point(points, name, where)])


def find_point(points: Sequence[NamedPoint], name: str) -> NamedPoint | None:
    """The point by a name, None where there is none or more than one could be meant."""
    wanted = _words(name)
    found = [point for point in points if sorted(_words(point.name)) == sorted(wanted)]
    if len(found) > 1:
        found = [point for point in found if _words(point.name) == wanted]
    return found[0] if len(found) == 1 else None


SHORT = {"le": "leading edge", "te": "trailing edge", "l": "left", "r": "right", "lh": "left",
         "rh": "right", "canard": "foreplane"}  # fmt: skip


@lru_cache(maxsize=4096)
def _words(name: str) -> tuple[str, ...]:
    plain = re.sub(r"[^a-z0-9]+", " ", name.lower()).split()
    return tuple(" ".join(SHORT.get(word, word) for word in plain).split())


def unknown_point(points: Sequence[NamedPoint], name: str, where: str) -> Problem:
    """The problem of a point that is not there, with the names that are nearest."""
    names = [point.name for point in points]
    wanted = set(_words(name))

    def likeness(other: str) -> float:
        words = set(_words(other))
        return len(wanted & words) / max(len(wanted | words), 1)

    near = sorted(names, key=likeness, reverse=True)[:3]
    if wanted and near and likeness(near[0]) > 0.0:
        words = ", ".join(f"“{one}”" for one in near)
        return Problem(where, repr(name), f"no such point; nearest names: {words}")
    return unknown(where, name, names)
