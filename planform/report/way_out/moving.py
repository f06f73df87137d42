"""A route as a moving picture, of the same shapes as the pictures of its steps."""

from __future__ import annotations

import math
import textwrap
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from planform.airframe.stance import Standing
from planform.design.told import said
from planform.drawing.drawing import Dimension, Drawing, Film, Frame, Mark, Text
from planform.drawing.sheet import Sheet, fills
from planform.drawing.style import Kind
from planform.drawing.views import label_things
from planform.fit.moves import Pose, Tight
from planform.fit.room import Room
from planform.fit.steps import Step
from planform.fit.swept import at_pose, plan_outline, swept_outline
from planform.report.way_out.pictures import aircraft_shapes, draw_ground, extent_with, tight_words

WIDTH = 480
FRAME = 90
"""Time of a frame [ms]."""
HOLD = 700
"""How long the start of every step is held [ms]."""
LAST = 1500
"""How long the end is held [ms]."""
FRAMES = 80
LEAST = 3
LINE = 19.0


def pace(steps: Sequence[Step], frames: int = FRAMES, least: int = LEAST) -> list[int]:
    """How many frames each step gets: by its travel and turn, and no fewer than a few."""
    sizes = [step.travel + 3.0 * abs(step.plain.turn) for step in steps]
    whole = sum(sizes) or 1.0
    return [max(least, math.ceil(frames * size / whole)) for size in sizes]


def pose_along(step: Step, share: float) -> Pose:
    """The pose after a share of a step, on the way its moves take."""
    at = share * len(step.moves)
    k = min(int(at), len(step.moves) - 1)
    return step.moves[k].at(at - k)


def film(
    standing: Standing,
    room: Room,
    told: Sequence[tuple[Step, str]],
    clearance: float,
    system: str,
    tights: Sequence[Tight] = (),
) -> Film:
    """The roll-out as a film: step and instruction over it, clearance below.

    told : each step with its instruction; clearance : proved along the route [m]
    """
    ground = _ground(standing, room, told, system)
    shapes = aircraft_shapes(standing)
    below = f"clearance proved all along the way: {said(clearance, 'gap', system)}"
    frames: list[Frame] = []
    for (step, words), count in zip(told, pace([step for step, _ in told]), strict=True):
        here = [t for t in tights if step.has(t.move)]
        foot = f"tightest here: {tight_words(here[0], system)}" if here else below
        over: list[Mark] = [Dimension(t.at_part[:2], t.at_thing[:2], "") for t in here]
        over += _caption(ground, f"{step.number}. {words}")
        over.append(_line(ground, ground.size[1] - 8.0, foot, "strong" if here else "small"))
        for k in range(1 if frames else 0, count + 1):
            pose = pose_along(step, k / count)
            marks = [one for shape, kind, _ in shapes for one in fills(at_pose(shape, pose), kind)]
            frames.append(Frame((*marks, *over), HOLD if k in (0, count) else FRAME))
    frames[-1] = replace(frames[-1], lasts=LAST)
    return Film(ground, tuple(frames))


def _ground(
    standing: Standing, room: Room, told: Sequence[tuple[Step, str]], system: str
) -> Drawing:
    """What stays the same: the room and all that is swept."""
    sweep = swept_outline(plan_outline(standing), [m for step, _ in told for m in step.moves])
    low, high = extent_with(room, sweep)
    scale = WIDTH / float(high[0] - low[0] + 1.2)
    lines = max(len(_wrapped(f"{step.number}. {words}")) for step, words in told)
    high = high + np.array([0.0, LINE * lines / scale])
    low = low - np.array([0.0, LINE / scale])
    sheet = Sheet(low, high, width=WIDTH, margin=0.6)
    draw_ground(sheet, room, system)
    sheet.shape(sweep, "sweep")
    label_things(sheet, room, system)
    return sheet.drawing(f"{standing.title}: the way out, step by step")


def _wrapped(text: str) -> list[str]:
    return textwrap.wrap(text, int(WIDTH / 8.4))


def _caption(ground: Drawing, text: str) -> list[Text]:
    lines = _wrapped(text)
    return [_line(ground, 20.0 + LINE * k, line, "called") for k, line in enumerate(lines)]


def _line(ground: Drawing, y: float, text: str, kind: Kind) -> Text:
    """Words at the left of the sheet, so many px down."""
    point = ground.low[0] + 10.0 / ground.scale, ground.high[1] - y / ground.scale
    return Text(np.array(point), text, kind, "start")
