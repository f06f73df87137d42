"""A route on pages: in short for a report, step by step, and the helpers' card."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from planform.balance.footing import footing
from planform.design.told import counted
from planform.drawing.drawing import Drawing
from planform.drawing.writers.gif import filmed
from planform.fit.roll_out import RollOut
from planform.fit.room import Room
from planform.fit.steps import steps_of
from planform.fit.swept import corners_of, plan_outline
from planform.fit.walkers import watched_there
from planform.report.page import Content, drawn, image, page, words_for
from planform.report.table import cell
from planform.report.way_out.card import (
    CALLS,
    SOURCES,
    STOP,
    before,
    crowded,
    going_along,
    tail_line,
    tight_table,
    walkers_table,
)
from planform.report.way_out.handover import Handover
from planform.report.way_out.instructions import detail, instruction
from planform.report.way_out.marks import baselines, tables
from planform.report.way_out.moving import film
from planform.report.way_out.pictures import (
    LETTERS,
    StepShown,
    chalk_drawing,
    jam_drawing,
    marks_drawing,
    overview_drawing,
    step_drawing,
    tight_words,
)
from planform.report.way_out.words import summary
from planform.report.words import CAUTIONS

CARD = ((3, 3, 48), (4, 4, 40), (5, 5, 36), (8, 4, 30), (10, 5, 26), (18, 6, 20), (math.inf, 8, 17))
"""Up to so many steps on the card: columns of thumbnails, and their height [mm]."""
JAMMED = (
    "Dashed: where it is parked. Drawn out: on the way that needs least more room, at the tightest "
    "place of it; a ring: what it meets there."
)
MOVING = {
    "dollies": "on dollies or stools: any way",
    "gear": "on its own wheels: straight and round, never sideways",
}


@dataclass(frozen=True, eq=False)
class WayInShort:
    """The way out in short: what is known of it, its steps, and one picture with its words."""

    lines: tuple[str, ...]
    steps: tuple[str, ...] = ()
    picture: Drawing | None = None
    shown: str = ""


def in_short(way: RollOut, room: Room, system: str) -> WayInShort:
    """The way out in short, for a report."""
    lines = summary(way, system)
    if way.route is not None:
        hull = corners_of(plan_outline(way.standing))
        steps = steps_of(way.route, hull)
        told = tuple(instruction(way.standing, room, step, system) for step in steps)
        heading = f"{way.standing.title}: the whole way, {counted(len(steps), 'step')}"
        picture = overview_drawing(way.standing, room, steps, heading, system)
        return WayInShort(lines, told, picture, "All that it covers on its way, seen from above.")
    if way.jams:
        parked = way.wished.question.start
        picture = jam_drawing(way.standing, room, parked, way.jams, system)
        return WayInShort(lines, (), picture, JAMMED)
    return WayInShort(lines)


def section(found: Handover, system: str, moving: bytes | None = None) -> Content:
    """What a page needs to show a route (`route_section.html`).

    moving : the moving picture, where it is made already
    """
    moving = moving_picture(found, system) if moving is None else moving
    return {
        "title": f"{found.standing.title} in {found.room.place.name}",
        "route": found.route,
        "moving": moving_words(found),
        "steps": [_step(found, k, system) for k in range(len(found.steps))],
        "back": [instruction(found.standing, found.room, s, system) for s in found.back],
        "way": drawn(_overview(found, system)),
        "jam": drawn(jam_of(found, system)),
        "jammed": JAMMED,
        "film": None if moving is None else image("gif", moving, "the way out, step by step"),
        "marks": drawn(marks_drawing(found.standing, found.room, found.marks, system)),
        "chalk": drawn(chalk_drawing(found.standing, found.room, found.marks, system)),
        "baselines": baselines(found.marks),
        "tables": tables(found.marks, found.room),
        "tight": tight_table(found.tights, found.steps),
        "stray": max((s.stray for s in found.steps), default=0.0),
    }


def _overview(found: Handover, system: str) -> Drawing | None:
    if not found.steps:
        return None
    heading = f"{found.standing.title}: the whole way, {counted(len(found.steps), 'step')}"
    return overview_drawing(found.standing, found.room, found.steps, heading, system)


def jam_of(found: Handover, system: str) -> Drawing | None:
    """Where it jams; None where it does not."""
    if not found.jams:
        return None
    return jam_drawing(found.standing, found.room, found.marks.spot, found.jams, system)


def moving_picture(found: Handover, system: str) -> bytes | None:
    """The route as a GIF; None where there is none."""
    if found.route is None:
        return None
    told = list(zip(found.steps, found.sentences(system), strict=True))
    clearance = found.route.clearance
    return filmed(film(found.standing, found.room, told, clearance, system, found.tights))


def drawing_of(found: Handover, k: int, system: str, small: bool = False) -> Drawing:
    """A step from above, with its walkers and tight places."""
    step = found.steps[k]
    words = instruction(found.standing, found.room, step, system)
    tights = found.tights_in(step)
    shown = StepShown(found.standing, found.room, step, words, found.places[k], tights)
    return step_drawing(shown, system, small)


def _step(found: Handover, k: int, system: str) -> Content:
    step = found.steps[k]
    return {
        "number": step.number,
        "words": instruction(found.standing, found.room, step, system),
        "detail": detail(found.standing, step, system),
        "picture": drawn(drawing_of(found, k, system)),
        "small": drawn(drawing_of(found, k, system, small=True)),
        "walking": going_along(found.places[k]),
        "crowded": crowded(step, found.places[k]),
        "tight": [tight_words(t, system) for t in found.tights_in(step)],
    }


def moving_words(found: Handover) -> str:
    """How it is moved; empty without a route."""
    return MOVING.get(found.route.moving, found.route.moving) if found.route else ""


def card_columns(steps: int) -> tuple[int, int]:
    """How many small pictures stand abreast on the card, and their height [mm]."""
    return next((columns, height) for most, columns, height in CARD if steps <= most)


def card_page(found: Handover, system: str, content: Content) -> str:
    """The helpers' card: one page to print and hand round."""
    watchers = [watched_there(found.standing, t).name for t in found.tights]
    letters = {m.mark.name: LETTERS[m.mark.name] for m in found.nears}
    columns, height = card_columns(len(found.steps))
    return page(
        "card.html",
        **words_for(system),
        r=content,
        design=found.standing.airframe.design,
        stop=STOP,
        calls=CALLS,
        before=before(found.room.place.floor),
        tail=cell(tail_line(found.balance, footing(found.standing).ends), system),
        walkers=walkers_table(found.nears, found.tights, watchers),
        letters=letters,
        n_columns=columns,
        picture_mm=height,
        sources=SOURCES,
    )


def route_page(found: Handover, system: str, content: Content, lines: Sequence[str]) -> str:
    """The way step by step, with its marks; lines : how it was found, and how sure it is."""
    return page(
        "route.html",
        **words_for(system) | {"cautions": CAUTIONS[2:]},
        r=content,
        design=found.standing.airframe.design,
        calls=CALLS,
        lines=lines,
    )
