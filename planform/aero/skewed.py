"""What an aircraft whose sides differ does in trim: where its lift is, sideways, and what it yaws.

Both sides of the lattice stand beside each other, each with its own lines and settings, at the
angle of attack and the setting that trim their mean. Linear, as the lattice is; the drag that the
lift induces is not in the yawing moment. The rolling moment is taken about the centre line at the
waterline of the wing's root, as if the CG lay there.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Annotated

import numpy as np

from planform.aero.answer import Figure, reference_wing
from planform.aero.flow import solve, trimming
from planform.aero.lifting import Lifting, lifting_sides, lifting_surfaces
from planform.airframe.build import Airframe
from planform.core.flow.lattice import Chain, Coincident, influence, weights
from planform.core.flow.strips import ROWS, STRIPS, strip_up
from planform.core.quantity import Unit
from planform.core.vectors import Array
from planform.design.models import Stage
from planform.design.problems import InputError, Problem


@dataclass(frozen=True)
class Skewed:
    """What differing sides do at one lift; figures with their change from a coarser lattice.

    lift_aside : where the lift acts, to the right of the centre line [m]; a CG as far to that side
        would balance it, at any weight
    yaw_arm : yawing moment of the side forces about the CG over the lift, nose right positive [m]
    set_apart : by how much the right side of `on` would have to be set nose up over the left one
        so that nothing is left to roll [rad]
    on : the outermost panels of the widest wing that are of parts of their own, or the whole wing
    """

    lift: float
    lift_aside: Annotated[Figure, Unit("m")]
    yaw_arm: Annotated[Figure, Unit("m")]
    set_apart: Annotated[Figure, Unit("rad")]
    on: str


def skewed(airframe: Airframe, lift: float, station: float, stage: Stage | None = None) -> Skewed:
    """What the differences of the sides do in trim.

    lift : coefficient on the wing as it is ; station : of the CG [m]
    Raises InputError where the lattice cannot be solved, or nothing trims it.
    """
    fine = _at(airframe, (lift, station), stage, (STRIPS, ROWS))
    coarse = _at(airframe, (lift, station), stage, (STRIPS // 2, ROWS // 2))
    aside, yaw, apart = (Figure(a, abs(a - b)) for a, b in zip(fine, coarse, strict=True))
    return Skewed(lift, aside, yaw, apart, _outermost(airframe)[0])


def _outermost(airframe: Airframe) -> tuple[str, str, float]:
    """What could be set to balance: its name, the surface, and how far along that it begins [m]."""
    wings = [half for half in airframe.halves if half.role == "wing" and half.side > 0]
    widest = max(wings, key=lambda half: float(half.leading_edge[:, 1].max()))
    if not widest.joints:
        return widest.group, widest.group, 0.0
    cut, name = widest.joints[-1]
    return name, widest.group, float(widest.developed[cut])


def _at(
    airframe: Airframe, trim: tuple[float, float], stage: Stage | None, size: tuple[int, int]
) -> tuple[float, float, float]:
    area, chord, _ = reference_wing(airframe)
    mean = solve(lifting_surfaces(airframe, stage), area, chord, *size)
    trimmed, height = mean.trim(*trim), mean.root[1]
    sides = lifting_sides(airframe, stage)
    chains: list[Chain] = []
    wanted: list[Array] = []
    for surfaces, hand in zip(sides, (1.0, -1.0), strict=True):
        own = strip_up([one.line for one in surfaces], *size)
        trimmer = trimming(surfaces)
        for surface, chain in zip(surfaces, own, strict=True):
            setting = surface.setting(chain)
            turned = trimmed.turned_by or 0.0
            base = trimmed.nose_up_angle * np.cos(chain.angle()) + setting
            base = base + (turned if surface is trimmer else 0.0)
            apart = np.tile(0.5 * hand * _beyond(airframe, surface, chain), (chain.rows, 1))
            if hand < 0.0:
                chain, base, apart = _flipped(chain), base[:, ::-1], apart[:, ::-1]
            chains.append(chain)
            wanted.append(np.column_stack([base.ravel(), apart.ravel()]))
    try:
        matrix = influence(tuple(chains), mirrored=False)
        found = np.asarray(np.linalg.solve(matrix, -np.concatenate(wanted)))
    except (Coincident, np.linalg.LinAlgError):
        words = "the lattice of both sides cannot be solved; surfaces lie in each other's wake"
        raise InputError(airframe.design.name, [Problem("", "", words)]) from None
    return _read(tuple(chains), np.asarray(found), trim[1], height)


def _read(
    chains: tuple[Chain, ...], found: Array, station: float, height: float
) -> tuple[float, float, float]:
    w = weights(chains, (0.0, height))
    x = np.concatenate([(0.5 * (c.node_x()[:, :-1] + c.node_x()[:, 1:])).ravel() for c in chains])
    lift = float(w.lift @ found[:, 0])
    roll, per = w.bend @ found[:, 0], w.bend @ found[:, 1]
    yaw = -(w.side * (x - station)) @ found[:, 0]
    return float(roll) / lift, float(yaw) / lift, -float(roll / per)


def _beyond(airframe: Airframe, surface: Lifting, chain: Chain) -> Array:
    """1 for strips of the outermost panels, 0 for others, shape (strips,)."""
    _, name, start = _outermost(airframe)
    if surface.name != name:
        return np.zeros(chain.strips)
    width = chain.width()
    along = np.concatenate([[0.0], np.cumsum(width)[:-1]]) + chain.share * width
    return np.where(along >= start, 1.0, 0.0)


def _flipped(chain: Chain) -> Chain:
    """The mirror image of a chain, its strips from left to right."""
    edge = (chain.edge * np.array([1.0, -1.0, 1.0]))[::-1]
    return replace(chain, edge=edge, chord=chain.chord[::-1], share=1.0 - chain.share[::-1])
