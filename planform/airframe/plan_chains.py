"""Half planforms in plan, from which areas and mean chords are taken in closed form."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planform.airframe.build import Airframe
from planform.airframe.builders.bodies import outer_columns
from planform.airframe.surfaces import Half
from planform.core.shape import planform as pf
from planform.design.sided import hands

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class CutChain:
    """A half planform in plan: butt lines, leading-edge stations and chords, shape (n,) [m]."""

    y: Array
    x: Array
    chord: Array


def counted(airframe: Airframe, half: Half) -> Half:
    """The half as areas and the lattice take it: through the body where the file says so."""
    surface = airframe.design.lifting.get(half.group)
    through = surface is not None and surface.carried_through and half.begins_aside
    return half.to_centre() if through else half


def chain(half: Half) -> CutChain:
    """The half's plan chain as written (untwisted chords), from the centre line where it starts."""
    return CutChain(half.leading_edge[:, 1], half.leading_edge[:, 0], half.chord)


UPRIGHT = 0.25 * np.pi
"""A panel nearer to upright than this stands [rad]; assumption."""


def lying(half: Half) -> CutChain:
    """The half's plan chain without what stands at its tip: a tip bent up or down has no plan."""
    c = chain(half)
    flat = np.flatnonzero(np.abs(half.angle) <= UPRIGHT)
    end = int(flat[-1]) + 2 if len(flat) else len(c.y)
    return CutChain(c.y[:end], c.x[:end], c.chord[:end])


def clipped(c: CutChain, inboard: float) -> CutChain:
    """What of the chain lies outboard of a butt line [m]."""
    if inboard <= c.y[0]:
        return c
    keep = c.y > inboard
    x = np.interp(inboard, c.y, c.x)
    chord = np.interp(inboard, c.y, c.chord)
    return CutChain(
        np.concatenate([[inboard], c.y[keep]]),
        np.concatenate([[x], c.x[keep]]),
        np.concatenate([[chord], c.chord[keep]]),
    )


def outer_trapezoid(c: CutChain) -> CutChain:
    """The outermost panel with its edges carried straight on to the centre line."""
    y, x, chord = pf.to_centreline(c.y[-2:], c.x[-2:], c.chord[-2:])
    return CutChain(np.array([y, c.y[-1]]), np.array([x, c.x[-1]]), np.array([chord, c.chord[-1]]))


def together(chains: list[CutChain]) -> tuple[float, float, float, float]:
    """Area of all sides, MAC, its leading-edge station and its butt line [m2, m]."""
    areas = [pf.half_area(c.y, c.chord) for c in chains]
    whole = sum(areas)

    def mean(values: list[float]) -> float:
        return sum(a * v for a, v in zip(areas, values, strict=True)) / whole

    return (
        whole,
        mean([pf.mean_aerodynamic_chord(c.y, c.chord) for c in chains]),
        mean([pf.mac_leading_edge(c.y, c.x, c.chord) for c in chains]),
        mean([pf.mac_butt_line(c.y, c.chord) for c in chains]),
    )


def body_side(airframe: Airframe, chains: list[CutChain]) -> float:
    """Butt line [m] of the widest body on the centre line beside the surface's root chord."""
    low = min(float(c.x[0]) for c in chains)
    high = max(float(c.x[0] + c.chord[0]) for c in chains)
    widest = 0.0
    for body in (one for pair in airframe.design.bodies.values() for _, one in hands(pair)):
        if float(body.bl) != 0.0:
            continue
        for columns in outer_columns(body):
            fs, width = columns.fs, columns.half_width
            inside = (fs >= low) & (fs <= high)
            ends = [np.interp(x, fs, width) for x in (low, high) if fs[0] <= x <= fs[-1]]
            widest = max([widest, *width[inside], *ends])
    return float(widest)
