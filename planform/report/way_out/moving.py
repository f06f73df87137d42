"""A route as a moving picture: a GIF of the same shapes, the same bytes every time."""

from __future__ import annotations

import io
import math
import textwrap
from collections.abc import Sequence
from typing import Any

import numpy as np

from planform.airframe.stance import Standing
from planform.design.told import said
from planform.drawing.sketch import Paint, Sketch, looks
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
COLOURS = 128
SWATCH = 120
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


def animation(
    standing: Standing,
    room: Room,
    steps: Sequence[Step],
    sentences: Sequence[str],
    clearance: float,
    system: str,
    tights: Sequence[Tight] = (),
) -> bytes:
    """The roll-out as a GIF that runs for ever: step and instruction over it, clearance below.

    sentences : the instruction of each step; clearance : proved along the route [m]
    """
    sheet, background = _ground(standing, room, steps, sentences, system)
    shapes = aircraft_shapes(standing)
    below = f"clearance proved all along the way: {said(clearance, 'gap', system)}"
    pictures: list[Any] = []
    times: list[int] = []
    for step, words, count in zip(steps, sentences, pace(steps), strict=True):
        here = [t for t in tights if step.has(t.move)]
        for k in range(count + 1):
            if k == 0 and pictures:
                continue
            paint = Paint(sheet, 1.0, background.copy())
            pose = pose_along(step, k / count)
            for shape, css, _ in shapes:
                paint.call("shape", at_pose(shape, pose), css, None)
            for tight in here:
                ends = [tight.at_part[:2], tight.at_thing[:2]]
                paint.call("line", np.array(ends), "leader", None)
                for end in ends:
                    paint.call("dot", end, "end", 3.0)
            _caption(paint, f"{step.number}. {words}")
            told = f"tightest here: {tight_words(here[0], system)}" if here else below
            _line(paint, sheet.height - 8.0, told, "strong" if here else "small")
            pictures.append(paint.finished())
            times.append(HOLD if k in (0, count) else FRAME)
    times[-1] = LAST
    return _gif(pictures, times)


def _ground(
    standing: Standing, room: Room, steps: Sequence[Step], sentences: Sequence[str], system: str
) -> tuple[Sketch, Any]:
    """The sheet and the picture that stays the same: the room and all that is swept."""
    sweep = swept_outline(plan_outline(standing), [m for step in steps for m in step.moves])
    low, high = extent_with(room, sweep)
    scale = WIDTH / float(high[0] - low[0] + 1.2)
    lines = max(
        len(_wrapped(f"{step.number}. {s}")) for step, s in zip(steps, sentences, strict=True)
    )
    high = high + np.array([0.0, LINE * lines / scale])
    low = low - np.array([0.0, LINE / scale])
    sheet = Sketch(low, high, width=WIDTH, margin=0.6)
    draw_ground(sheet, room, system)
    sheet.shape(sweep, "sweep")
    label_things(sheet, room, system)
    sheet.settle()
    paint = Paint(sheet, 1.0)
    for call in sheet.drawn:
        paint.call(*call)
    return sheet, paint.image


def _wrapped(text: str) -> list[str]:
    return textwrap.wrap(text, int(WIDTH / 8.4))


def _caption(paint: Paint, text: str) -> None:
    for k, line in enumerate(_wrapped(text)):
        _line(paint, 20.0 + LINE * k, line, "called")


def _line(paint: Paint, y: float, text: str, css: str) -> None:
    sheet = paint.sketch
    point = np.array([sheet.low[0] + 10.0 / sheet.scale, sheet.high[1] - y / sheet.scale])
    paint.call("words", point, css, (text, "start"))


def _gif(pictures: Sequence[Any], times: Sequence[int]) -> bytes:
    """The pictures in one palette, taken from the first and the last of them and from the looks."""
    from PIL import Image

    width, height = pictures[0].size
    strong = sorted({v for rules in looks().values() for v in rules.values() if v[0] == "#"})
    known = Image.new("RGB", (width, 2 * height + SWATCH))
    known.paste(pictures[0], (0, 0))
    known.paste(pictures[-1], (0, height))
    wide = width // len(strong)
    for k, colour in enumerate(strong):
        known.paste(colour, (k * wide, 2 * height, (k + 1) * wide, 2 * height + SWATCH))
    palette = known.quantize(COLOURS, method=Image.Quantize.MEDIANCUT)
    flat = [p.quantize(palette=palette, dither=Image.Dither.NONE) for p in pictures]
    out = io.BytesIO()
    flat[0].save(
        out,
        format="GIF",
        save_all=True,
        append_images=flat[1:],
        duration=list(times),
        loop=0,
        optimize=False,
    )
    return out.getvalue()
