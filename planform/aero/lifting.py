"""The lifting surfaces of a built airframe, as the lattice sees them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from planform.airframe.build import Airframe
from planform.airframe.plan_chains import counted
from planform.airframe.presence import on_stage
from planform.airframe.surfaces import Half
from planform.core.flow.lattice import Chain
from planform.core.flow.strips import StripLine
from planform.core.shape.profiles import Profile, camber_slope
from planform.design.models import Stage
from planform.design.problems import InputError, Problem

Array = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Lifting:
    """One surface on the right half: its line, and how its cuts are set and cambered.

    host_role : the role of the surface that it stands on; '' where it stands on none
    steps : as `Half.steps`
    """

    line: StripLine
    role: str
    incidence: Array
    profiles: tuple[Profile, ...]
    host_role: str = ""
    steps: tuple[tuple[int, float], ...] = ()

    @property
    def name(self) -> str:
        """The name in the design file."""
        return self.line.name

    @property
    def loads_the_wing(self) -> bool:
        """Whether its lift and side force bend the wing's root: a wing, and what stands on it."""
        return "wing" in (self.role, self.host_role)

    def setting(self, chain: Chain) -> Array:
        """Incidence less camber slope at the control points, shape (rows, strips) [rad]."""
        at = _distance(chain)
        along = self.line.developed()
        x = (np.arange(chain.rows) + 0.75) / chain.rows
        slopes = np.array([camber_slope(profile, x) for profile in self.profiles])
        slope = np.array([np.interp(at, along, slopes[:, k]) for k in range(chain.rows)])
        set_at = np.interp(at, along, self.incidence)
        for k, step in self.steps:
            share = (at - along[k]) / (along[k + 1] - along[k])
            set_at = set_at + np.where((share >= 0.0) & (share < 1.0), step * (1.0 - share), 0.0)
        return np.asarray(set_at - slope)


def _distance(chain: Chain) -> Array:
    """Distance along the surface of each strip's control points, shape (strips,) [m]."""
    width = chain.width()
    return np.asarray(np.concatenate([[0.0], np.cumsum(width)[:-1]]) + chain.share * width)


def lifting_surfaces(airframe: Airframe, stage: Stage | None = None) -> tuple[Lifting, ...]:
    """The surfaces that lift at a stage, or all of them; fins on the centre line carry nothing.

    Where the sides differ, the mean of both (`_mean`).
    Raises InputError where a surface is on one side only: the lattice is half of a symmetric
    aircraft.
    """
    kept: dict[str, dict[int, Half]] = {}
    cuts: dict[tuple[str, int], int] = {}
    for half in airframe.halves:
        if _on_the_centre_line(airframe, half):
            continue
        ends = len(half.chord) if stage is None else _sections_on(airframe, stage, half)
        if ends > 1:
            kept.setdefault(half.group, {})[half.side] = half
            cuts[(half.group, half.side)] = ends
    out = []
    for name, both in kept.items():
        ends = cuts.get((name, 1), 0)
        if ends != cuts.get((name, -1), 0):
            side = "right" if ends else "left"
            allowed = (
                f"the {name} is on the {side} side only, and the lattice takes a symmetric "
                "aircraft; give both sides"
            )
            raise InputError(airframe.design.name, [Problem("", "", allowed)])
        out.append(_lifting(airframe, _mean(both[1], both[-1]), ends))
    out = _joined(airframe, out)
    if all(surface.line.stands().all() for surface in out):
        raise InputError(
            airframe.design.name,
            [Problem("lifting", "none that lifts", "give a wing, or name a stage that has one")],
        )
    _refuse_overlaps(airframe, out)
    return tuple(out)


def _on_the_centre_line(airframe: Airframe, half: Half) -> bool:
    """Whether it is a fin on the centre line, also where it was built a little beside it."""
    surface = airframe.design.lifting.get(half.group)
    if airframe.moved is not None and surface is not None and surface.side == "centre":
        return float(np.ptp(half.leading_edge[:, 1])) < 0.5 * float(np.ptp(half.leading_edge[:, 2]))
    return bool(np.ptp(half.leading_edge[:, 1]) == 0.0 and half.leading_edge[0, 1] == 0.0)


def _alike(one: Half, other: Half) -> bool:
    """Whether the two sides of a surface are each other's mirror image."""
    return one.steps == other.steps and all(
        np.array_equal(getattr(one, field), getattr(other, field))
        for field in ("leading_edge", "chord", "incidence")
    )


def _lifting(airframe: Airframe, side: Half, ends: int) -> Lifting:
    """One side of a surface with its first cuts, as if it stood on the right."""
    half = counted(airframe, side)
    ends += len(half.chord) - len(side.chord)
    line = StripLine(half.group, half.leading_edge[:ends], half.chord[:ends])
    host = _host_role(airframe, half.group)
    steps = tuple((k, step) for k, step in half.steps if k < ends - 1)
    return Lifting(line, half.role, half.incidence[:ends], half.profiles[:ends], host, steps)


def lifting_sides(
    airframe: Airframe, stage: Stage | None = None
) -> tuple[tuple[Lifting, ...], tuple[Lifting, ...]]:
    """The surfaces of the right and of the left side, each as if it stood on the right.

    Raises InputError as `lifting_surfaces` does.
    """
    names = [surface.name for surface in lifting_surfaces(airframe, stage)]
    found: dict[int, list[Lifting]] = {1: [], -1: []}
    for name in names:
        for half in airframe.halves:
            if half.group == name:
                ends = len(half.chord) if stage is None else _sections_on(airframe, stage, half)
                found[half.side].append(_lifting(airframe, half, ends))
    return tuple(_joined(airframe, found[1])), tuple(_joined(airframe, found[-1]))


def _joined(airframe: Airframe, surfaces: list[Lifting]) -> list[Lifting]:
    """As built, winglets moved in height and sideways to the very tip that they stand on.

    A panel that was swung takes its winglet along, whose root then misses the leading edge of its
    tip by a hair; a lattice needs both edges in one place, seen from ahead.
    """
    if airframe.moved is None:
        return surfaces
    tips = {surface.name: surface.line.edge[-1] for surface in surfaces}
    out = []
    for surface in surfaces:
        on = airframe.design.winglets.get(surface.name)
        if on is not None and on.on in tips:
            off = (tips[on.on] - surface.line.edge[0]) * np.array([0.0, 1.0, 1.0])
            line = replace(surface.line, edge=surface.line.edge + off)
            surface = replace(surface, line=line)
        out.append(surface)
    return out


def _mean(one: Half, other: Half) -> Half:
    """The mean of both sides of a surface as built: what is off on one side counts half.

    Lift, neutral point and pitching moment of an aircraft whose sides differ a little are those of
    the mean, but for squares of the differences (a mirror image of it has the same ones).
    """
    if _alike(one, other):
        return one
    fields = ("leading_edge", "chord", "incidence", "angle")
    half = {name: 0.5 * (getattr(one, name) + getattr(other, name)) for name in fields}
    edge = half["leading_edge"]
    if one.leading_edge[0, 1] == 0.0:
        edge[0, 1] = 0.0
    here, there = dict(one.steps), dict(other.steps)
    each = sorted({*here, *there})
    steps = tuple((k, 0.5 * (here.get(k, 0.0) + there.get(k, 0.0))) for k in each)
    return replace(one, leading_edge=edge, steps=steps, **{n: half[n] for n in fields[1:]})


def _host_role(airframe: Airframe, name: str) -> str:
    """The role of the surface that a winglet stands on; '' for what is no winglet."""
    design = airframe.design
    on = design.winglets[name].on if name in design.winglets else ""
    return design.lifting[on].role if on in design.lifting else ""


def _sections_on(airframe: Airframe, stage: Stage, half: Half) -> int:
    """How many of a half's cuts are on at a stage, from the inner one out to a joint."""
    prefix = half.name.removesuffix(half.group)
    names = [half.name, *(prefix + joint for _, joint in half.joints)]
    by_name = {part.name: part for part in airframe.parts}
    on = [on_stage(stage, by_name[name]) for name in names]
    whole = sum(on)
    if any(on[whole:]):
        words = "an outer panel without its inner one; the lattice needs the surface from the root"
        raise InputError(airframe.design.name, [Problem(half.name, f"stage {stage.name}", words)])
    ends = [k + 1 for k, _ in half.joints]
    return [0, *ends, len(half.chord)][whole]


NEAR = 0.01
"""Share of the chord within which two surfaces over each other count as overlapping."""


def _refuse_overlaps(airframe: Airframe, surfaces: Sequence[Lifting]) -> None:
    for k, one in enumerate(surfaces):
        for two in surfaces[:k]:
            if _overlap(one.line, two.line):
                raise InputError(
                    airframe.design.name,
                    [
                        Problem(
                            "",
                            "",
                            f"the {one.name} lies in the {two.name}; allowed: surfaces that keep "
                            "apart; move one in station or waterline",
                        )
                    ],
                )


def _overlap(one: StripLine, two: StripLine) -> bool:
    """Whether two lying surfaces share a patch of the same plane."""
    low = max(one.edge[:, 1].min(), two.edge[:, 1].min())
    high = min(one.edge[:, 1].max(), two.edge[:, 1].max())
    if one.stands().any() or two.stands().any() or high - low < 1e-6:
        return False
    y = np.linspace(low, high, 41)[1:-1]

    def at(line: StripLine) -> tuple[Array, Array, Array]:
        return (
            np.interp(y, line.edge[:, 1], line.edge[:, 0]),
            np.interp(y, line.edge[:, 1], line.edge[:, 2]),
            np.interp(y, line.edge[:, 1], line.chord),
        )

    (x1, z1, c1), (x2, z2, c2) = at(one), at(two)
    beside = (x1 < x2 + c2) & (x2 < x1 + c1)
    return bool((beside & (np.abs(z1 - z2) < NEAR * np.maximum(c1, c2))).any())
