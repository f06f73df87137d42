"""One stage of a look: its parts as they stand, its gaps, its verdict, its way out."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from planform.airframe.measure import Measures, standing_measures
from planform.airframe.stance import Standing
from planform.balance.stages import stage_balance
from planform.core.frames import floor2place
from planform.design.place import Spot
from planform.design.told import plus_minus, said
from planform.drawing.heights import tall_points
from planform.fit.answer import FitAnswer
from planform.fit.check import Check
from planform.fit.clearance import Clearance, clearances
from planform.fit.room import Room, spot_point
from planform.fit.straight import PENDING
from planform.report.balance.ground_tables import ground_table
from planform.report.fit.advice import sentences
from planform.report.fit.tables import checks_table
from planform.report.measures.tables import blocks
from planform.report.record import Record
from planform.report.seen.meshes import Meshes
from planform.report.seen.parts import gap_look, parts_look, with_least
from planform.report.seen.route import way_look
from planform.report.seen.tables import table_look
from planform.study.judging import SoFar

Array = NDArray[np.float64]

LEADERS = 12
"""Least clearances that are drawn, parked; assumption."""


def stage_look(standing: Standing, meshes: Meshes, system: str, spot: Spot | None = None) -> Record:
    """How an aircraft stands, before anything is judged.

    spot : where in the place; over the origin where None
    system : one of 'ft-in', 'in', 'mm', 'm'
    """
    design = standing.airframe.design
    return {
        "stage": standing.stage.name,
        "stance": standing.stance_name,
        "title": standing.title,
        "text": design.stances[standing.stance_name].text or "",
        "permanent": standing.stage.permanent or "",
        "change": "",
        "body2floor": _rows(standing.turn, standing.shift),
        "floor2place": None if spot is None else _at(spot),
        "spot": None if spot is None else spot_look(spot),
        "parts": parts_look(standing, meshes, system),
        "heights": [
            {"what": one.what, "text": said(one.height, "length", system), "at": one.at.tolist()}
            for one in tall_points(standing)
        ],
    }


def measures_look(
    standing: Standing, design: Measures, system: str, found: Measures | None = None
) -> list[Record]:
    """The measures of a standing aircraft and of its design as tables."""
    own = standing_measures(standing) if found is None else found
    told = (*blocks(standing.title, own, {}), *blocks(design.of, design, {}))
    return [table_look(table, system) for table in told]


def balance_look(standing: Standing, system: str) -> Record | None:
    """How the aircraft carries its weight as it stands; None where no weight is known."""
    found = stage_balance(standing)
    return None if found is None else table_look(ground_table((found,)), system)


def judged_look(
    so_far: SoFar,
    room: Room,
    meshes: Meshes,
    system: str,
    parts: Sequence[Record] | None = None,
) -> Record:
    """What is known of an aircraft in a room; `left` names what is being worked out.

    parts : those of the same aircraft as it stands, where they are known
    """
    answer = so_far.answer
    standing = answer.standing
    known = parts_look(standing, meshes, system) if parts is None else parts
    out: Record = {
        "parts": with_least(known, _nearest(so_far, room), system),
        "leaders": leaders(answer, system),
        "verdict": _verdict(answer),
        "checks": table_look(checks_table(answer, room.place, system), system),
        "lines": [*sentences(so_far.advice, system), *answer.notes],
        "way": None if answer.way is None else way_look(answer.way, standing, room, system),
        "done": [str(step) for step in so_far.done],
        "left": [str(step) for step in so_far.left],
    }
    return out


def _nearest(so_far: SoFar, room: Room) -> Sequence[Clearance]:
    """The clearances, least first; once all is worked out, of parts far from everything too."""
    answer = so_far.answer
    spot = None if answer.spot is None else spot_point(room.place, answer.spot)
    near = {one.part for one in answer.near}
    far = tuple(part for part in answer.standing.parts if part.name not in near)
    if so_far.left or spot is None or not far:
        return answer.near
    beyond = clearances(replace(answer.standing, parts=far), room, spot, math.inf)
    return (*answer.near, *beyond)


def spot_look(spot: Spot) -> Record:
    """A spot of the place, or where it was put by hand [m, rad]."""
    x, y = (float(v) for v in spot.at)
    return {"name": spot.name, "at": [x, y], "heading": float(spot.heading)}


def _rows(turn: Array, shift: Array) -> list[float]:
    """A turn and a shift as one matrix, shape (4, 4), row after row."""
    whole = np.eye(4)
    whole[:3, :3], whole[:3, 3] = turn, shift
    return [float(x) for x in whole.ravel()]


def _at(spot: Spot) -> list[float]:
    x, y = (float(v) for v in spot.at)
    return _rows(floor2place(float(spot.heading)), np.array([x, y, 0.0]))


def leaders(answer: FitAnswer, system: str) -> list[Record]:
    """The least clearances as it is parked, each with what the tolerances may take from it."""
    checked = {id(c.clearance): c for c in answer.checks if c.clearance is not None}
    first = [c.clearance for c in answer.checks if c.clearance is not None]
    shown = sorted(
        {id(c): c for c in (*first, *answer.near[:LEADERS])}.values(), key=lambda c: c.gap
    )
    return [
        gap_look(one, system) | {"tolerance": _tolerance(checked.get(id(one)), system)}
        for one in shown
    ]


def _tolerance(check: Check | None, system: str) -> str:
    return "" if check is None else plus_minus(check.worst, "length", system)


def _verdict(answer: FitAnswer) -> Record:
    """The word on it all, and on its two questions, each with what decides it."""
    return {
        "word": str(answer.verdict),
        "key": answer.verdict.colour,
        "why": _why(answer.deciding),
        "room": {"word": str(answer.room_verdict), "key": answer.room_verdict.colour},
        "out": {"word": str(answer.out_verdict), "key": answer.out_verdict.colour},
    }


def _why(check: Check | None) -> str:
    """What decides, in one clause."""
    if check is None:
        return ""
    if check.missing == PENDING:
        return f"{check.group} {PENDING}"
    head = f"{check.title}: {check.detail or check.what}"
    return "; ".join(text for text in (head, check.why) if text)
