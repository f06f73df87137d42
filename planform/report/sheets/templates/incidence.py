"""A board that stands on a surface's upper skin at two points; its top is level when it is right.

A plain triangle's trigonometry: the board's feet differ in height by what the two points of the
skin do, in the section's plane, when the aircraft's waterlines lie level.
"""

from __future__ import annotations

import numpy as np

from planform.airframe.build import Airframe
from planform.design.kinds import LYING
from planform.design.told import said
from planform.drawing.paper.marks import Array, Mark, line
from planform.drawing.paper.tables import FactRow
from planform.report.sheets.templates.pattern import MM, Pattern, cross, words
from planform.report.sheets.templates.section import SIDE_NOTE, SectionPlane
from planform.report.sheets.templates.stretches import quantity, refused

CONTACT = "10 %, 70 %"
"""Where the feet stand where nothing else is said; assumption."""
FREE = 6.0
"""Between the skin and the board's lower edge, between its feet [mm]."""
DEPTH = 40.0
"""Height of the board over that [mm]."""
FOOT = 12.0
"""Half the width of a foot where it leaves the board [mm]."""


def contacts(text: str | None) -> tuple[float, float]:
    """The shares of the chord that the feet stand at."""
    parts = (text or CONTACT).split(",")
    allowed = "allowed: two shares of the chord, the foremost first, as '10 %, 70 %'"
    if len(parts) != 2:
        raise refused("--contact", text, allowed)
    first, second = (quantity("--contact", part.strip(), "percent") for part in parts)
    if not 0.02 <= first < second <= 0.98:
        raise refused("--contact", text, f"{allowed}, from 2 % to 98 %")
    return first, second


def board(plane: SectionPlane, shares: tuple[float, float], given: str | None) -> Array:
    """The outline of the board, shape (n, 2) [mm]; its second and fifth corners are the feet.

    Raises InputError where a foot would cut into the skin.
    """
    import shapely

    upper = plane.flat(plane.section.upper)
    a, b = plane.flat(plane.section.skin(np.array(shares))[0])
    between = upper[(upper[:, 0] > a[0]) & (upper[:, 0] < b[0]), 1]
    lower = float(max(between.max(initial=-np.inf), a[1], b[1])) + FREE
    top = lower + DEPTH
    ring = np.array(
        [
            (a[0] - FOOT, lower),
            a,
            (a[0] + FOOT, lower),
            (b[0] - FOOT, lower),
            b,
            (b[0] + FOOT, lower),
            (b[0] + FOOT, top),
            (a[0] - FOOT, top),
        ]
    )
    if b[0] - a[0] < 3.0 * FOOT:
        raise refused("--contact", given or CONTACT, "allowed: farther apart")
    inside = shapely.Polygon(ring).intersection(shapely.Polygon(plane.ring)).area
    if inside > 0.5:
        allowed = "allowed: places where a foot does not cut into the skin; farther from the ends"
        raise refused("--contact", given or CONTACT, allowed)
    return ring


def incidence_pattern(
    plane: SectionPlane, airframe: Airframe, name: str, place: str, contact: str | None, system: str
) -> Pattern:
    """The template of an incidence board for a level, of a surface that lies."""
    if plane.half.role not in LYING:
        allowed = f"allowed: a surface that lies, in the role of {', '.join(LYING)}"
        raise refused("--of", "incidence", allowed)
    shares = contacts(contact)
    ring = board(plane, shares, contact)
    a, b, top = ring[1], ring[4], float(ring[6, 1])
    skin = plane.flat(plane.section.upper)
    near = skin[(skin[:, 0] > a[0] - 2.0 * FOOT) & (skin[:, 0] < b[0] + 2.0 * FOOT)]
    marks: list[Mark] = [line(ring, "outline", closed=True), line(near, "hidden")]
    for foot, share in zip((a, b), shares, strict=True):
        marks += cross(foot)
        marks.append(
            words(
                foot + np.array([0.0, top - foot[1] - 12.0]),
                f"{100.0 * share:.3g} % chord",
                "middle",
            )
        )
    middle = np.array([0.5 * (a[0] + b[0]), top - 6.0])
    marks.append(words(middle, "level this edge; nose to the left", "middle"))
    slope = float(np.arctan2(a[1] - b[1], b[0] - a[0]))
    facts = (
        FactRow("place", place),
        FactRow("incidence of its chord line", said(plane.incidence, "angle", system)),
        FactRow("feet apart, along level", said(float(b[0] - a[0]) / MM, "fine", system)),
        FactRow("fore foot under the top", said((top - float(a[1])) / MM, "fine", system)),
        FactRow("aft foot under the top", said((top - float(b[1])) / MM, "fine", system)),
        FactRow(
            "wedge: line of the feet to level",
            said(slope, "angle", system),
            "nose up; a level laid straight on the two points reads this",
        ),
    )
    notes = (
        SIDE_NOTE,
        "Level the aircraft first; stand the board on the upper skin, square to the leading "
        "edge's spanwise line; a level on its top reads zero when the incidence is right.",
    )
    return Pattern(f"{name}: incidence board at {place}", tuple(marks), facts, notes)
