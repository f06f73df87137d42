"""A scan laid on the built surface: first by a search of a library, then facet by facet.

From named targets, or from the principal axes with the four turns that keep them, points are laid
on points with a reach that shrinks (small_gicp); then on the facets, each point weighed by how far
it is off (Tukey's biweight, 1974; its width from the median). What is nothing of the aircraft (the
floor, trestles, people) is beyond the reach and weighs nothing.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planform.airframe.part import Part
from planform.core.adjust.least_squares import adjust
from planform.core.vectors import Array, cross
from planform.rigging.scan.surface import SkinPoints, skin_of

REACH = 0.05
"""How far off the drawn surface a point may lie and still be of the aircraft [m]; assumption."""
WIDTH = 4.685
"""Of the biweight, in deviations: 95 % as good as plain least squares on good points (Tukey)."""
ROUGH, FINE = 2_000, 20_000
"""Points of the scan that the search and the last steps take; all are judged at the end."""
EACH = 32
"""Every so many points of the surface take part in the search, and in what the scan covers."""
COVERS = 0.1
"""A point of the surface this near to one of the scan is covered [m]; assumption."""
STEPS = 25
STILL = 3e-6
"""A last step of the scan below this ends it [m], [rad]."""
CLEARLY = 1.3
"""A second start that leaves less than this times what the best one leaves is told as a rival."""


@dataclass(frozen=True, eq=False)
class PartOff:
    """How one part's surface lies off its drawing, outward positive [m].

    points : of the scan on it ; covered : share of its surface that the scan saw, 0 to 1
    mean, spread : of how far its points are off ; low, high : the 2.5 % and 97.5 % of them
    """

    name: str
    points: int
    covered: float
    mean: float
    spread: float
    low: float
    high: float


@dataclass(frozen=True, eq=False)
class Laid:
    """A scan where it lies on the drawn aircraft.

    turn, shift : of the scan, as `points @ turn.T + shift` ; sd : of its three shifts and turns
    at : (n, 3) the scan in aircraft axes [m] ; off : (n,) outward of the nearest surface [m]
    part : (n,) number of the part whose surface is nearest, -1 beyond the reach
    spread : of the points that count [m] ; doubt : why it may lie otherwise; '' where it may not
    """

    turn: Array
    shift: Array
    sd: Array
    at: Array
    off: Array
    part: NDArray[np.int64]
    parts: tuple[PartOff, ...]
    spread: float
    doubt: str

    @property
    def on_aircraft(self) -> float:
        """Share of the scan's points that lie on the aircraft."""
        return float((self.part >= 0).mean())


Start = tuple[Array, Array]
"""A turn (3, 3) and a shift (3,) of the scan."""


def lay_on(parts: Sequence[Part], points: Array, start: Start | None = None) -> Laid:
    """A scan on the surfaces of parts.

    points : (n, 3), in the scanner's axes [m] ; start : from named targets, if there are any
    """
    skin = skin_of(parts)
    tried = [start] if start is not None else _four_turns(skin.at, points)
    few = points[:: max(len(points) // ROUGH, 1)]
    ends = sorted((_searched(skin, few, *one) for one in tried), key=lambda end: end[0])
    doubt = ""
    if len(ends) > 1 and ends[1][0] < CLEARLY * ends[0][0] and _apart(ends[0], ends[1]):
        doubt = "turned over it would lie nearly as well; name three targets or more"
    turn, shift, sd = _settled(skin, points[:: max(len(points) // FINE, 1)], ends[0][1:])
    return _judged(skin, points, (turn, shift), sd, doubt)


def _four_turns(surface: Array, points: Array) -> list[Start]:
    """The principal axes of the scan on those of the aircraft, in the four ways that are turns."""
    middle, axes = _principal(points)
    aim, own = _principal(surface)
    found = []
    for a, b in ((1.0, 1.0), (1.0, -1.0), (-1.0, 1.0), (-1.0, -1.0)):
        turn = own @ np.diag([a, b, a * b]) @ axes.T
        found.append((turn, aim - turn @ middle))
    return found


def _principal(points: Array) -> tuple[Array, Array]:
    """The middle, and the axes as the columns of a turn, the longest first."""
    middle = points.mean(axis=0)
    few = points[:: max(len(points) // 20_000, 1)] - middle
    axes = np.linalg.eigh(few.T @ few)[1][:, ::-1]
    axes[:, 2] *= np.sign(np.linalg.det(axes))
    return middle, axes


def _searched(
    skin: SkinPoints, few: Array, turn: Array, shift: Array
) -> tuple[float, Array, Array]:
    """Points laid on points with a reach that shrinks: how far the half of them is off, and how."""
    import small_gicp
    from scipy.spatial import cKDTree

    coarse = skin.at[::EACH]
    target, source = small_gicp.PointCloud(coarse), small_gicp.PointCloud(few)
    tree = small_gicp.KdTree(target)
    at = np.eye(4)
    at[:3, :3], at[:3, 3] = turn, shift
    for reach in (1.0, 0.4, 0.15):
        at = small_gicp.align(
            target,
            source,
            tree,
            init_T_target_source=at,
            registration_type="ICP",
            max_correspondence_distance=reach,
            max_iterations=STEPS,
        ).T_target_source
    laid = few @ at[:3, :3].T + at[:3, 3]
    off = cKDTree(coarse).query(laid, workers=-1)[0]
    return float(np.median(off)), at[:3, :3], at[:3, 3]


def _apart(one: tuple[float, Array, Array], other: tuple[float, Array, Array]) -> bool:
    """Whether two ends are different turns."""
    same = float(np.trace(one[1].T @ other[1]))
    return same < 1.0 + 2.0 * float(np.cos(np.radians(10.0)))


def _settled(skin: SkinPoints, points: Array, start: Start) -> tuple[Array, Array, Array]:
    """Points laid on facets, each weighed by how far it is off; the turn, the shift, their sd."""
    from scipy.spatial import cKDTree

    tree = cKDTree(skin.at)
    turn, shift = start
    reach, sd = 0.3, np.full(6, np.inf)
    for _ in range(STEPS):
        laid = points @ turn.T + shift
        far, nearest = tree.query(laid, distance_upper_bound=reach, workers=-1)
        near = np.isfinite(far)
        if int(near.sum()) < 12:
            raise ValueError("the scan does not lie on the aircraft; name three targets or more")
        here, out = laid[near], skin.out[nearest[near]]
        off = ((here - skin.at[nearest[near]]) * out).sum(axis=1)
        width = max(1.4826 * float(np.median(np.abs(off))), 1e-5)
        share = np.clip(1.0 - (off / (WIDTH * width)) ** 2, 0.0, None)
        count = share > 1e-3
        columns = np.column_stack([out, cross(here, out)])[count]
        last = adjust_rows(columns, -off[count], width / share[count])
        sd = last[1]
        turn, shift = _moved(turn, shift, last[0])
        reach = max(REACH, 0.5 * reach)
        if reach <= REACH and float(np.abs(last[0]).max()) < STILL:
            break
    return turn, shift, sd


def adjust_rows(columns: Array, seen: Array, sd: Array) -> tuple[Array, Array]:
    """The unknowns of very many rows, by their triangle alone; and their deviations."""
    weighed = np.column_stack([columns, seen]) / sd[:, None]
    small = np.asarray(np.linalg.qr(weighed, mode="r"))
    unknowns = columns.shape[1]
    got = adjust(small[:unknowns, :unknowns], small[:unknowns, unknowns], np.ones(unknowns))
    return got.x, got.sd


def _moved(turn: Array, shift: Array, step: Array) -> Start:
    """A small shift and turn after the others, the turn kept a turn."""
    x, y, z = step[3:]
    more = np.eye(3) + np.array([[0.0, -z, y], [z, 0.0, -x], [-y, x, 0.0]])
    left, _, right = np.linalg.svd(more)
    more = left @ right
    return more @ turn, more @ shift + step[:3]


def _judged(skin: SkinPoints, points: Array, pose: Start, sd: Array, doubt: str) -> Laid:
    """Every point of the scan against the facet that is nearest."""
    from scipy.spatial import cKDTree

    laid = points @ pose[0].T + pose[1]
    tree = cKDTree(skin.at)
    far, nearest = tree.query(laid, distance_upper_bound=REACH, workers=-1)
    near = np.isfinite(far)
    off = np.full(len(points), np.nan)
    spots = nearest[near]
    off[near] = ((laid[near] - skin.at[spots]) * skin.out[spots]).sum(axis=1)
    part = np.full(len(points), -1)
    part[near] = skin.part[spots]
    seen = np.zeros(len(skin.at), dtype=bool)
    few = laid[near][:: max(int(near.sum()) // 200_000, 1)]
    if len(few):
        some = np.arange(0, len(skin.at), EACH)
        seen[some] = np.isfinite(
            cKDTree(few).query(skin.at[some], distance_upper_bound=COVERS, workers=-1)[0]
        )
    found = tuple(_part_off(skin, number, off, part, seen) for number in range(len(skin.parts)))
    spread = float(np.nanstd(off)) if near.any() else float("nan")
    return Laid(pose[0], pose[1], sd, laid, off, part, found, spread, doubt)


def _part_off(
    skin: SkinPoints, number: int, off: Array, part: NDArray[np.int64], seen: NDArray[np.bool_]
) -> PartOff:
    own = off[part == number]
    some = skin.part[::EACH] == number
    covered = float(seen[::EACH][some].mean()) if some.any() else 0.0
    name = skin.parts[number].name
    if not len(own):
        return PartOff(name, 0, covered, float("nan"), float("nan"), float("nan"), float("nan"))
    low, high = np.quantile(own, [0.025, 0.975])
    return PartOff(
        name, len(own), covered, float(own.mean()), float(own.std()), float(low), float(high)
    )
