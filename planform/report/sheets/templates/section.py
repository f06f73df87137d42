"""A surface's section in true size: chord, stations, what stands inside it, and the skin."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from planform.airframe.build import Airframe
from planform.airframe.part import Part
from planform.airframe.sections import Section
from planform.airframe.surfaces import Half
from planform.airframe.true_curves import fine_section
from planform.core.shape.clip import section_segments
from planform.design.kinds import KINDS, LYING
from planform.design.told import said
from planform.design.units import INCH
from planform.drawing.paper.marks import Array, Lettering, Mark, line
from planform.drawing.paper.tables import FactRow
from planform.report.sheets.templates.pattern import MM, WORDS, Pattern, cross, words
from planform.report.sheets.templates.stretches import refused

TICK = 3.0
"""Half the length of a station's tick [mm]."""
FLAT = 2e-4
"""A section that is bent out of its plane by more than this is told of [m]."""
ALIKE = 1e-7
"""Two sides that differ by less than this are mirror images [m]."""
SIDE_NOTE = "Drawn as seen from the left, the nose to the left."


@dataclass(frozen=True, eq=False)
class SectionPlane:
    """A section in its own plane: fore and aft from its leading edge, and square to that.

    section : in aircraft axes [m] ; along : of the surface, where it stands [m]
    """

    half: Half
    section: Section
    along: float

    @cached_property
    def axes(self) -> Array:
        """Aft, upward in the plane, and out of it, shape (3, 3)."""
        across = (self.section.upper - self.section.lower).sum(axis=0) * [0.0, 1.0, 1.0]
        up = across / np.linalg.norm(across)
        aft = np.array([1.0, 0.0, 0.0])
        return np.array([aft, up, np.cross(aft, up)])

    def flat(self, points: Array) -> Array:
        """Points (n, 3) [m] in the plane, shape (n, 2) [mm]."""
        return np.asarray((points - self.section.leading_edge) @ self.axes[:2].T * MM)

    @cached_property
    def ring(self) -> Array:
        """The outline from the trailing edge over the top and back below, shape (n, 2) [mm]."""
        upper, lower = self.flat(self.section.upper), self.flat(self.section.lower)
        below = lower[1:-1] if self.half.closed else lower[1:]
        return np.concatenate([upper[::-1], below])

    @property
    def bent(self) -> float:
        """How far it stands out of its plane at most [m]."""
        every = np.concatenate([self.section.upper, self.section.lower])
        return float(np.abs((every - self.section.leading_edge) @ self.axes[2]).max())

    @property
    def incidence(self) -> float:
        """Of its chord line, nose up positive [rad]."""
        x, y = self.flat(self.section.trailing_edge[None])[0]
        return float(np.arctan2(-y, x))

    def inner(self, airframe: Airframe) -> Iterator[tuple[str, Array]]:
        """Name and outline, shape (n, 2) [mm], of what its plane cuts inside the surface."""
        roles = {role.name for kind in KINDS if kind.inner or kind.cut_out for role in kind.roles}
        for part in airframe.parts:
            if part.role in roles and self.half.group in (part.group, *part.hosts):
                for ring in cut(part, self.section.leading_edge, self.axes):
                    yield part.name, ring


def cut(part: Part, origin: Array, axes: Array) -> Iterator[Array]:
    """The closed lines, shape (n, 2) [mm], in which a plane cuts a part.

    origin : in the plane [m] ; axes : two in the plane and one out of it, shape (3, 3)
    """
    points = (part.points - origin) @ axes.T
    segments = section_segments(points[part.faces], 2, 0.0)
    after = {one.tobytes(): (one, other) for one, other in segments}
    while after:
        ring, here = [], next(iter(after))
        while here in after:
            start, end = after.pop(here)
            ring.append(start)
            here = end.tobytes()
        if len(ring) > 2:
            yield np.array(ring) * MM


def plane_at(half: Half, along: float) -> SectionPlane:
    """The section of one side of a surface at a place along it [m]."""
    return SectionPlane(half, fine_section(half, along), along)


def inset(ring: Array, skin: float, option: str, given: str) -> Array:
    """An outline moved inward by so much, shape (n, 2) [mm].

    Raises InputError where nothing is left, or it falls apart.
    """
    import shapely

    left = shapely.Polygon(ring).buffer(-skin, quad_segs=32)
    if left.is_empty:
        raise refused(option, given, "allowed: less than half the section is thick")
    pieces = [one for one in shapely.get_parts(left) if one.area > 1.0]
    return np.array(max(pieces, key=lambda one: one.area).exterior.coords)[:-1]


def section_marks(plane: SectionPlane, airframe: Airframe, system: str) -> Iterator[Mark]:
    """Outline, chord line, stations and what stands inside; words to each."""
    yield line(plane.ring, "outline", closed=True)
    tail = plane.flat(plane.section.trailing_edge[None])[0]
    yield line([(0.0, 0.0), tail], "centre")
    yield from _stations(plane, tail, system)
    quarter = 0.25 * tail
    yield from cross(quarter)
    yield words(quarter + np.array([1.5, -4.5]), "25 %")
    level = "level" if plane.half.role in LYING else "fore and aft"
    a, b = 0.45 * tail[0], 0.6 * tail[0]
    height = 0.4 * float(plane.ring[:, 1].max())
    yield line([(a, height), (b, height)], "scale")
    yield words(np.array([b, height + 1.5]), level, "end")
    for name, ring in plane.inner(airframe):
        yield line(ring, "edge", closed=True)
        yield named(ring, name)


def named(ring: Array, name: str) -> Mark:
    """The name of what an outline is of, in it: upright where it is narrow and high."""
    from planform.drawing.paper.letters import width

    low, high = ring.min(axis=0), ring.max(axis=0)
    wide, tall = high - low
    middle = 0.5 * (low + high)
    if wide < width(name, WORDS) + 2.0 < tall:
        return Lettering(middle + np.array([0.5 * WORDS, 0.0]), name, WORDS, turn=0.5 * np.pi)
    foot = middle[1] - 5.0 - WORDS if tall < 60.0 else high[1] - 6.0
    return words(np.array([middle[0], foot]), name, "middle")


def _stations(plane: SectionPlane, tail: Array, system: str) -> Iterator[Mark]:
    """Ticks on the chord line at whole stations, square to level."""
    step = 2.0 * INCH if system in ("ft-in", "in") else 0.05
    nose = float(plane.section.leading_edge[0])
    for k in range(int(np.ceil(nose / step)), int((nose + tail[0] / MM) / step) + 1):
        x = (k * step - nose) * MM
        if not 0.0 <= x <= tail[0]:
            continue
        y = x * tail[1] / tail[0]
        yield line([(x, y - TICK), (x, y + TICK)], "scale")
        if k % 2 == 0 and 0.03 * tail[0] < x < 0.9 * tail[0]:
            yield words(np.array([x, y + TICK + 1.0]), said(k * step, "station", system), "middle")


def section_facts(plane: SectionPlane, place: str, system: str) -> list[FactRow]:
    """What is told of a section."""
    import shapely

    shape = shapely.Polygon(plane.ring)
    x, y = np.ptp(plane.ring, axis=0)
    return [
        FactRow("place", place),
        FactRow("chord", said(plane.section.chord, "fine", system)),
        FactRow("incidence, nose up", said(plane.incidence, "angle", system)),
        FactRow("fore and aft, in all", said(float(x) / MM, "fine", system)),
        FactRow("height square to that", said(float(y) / MM, "fine", system)),
        FactRow("around the outside", said(shape.length / MM, "fine", system)),
    ]


def section_pattern(
    plane: SectionPlane, airframe: Airframe, name: str, place: str, skin: str | None, system: str
) -> Pattern:
    """The template of a section.

    skin : the thickness to be taken off, as given
    """
    from planform.report.sheets.templates.stretches import quantity

    marks = list(section_marks(plane, airframe, system))
    facts = section_facts(plane, place, system)
    notes = [SIDE_NOTE]
    if skin is not None:
        thick = quantity("--skin", skin)
        if not thick > 0.0:
            raise refused("--skin", skin, "allowed: a thickness above zero")
        inner = inset(plane.ring, thick * MM, "--skin", skin)
        marks.append(line(inner, "edge", closed=True))
        facts.append(FactRow("skin taken off", said(thick, "fine", system)))
        notes.append("The thick line is the outside of the skin, the thin one inside it its core.")
    if plane.bent > FLAT:
        bent = said(plane.bent, "fine_up", system)
        notes.append(f"At a joint the section is bent out of its plane by up to {bent}.")
    return Pattern(f"{name}: section at {place}", tuple(marks), tuple(facts), tuple(notes))


def alike(one: SectionPlane, other: SectionPlane) -> bool:
    """Whether two sections are each other's mirror image, or the same."""
    mirror = np.array([1.0, -1.0, 1.0])
    return all(
        bool(np.abs(a - b * mirror).max() < ALIKE)
        for a, b in (
            (one.section.upper, other.section.upper),
            (one.section.lower, other.section.lower),
        )
    )
