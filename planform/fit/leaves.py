"""The leaves of open doors as solids that are in the way: where each kind stands when open."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planform.design.doors import Door
from planform.design.leaves import Bifold, HingedLeaf, Roller, Sectional, SlidingLeaf
from planform.design.place import Place

Array = NDArray[np.float64]

STRIPS = 6
"""In how many upright slices a folded leaf counts; each encloses its share of it."""


@dataclass(frozen=True, eq=False)
class LeafPiece:
    """A piece of an open door: its plan outline (n, 2), counter-clockwise, and its heights [m]."""

    name: str
    outline: Array
    low: float
    high: float


@dataclass(frozen=True, eq=False)
class DoorAxes:
    """A door's own axes: s along its wall to the left of its middle, looking out; q inward [m]."""

    middle: Array
    along: Array
    outward: Array
    half: float
    wall: float

    def ring(self, corners: Array) -> Array:
        """Corners (n, 2) of s and q in place axes, counter-clockwise."""
        s, q = np.asarray(corners, dtype=float).T
        out: Array = self.middle + s[:, None] * self.along - q[:, None] * self.outward
        x, y = out.T
        area = float((x * np.roll(y, -1) - np.roll(x, -1) * y).sum())
        return out if area > 0.0 else out[::-1].copy()

    def box(self, s: tuple[float, float], q: tuple[float, float]) -> Array:
        """A rectangle between two s and two q in place axes."""
        return self.ring(np.array([[s[0], q[0]], [s[1], q[0]], [s[1], q[1]], [s[0], q[1]]]))

    def depth(self, face: str, off: float) -> float:
        """The q of what is so far off the inside or the outside face of the wall."""
        return off if face == "inside" else -self.wall - off


def opening(place: Place, door: Door) -> DoorAxes:
    """The axes of a door."""
    start, end = (np.array(corner) for corner in place.floor.walls[door.wall])
    along = (end - start) / np.linalg.norm(end - start)
    half = 0.5 * float(door.clear_width)
    middle = start + (float(door.from_corner) + half) * along
    return DoorAxes(middle, along, np.array([along[1], -along[0]]), half, place.floor.thickness)


def pieces_of(place: Place, door: Door) -> Iterator[LeafPiece]:
    """All that is in the way of a door as it stands open, beside and over its opening."""
    axes = opening(place, door)
    clear = float(door.clear_height)
    if door.sectional is not None:
        yield from _sectional(axes, door.name, clear, door.sectional)
    if door.bifold is not None:
        yield from _bifold(axes, door.name, clear, door.bifold)
    for name, slid in zip(leaf_names(door), door.sliding, strict=False):
        yield LeafPiece(name, _beside(axes, slid), 0.0, float(slid.height))
    for name, swung in zip(leaf_names(door), door.hinged, strict=False):
        yield LeafPiece(name, _swung(axes, swung), 0.0, float(swung.height))
    if door.roller is not None:
        yield _drum(axes, door.name, clear, door.roller)


def leaf_names(door: Door) -> list[str]:
    """What the sliding or hinged leaves of a door are called: by their side, then by number."""
    sides: list[str] = [leaf.beside for leaf in door.sliding]
    sides += [leaf.hinge for leaf in door.hinged]
    out = []
    for k, side in enumerate(sides):
        many = sides.count(side) > 1
        number = f" {sides[: k + 1].count(side)}" if many else ""
        out.append(f"{side} leaf{number} of {door.name}")
    return out


def sectional_reach(leaf: Sectional, lower_edge: float) -> float:
    """How far inward a sectional leaf reaches with its lower edge at a height [m].

    Its length runs up the wall, round the quarter circle and along the level part.
    """
    radius, length = float(leaf.track_radius), float(leaf.leaf_height)
    spring = float(leaf.track_height) - radius
    upright = max(0.0, spring - lower_edge)
    begun = math.asin(min(1.0, max(0.0, lower_edge - spring) / radius))
    level = length - upright - radius * (0.5 * math.pi - begun)
    return radius + max(0.0, level)


def _sectional(axes: DoorAxes, door: str, clear: float, leaf: Sectional) -> Iterator[LeafPiece]:
    """The leaf up the wall, round and in, the rails as long as the open leaf, and the opener.

    The curve counts as the square it lies in, as the sections cut its corner.
    """
    radius, thick = float(leaf.track_radius), float(leaf.thickness)
    level = float(leaf.track_height)
    spring, across = level - radius, (-axes.half, axes.half)
    name = f"leaf of {door}"
    if spring > clear:
        yield LeafPiece(name, axes.box(across, (0.0, thick)), clear, spring)
    curve = axes.box(across, (0.0, radius + thick))
    yield LeafPiece(name, curve, max(clear, spring), level + thick)
    reach = sectional_reach(leaf, clear)
    if reach > radius:
        yield LeafPiece(name, axes.box(across, (radius, reach)), level, level + thick)
    whole = sectional_reach(leaf, level)
    if whole > reach:
        for side in (-1.0, 1.0):
            ends = side * axes.half, side * (axes.half - min(thick, axes.half))
            rail = axes.box((min(ends), max(ends)), (reach, whole))
            yield LeafPiece(f"rails of {door}", rail, level, level + thick)
    if leaf.opener is not None:
        box, half = leaf.opener, 0.5 * float(leaf.opener.width)
        ends = float(box.from_wall), float(box.from_wall + box.length)
        low = float(box.underside)
        yield LeafPiece(
            f"opener of {door}", axes.box((-half, half), ends), low, low + float(box.height)
        )


def bifold_projection(leaf: Bifold, lower_edge: float) -> float:
    """How far a bi-fold leaf stands out at its middle hinge with its lower edge at a height [m].

    Two equal sides of a triangle whose third is from the upper hinge to the lower edge.
    """
    drop = float(leaf.leaf_height) - lower_edge
    return 0.5 * math.sqrt(max(0.0, float(leaf.leaf_height) ** 2 - drop**2))


def _bifold(axes: DoorAxes, door: str, clear: float, leaf: Bifold) -> Iterator[LeafPiece]:
    """The folded leaf over the clear height, from its upper hinge to its lower edge."""
    thick, top = float(leaf.thickness), float(leaf.leaf_height)
    out, middle = bifold_projection(leaf, clear), 0.5 * (top + clear)
    across = (-axes.half, axes.half)
    ends = np.linspace(0.0, 1.0, STRIPS + 1).tolist()
    for one, two in itertools.pairwise(ends):
        low = max(clear, clear + one * (middle - clear) - thick)
        high = top - one * (top - middle) + thick
        near, far = max(0.0, one * out - thick), two * out + thick
        q = axes.depth(leaf.folds, near), axes.depth(leaf.folds, far)
        yield LeafPiece(f"leaf of {door}", axes.box(across, (min(q), max(q))), low, high)


def _beside(axes: DoorAxes, leaf: SlidingLeaf) -> Array:
    side = 1.0 if leaf.beside == "left" else -1.0
    first = axes.half + float(leaf.past_jamb)
    s = side * first, side * (first + float(leaf.width))
    off = float(leaf.off_wall)
    q = axes.depth(leaf.face, off), axes.depth(leaf.face, off + float(leaf.thickness))
    return axes.box((min(s), max(s)), (min(q), max(q)))


def _drum(axes: DoorAxes, door: str, clear: float, roller: Roller) -> LeafPiece:
    low = clear if roller.underside is None else float(roller.underside)
    half = axes.half + float(roller.past_jambs)
    q = axes.depth(roller.face, 0.0), axes.depth(roller.face, float(roller.depth))
    box = axes.box((-half, half), (min(q), max(q)))
    return LeafPiece(f"drum of {door}", box, low, low + float(roller.height))


def _hinge_ring(axes: DoorAxes, leaf: HingedLeaf, corners: Array) -> Array:
    """Corners away from the opening and away from the wall's face, about the hinge, as place."""
    side = 1.0 if leaf.hinge == "left" else -1.0
    a, depth = corners.T
    s = side * (axes.half + a)
    q = depth if leaf.swings == "inside" else -axes.wall - depth
    return axes.ring(np.column_stack([s, q]))


def _leaf_at(leaf: HingedLeaf, angle: float) -> Array:
    """The leaf about its hinge: on the wall's face when shut, clear of the opening at 90 deg.

    Past that it counts on both sides of its pin.
    """
    width, thick = float(leaf.width), float(leaf.thickness)
    way = np.array([-math.cos(angle), math.sin(angle)])
    aside = np.array([math.sin(angle), math.cos(angle)]) * thick
    near = -aside if angle > 0.5 * math.pi + 1e-9 else 0.0 * aside
    return np.array([near, width * way + near, width * way + aside, aside])


def _swung(axes: DoorAxes, leaf: HingedLeaf) -> Array:
    return _hinge_ring(axes, leaf, _leaf_at(leaf, float(leaf.open)))


def swings_of(place: Place, door: Door) -> Iterator[LeafPiece]:
    """What each hinged leaf of a door sweeps between shut and where it stands, from outside.

    A sector about the hinge with its arc drawn outside it, and the leaf at both ends.
    """
    import shapely

    axes = opening(place, door)
    for name, leaf in zip(leaf_names(door), door.hinged, strict=False):
        width, thick, angle = float(leaf.width), float(leaf.thickness), float(leaf.open)
        turns = np.linspace(0.0, angle + math.atan2(thick, width), 25)
        radius = math.hypot(width, thick) / math.cos(0.5 * (turns[1] - turns[0]))
        arc = radius * np.column_stack([-np.cos(turns), np.sin(turns)])
        ends = [shapely.polygons(_leaf_at(leaf, turn)) for turn in (0.0, angle)]
        fan = shapely.polygons(np.concatenate([[[0.0, 0.0]], arc]))
        whole = shapely.simplify(shapely.union_all([fan, *ends]), 1e-7)
        ring = np.asarray(whole.exterior.coords)[:-1]
        yield LeafPiece(
            f"swing of the {name}", _hinge_ring(axes, leaf, ring), 0.0, float(leaf.height)
        )
