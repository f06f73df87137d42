"""Vector pictures by our own projection, for machines without a GL library.

Parallel projection, flat shading, painter's order: facets from far to near. Which of two facets is
nearer is asked where they overlap in the picture, and facets that run through another solid are
cut where they enter it, so that a wing meets its body in a clean line. Rooms are a light fill
behind everything; the edges of their near walls are drawn faintly over everything.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import ArrayLike, NDArray

from planform.drawing.drawing import Anchor, Arc, Drawing, Fill, Line, Mark, Text
from planform.drawing.facets import (
    VEIL,
    SeenSolid,
    cut_pieces,
    edge_table,
    entries,
    feature_edges,
    shown,
    twice_area,
)
from planform.drawing.framing import (
    CREASE,
    GLASS,
    HAIR,
    INK,
    LIGHT,
    View,
    aim,
    letter_size,
    plates,
)
from planform.drawing.painter import covering, far_to_near
from planform.drawing.scene import Camera, Leader, Scene
from planform.drawing.style import Look

Array = NDArray[np.float64]
Index = NDArray[np.int64]
Flags = NDArray[np.bool_]

TONES = 40
"""Shades of a colour; few, so that neighbours of one shade share a path."""
WHITE = "#ffffff"


def scene_drawing(scene: Scene, camera: Camera, size: tuple[int, int] = (1400, 900)) -> Drawing:
    """The scene from one camera, its sheet in px."""
    view = aim(scene, camera, size, parallel=True)
    solids = [shown(solid, view) for solid in scene.solids if len(solid.faces)]
    rooms = [s for s in solids if s.solid.opacity < GLASS]
    things = [s for s in solids if s.solid.opacity >= GLASS]
    before = [s for s in rooms if _is_before(s, things)]
    behind = [s for s in rooms if s not in before]
    paint = _Paint(size[1])
    title = f"{scene.title}, {camera.title}"
    letter = letter_size(size)
    marks = [
        *(mark for s in behind for mark in _pane(paint, s)),
        *_painted(paint, things),
        *(mark for s in before for mark in _rim(paint, s, 0.55)),
        *_leaders(paint, scene.leaders, view),
        paint.text((letter, size[1] - letter), title, Look(fill=INK, letter=0.8 * letter), "start"),
    ]
    return Drawing(title, np.zeros(2), np.array(size, float), 1.0, tuple(marks))


@dataclass(frozen=True)
class _Paint:
    """Marks from px of the picture, y down, on a sheet so high [px]."""

    height: int

    def at(self, points: ArrayLike) -> Array:
        """Points (..., 2 or 3) as they lie on the sheet, y up."""
        flat = np.asarray(points, float)[..., :2]
        return np.asarray(flat * [1.0, -1.0] + [0.0, float(self.height)])

    def fill(self, shapes: Iterable[Array], look: Look) -> Fill:
        """Shapes of one look as one area."""
        return Fill(tuple(self.at(shape) for shape in shapes), look)

    def line(self, points: Array, look: Look) -> Line:
        """An open line."""
        return Line(self.at(points), look)

    def text(self, point: ArrayLike, words: str, look: Look, anchor: Anchor = "middle") -> Text:
        """Words on the picture."""
        return Text(self.at(point), words, look, anchor)


def _is_before(room: SeenSolid, things: list[SeenSolid]) -> bool:
    """Whether a room's part, such as its near wall, is clearly nearer than all that stands there.

    A part that runs along the line of sight, or all around, is not.
    """
    depth = room.points[:, 2]
    near = max((float(s.points[:, 2].mean()) for s in things), default=np.inf)
    return float(depth.mean() - 0.25 * np.ptp(depth)) > near


# --- paint ---


def _painted(paint: _Paint, things: list[SeenSolid]) -> list[Mark]:
    """Facets toward the eye from far to near, with the edges in their places between them."""
    if not things:
        return []
    pieces, owner, parent = cut_pieces(things)
    count = len(pieces)
    veiled = np.array([s.solid.opacity < VEIL for s in things])[owner]
    node = np.arange(count)
    for k in np.unique(owner[veiled]):
        node[veiled & (owner == k)] = np.flatnonzero(veiled & (owner == k))[0]
    links = np.stack(covering(pieces, owner), axis=1)
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
    looks = [_looks(s) for s in things]
    layers: list[tuple[Look, list[Array]]] = []
    for n in far_to_near(np.unique(node), depth, links):
        if n >= count:
            look, shapes = strokes[n - count].look, [strokes[n - count].ends]
        elif veiled[n]:
            look = looks[owner[n]][parent[n]]
            shapes = [pieces[p] for p in np.flatnonzero(node[:count] == n)]
        else:
            look, shapes = looks[owner[n]][parent[n]], [pieces[n]]
        if layers and layers[-1][0] == look:
            layers[-1][1].extend(shapes)
        else:
            layers.append((look, shapes))
    return [mark for look, shapes in layers for mark in _layer(paint, look, shapes)]


def _layer(paint: _Paint, look: Look, shapes: list[Array]) -> list[Mark]:
    """Shapes of one look that follow one another."""
    if look.fill is None:
        return [paint.line(ends, look) for ends in shapes]
    return [paint.fill(shapes, look)]


def _looks(thing: SeenSolid) -> list[Look]:
    """The look of each facet: flat shading by the light over the left shoulder.

    A facet of what hides is rimmed in its own colour, so that no gap shows between two.
    """
    lit = np.clip(thing.normals @ (LIGHT * [1.0, -1.0, 1.0]), 0.0, 1.0)
    tone = np.round((0.66 + 0.38 * lit) * TONES) / TONES
    base = np.array([int(thing.solid.colour[k : k + 2], 16) for k in (1, 3, 5)])
    veiled = thing.solid.opacity < VEIL
    if VEIL <= thing.solid.opacity < 1.0:
        base = base * thing.solid.opacity + 245.0 * (1.0 - thing.solid.opacity)
    if veiled:
        tone = np.ones_like(tone)
    shades = np.clip(np.round(base * tone[:, None]), 0, 255).astype(int)
    fills = [f"#{r:02x}{g:02x}{b:02x}" for r, g, b in shades.tolist()]
    if veiled:
        return [Look(fill=fill, opacity=thing.solid.opacity) for fill in fills]
    return [Look(fill=fill, stroke=fill, weight=0.8) for fill in fills]


# --- edges ---


@dataclass(frozen=True, eq=False)
class Stroke:
    """Part of an edge: drawn after the facets around it, before what hides those it bounds."""

    look: Look
    ends: Array
    after: list[int]
    before: list[int]


def _strokes(
    things: list[SeenSolid], pieces: Array, owner: Index, parent: Index, links: Index
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
        stops = entries(thing.points[pairs], others)
        for (a, b), facets, is_outer, stop in zip(
            pairs.tolist(), sides.tolist(), outer.tolist(), stops, strict=True
        ):
            look = _edge(thing, is_outer)
            around = {p for f in {*at_point[a], *at_point[b]} for p in cut.get(f, ())}
            start, way = thing.points[a], thing.points[b] - thing.points[a]
            for t0, t1 in pairwise(stop):
                ends = start + np.array([[t0], [t1]]) * way
                sided = _touching(pieces, [p for f in facets for p in cut.get(f, ())], ends)
                after = around.difference(*(cut.get(f, ()) for f in facets)).union(sided)
                before = {p for s in sided for p in hides.get(s, ())} - after
                out.append(Stroke(look, ends, sorted(after), sorted(before)))
    return out


def _edge(thing: SeenSolid, outer: bool) -> Look:
    """How an edge is drawn: the silhouette stronger, that of a see-through sheet fainter."""
    weight = 0.6 if thing.solid.opacity < VEIL else 1.3 if outer else 0.8
    return Look(stroke=INK, weight=weight, round_ends=True)


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
    turn = np.sign(twice_area(triangles))
    return np.asarray((-turn[:, None] * cross / length).max(axis=1))


# --- rooms and leaders ---


def _pane(paint: _Paint, thing: SeenSolid) -> list[Mark]:
    """A see-through solid: a light fill and its edges."""
    look = Look(fill=thing.solid.colour, opacity=thing.solid.opacity)
    return [paint.fill(thing.corners[thing.facing], look), *_rim(paint, thing, 1.0)]


def _rim(paint: _Paint, thing: SeenSolid, strength: float) -> list[Line]:
    """The folds of a see-through solid, far ones too."""
    pairs, sides = edge_table(thing)
    folds = (thing.normals[sides[:, 0]] * thing.normals[sides[:, 1]]).sum(axis=1)
    drawn = (sides[:, 1] < 0) | (folds < np.cos(np.radians(CREASE)))
    look = Look(stroke=HAIR, weight=1.1, stroke_opacity=strength, round_ends=True)
    return [paint.line(ends, look) for ends in thing.points[pairs[drawn]]]


def _leaders(paint: _Paint, leaders: tuple[Leader, ...], view: View) -> list[Mark]:
    """Dimension lines with dots at their ends and their words on a plate beside them."""
    if not leaders:
        return []
    ends = view.seen(np.array([[x.start, x.end] for x in leaders]))[..., :2]
    letter = letter_size(view.size)
    out: list[Mark] = []
    for leader, pair in zip(leaders, ends, strict=True):
        for look in (Look(stroke=WHITE, weight=7.0), Look(stroke=leader.colour, weight=4.0)):
            out.append(paint.line(pair, look))
        dot = Look(fill=leader.colour, stroke=WHITE, weight=2.0)
        out += [Arc(paint.at(end), 6.5, dot) for end in pair]
    places = plates(ends, [x.label for x in leaders], view.size)
    for leader, (x, y, w, h) in zip(leaders, places, strict=True):
        plate = np.array([[x, y], [x, y + h], [x + w, y + h], [x + w, y]])
        rim = Look(fill=WHITE, opacity=0.93, stroke=leader.colour, weight=1.2)
        words = Look(fill=leader.colour, letter=letter, bold=True)
        middle = (x + 0.5 * w, y + 0.5 * h + 0.36 * letter)
        out += [paint.fill([plate], rim), paint.text(middle, leader.label, words)]
    return out
