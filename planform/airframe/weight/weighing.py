"""From scale readings to an empty weight and CG, every correction a line."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planform.airframe.weight.items import Item, of_file, summed
from planform.core.frames import body2floor
from planform.design.models import Design
from planform.design.standing import support_of
from planform.design.weighing import Scale

Array = NDArray[np.float64]


@dataclass(frozen=True)
class ScaleLine:
    """One scale: what it showed, its tare, and where it stood [kg, m]; the texts as read."""

    at: str
    reading: float
    tare: float
    tare_given: bool
    reading_text: str
    tare_text: str
    fs: float
    bl: float | None
    wl: float | None

    @property
    def net(self) -> float:
        """Reading less tare."""
        return self.reading - self.tare


@dataclass(frozen=True)
class Weighed:
    """A weighing worked out.

    as_weighed : the sum of the scales as if level; levelled : with the level's correction
    corrections : what was aboard and does not belong (below zero), what belongs and was not
    has_bl : whether every scale's butt line is known, so that the lateral CG means something
    """

    scales: tuple[ScaleLine, ...]
    as_weighed: Item
    levelled: Item
    level_change: float
    lean_change: float
    cg_wl: float | None
    corrections: tuple[Item, ...]
    empty: Item
    has_bl: bool


def weigh(design: Design) -> Weighed | None:
    """Work out the design's weighing, or None where there is none.

    A scale pushes straight up through its wheel's axle or pad. Out of level, the CG stands over
    the scales' centre of pressure, so its station depends on its height over them:
    fs = centre + tan(level) * (height of the axles - height of the CG), nose up positive
    (statics; solved here for level and lean together).
    """
    if design.balance is None or design.balance.weighing is None:
        return None
    weighing = design.balance.weighing
    scales = tuple(_line(design, scale) for scale in weighing.scales)
    has_bl = all(line.bl is not None for line in scales)
    as_weighed = summed("as weighed", [Item(s.at, s.net, s.fs, s.bl or 0.0, s.wl) for s in scales])
    cg_wl = None if weighing.cg_wl is None else float(weighing.cg_wl)
    if cg_wl is None and design.masses:
        cg_wl = estimate(design).wl
    fs, bl = as_weighed.fs, as_weighed.bl
    tilted = float(weighing.level) != 0.0 or float(weighing.lean) != 0.0
    if tilted:
        assert cg_wl is not None
        fs, bl = _level(scales, float(weighing.level), float(weighing.lean), cg_wl)
    levelled = Item("levelled", as_weighed.mass, fs, bl, cg_wl)
    corrections = (
        *(of_file(item).less() for item in weighing.deduct),
        *(of_file(item) for item in weighing.add),
    )
    return Weighed(
        scales,
        as_weighed,
        levelled,
        levelled.fs - as_weighed.fs,
        levelled.bl - as_weighed.bl,
        cg_wl,
        corrections,
        summed("empty, as weighed", [levelled, *corrections]),
        has_bl,
    )


def _line(design: Design, scale: Scale) -> ScaleLine:
    name, item = support_of(design, scale.at) or ("", None)
    mirror = -1.0 if item and (scale.at == f"left {name}" or item.side == "left") else 1.0
    fs = scale.arm if scale.arm is not None else item.fs if item else 0.0
    bl = scale.bl if scale.bl is not None else mirror * item.bl if item else None
    wl = scale.wl if scale.wl is not None else item.wl if item else None
    return ScaleLine(
        scale.at,
        float(scale.reading),
        float(scale.tare or 0.0),
        scale.tare is not None,
        scale.reading.text,
        scale.tare.text if scale.tare is not None else "",
        float(fs),
        None if bl is None else float(bl),
        None if wl is None else float(wl),
    )


def _level(
    scales: tuple[ScaleLine, ...], level: float, lean: float, cg_wl: float
) -> tuple[float, float]:
    """Station and butt line of the CG of an aircraft weighed out of level [m]."""
    turn = body2floor(level, lean)
    points = np.array([[s.fs, s.bl or 0.0, s.wl or 0.0] for s in scales])
    net = np.array([s.net for s in scales])
    pressure = net @ (points @ turn[:2].T) / net.sum()
    fs, bl = np.linalg.solve(turn[:2, :2], pressure - turn[:2, 2] * cg_wl)
    return float(fs), float(bl)


def estimate(design: Design) -> Item:
    """All mass items of the design together."""
    items = [
        Item(m.name, float(m.mass), float(m.fs), float(m.bl), float(m.wl)) for m in design.masses
    ]
    return summed("estimate from mass items", items)
