"""A rib in true size: both its faces by the surface's own curve, less what it stays inside."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from planform.airframe.build import Airframe
from planform.airframe.sections import along_at
from planform.airframe.surfaces import Half
from planform.design.structure import Rib
from planform.design.told import said
from planform.drawing.paper.marks import Array, Mark, line
from planform.drawing.paper.tables import FactRow
from planform.report.sheets.templates.pattern import MM, Pattern
from planform.report.sheets.templates.section import (
    SIDE_NOTE,
    SectionPlane,
    inset,
    named,
    plane_at,
    section_facts,
)

BEVEL = (
    "The thick line is the rib's inboard face, the broken one its outboard face: cut to the "
    "larger and bevel. Openings for what runs through it are drawn, not taken off."
)


def face(plane: SectionPlane, rib: Rib) -> Array:
    """The outline of one face, shape (n, 2) [mm]: inside the skin, between its shares of the chord.

    Raises InputError where nothing is left.
    """
    import shapely

    ring = plane.ring
    if rib.inside > 0.0:
        ring = inset(ring, float(rib.inside) * MM, "--part", rib.inside.text)
    if rib.from_chord == 0.0 and rib.to_chord == 1.0:
        return ring
    tail = plane.flat(plane.section.trailing_edge[None])[0]
    unit = tail / np.linalg.norm(tail)
    across = np.array([-unit[1], unit[0]]) * np.linalg.norm(tail)
    first, last = rib.from_chord * tail, rib.to_chord * tail
    band = shapely.Polygon([first - across, last - across, last + across, first + across])
    left = shapely.Polygon(ring).intersection(band)
    whole = max(shapely.get_parts(left), key=lambda one: one.area)
    return np.array(whole.exterior.coords)[:-1]


def _marks(first: SectionPlane, last: SectionPlane, rib: Rib, airframe: Airframe,
           own: str) -> Iterator[Mark]:  # fmt: skip
    near = face(first, rib)
    yield line(near, "outline", closed=True)
    moved = face(last, rib) + first.flat(last.section.leading_edge[None])[0]
    yield line(moved, "hidden", closed=True)
    yield line([(0.0, 0.0), first.flat(first.section.trailing_edge[None])[0]], "centre")
    for name, ring in first.inner(airframe):
        if name.removeprefix("right ").removeprefix("left ") != own:
            yield line(ring, "edge", closed=True)
            yield named(ring, name)


def rib_pattern(airframe: Airframe, half: Half, name: str, rib: Rib, system: str) -> Pattern:
    """The template of a rib on one side of its surface."""
    start = along_at(half, float(rib.bl)) if rib.bl is not None else float(rib.along or 0.0)
    end = min(start + float(rib.thickness), float(half.developed[-1]))
    first, last = plane_at(half, start), plane_at(half, end)
    place = f"{said(start, 'length', system)} along the {half.group}"
    facts = [
        *section_facts(first, place, system),
        FactRow("rib's thickness", said(end - start, "fine", system)),
        FactRow("inside the skin's outside by", said(float(rib.inside), "fine", system)),
    ]
    marks = tuple(_marks(first, last, rib, airframe, name))
    return Pattern(f"{name}: rib outline", marks, tuple(facts), (SIDE_NOTE, BEVEL))
