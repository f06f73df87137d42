"""All that people at the aircraft need of a route, or of a parked spot alone."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from planform.airframe.stance import Standing
from planform.balance.stages import Balanced, stage_balance
from planform.core.shown import Brief, Shown
from planform.design.problems import InputError, Problem
from planform.design.told import said
from planform.fit.moves import Pose, Route, Tight, at_spot
from planform.fit.room import Room, spot_point
from planform.fit.steps import Step, steps_of
from planform.fit.swept import corners_of, plan_outline
from planform.fit.walkers import Near, Post, nearest, places, step_at
from planform.report.table import Table
from planform.report.way_out.instructions import instruction
from planform.report.way_out.marks import FloorMarks, baselines, floor_marks, tables


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

    def sentences(self, system: str) -> list[str]:
        """The steps in words."""
        return [instruction(self.standing, self.room, s, system) for s in self.steps]

    def tights_in(self, step: Step) -> list[Tight]:
        """The tight instants of a step."""
        return [t for t in self.tights if step_at(self.steps, t) is step]

    @property
    def sheets(self) -> tuple[Table, ...]:
        """The tables of the floor marks, the corners first."""
        return (baselines(self.marks), *tables(self.marks, self.room))


def spot_pose(room: Room, name: str | None = None) -> Pose:
    """The pose of a spot of the place; InputError where there is none."""
    spot = spot_point(room.place, name)
    if spot is None:
        allowed = "this place has no spot; give one: a name, at (two lengths) and a heading"
        raise InputError(room.place.name, [Problem("spots", "none", allowed)])
    return at_spot(spot)


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
    parked = None if route is not None else spot_point(room.place, spot)
    named = "" if parked is None else parked.name
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


def _parked(room: Room, route: Route) -> Pose:
    """The end of a route that is in the room; its start where both are or neither is."""
    import shapely

    first, last = route.poses[0], route.poses[-1]
    floor = shapely.polygons(room.floor)
    inside = [bool(floor.covers(shapely.points(p.x, p.y))) for p in (first, last)]
    return last if inside == [False, True] else first
