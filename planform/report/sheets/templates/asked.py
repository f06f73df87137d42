"""Which templates are asked for, and the patterns and pages that answer."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planform.airframe.build import Airframe
from planform.design.problems import InputError, Problem, unknown
from planform.design.structure import Rib
from planform.design.told import said
from planform.drawing.paper.page import Page
from planform.drawing.paper.sizes import PaperSize
from planform.drawing.paper.tiling import TooManyPages
from planform.report.sheets.templates.cradle import CradleAsked, cradle_pattern
from planform.report.sheets.templates.incidence import incidence_pattern
from planform.report.sheets.templates.joint import JointSides, joint_pattern
from planform.report.sheets.templates.pages import Heading, pattern_pages, whole_page
from planform.report.sheets.templates.pattern import Pattern
from planform.report.sheets.templates.rib import rib_pattern
from planform.report.sheets.templates.section import (
    SectionPlane,
    alike,
    plane_at,
    section_pattern,
)
from planform.report.sheets.templates.stretches import (
    PLACES,
    Stretch,
    on_side,
    place_on,
    refused,
    stretches,
)

KINDS_OF = ("section", "rib", "incidence", "joint", "cradle")
"""What a template may be of."""
BOTH_ALIKE = "The left one is its mirror image: turn the template over."


@dataclass(frozen=True)
class TemplateAsked:
    """What the options say, as given.

    of : one of `KINDS_OF`; by the part's kind where None
    """

    part: str
    of: str | None = None
    at: str | None = None
    skin: str | None = None
    contact: str | None = None
    height: str | None = None
    padding: str | None = None


def patterns(airframe: Airframe, asked: TemplateAsked, system: str) -> tuple[Pattern, ...]:
    """The templates asked for; one for both sides where they are alike.

    Raises InputError for what is not there or does not go together.
    """
    of = _kind(airframe, asked)
    _no_stray(asked, of)
    design = airframe.design
    if of == "cradle":
        if asked.at is None:
            raise refused("--at", None, "a cradle needs its station, as 'FS 112 in'")
        wanted = CradleAsked(asked.at, asked.height, asked.padding)
        return (cradle_pattern(design.bodies[asked.part], asked.part, wanted, system),)
    if of == "joint":
        return _joints(airframe, asked, system)
    if of == "rib":
        return _ribs(airframe, asked, system)
    found = _planes(airframe, asked, system)
    return tuple(_of_section(airframe, asked, of, one, system) for one in found)


def _kind(airframe: Airframe, asked: TemplateAsked) -> str:
    """What the template is of, which the part must be able to give."""
    design, part = airframe.design, asked.part
    can = {
        "section": bool(stretches(airframe, part)),
        "rib": part in design.ribs,
        "incidence": bool(stretches(airframe, part)),
        "joint": part in design.winglets,
        "cradle": part in design.bodies,
    }
    if asked.of is not None and asked.of not in KINDS_OF:
        raise refused("--of", asked.of, f"allowed: {', '.join(KINDS_OF)}")
    if not any(can.values()):
        known = {name for half in airframe.halves for name in (half.name, half.group)}
        known |= {joint for half in airframe.halves for _, joint in half.joints}
        known |= {*design.ribs, *design.bodies}
        raise InputError("option", [unknown("--part", part, sorted(known))])
    of = asked.of or next(kind for kind, there in can.items() if there)
    if not can[of]:
        fits = ", ".join(kind for kind, there in can.items() if there)
        raise refused("--of", of, f"allowed of the {part}: {fits}")
    return of


def _no_stray(asked: TemplateAsked, of: str) -> None:
    """InputError for an option that this template does not take."""
    problems = [
        Problem(f"--{option}", repr(given), f"allowed with --of {' or '.join(takes)}, not {of}")
        for option, takes in TAKES.items()
        if (given := getattr(asked, option)) is not None and of not in takes
    ]
    if of == "rib" and asked.at is not None:
        problems.append(Problem("--at", repr(asked.at), "a rib has its own place; leave this out"))
    if problems:
        raise InputError("option", problems)


TAKES = {
    "skin": ("section",),
    "contact": ("incidence",),
    "height": ("cradle",),
    "padding": ("cradle",),
}
"""The options that only some templates take."""


@dataclass(frozen=True, eq=False)
class Placed:
    """A section with what it is called, its place in words, and whether both sides are so."""

    name: str
    plane: SectionPlane
    place: str
    both: bool


def _planes(airframe: Airframe, asked: TemplateAsked, system: str) -> list[Placed]:
    """The sections that are asked for; one where both sides are alike."""
    if asked.at is None:
        raise refused("--at", None, f"a place is needed: {PLACES}")
    at = asked.at
    found = on_side(stretches(airframe, asked.part), at)
    planes = [(one, plane_at(one.half, place_on(one, at, system))) for one in found]
    if len(planes) == 2 and alike(planes[0][1], planes[1][1]):
        stretch, plane = planes[0]
        return [Placed(asked.part, plane, _place(stretch, plane, system), both=True)]
    return [Placed(one.name, plane, _place(one, plane, system), both=False)
            for one, plane in planes]  # fmt: skip


def _place(stretch: Stretch, plane: SectionPlane, system: str) -> str:
    """Where a section stands, in words: how far along, and its leading edge's butt line."""
    bl = said(abs(float(plane.section.leading_edge[1])), "butt", system).removesuffix(" R")
    along = said(plane.along - stretch.start, "length", system)
    return f"{along} from its root, {bl}"


def _of_section(
    airframe: Airframe, asked: TemplateAsked, of: str, one: Placed, system: str
) -> Pattern:
    if of == "incidence":
        made = incidence_pattern(one.plane, airframe, one.name, one.place, asked.contact, system)
    else:
        made = section_pattern(one.plane, airframe, one.name, one.place, asked.skin, system)
    return _both(made, both=one.both)


def _both(made: Pattern, *, both: bool) -> Pattern:
    if not both:
        return made
    return Pattern(made.title, made.marks, made.facts, (*made.notes, BOTH_ALIKE))


def _ribs(airframe: Airframe, asked: TemplateAsked, system: str) -> tuple[Pattern, ...]:
    """The rib on each side; one where both are alike."""
    rib = airframe.design.ribs[asked.part]
    assert isinstance(rib, Rib)
    wanted = {"both": (1, -1), "right": (1,), "left": (-1,)}.get(rib.side, (1,))
    halves = [h for h in airframe.halves if h.group == rib.on and h.side in wanted]
    halves = sorted(halves, key=lambda half: -half.side)
    made = [rib_pattern(airframe, half, asked.part, rib, system) for half in halves]
    if len(made) == 2 and _same(made[0], made[1]):
        return (_both(made[0], both=True),)
    return tuple(made)


def _joints(airframe: Airframe, asked: TemplateAsked, system: str) -> tuple[Pattern, ...]:
    winglet = airframe.design.winglets[asked.part]
    made = []
    for half in sorted(airframe.halves, key=lambda one: -one.side):
        tip = next(
            (h for h in airframe.halves if h.group == winglet.on and h.side == half.side), None
        )
        if half.group == asked.part and tip is not None:
            made.append(joint_pattern(JointSides(tip, half), asked.at, half.name, system))
    if len(made) == 2 and _same(made[0], made[1]):
        return (_both(made[0], both=True),)
    return tuple(made)


def _same(one: Pattern, other: Pattern) -> bool:
    """Whether two patterns have the same lines."""
    from planform.drawing.paper.moved import lines_of, path

    first, second = ([path(line) for line in lines_of(p.marks)] for p in (one, other))
    return len(first) == len(second) and all(
        _same_line(a, b) for a, b in zip(first, second, strict=True)
    )


def _same_line(one: NDArray[np.float64], other: NDArray[np.float64]) -> bool:
    """Whether two lines have the same corners, wherever a closed one begins and which way it goes.

    one, other : shape (n, 2) [mm]
    """
    if one.shape != other.shape:
        return False
    apart = np.linalg.norm(one[:, None] - other[None], axis=2)
    near = apart.min(axis=1).max(), apart.min(axis=0).max()
    runs = [float(np.linalg.norm(np.diff(each, axis=0), axis=1).sum()) for each in (one, other)]
    return bool(max(near) < 1e-3) and abs(runs[0] - runs[1]) < 1e-2


def template_pages(
    airframe: Airframe, asked: TemplateAsked, paper: PaperSize, heading: Heading, system: str
) -> tuple[Page, ...]:
    """The templates over pages of a paper.

    Raises InputError, also where one takes more pages than a hand sorts.
    """
    pages: list[Page] = []
    for pattern in patterns(airframe, asked, system):
        try:
            pages += pattern_pages(pattern, paper, heading)
        except TooManyPages as error:
            raise refused("--paper", paper.name, f"{error}; name a larger paper") from None
    return tuple(pages)


def template_sheet(airframe: Airframe, asked: TemplateAsked, heading: Heading, system: str) -> Page:
    """The one template asked for, untiled, in true size.

    Raises InputError where the sides differ, and none is named.
    """
    found = patterns(airframe, asked, system)
    if len(found) > 1:
        allowed = (
            "its sides differ; name the right or the left one, or write a .pdf, which has both"
        )
        raise refused("--part", asked.part, allowed)
    return whole_page(found[0], heading)
