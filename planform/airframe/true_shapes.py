"""Parts as they truly are: skins through their true sections, and rounds, where facets stand now.

A skin is a grid of points on the true surface; a writer lays a spline through each row, and from
row to row a straight line, or a spline where a body is smooth. All points are aircraft axes, as
built: nothing is turned.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from planform.airframe.builders.bodies import columns_of
from planform.airframe.builders.controls import bounds
from planform.airframe.builders.gear import fairing_columns
from planform.airframe.drawn import Airframe, build_drawn
from planform.airframe.part import Part
from planform.airframe.surfaces import Half, sided_name, sides, spans
from planform.airframe.true_curves import FINE, fine_section
from planform.core.shape import hulls, rounds
from planform.core.shape.hulls import Columns
from planform.core.shape.parting import Plane
from planform.core.shape.splines import through
from planform.design.bodies import Body, CanopyBulge
from planform.design.controls import Control
from planform.design.gear import Wheel
from planform.design.sided import differs, on_side

Array = NDArray[np.float64]
Item = TypeVar("Item", Body, Control, Wheel)

EVERY = (8, 4, 2)
"""Of the places along a chord where the true section is known, a skin takes one in so many; tried
one after the other."""
COUNTS = (33, 65, 129)
"""Places in a quarter of a body's section that are tried."""
NEAR = 2e-5
"""How far a spline may be off a true section [m]."""
SAME = 1e-7
"""A part whose points are nearer than this to those of its moved self is only moved [m]."""
SHUT = 1e-9
"""A trailing edge less open than this is one line [m]."""


@dataclass(frozen=True, eq=False)
class Skin:
    """One face of a part.

    points : (rows, n, 3) on it [m] ; at : (n,) the parameter along a row, rising
    """

    points: Array
    at: Array


Band = tuple[Skin, ...]
"""Skins that go once around; the last point of each row is the first of the next skin."""


@dataclass(frozen=True, eq=False)
class TrueShell:
    """A closed solid: bands, each from where the one before ends, and flat ends.

    without : of each piece that is cut out, the planes that it lies within
    within : the planes that it is itself cut out by
    """

    bands: tuple[Band, ...]
    without: tuple[tuple[Plane, ...], ...] = ()
    within: tuple[Plane, ...] = ()

    def moved(self, turn: Array, shift: Array) -> TrueShell:
        """The same, turned (3, 3) and then shifted (3,) [m]."""

        def there(planes: tuple[Plane, ...]) -> tuple[Plane, ...]:
            return tuple(Plane(turn @ one.point + shift, turn @ one.normal) for one in planes)

        bands = (
            tuple(Skin(skin.points @ turn.T + shift, skin.at) for skin in band)
            for band in self.bands
        )
        return TrueShell(tuple(bands), tuple(map(there, self.without)), there(self.within))


@dataclass(frozen=True, eq=False)
class Round:
    """A right round cylinder from a point to a point, shape (3,) each [m]."""

    start: Array
    end: Array
    radius: float


def shells(airframe: Airframe) -> dict[str, TrueShell]:
    """The parts that are lofts, by their names, as built, and what is cut out of them.

    A body with a keel or with flats, and a surface whose trailing edge closes along it, is not
    among them.
    """
    out: dict[str, TrueShell] = {}
    for half in airframe.halves:
        out |= dict(_surface(half))
    for name, body in airframe.design.bodies.items():
        out |= dict(_body(name, body))
    for name, wheel in airframe.design.wheels.items():
        out |= dict(_fairing(name, wheel))
    for name, control in airframe.design.controls.items():
        for half in airframe.halves:
            if half.group != control.on or half.side not in sides(control.side):
                continue
            panel, planes = bounds(name, _own(control, half.side), half)
            host = out.get(panel)
            if host is not None:
                out[panel] = replace(host, without=(*host.without, planes))
                out[sided_name(name, control.side, half.side)] = replace(host, within=planes)
    return out


def _own(item: Item, side: int) -> Item:
    """What is written of a piece on its side, where sides differ."""
    return on_side(item, "right" if side > 0 else "left") if differs(item) else item


def _surface(half: Half) -> Iterator[tuple[str, TrueShell]]:
    cuts = [fine_section(half, float(along)) for along in half.developed]
    upper, lower = np.stack([cut.upper for cut in cuts]), np.stack([cut.lower for cut in cuts])
    if half.closed:
        lower[:, -1] = upper[:, -1]
    gap = np.linalg.norm(upper[:, -1] - lower[:, -1], axis=1)
    both = _few_enough(upper, lower)
    if both is None or gap.min() < SHUT < gap.max():
        return
    over, under = both
    skins = [Skin(over.points[:, ::-1], 1.0 - over.at[::-1]), under]
    if gap.max() > SHUT:
        skins.append(Skin(np.stack([lower[:, -1], upper[:, -1]], axis=1), np.array([0.0, 1.0])))
    for name, first, last in spans(half):
        rows = [slice(k, k + 2) for k in range(first, last)]
        yield name, TrueShell(tuple(tuple(Skin(s.points[r], s.at) for s in skins) for r in rows))


def _few_enough(upper: Array, lower: Array) -> tuple[Skin, Skin] | None:
    """Skins with as few points as keep their splines near the true sections; None where none do.

    upper, lower : (cuts, FINE, 3) from the leading edge aft [m]
    Their parameter is the root of the share of chord, in which a round nose is smooth.
    """
    at = np.sin(np.linspace(0.0, np.pi / 2.0, FINE))
    both = np.stack([upper, lower]).transpose(2, 0, 1, 3)
    for every in EVERY:
        off = through(both[::every], at[::every]).at(at) - both
        if float(np.linalg.norm(off, axis=-1).max()) < NEAR:
            return Skin(upper[:, ::every], at[::every]), Skin(lower[:, ::every], at[::every])
    return None


def _body(name: str, body: Body) -> Iterator[tuple[str, TrueShell]]:
    for sign in sides(body.side):
        own = _own(body, sign)
        shapes: list[tuple[str, Body | CanopyBulge]] = [(sided_name(name, own.side, sign), own)]
        if own.canopy_bulge is not None:
            shapes.append((f"{shapes[0][0]} canopy bulge", own.canopy_bulge))
        for called, shape in shapes:
            columns = columns_of(shape.cuts)
            if shape.smooth:
                shell = _lofted(columns.smoothed(), hulls.STEPS, float(own.bl))
            else:
                shell = _lofted(columns, 1, float(own.bl))
            if shell is not None:
                yield called, shell.moved(np.diag([1.0, float(sign), 1.0]), np.zeros(3))


def _fairing(name: str, wheel: Wheel) -> Iterator[tuple[str, TrueShell]]:
    for sign in sides(wheel.side):
        own = _own(wheel, sign)
        shell = _lofted(fairing_columns(own.fairing), 1, float(own.bl)) if own.fairing else None
        if shell is not None:
            called = f"{sided_name(name, own.side, sign)} fairing"
            yield called, shell.moved(np.diag([1.0, float(sign), 1.0]), np.zeros(3))


def _lofted(columns: Columns, step: int, bl: float) -> TrueShell | None:
    """A body from cut to cut; None where its section is more than a round, or too boxy.

    step : how many rows there are from cut to cut; more than one lie on a smooth body
    """
    table = columns.table()
    if (table[:, 5:] > 0.0).any():
        return None
    for count in COUNTS:
        at, rings = rounds.quarters(table, count)
        finer, truth = rounds.quarters(table, 2 * count - 1)
        off = through(rings.transpose(2, 0, 1, 3), at).at(finer) - truth.transpose(2, 0, 1, 3)
        if float(np.linalg.norm(off, axis=-1).max()) < NEAR:
            break
    else:
        return None
    rings = rings + np.array([0.0, bl, 0.0])
    bands = (
        tuple(Skin(quarter[first : first + step + 1], at) for quarter in rings)
        for first in range(0, len(table) - 1, step)
    )
    return TrueShell(tuple(bands))


ROUNDS = ("wheel", "brake", "leg", "strut", "propeller")
"""Roles of parts that are round where their facets are a regular prism."""


def round_of(part: Part) -> Round | None:
    """The cylinder that a part's facets touch from outside; None where they are none."""
    size = len(part.points) // 2
    if part.role not in ROUNDS or len(part.points) % 2 or size < 8:
        return None
    rings = part.points.reshape(2, size, 3)
    start, end = rings.mean(axis=1)
    arms = rings - rings.mean(axis=1, keepdims=True)
    rim = np.linalg.norm(arms, axis=2)
    line = end - start
    upright = np.abs(arms @ line).max() <= SHUT * float(np.linalg.norm(line))
    even = np.linalg.norm(arms - np.roll(arms, 1, axis=1), axis=2)
    regular = max(float(np.ptp(rim)), float(np.ptp(even))) <= SHUT
    if not (upright and regular):
        return None
    return Round(start, end, float(rim.mean() * np.cos(np.pi / size)))


def true_parts(airframe: Airframe, parts: Iterable[Part]) -> tuple[TrueShell | Round | None, ...]:
    """What each part truly is, where it stands; None where it is its facets, or not known better.

    parts : of this airframe, turned and shifted in any way; one that is bent, as a leg whose
        wheel alone has moved, or was built in another shape than drawn, is its facets
    """
    source = airframe if airframe.moved is None else build_drawn(airframe.design, airframe)
    known = shells(source)
    out: list[TrueShell | Round | None] = []
    for part in parts:
        shell = known.get(part.name)
        if shell is None:
            out.append(round_of(part))
            continue
        motion = motion_of(source.by_name[part.name].points, part.points)
        out.append(shell.moved(*motion) if motion is not None else None)
    return tuple(out)


def motion_of(before: Array, after: Array) -> tuple[Array, Array] | None:
    """Rotation (3, 3) and shift (3,) [m] from points (n, 3) to points; None where there is none.

    The rotation of least squares (W. Kabsch, Acta Cryst. A32, 1976, from memory).
    """
    if before.shape != after.shape:
        return None
    first, last = before.mean(axis=0), after.mean(axis=0)
    left, _, right = np.linalg.svd((after - last).T @ (before - first))
    way = np.diag([1.0, 1.0, float(np.linalg.det(left @ right))])
    turn = left @ way @ right
    shift = last - turn @ first
    off = np.abs(before @ turn.T + shift - after).max()
    return (turn, shift) if float(off) < SAME else None
