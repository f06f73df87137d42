"""A route in a folder: steps, floor marks, helpers' card, moving picture, CSV and JSON."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from planform.airframe.stance import Standing
from planform.balance.stages import Balanced, stage_balance
from planform.core.shown import Brief, Shown
from planform.design.problems import InputError, Problem
from planform.design.told import counted, reader, said
from planform.drawing.drawing import Drawing
from planform.drawing.writers import save_all
from planform.drawing.writers.gif import filmed
from planform.fit.moves import Pose, Route, Tight
from planform.fit.roll_out import RollOut
from planform.fit.room import Room, spot_point
from planform.fit.steps import Step, steps_of
from planform.fit.swept import corners_of, plan_outline
from planform.fit.walkers import Near, Post, nearest, places, step_at, watched_there
from planform.report import to_json
from planform.report.folder import whole_folder
from planform.report.page import drawn, image, page, words_for
from planform.report.table import SheetTable, to_csv
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
from planform.report.way_out.instructions import detail, instruction
from planform.report.way_out.marks import FloorMarks, baselines, floor_marks, tables
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
from planform.report.words import CAUTIONS, cell

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


@dataclass(frozen=True, eq=False, repr=False)
class Handover(Shown):
    """A route, or a parked spot alone, with all that people at the aircraft need of it.

    route : None for a spot alone; places : of each step, where the walkers are
    back : the steps of the way in, where there is a route
    jams : where it jams, without a route
    """

    standing: Standing
    room: Room
    title: str
    route: Route | None
    tights: tuple[Tight, ...]
    steps: tuple[Step, ...]
    back: tuple[Step, ...]
    places: tuple[tuple[Post, ...], ...]
    nears: tuple[Near, ...]
    marks: FloorMarks
    balance: Balanced | None
    jams: tuple[Tight, ...] = ()

    def brief(self) -> Brief:
        """How many moves there are, and where they are tightest."""
        units = self.standing.airframe.design.units
        moves = 0 if self.route is None else len(self.route.moves)
        rows = [(f"tight: {t.part}, {t.thing}", said(t.gap, "gap", units)) for t in self.tights]
        return Brief(f"{self.title}, {moves} moves", tuple(rows))


def spot_pose(room: Room, name: str | None = None) -> Pose:
    """The pose of a spot of the place; InputError where there is none."""
    spot = spot_point(room.place, name)
    if spot is None:
        allowed = "this place has no spot; give one: a name, at (two lengths) and a heading"
        raise InputError(room.place.name, [Problem("spots", "none", allowed)])
    return Pose(float(spot.at[0]), float(spot.at[1]), float(spot.heading))


def handover(
    standing: Standing,
    room: Room,
    route: Route | None = None,
    tights: Sequence[Tight] = (),
    spot: str | None = None,
    jams: Sequence[Tight] = (),
) -> Handover:
    """All that people need of a route, or of a spot alone where no route is given.

    tights : the tightest instants of the route, as the planner tells them
    spot : names the spot where there is no route; the place's first where None
    jams : where it jams, most first, for the picture of it where there is no route
    Raises InputError where there is neither a move nor a spot.
    """
    shape = plan_outline(standing)
    hull = corners_of(shape)
    steps = steps_of(route, hull) if route is not None else ()
    if not steps:
        route = None
    pose = _parked(room, route) if route is not None else spot_pose(room, spot)
    named = "" if route is not None else spot_point(room.place, spot).name
    title = f"parked on “{named}”" if named else "parked"
    return Handover(
        standing=standing,
        room=room,
        title=title,
        route=route,
        tights=tuple(sorted(tights, key=lambda t: t.gap)) if route is not None else (),
        steps=steps,
        back=steps_of(route.reversed, hull) if route is not None else (),
        places=tuple(places(standing, room, step, shape) for step in steps),
        nears=nearest(standing, room, steps, shape) if steps else (),
        marks=floor_marks(standing, room, pose, steps, title),
        balance=stage_balance(standing),
        jams=() if route is not None else tuple(jams),
    )


def write_way_out(
    found: RollOut,
    folder: str | Path,
    system: str,
    spot: str | None = None,
    room: Room | None = None,
    more: Sequence[str] = (),
) -> list[str]:
    """Write the way out into a folder, or the marks of its spot where there is none.

    room : where it was searched in one with some doors shut, the whole room
    more : sentences after those of the search, such as how it goes over the ground
    The way on its own wheels where that was asked for. Returns the files' names.
    """
    way = found.best if found.on_gear is None else found.on_gear
    route = None if way is None else way.route
    tights = () if way is None or route is None else way.tight
    room = room or found.wished.question.plan.room
    whole = handover(found.standing, room, route, tights, spot, found.jams)
    return write_route(whole, folder, system, (*summary(found, system), *more))


def _parked(room: Room, route: Route) -> Pose:
    """The end of a route that is in the room; its start where both are or neither is."""
    import shapely

    first, last = route.poses[0], route.poses[-1]
    floor = shapely.polygons(room.floor)
    inside = [bool(floor.covers(shapely.points(p.x, p.y))) for p in (first, last)]
    return last if inside == [False, True] else first


def brief(way: RollOut, room: Room, system: str) -> dict[str, Any]:
    """The way out in short, for a report: what is known of it, its steps and one picture."""
    out: dict[str, Any] = {"lines": summary(way, system), "steps": [], "picture": None}
    if way.route is not None:
        hull = corners_of(plan_outline(way.standing))
        steps = steps_of(way.route, hull)
        out["steps"] = [instruction(way.standing, room, step, system) for step in steps]
        heading = f"{way.standing.title}: the whole way, {counted(len(steps), 'step')}"
        out["picture"] = drawn(overview_drawing(way.standing, room, steps, heading, system))
        out["shown"] = "All that it covers on its way, seen from above."
    elif way.jams:
        parked = way.wished.question.start
        out["picture"] = drawn(jam_drawing(way.standing, room, parked, way.jams, system))
        out["shown"] = JAMMED
    return out


def section(found: Handover, system: str, moving: bytes | None = None) -> dict[str, Any]:
    """What a page needs to show a route (`route_section.html`).

    moving : the moving picture, where it is made already
    """
    moving = _moving(found, system) if moving is None else moving
    return {
        "title": f"{found.standing.title} in {found.room.place.name}",
        "route": found.route,
        "moving": MOVING.get(found.route.moving, found.route.moving) if found.route else "",
        "steps": [_step(found, k, system) for k in range(len(found.steps))],
        "back": [instruction(found.standing, found.room, s, system) for s in found.back],
        "way": drawn(_overview(found, system)),
        "jam": drawn(_jam(found, system)),
        "jammed": JAMMED,
        "film": None if moving is None else image("gif", moving, "the way out, step by step"),
        "marks": drawn(marks_drawing(found.standing, found.room, found.marks, system)),
        "chalk": drawn(chalk_drawing(found.standing, found.room, found.marks, system)),
        "baselines": baselines(found.marks),
        "tables": tables(found.marks, found.room),
        "tight": tight_table(found.tights, found.steps),
        "stray": max((s.stray for s in found.steps), default=0.0),
        "cell": lambda one: cell(one, system),
    }


def _overview(found: Handover, system: str) -> Drawing | None:
    if not found.steps:
        return None
    heading = f"{found.standing.title}: the whole way, {counted(len(found.steps), 'step')}"
    return overview_drawing(found.standing, found.room, found.steps, heading, system)


def _jam(found: Handover, system: str) -> Drawing | None:
    if not found.jams:
        return None
    return jam_drawing(found.standing, found.room, found.marks.spot, found.jams, system)


def _moving(found: Handover, system: str) -> bytes | None:
    if found.route is None:
        return None
    told = list(zip(found.steps, _sentences(found, system), strict=True))
    clearance = found.route.clearance
    return filmed(film(found.standing, found.room, told, clearance, system, found.tights))


def _sentences(found: Handover, system: str) -> list[str]:
    return [instruction(found.standing, found.room, s, system) for s in found.steps]


def _tights_in(found: Handover, step: Step) -> list[Tight]:
    return [t for t in found.tights if step_at(found.steps, t) is step]


def _step_drawing(found: Handover, k: int, system: str, small: bool = False) -> Drawing:
    step = found.steps[k]
    words = instruction(found.standing, found.room, step, system)
    tights = _tights_in(found, step)
    shown = StepShown(found.standing, found.room, step, words, found.places[k], tights)
    return step_drawing(shown, system, small)


def _step(found: Handover, k: int, system: str) -> dict[str, Any]:
    step = found.steps[k]
    return {
        "number": step.number,
        "words": instruction(found.standing, found.room, step, system),
        "detail": detail(found.standing, step, system),
        "picture": drawn(_step_drawing(found, k, system)),
        "small": drawn(_step_drawing(found, k, system, small=True)),
        "walking": going_along(found.places[k]),
        "crowded": crowded(step, found.places[k]),
        "tight": [tight_words(t, system) for t in _tights_in(found, step)],
    }


def sheets(found: Handover) -> tuple[SheetTable, ...]:
    """The tables of the floor marks, the corners first."""
    return (baselines(found.marks), *tables(found.marks, found.room))


def everything(found: Handover, system: str) -> str:
    """The route and the floor marks as one JSON document."""
    way = None
    if found.route is not None:
        way = to_json.route(found.route, found.steps, _sentences(found, system), found.tights)
    return to_json.document(
        "route",
        {
            "design": found.standing.airframe.design.name,
            "stage": found.standing.stage.name,
            "stance": found.standing.stance_name,
            "place": found.room.place.name,
            "route": way,
            "floor_marks": to_json.floor_marks(found.marks),
            "cautions": [*CALLS, *before(found.room.place.floor)],
        },
    )


def card_page(found: Handover, system: str, content: dict[str, Any]) -> str:
    """The helpers' card: one page to print and hand round."""
    watchers = [watched_there(found.standing, t).name for t in found.tights]
    letters = {m.mark.name: LETTERS[m.mark.name] for m in found.nears}
    columns, height = next(c[1:] for c in CARD if len(found.steps) <= c[0])
    return page(
        "card.html",
        **words_for(system),
        r=content,
        design=found.standing.airframe.design,
        stop=STOP,
        calls=CALLS,
        before=before(found.room.place.floor),
        tail=cell(tail_line(found.balance), system),
        walkers=walkers_table(found.nears, found.tights, watchers),
        letters=letters,
        n_columns=columns,
        picture_mm=height,
        sources=SOURCES,
    )


def write_route(
    found: Handover, folder: str | Path, system: str, lines: Sequence[str] = ()
) -> list[str]:
    """Write a route, or the marks of a spot alone, into a folder; returns the files' names.

    system : one of 'ft-in', 'in', 'mm', 'm'
    lines : sentences on how the way was found and how sure it is
    Raises InputError where the folder cannot be written; then nothing is left behind.
    """
    with whole_folder(Path(folder), "rollout") as workshop:
        moving = _moving(found, system)
        content = section(found, system, moving)
        drawings = {
            "marks": marks_drawing(found.standing, found.room, found.marks, system),
            "chalk": chalk_drawing(found.standing, found.room, found.marks, system),
        }
        jam = _jam(found, system)
        if jam is not None:
            drawings["jam"] = jam
        for k, step in enumerate(found.steps):
            drawings[f"step-{step.number}"] = _step_drawing(found, k, system)
        save_all(drawings, workshop)
        (workshop / "floor-marks.csv").write_text(
            to_csv(sheets(found), reader(system)), encoding="utf-8"
        )
        (workshop / "route.json").write_text(everything(found, system), encoding="utf-8")
        if moving is not None:
            (workshop / "roll-out.gif").write_bytes(moving)
            card = card_page(found, system, content)
            (workshop / "helpers-card.html").write_text(card, encoding="utf-8")
        whole = page(
            "route.html",
            **words_for(system) | {"cautions": CAUTIONS[2:]},
            r=content,
            design=found.standing.airframe.design,
            calls=CALLS,
            lines=lines,
        )
        (workshop / "route.html").write_text(whole, encoding="utf-8")
        return sorted(path.name for path in workshop.iterdir())
