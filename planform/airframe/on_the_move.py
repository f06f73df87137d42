"""The aircraft as it is while it is moved: castering wheels swing, a tow bar and who pulls it."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from operator import is_

import numpy as np
from numpy.typing import NDArray

from planform.airframe.part import Part
from planform.airframe.stance import Standing
from planform.core.shape import loft
from planform.core.shape.prism import prism
from planform.design.gear import TowBar, Wheel
from planform.design.sided import on_side

Array = NDArray[np.float64]

PERSON = 0.3
"""Half the width of who walks at the bar's handle [m]; assumption."""

STEPS_OVER, TALL = 0.3, 1.9
"""What is lower than the first of these is stepped over, and how tall one is [m]; assumptions."""

SIDES = 24
"""Sides of what is drawn round a swept circle."""


@lru_cache(maxsize=64)
def on_the_move(standing: Standing) -> Standing:
    """The aircraft with what counts only while it is moved; the very same where nothing does.

    A wheel with a trail counts with the whole circle that it swings on, in any direction. A tow
    bar stands straight out from its wheel, and who pulls it beyond its handle.
    """
    parts: list[Part] = []
    for part in standing.parts:
        wheel = _wheel_of(standing, part)
        if wheel is None:
            parts.append(part)
            continue
        parts.append(_swung(standing, part, wheel) if wheel.trail is not None else part)
        if wheel.tow_bar is not None:
            parts += _towed(standing, part, wheel, wheel.tow_bar)
    alike = len(parts) == len(standing.parts) and all(map(is_, parts, standing.parts))
    return standing if alike else replace(standing, parts=tuple(parts))


def _wheel_of(standing: Standing, part: Part) -> Wheel | None:
    if part.role != "wheel":
        return None
    wheel = standing.airframe.design.wheels[part.group]
    return on_side(wheel, "left" if part.name.startswith("left ") else "right")


def _axle(part: Part) -> Array:
    """The middle of a wheel as it stands, shape (3,) [m]."""
    return np.asarray(0.5 * (part.points.min(axis=0) + part.points.max(axis=0)))


def swing_radius(wheel: Wheel) -> float:
    """How far from its swivel anything of a castering wheel is, as written down [m]."""
    reach = float(wheel.trail or 0.0) + 0.5 * float(wheel.diameter)
    return float(np.hypot(reach, 0.5 * float(wheel.width)))


def _swung(standing: Standing, part: Part, wheel: Wheel) -> Part:
    """A wheel with all that it sweeps about its upright swivel, which is its trail ahead of it."""
    swivel = _axle(part) - standing.turn @ np.array([float(wheel.trail or 0.0), 0.0, 0.0])
    z = part.points[:, 2]
    points, faces = _round(swivel, swing_radius(wheel), float(z.min()), float(z.max()))
    return replace(part, points=points, faces=faces)


def _round(middle: Array, radius: float, low: float, high: float) -> loft.Mesh:
    at = (np.arange(SIDES) + 0.5) * 2.0 * np.pi / SIDES
    rim = radius / np.cos(np.pi / SIDES) * np.stack([np.cos(at), np.sin(at)], axis=1)
    return prism(middle[:2] + rim, low, high)


def _towed(standing: Standing, part: Part, wheel: Wheel, bar: TowBar) -> list[Part]:
    """The bar as a block from the wheel to its handle, and the person beyond."""
    axle = _axle(part)
    way = standing.turn @ np.array([-1.0 if bar.toward == "ahead" else 1.0, 0.0, 0.0])
    way = way[:2] / np.linalg.norm(way[:2])
    across = 0.5 * float(bar.width) * np.array([-way[1], way[0]])
    end = axle[:2] + float(bar.length) * way
    ring = np.array([axle[:2] - across, end - across, end + across, axle[:2] + across])
    low, high = sorted((float(axle[2]), standing.floor + float(bar.height)))
    beyond = np.array([*(end + PERSON * way), 0.0])
    solids = {
        "tow bar": prism(ring, low - 0.5 * BAR, high + 0.5 * BAR),
        "person at the tow bar": _round(
            beyond, PERSON, standing.floor + STEPS_OVER, standing.floor + TALL
        ),
    }
    return [
        Part(f"{part.name} {what}", part.group, "tow bar", *mesh, hosts=(*part.hosts, part.name))
        for what, mesh in solids.items()
    ]


BAR = 0.05
"""How thick a tow bar counts [m]; assumption."""
