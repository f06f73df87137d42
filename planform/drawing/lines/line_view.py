"""A true line view of solids along one direction: what is seen, as lines in the picture's plane."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from planform.airframe.part import Part
from planform.drawing.lines.edges import CUT, JOINT, NEUTRAL, SILHOUETTE, Edges, edges_of, facing
from planform.drawing.lines.hidden import Cover, beside_lines, free_stretches
from planform.drawing.lines.united import Array, Numbers, United, united

LineKind = Literal["outline", "edge", "joint", "cut", "swept", "hidden"]
"""Against paper, within, where two solids meet, in a cutting plane, what could turn, behind."""

ASIDE = 1e-5
"""How far beside a silhouette it is looked whether there is paper [m]."""
SHORT = 2e-4
"""Lines shorter than this are not drawn [m]."""
ALONG = 2e-4
"""A hidden line nearer than this to another runs along it [m]."""
SAME = 1e-6
"""Ends nearer than this are one point [m]."""


@dataclass(frozen=True, eq=False)
class SeenLine:
    """A line of a view: points, shape (n, 2) [m], what it is, and of which solid."""

    points: Array
    kind: LineKind
    part: str


@dataclass(frozen=True, eq=False)
class LineView:
    """What is seen of solids along one direction.

    frame : (3, 3), rows: the picture's right, up, and toward the eye
    lines : seen ones, and where asked for hidden ones
    apart : names of solids that are drawn without their joints
    """

    frame: Array
    lines: tuple[SeenLine, ...]
    apart: tuple[str, ...] = ()


def line_view(solids: Sequence[Part] | United, frame: Array, *, hidden: bool = False) -> LineView:
    """The lines that are seen of solids, parts run into each other and hide each other.

    frame : (3, 3), rows: the picture's right, up, and toward the eye, in the solids' axes
    hidden : tell also what lies behind, where no line that is seen runs along it: lines seen come
        before lines hidden (ISO 128-2, from memory)
    The same solids give the same lines in the same order. Memory grows with the pairs of edges
    and facets whose boxes meet in the picture.
    """
    solid = solids if isinstance(solids, United) else united(solids)
    points = solid.points @ np.asarray(frame, float).T
    edges = edges_of(solid, points, back=hidden)
    cover = _cover(solid, points)
    number, stretch = free_stretches(edges.ends, cover)
    seen = _parts_of(edges, number, stretch)
    outer, within = _outlined(seen, cover)
    lines = [*_told(outer, "outline", solid.names)]
    kinds: dict[int, LineKind] = {JOINT: "joint", CUT: "cut"}
    rest = ~np.isin(within.kind, list(kinds))
    lines += _told(within.chosen(rest), "edge", solid.names)
    for what, kind in kinds.items():
        lines += _told(within.chosen(within.kind == what), kind, solid.names)
    if solid.swept is not None:
        lines += _swept(solid.swept, frame, cover)
    if hidden:
        behind = _parts_of(edges, *_between(number, stretch, len(edges)))
        lines += _told(_not_along(behind, seen), "hidden", solid.names)
    return LineView(np.asarray(frame, float), tuple(lines), solid.apart)


def _not_along(behind: Edges, seen: Edges) -> Edges:
    """What is hidden without what runs along lines seen, or along other hidden ones."""
    flat = behind.ends[:, :, :2]
    lines = np.concatenate([seen.ends[:, :, :2], flat])
    return _parts_of(behind, *beside_lines(flat, lines, len(seen), ALONG))


def _cover(solid: United, points: Array) -> Cover:
    return Cover.of(points, solid.faces, facing(points, solid.faces), NEUTRAL)


def _swept(ghosts: United, frame: Array, cover: Cover) -> list[SeenLine]:
    """What is seen of things that hide nothing but themselves."""
    points = ghosts.points @ np.asarray(frame, float).T
    edges = edges_of(ghosts, points)
    own = _cover(ghosts, points).corners
    number, stretch = free_stretches(edges.ends, Cover(np.concatenate([cover.corners, own])))
    return _told(_parts_of(edges, number, stretch), "swept", ghosts.names)


def _parts_of(edges: Edges, number: Numbers, stretch: Array) -> Edges:
    """Stretches of edges as edges."""
    ends = edges.ends[number]
    way = ends[:, 1] - ends[:, 0]
    cut = ends[:, :1] + stretch[:, :, None] * way[:, None, :]
    return Edges(cut, edges.kind[number], edges.owner[number], edges.outward[number])


def _outlined(seen: Edges, cover: Cover) -> tuple[Edges, Edges]:
    """The silhouettes beside which there is paper, and all other lines."""
    at_rim = seen.kind == SILHOUETTE
    rim, rest = seen.chosen(at_rim), seen.chosen(~at_rim)
    moved = rim.ends.copy()
    moved[:, :, :2] += ASIDE * rim.outward[:, None, :]
    number, stretch = free_stretches(moved, cover, behind=False)
    outer = _parts_of(rim, number, stretch)
    inner = _parts_of(rim, *_between(number, stretch, len(rim)))
    both = [inner, rest]
    return outer, Edges(
        np.concatenate([one.ends for one in both]),
        np.concatenate([one.kind for one in both]),
        np.concatenate([one.owner for one in both]),
        np.concatenate([one.outward for one in both]),
    )


def _between(number: Numbers, stretch: Array, count: int) -> tuple[Numbers, Array]:
    """What is left of edges without these stretches."""
    who = np.concatenate([np.arange(count), number])
    start = np.concatenate([np.zeros(count), stretch[:, 1]])
    order = np.lexsort((start, who))
    who, start = who[order], start[order]
    end = np.concatenate([np.ones(count), stretch[:, 0]])
    end = end[np.lexsort((end, np.concatenate([np.arange(count), number])))]
    kept = end - start > 1e-9
    return who[kept], np.stack([start, end], axis=1)[kept]


def _told(edges: Edges, kind: LineKind, names: Sequence[str]) -> list[SeenLine]:
    """Edges as lines, those that go on in each other joined; in the order of solids and places."""
    flat = edges.ends[:, :, :2]
    long = np.linalg.norm(flat[:, 1] - flat[:, 0], axis=1) > SHORT
    flat, owner = flat[long], edges.owner[long]
    out = []
    for number in np.unique(owner):
        mine = flat[owner == number]
        out += [SeenLine(points, kind, names[number]) for points in _chained(mine)]
    return out


def _chained(segments: Array) -> list[Array]:
    """Segments, shape (n, 2, 2), joined at ends that only two of them share."""
    keys = np.round(segments / SAME).astype(np.int64).reshape(-1, 2)
    _, node = np.unique(keys, axis=0, return_inverse=True)
    node = node.reshape(-1, 2)
    at: dict[int, list[int]] = {}
    for k, pair in enumerate(node.tolist()):
        for end in pair:
            at.setdefault(end, []).append(k)
    used = np.zeros(len(segments), dtype=bool)
    out = []
    for k in range(len(segments)):
        if used[k]:
            continue
        used[k] = True
        ahead = _followed(k, 1, node, segments, at, used)
        behind = _followed(k, 0, node, segments, at, used)
        out.append(np.array([*behind[::-1], *ahead]))
    return out


def _followed(
    k: int, side: int, node: Numbers, segments: Array, at: dict[int, list[int]],
    used: np.ndarray[tuple[int], np.dtype[np.bool_]],
) -> list[Array]:  # fmt: skip
    """The points from one end of a segment on, as far as the way is clear."""
    points, here, end = [segments[k, side]], k, side
    while True:
        joint = int(node[here, end])
        others = [one for one in at[joint] if one != here]
        if len(others) != 1 or used[others[0]]:
            return points
        here = others[0]
        used[here] = True
        end = 1 if int(node[here, 0]) == joint else 0
        points.append(segments[here, end])
