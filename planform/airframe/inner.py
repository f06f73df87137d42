"""Sections of what stands inside a skin, and the proof that it does."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence

import numpy as np
from numpy.typing import NDArray

from planform.airframe.part import Part
from planform.airframe.sections import Section
from planform.airframe.surfaces import Half
from planform.core.shape.clip import section_segments
from planform.core.shape.enclosed import enclosed
from planform.core.vectors import cross

Array = NDArray[np.float64]

LEAST = 1e-3
"""A section is followed where it leaves at least so much height inside [m]; assumption."""


def upward(section: Section) -> Array:
    """Unit vector, shape (3,), in the section, square to its chord."""
    line = section.trailing_edge - section.leading_edge
    across = (section.upper - section.lower).sum(axis=0)
    across = across - line * (across @ line) / (line @ line)
    return np.asarray(across / np.linalg.norm(across))


def _profile(section: Section, corners: Array) -> tuple[Array, Array]:
    """Corners of a skin as shares of the chord, rising, and heights over the chord [m]."""
    line = section.trailing_edge - section.leading_edge
    off = corners - section.leading_edge
    share = np.maximum.accumulate(off @ line / (line @ line))
    return share, off @ upward(section)


def box_ring(section: Section, middle: float, width: float, height: float) -> Array:
    """A rectangle about the middle of a section, shape (4, 3) [m]; top then bottom, both aft.

    middle : share of the chord ; width, height : along and square to the chord [m]
    """
    upper, lower = section.skin(np.array([middle]))
    line = section.trailing_edge - section.leading_edge
    along = 0.5 * width * line / np.linalg.norm(line)
    up = 0.5 * height * upward(section)
    centre = 0.5 * (upper[0] + lower[0])
    return np.array([centre - along + up, centre + along + up, centre + along - up,
                     centre - along - up])  # fmt: skip


def skin_ring(section: Section, shares: Array, inside: float) -> Array:
    """The outline of a section between shares of its chord, less so much, shape (2 n, 3) [m].

    shares : array, shape (n,), rising ; inside : square to the chord [m]
    All of it is inside the section's facets, also between its corners. Raises ValueError where
    nothing is left.
    """
    up = upward(section)
    skins = section.skin(shares)
    edges = []
    for sense, skin, corners in zip(
        (1.0, -1.0), skins, (section.upper, section.lower), strict=True
    ):
        share, height = _profile(section, corners)
        between = (share > shares[0]) & (share < shares[-1])
        own = (skin - section.leading_edge) @ up
        over = sense * (np.interp(share[between], shares, own) - height[between])
        sunk = inside + max(0.0, float(over.max(initial=0.0)))
        edges.append(skin - sense * sunk * up)
    top, bottom = edges
    if ((top - bottom) @ up).min() <= 0.0:
        raise ValueError("the section is thinner there than what it is to stay inside of, twice")
    return np.concatenate([top, bottom[::-1]])


def open_range(section: Section, inside: float) -> tuple[float, float]:
    """From which share of the chord to which a section leaves `LEAST` and twice `inside` [m].

    Raises ValueError where it does so nowhere.
    """
    (top, high), (bottom, low) = (_profile(section, c) for c in (section.upper, section.lower))
    share = np.union1d(top, bottom)
    left = np.interp(share, top, high) - np.interp(share, bottom, low) - 2.0 * inside - LEAST
    if left.max() <= 0.0:
        raise ValueError("the section is thinner there than what it is to stay inside of, twice")
    first, last = (int(k) for k in np.flatnonzero(left > 0.0)[[0, -1]])

    def crossing(out: int, inner: int) -> float:
        if not 0 <= out < len(share):
            return float(share[inner])
        part = left[inner] / (left[inner] - left[out])
        return float(share[inner] + part * (share[out] - share[inner]))

    return crossing(first - 1, first), crossing(last + 1, last)


def stations(half: Half, start: float, end: float, pieces: int) -> Array:
    """Places along a surface from start to end [m]: its cuts between them, each step in pieces."""
    cuts = [run for run in half.developed if start + 1e-9 < run < end - 1e-9]
    steps = itertools.pairwise([start, *cuts, end])
    found = [a + (b - a) * np.arange(pieces) / pieces for a, b in steps]
    return np.concatenate([*found, [end]])


def blocks_of(rings: Array) -> tuple[Array, Array]:
    """The convex blocks between neighbouring rings of `skin_ring`, and the ways across their faces.

    rings : array, shape (k, 2 n, 3)   top from ahead aft, then bottom from aft ahead [m]
    Returns corners (b, 8, 3) [m] and directions (b, 6, 3).
    """
    n = rings.shape[1] // 2
    top, bottom = rings[:, :n], rings[:, : n - 1 : -1]
    quads = np.stack([top[:, :-1], top[:, 1:], bottom[:, 1:], bottom[:, :-1]], axis=2)
    blocks = np.concatenate([quads[:-1], quads[1:]], axis=2).reshape(-1, 8, 3)
    faces = np.array([[0, 1, 2, 3], [4, 5, 6, 7], [0, 1, 5, 4], [3, 2, 6, 7], [0, 3, 7, 4],
                      [1, 2, 6, 5]])  # fmt: skip
    corner = blocks[:, faces]
    ways = cross(corner[:, :, 2] - corner[:, :, 0], corner[:, :, 3] - corner[:, :, 1])
    return blocks, ways


def holding(blocks: Array, ways: Array, skins: Iterable[Part]) -> tuple[str, ...]:
    """Names of the skins that together are proved to hold all blocks; none where not proved."""
    left = np.arange(len(blocks))
    names: list[str] = []
    for skin in skins:
        if not len(left):
            break
        held = enclosed(blocks[left], ways[left], skin.points, skin.faces)
        if held.any():
            names.append(skin.name)
        left = left[~held]
    return () if len(left) else tuple(names)


def body_outline(part: Part, fs: float) -> Array:
    """The outline of a body at a station, shape (n, 2), butt lines and waterlines [m].

    Counter-clockwise seen from ahead (bl right, wl up), as it is built. Raises ValueError where
    the body is not.
    """
    segments = section_segments(part.points[part.faces], 0, fs)
    if not len(segments):
        raise ValueError("the body is not there")
    after = {start.tobytes(): end for start, end in segments}
    ring = [segments[0, 0]]
    while len(ring) <= len(segments):
        following = after[ring[-1].tobytes()]
        if (following == ring[0]).all():
            break
        ring.append(following)
    outline = np.array(ring)
    before, after_it = outline - np.roll(outline, 1, axis=0), np.roll(outline, -1, axis=0) - outline
    bend = np.abs(before[:, 0] * after_it[:, 1] - before[:, 1] * after_it[:, 0])
    outline = outline[bend > 1e-12]
    x, y = outline.T
    turned = (x * np.roll(y, -1) - y * np.roll(x, -1)).sum() < 0.0
    return np.asarray(outline[::-1] if turned else outline)


def shrunk(outlines: Sequence[Array], inside: float) -> Array:
    """What lies inside all outlines by so much at least, shape (n, 2) [m]; a convex outline.

    outlines : convex ones, counter-clockwise; of others it is a part of what lies inside
    Each side is moved inward, and the outline cut there. Raises ValueError where nothing is left.
    """
    found = np.asarray(outlines[0])
    for outline in outlines:
        run = np.roll(outline, -1, axis=0) - outline
        size = np.linalg.norm(run, axis=1)
        whole = size > 1e-9
        inward = np.stack([-run[whole, 1], run[whole, 0]], axis=1) / size[whole, None]
        for start, normal in zip(outline[whole], inward, strict=True):
            found = _cut(found, normal, float(normal @ start) + inside)
            if len(found) < 3:
                raise ValueError("nothing is left inside")
    apart = np.linalg.norm(found - np.roll(found, 1, axis=0), axis=1) > 1e-9
    return np.asarray(found[apart])


def _cut(ring: Array, normal: Array, least: float) -> Array:
    """The part of a convex ring where `normal @ point` is `least` or more."""
    over = ring @ normal - least
    if (over >= 0.0).all():
        return ring
    last = np.arange(-1, len(ring) - 1)
    before, over_before = ring[last], over[last]
    crosses = (over_before > 0.0) != (over > 0.0)
    fall = np.where(crosses, over_before - over, 1.0)[:, None]
    at = before + (ring - before) * over_before[:, None] / fall
    both = np.stack([at, ring], axis=1)
    return np.asarray(both[np.stack([crosses, over > 0.0], axis=1)])
