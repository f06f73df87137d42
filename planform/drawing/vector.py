"""Vector pictures by our own projection, for machines without a GL library.

Parallel projection, flat shading, painter's order: facets from far to near. Which of two facets is
nearer is asked where they overlap in the picture, and facets that run through another solid are
cut where they enter it, so that a wing meets its body in a clean line. Rooms are a light fill
behind everything; the edges of their near walls are drawn faintly over everything.
"""

from __future__ import annotations

import heapq
from dataclasses import dataclass
from html import escape
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from planform.drawing.framing import (
    CREASE,
    GLASS,
    GROUND,
    HAIR,
    INK,
    LIGHT,
    SKY,
    View,
    aim,
    letter_size,
    plates,
)
from planform.drawing.scene import Camera, Leader, Scene, Solid

Array = NDArray[np.float64]
Index = NDArray[np.int64]
Flags = NDArray[np.bool_]

VEIL = 0.6
"""Solids from GLASS up to this opacity are one see-through sheet; above it they hide."""
TONES = 40
"""Shades of a colour; few, so that neighbours of one shade share a path."""
BLOCK = 4_000_000
"""Pairs looked at in one go, for the sake of memory."""


@dataclass(frozen=True, eq=False)
class Shown:
    """A solid in the picture: corners (n, 3) in px, depth toward the eye last, y down."""

    solid: Solid
    points: Array
    faces: Index
    normals: Array
    facing: Flags

    @property
    def corners(self) -> Array:
        """Each facet's corners, shape (m, 3, 3)."""
        return self.points[self.faces]


def to_svg(scene: Scene, camera: Camera, size: tuple[int, int] = (1400, 900)) -> str:
    """The scene from one camera as a stand-alone SVG, about 30 bytes for each facet in view."""
    view = aim(scene, camera, size, parallel=True)
    shown = [_shown(solid, view) for solid in scene.solids if len(solid.faces)]
    rooms = [s for s in shown if s.solid.opacity < GLASS]
    things = [s for s in shown if s.solid.opacity >= GLASS]
    before = [s for s in rooms if _is_before(s, things)]
    behind = [s for s in rooms if s not in before]
    words = f"{scene.title}, {camera.title}"
    width, height = size
    sky = f"sky-{camera.name}"
    letter = letter_size(size)
    return "".join(
        [
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" '
            f'width="{width}" height="{height}" role="img" '
            'font-family="DejaVu Sans,Verdana,sans-serif">'
            f"<title>{escape(words)}</title>"
            f'<defs><linearGradient id="{sky}" x1="0" y1="0" x2="0" y2="1">'
            f'<stop offset="0" stop-color="{SKY}"/><stop offset="1" stop-color="{GROUND}"/>'
            "</linearGradient></defs>"
            f'<rect width="{width}" height="{height}" fill="url(#{sky})"/>',
            '<g transform="scale(.1)" stroke-linejoin="round" stroke-linecap="round">',
            *(_pane(s) for s in behind),
            *_painted(things),
            *(_rim(s, 0.55) for s in before),
            "</g>",
            *_leaders(scene.leaders, view),
            f'<text x="{letter:.0f}" y="{height - letter:.0f}" font-size="{0.8 * letter:.1f}" '
            f'fill="{INK}">{escape(words)}</text></svg>',
        ]
    )


def _is_before(room: Shown, things: list[Shown]) -> bool:
    """Whether a room's part, such as its near wall, is clearly nearer than all that stands there.

    A part that runs along the line of sight, or all around, is not.
    """
    depth = room.points[:, 2]
    near = max((float(s.points[:, 2].mean()) for s in things), default=np.inf)
    return float(depth.mean() - 0.25 * np.ptp(depth)) > near


def _shown(solid: Solid, view: View) -> Shown:
    points = view.seen(solid.points)
    corners = points[solid.faces]
    # y runs down the picture, which mirrors it: the cross product is turned to point outside
    normal = -np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    length = np.linalg.norm(normal, axis=1)
    good = length > 1e-9
    normal = normal[good] / length[good, None]
    return Shown(solid, points, solid.faces[good], normal, normal[:, 2] > 1e-6)


# --- paint ---


def _painted(things: list[Shown]) -> list[str]:
    """Facets toward the eye from far to near, with the edges in their places between them."""
    if not things:
        return []
    pieces, owner, parent = _pieces(things)
    count = len(pieces)
    veiled = np.array([s.solid.opacity < VEIL for s in things])[owner]
    node = np.arange(count)
    for k in np.unique(owner[veiled]):
        node[veiled & (owner == k)] = np.flatnonzero(veiled & (owner == k))[0]
    links = np.stack(_covering(pieces, owner), axis=1)
    strokes = _strokes(things, pieces, owner, parent, links)
    extra = [
        pair
        for k, stroke in enumerate(strokes, start=count)
        for pair in ([(p, k) for p in stroke.after] + [(k, p) for p in stroke.before])
    ]
    node = np.concatenate([node, np.arange(count, count + len(strokes))])
    depth = np.array(
        [*pieces[:, :, 2].mean(axis=1).tolist(), *(float(s.ends[:, 2].mean()) for s in strokes)]
    )
    links = node[np.concatenate([links, np.array(extra, dtype=int).reshape(-1, 2)])]
    corners = np.round(pieces[..., :2] * 10.0).astype(int).tolist()
    fills = [_fills(s) for s in things]
    layers: list[tuple[str, list[list[list[int]]]]] = []
    for n in _order(np.unique(node), depth, links):
        if n >= count:
            stroke = strokes[n - count]
            style = f'fill="none" stroke="{INK}" stroke-width="{stroke.width}"'
            shapes = [np.round(stroke.ends[:, :2] * 10.0).astype(int).tolist()]
        else:
            fill = fills[owner[n]][parent[n]]
            style, shapes = f'fill="{fill}" stroke="{fill}"', [corners[n]]
            if veiled[n]:
                opacity = things[owner[n]].solid.opacity
                style = f'fill="{fill}" fill-opacity="{opacity:g}"'
                shapes = [corners[p] for p in np.flatnonzero(node[:count] == n)]
        if layers and layers[-1][0] == style:
            layers[-1][1].extend(shapes)
        else:
            layers.append((style, shapes))
    return ['<g stroke-width="8">', *(_path(shapes, style) for style, shapes in layers), "</g>"]


def _fills(thing: Shown) -> list[str]:
    """The colour of each facet: flat shading by the light over the left shoulder."""
    lit = np.clip(thing.normals @ (LIGHT * [1.0, -1.0, 1.0]), 0.0, 1.0)
    tone = np.round((0.66 + 0.38 * lit) * TONES) / TONES
    base = np.array([int(thing.solid.colour[k : k + 2], 16) for k in (1, 3, 5)])
    if VEIL <= thing.solid.opacity < 1.0:
        base = base * thing.solid.opacity + 245.0 * (1.0 - thing.solid.opacity)
    if thing.solid.opacity < VEIL:
        tone = np.ones_like(tone)
    shades = np.clip(np.round(base * tone[:, None]), 0, 255).astype(int)
    return [f"#{r:02x}{g:02x}{b:02x}" for r, g, b in shades.tolist()]


def _path(shapes: list[list[list[int]]], style: str) -> str:
    """Shapes in tenths of a px as one path, each corner told from the last; areas are closed."""
    data = []
    for (x, y), *others in shapes:
        start, steps = f"M{x} {y}l", []
        for u, v in others:
            steps.append(f"{u - x} {v - y}")
            x, y = u, v
        if any(step != "0 0" for step in steps):
            data.append(start + " ".join(steps) + ("z" if len(others) > 1 else ""))
    return f'<path d="{"".join(data).replace(" -", "-")}" {style}/>' if data else ""


# --- edges ---


def _edge_table(thing: Shown) -> tuple[Index, Index]:
    """Edges (e, 2) as point numbers, and the two facets at each (e, 2); -1 at a rim."""
    faces = thing.faces
    pairs = np.sort(np.concatenate([faces[:, [0, 1]], faces[:, [1, 2]], faces[:, [2, 0]]]), axis=1)
    facet = np.tile(np.arange(len(faces)), 3)
    order = np.lexsort((pairs[:, 1], pairs[:, 0]))
    pairs, facet = pairs[order], facet[order]
    new = np.concatenate([[True], (pairs[1:] != pairs[:-1]).any(axis=1)])
    first = np.flatnonzero(new)
    count = np.diff(np.append(first, len(pairs)))
    second = np.where(count >= 2, facet[np.minimum(first + 1, len(facet) - 1)], -1)
    return pairs[first], np.stack([facet[first], second], axis=1)


def feature_edges(thing: Shown) -> tuple[Index, Index, Flags]:
    """Drawn edges of a shown solid: folds, rims and the silhouette; hidden ones left out.

    Returns point numbers (e, 2), the facets there (e, 2) with -1 for none, and whether each edge
    is silhouette.
    """
    pairs, sides = _edge_table(thing)
    rim = sides[:, 1] < 0
    a, b = sides[:, 0], np.where(rim, sides[:, 0], sides[:, 1])
    fold = (thing.normals[a] * thing.normals[b]).sum(axis=1) < np.cos(np.radians(CREASE))
    outer = rim | (thing.facing[a] != thing.facing[b])
    drawn = (thing.facing[a] | thing.facing[b]) & (fold | outer)
    return pairs[drawn], sides[drawn], outer[drawn]


@dataclass(frozen=True, eq=False)
class Stroke:
    """Part of an edge: drawn after the facets around it, before what hides those it bounds."""

    width: int
    ends: Array
    after: list[int]
    before: list[int]


def _strokes(
    things: list[Shown], pieces: Array, owner: Index, parent: Index, links: Index
) -> list[Stroke]:
    """The drawn edges, cut where they enter another solid."""
    hides: dict[int, list[int]] = {}
    for low, high in links.tolist():
        hides.setdefault(low, []).append(high)
    out = []
    for k, thing in enumerate(things):
        cut: dict[int, list[int]] = {}
        for piece in np.flatnonzero(owner == k).tolist():
            cut.setdefault(int(parent[piece]), []).append(piece)
        at_point: dict[int, list[int]] = {}
        for facet, corners in enumerate(thing.faces.tolist()):
            for corner in corners:
                at_point.setdefault(corner, []).append(facet)
        pairs, sides, outer = feature_edges(thing)
        others = [t for t in things if t is not thing and t.solid.opacity >= VEIL]
        stops = _entries(thing.points[pairs], others)
        for (a, b), facets, is_outer, stop in zip(
            pairs.tolist(), sides.tolist(), outer.tolist(), stops, strict=True
        ):
            width = 6 if thing.solid.opacity < VEIL else 13 if is_outer else 8
            around = {p for f in {*at_point[a], *at_point[b]} for p in cut.get(f, ())}
            start, way = thing.points[a], thing.points[b] - thing.points[a]
            for t0, t1 in pairwise(stop):
                ends = start + np.array([[t0], [t1]]) * way
                sided = _touching(pieces, [p for f in facets for p in cut.get(f, ())], ends)
                after = around.difference(*(cut.get(f, ()) for f in facets)).union(sided)
                before = {p for s in sided for p in hides.get(s, ())} - after
                out.append(Stroke(width, ends, sorted(after), sorted(before)))
    return out


def _touching(pieces: Array, near: list[int], ends: Array) -> list[int]:
    """Of the pieces of an edge's own facets, those along the middle of its segment."""
    if len(near) < 2:
        return near
    away = _gap_2d(pieces[near], ends.mean(axis=0))
    return [p for p, d in zip(near, away, strict=True) if d < 0.05] or near


def _gap_2d(triangles: Array, point: Array) -> Array:
    """How far a point is outside each triangle (n, 3, 3) in the picture; 0 or less inside."""
    side = np.roll(triangles, -1, axis=1)[..., :2] - triangles[..., :2]
    way = point[:2] - triangles[..., :2]
    cross = side[..., 0] * way[..., 1] - side[..., 1] * way[..., 0]
    length = np.maximum(np.linalg.norm(side, axis=2), 1e-12)
    turn = np.sign(_twice_area(triangles))
    return np.asarray((-turn[:, None] * cross / length).max(axis=1))


def _twice_area(triangles: Array) -> Array:
    a, b = triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0]
    return np.asarray(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0])


# --- facets that run through another solid ---


def _pieces(things: list[Shown]) -> tuple[Array, Index, Index]:
    """All facets in view as triangles (n, 3, 3), cut where they enter another solid.

    Also each triangle's solid and facet.
    """
    triangles: list[Array] = []
    owner: list[int] = []
    parent: list[int] = []
    for k, thing in enumerate(things):
        seen = np.flatnonzero(thing.facing)
        parts: dict[int, list[Array]] = {}
        for other in things:
            if other is thing or other.solid.opacity < VEIL:
                continue
            mine, theirs = _meeting(thing.corners[seen], other.corners)
            through = _pierced(thing.corners[seen][mine], other.corners[theirs])
            for i in np.flatnonzero(through.any(axis=1)):
                cutters = other.corners[theirs][through[i]]
                facet = int(seen[mine[i]])
                whole = parts.get(facet, [thing.corners[facet]])
                parts[facet] = [piece for p in whole for piece in _cut(p, cutters)]
        for facet in seen.tolist():
            for polygon in parts.get(facet, [thing.corners[facet]]):
                for j in range(1, len(polygon) - 1):
                    triangles.append(polygon[[0, j, j + 1]])
                    owner.append(k)
                    parent.append(facet)
    shape = np.array(triangles).reshape(-1, 3, 3)
    big = np.abs(_twice_area(shape)) > 1e-4
    return shape[big], np.array(owner, dtype=int)[big], np.array(parent, dtype=int)[big]


def _meeting(a: Array, b: Array) -> tuple[Index, Index]:
    """Facets of each kind that reach into the box the two solids share."""
    if not len(a) or not len(b):
        return np.zeros(0, dtype=int), np.zeros(0, dtype=int)
    low = np.maximum(a.min(axis=(0, 1)), b.min(axis=(0, 1)))
    high = np.minimum(a.max(axis=(0, 1)), b.max(axis=(0, 1)))
    found = [
        np.flatnonzero(((t.min(axis=1) <= high) & (t.max(axis=1) >= low)).all(axis=1))
        for t in (a, b)
    ]
    return found[0], found[1]


def _pierced(a: Array, b: Array) -> Flags:
    """Which triangles a (n, 3, 3) and b (m, 3, 3) run through each other, shape (n, m)."""
    out = np.zeros((len(a), len(b)), dtype=bool)
    if not out.size:
        return out
    rows = max(1, BLOCK // (9 * len(b)))
    for k in range(0, len(a), rows):
        part = a[k : k + rows]
        one = np.isfinite(_crossings(part, b)).any(axis=1)
        other = np.isfinite(_crossings(b, part)).any(axis=1)
        out[k : k + rows] = one | other.T
    return out


def _crossings(a: Array, b: Array) -> Array:
    """Where along the sides of a (n, 3, 3) triangles b (m, 3, 3) lie: (n, 3, m), NaN for none."""
    starts, ends = a.reshape(-1, 3), np.roll(a, -1, axis=1).reshape(-1, 3)
    return _along(starts, ends, b).reshape(len(a), 3, len(b))


def _along(starts: Array, ends: Array, triangles: Array) -> Array:
    """Where segments (n, 3) pass through triangles (m, 3, 3), 0 to 1: (n, m), NaN for none."""
    origin = triangles[:, 0]
    e1, e2 = triangles[:, 1] - origin, triangles[:, 2] - origin
    normal = np.cross(e1, e2)
    way = ends - starts
    slope = way @ normal.T
    with np.errstate(divide="ignore", invalid="ignore"):
        t = ((origin * normal).sum(axis=1) - starts @ normal.T) / slope
        # barycentric coordinates by the triangle's own inverse
        g11, g12, g22 = (e1 * e1).sum(axis=1), (e1 * e2).sum(axis=1), (e2 * e2).sum(axis=1)
        det = g11 * g22 - g12 * g12
        u1 = (e1 * g22[:, None] - e2 * g12[:, None]) / det[:, None]
        u2 = (e2 * g11[:, None] - e1 * g12[:, None]) / det[:, None]
        u = starts @ u1.T + t * (way @ u1.T) - (origin * u1).sum(axis=1)
        v = starts @ u2.T + t * (way @ u2.T) - (origin * u2).sum(axis=1)
        good = (t > 1e-6) & (t < 1 - 1e-6) & (u >= 0.0) & (v >= 0.0) & (u + v <= 1.0)
    return np.where(good, t, np.nan)


def _cut(polygon: Array, cutters: Array) -> list[Array]:
    """A flat polygon (k, 3) in parts, each outside one of the cutting facets, and what is left."""
    out = []
    rest = polygon
    for facet in cutters:
        normal = -np.cross(facet[1] - facet[0], facet[2] - facet[0])
        height = (rest - facet[0]) @ (normal / np.linalg.norm(normal))
        if height.max() < 0.01 or height.min() > -0.01:
            continue
        out.append(_half(rest, height))
        rest = _half(rest, -height)
    return [*out, rest]


def _half(polygon: Array, height: Array) -> Array:
    """The part of a convex polygon at which `height`, given at its corners, is not below zero."""
    kept = []
    for k in range(len(polygon)):
        here, there = height[k - 1], height[k]
        if (here < 0.0) != (there < 0.0):
            t = here / (here - there)
            kept.append(polygon[k - 1] + t * (polygon[k] - polygon[k - 1]))
        if there >= 0.0:
            kept.append(polygon[k])
    return np.array(kept)


def _entries(segments: Array, others: list[Shown]) -> list[list[float]]:
    """For each segment (n, 2, 3): 0, where it passes other solids' facets, 1."""
    stops: list[set[float]] = [{0.0, 1.0} for _ in segments]
    for other in others:
        mine, theirs = _meeting(segments, other.corners)
        if not len(mine) or not len(theirs):
            continue
        found = _along(segments[mine, 0], segments[mine, 1], other.corners[theirs])
        for i, j in np.argwhere(np.isfinite(found)).tolist():
            stops[mine[i]].add(float(found[i, j]))
    return [sorted(s) for s in stops]


# --- the painter's order ---


def _order(nodes: Index, depth: Array, links: Index) -> list[int]:
    """Nodes from far to near, the first of each link (k, 2) before the second.

    Where links run in a ring, the farthest of what is left goes first.
    """
    links = np.unique(links[links[:, 0] != links[:, 1]], axis=0)
    waiting = np.bincount(links[:, 1], minlength=len(depth)).tolist()
    follows: dict[int, list[int]] = {}
    for a, b in links.tolist():
        follows.setdefault(a, []).append(b)
    by_depth = nodes[np.argsort(depth[nodes], kind="stable")].tolist()
    ready = [(float(depth[n]), n) for n in by_depth if waiting[n] == 0]
    farthest = iter(by_depth)
    done: set[int] = set()
    out: list[int] = []
    while len(out) < len(nodes):
        n = heapq.heappop(ready)[1] if ready else next(k for k in farthest if k not in done)
        if n in done:
            continue
        done.add(n)
        out.append(n)
        for m in follows.get(n, ()):
            waiting[m] -= 1
            if waiting[m] == 0 and m not in done:
                heapq.heappush(ready, (float(depth[m]), m))
    return out


def _covering(triangles: Array, owner: Index) -> tuple[Index, Index]:
    """Pairs of triangles of which the second hides part of the first."""
    first, second = _overlapping(triangles)
    a, b = _shrunk(triangles[first]), _shrunk(triangles[second])
    spot, common = _common_spot(a, b)
    first, second, spot = first[common], second[common], spot[common]
    gap = _depth_at(triangles[first], spot) - _depth_at(triangles[second], spot)
    # touching facets of two solids: the solid named later lies on top
    level = np.abs(gap) < 0.05
    gap = np.where(level, (owner[first] - owner[second]).astype(float), gap)
    sure = gap != 0.0
    first, second, gap = first[sure], second[sure], gap[sure]
    return np.where(gap < 0.0, first, second), np.where(gap < 0.0, second, first)


def _overlapping(triangles: Array) -> tuple[Index, Index]:
    """Pairs whose upright boxes overlap in the picture, the first one named earlier."""
    low, high = triangles[..., :2].min(axis=1), triangles[..., :2].max(axis=1)
    order = np.argsort(low[:, 0], kind="stable")
    reach = np.searchsorted(low[order, 0], high[order, 0])
    found = [np.zeros((0, 2), dtype=int)]
    for k, stop in enumerate(reach.tolist()):
        later = order[k + 1 : stop]
        i = order[k]
        hit = later[(low[later, 1] < high[i, 1]) & (high[later, 1] > low[i, 1])]
        found.append(np.stack([np.full(len(hit), i), hit], axis=1))
    pairs = np.sort(np.concatenate(found), axis=1)
    return pairs[:, 0], pairs[:, 1]


def _shrunk(triangles: Array) -> Array:
    """Triangles drawn in toward their middle, so that neighbours do not overlap."""
    flat = triangles[..., :2]
    return np.asarray(flat + 0.01 * (flat.mean(axis=1, keepdims=True) - flat))


def _common_spot(a: Array, b: Array) -> tuple[Array, Flags]:
    """A point within both of two flat triangles (n, 3, 2), pairwise, and whether there is one."""
    spots = [a, b]
    good = [_within(a, b), _within(b, a)]
    for k in range(3):
        p, r = a[:, k], a[:, (k + 1) % 3] - a[:, k]
        for j in range(3):
            q, s = b[:, j], b[:, (j + 1) % 3] - b[:, j]
            cross = r[:, 0] * s[:, 1] - r[:, 1] * s[:, 0]
            way = q - p
            with np.errstate(divide="ignore", invalid="ignore"):
                t = (way[:, 0] * s[:, 1] - way[:, 1] * s[:, 0]) / cross
                u = (way[:, 0] * r[:, 1] - way[:, 1] * r[:, 0]) / cross
                hit = (t >= 0.0) & (t <= 1.0) & (u >= 0.0) & (u <= 1.0)
            spots.append((p + np.where(hit, t, 0.0)[:, None] * r)[:, None])
            good.append(hit[:, None])
    points, weight = np.concatenate(spots, axis=1), np.concatenate(good, axis=1)
    count = weight.sum(axis=1)
    middle = (points * weight[..., None]).sum(axis=1) / np.maximum(count, 1)[:, None]
    return middle, count >= 3


def _within(points: Array, triangles: Array) -> Flags:
    """Which of the points (n, k, 2) lie in their row's flat triangle (n, 3, 2)."""
    turn = np.sign(_twice_area(triangles))[:, None]
    inside = np.ones(points.shape[:2], dtype=bool)
    for k in range(3):
        side = triangles[:, (k + 1) % 3] - triangles[:, k]
        way = points - triangles[:, k][:, None]
        inside &= turn * (side[:, None, 0] * way[..., 1] - side[:, None, 1] * way[..., 0]) >= 0.0
    return inside


def _depth_at(triangles: Array, spots: Array) -> Array:
    """Depth of each triangle's plane over a point of it, kept within its corners' depths."""
    a, b, c = triangles[:, 0], triangles[:, 1], triangles[:, 2]
    way = spots - a[:, :2]
    e, f = b - a, c - a
    det = e[:, 0] * f[:, 1] - e[:, 1] * f[:, 0]
    u = (way[:, 0] * f[:, 1] - way[:, 1] * f[:, 0]) / det
    v = (e[:, 0] * way[:, 1] - e[:, 1] * way[:, 0]) / det
    depth = a[:, 2] + u * e[:, 2] + v * f[:, 2]
    return np.clip(depth, triangles[..., 2].min(axis=1), triangles[..., 2].max(axis=1))


# --- rooms and leaders ---


def _pane(thing: Shown) -> str:
    """A see-through solid: a light fill and its edges."""
    corners = np.round(thing.corners[thing.facing][..., :2] * 10.0).astype(int).tolist()
    light = f'fill="{thing.solid.colour}" fill-opacity="{thing.solid.opacity:g}"'
    return _path(corners, light) + _rim(thing, 1.0)


def _rim(thing: Shown, strength: float) -> str:
    """The folds of a see-through solid, far ones too."""
    pairs, sides = _edge_table(thing)
    folds = (thing.normals[sides[:, 0]] * thing.normals[sides[:, 1]]).sum(axis=1)
    drawn = (sides[:, 1] < 0) | (folds < np.cos(np.radians(CREASE)))
    ends = np.round(thing.points[pairs[drawn]][..., :2] * 10.0).astype(int).tolist()
    return _path(
        ends, f'fill="none" stroke="{HAIR}" stroke-width="11" stroke-opacity="{strength:g}"'
    )


def _leaders(leaders: tuple[Leader, ...], view: View) -> list[str]:
    """Dimension lines with dots at their ends and their words on a plate beside them."""
    if not leaders:
        return []
    ends = view.seen(np.array([[x.start, x.end] for x in leaders]))[..., :2]
    letter = letter_size(view.size)
    out = []
    for leader, ((x0, y0), (x1, y1)) in zip(leaders, ends, strict=True):
        out.append(
            f'<g stroke="#fff" stroke-width="2" fill="{leader.colour}">'
            f'<path d="M{x0:.1f} {y0:.1f}L{x1:.1f} {y1:.1f}" stroke-width="7"/>'
            f'<path d="M{x0:.1f} {y0:.1f}L{x1:.1f} {y1:.1f}" stroke="{leader.colour}" '
            'stroke-width="4"/>'
            f'<circle cx="{x0:.1f}" cy="{y0:.1f}" r="6.5"/>'
            f'<circle cx="{x1:.1f}" cy="{y1:.1f}" r="6.5"/></g>'
        )
    places = plates(ends, [x.label for x in leaders], view.size)
    for leader, (x, y, w, h) in zip(leaders, places, strict=True):
        out.append(
            f'<rect x="{x:.1f}" y="{y:.1f}" width="{w:.1f}" height="{h:.1f}" rx="5" '
            f'fill="#fff" fill-opacity=".93" stroke="{leader.colour}" stroke-width="1.2"/>'
            f'<text x="{x + 0.5 * w:.1f}" y="{y + 0.5 * h + 0.36 * letter:.1f}" '
            f'text-anchor="middle" font-size="{letter:.1f}" font-weight="bold" '
            f'fill="{leader.colour}">{escape(leader.label)}</text>'
        )
    return out
