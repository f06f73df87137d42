"""Vector pictures by our own projection, for machines without a GL library.

Parallel projection, flat shading, and the painter's order: facets from far to near. Translucent
solids (a room) are drawn first as outlines, so that the aircraft stays in view.
"""

from __future__ import annotations

from html import escape

import numpy as np
from numpy.typing import NDArray

from planform.report.scene import Camera, Scene, Solid

Array = NDArray[np.float64]

LIGHT = np.array([-0.35, -0.5, 0.8]) / np.linalg.norm([-0.35, -0.5, 0.8])
CREASE = np.cos(np.radians(25.0))


def view_axes(camera: Camera) -> tuple[Array, Array, Array]:
    """Unit vectors of the picture: to the right, up, and toward the eye."""
    eye = camera.direction / np.linalg.norm(camera.direction)
    right = np.cross(camera.up, eye)
    right /= np.linalg.norm(right)
    return right, np.cross(eye, right), eye


def to_svg(scene: Scene, camera: Camera, size: tuple[int, int] = (1400, 900)) -> str:
    """The scene from one camera as a stand-alone SVG."""
    right, up, eye = view_axes(camera)
    frame = np.stack([right, up, eye], axis=1)
    every = np.concatenate([solid.points for solid in scene.solids]) @ frame
    low, high = every[:, :2].min(axis=0), every[:, :2].max(axis=0)
    width, height = size
    scale = 0.88 * min(width / (high[0] - low[0]), height / (high[1] - low[1]))
    middle = 0.5 * (low + high)

    def flat(points: Array) -> Array:
        seen = points @ frame
        x = 0.5 * width + scale * (seen[:, 0] - middle[0])
        y = 0.5 * height - scale * (seen[:, 1] - middle[1])
        return np.stack([x, y], axis=1)

    body: list[str] = []
    for solid in scene.solids:
        if solid.opacity < 0.3:
            body += _outline(solid, flat)
    body += _painted([s for s in scene.solids if s.opacity >= 0.3], flat, eye)
    for leader in scene.leaders:
        (x0, y0), (x1, y1) = flat(np.stack([leader.start, leader.end]))
        colour = leader.colour
        body.append(
            f'<g stroke="{colour}" fill="{colour}"><line x1="{x0:.1f}" y1="{y0:.1f}" '
            f'x2="{x1:.1f}" y2="{y1:.1f}" stroke-width="4"/>'
            f'<circle cx="{x0:.1f}" cy="{y0:.1f}" r="6"/>'
            f'<circle cx="{x1:.1f}" cy="{y1:.1f}" r="6"/>'
            "</g>"
        )
        anchor = "end" if 0.5 * (x0 + x1) > 0.6 * width else "start"
        shift = -14 if anchor == "end" else 14
        body.append(
            f'<text x="{0.5 * (x0 + x1) + shift:.1f}" y="{0.5 * (y0 + y1) - 12:.1f}" '
            f'text-anchor="{anchor}" font-size="24" font-weight="bold" fill="{colour}" '
            f'stroke="#fff" stroke-width="6" paint-order="stroke">{escape(leader.label)}</text>'
        )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" '
        f'width="{width}" height="{height}" font-family="DejaVu Sans,Verdana,sans-serif">'
        f"<title>{escape(scene.title)}, {escape(camera.title)}</title>"
        f'<rect width="100%" height="100%" fill="#f4f6f5"/>{"".join(body)}</svg>'
    )


def _outline(solid: Solid, flat: object) -> list[str]:
    """A translucent solid: its creases as thin lines."""
    edges = feature_edges(solid)
    assert callable(flat)
    points = flat(solid.points)
    path = "".join(
        f"M{points[a, 0]:.0f} {points[a, 1]:.0f}L{points[b, 0]:.0f} {points[b, 1]:.0f}"
        for a, b in edges
    )
    return [f'<path d="{path}" fill="none" stroke="#a9b3b5" stroke-width="1"/>']


def _painted(solids: list[Solid], flat: object, eye: Array) -> list[str]:
    """Facets toward the eye from far to near, flat shaded."""
    assert callable(flat)
    entries: list[tuple[float, str]] = []
    for solid in solids:
        corners = solid.points[solid.faces]
        normal = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
        length = np.linalg.norm(normal, axis=1)
        good = length > 1e-12
        normal = normal[good] / length[good][:, None]
        corners = corners[good]
        facing = normal @ eye > 0.0
        corners, normal = corners[facing], normal[facing]
        depth = (corners.mean(axis=1) @ eye).tolist()
        shade = 0.62 + 0.38 * np.clip(normal @ LIGHT, 0.0, 1.0)
        points = np.round(flat(corners.reshape(-1, 3)).reshape(-1, 3, 2), 1)
        base = np.array([int(solid.colour[k : k + 2], 16) for k in (1, 3, 5)])
        fade = "" if solid.opacity >= 1.0 else f' fill-opacity="{solid.opacity:g}"'
        for z, s, p in zip(depth, shade, points, strict=True):
            colour = "#" + "".join(f"{int(v):02x}" for v in base * s)
            (a, b), (c, d), (e, f) = p
            entries.append(
                (
                    z,
                    f'<path d="M{a:g} {b:g}L{c:g} {d:g}L{e:g} {f:g}Z" fill="{colour}"'
                    f' stroke="{colour}" stroke-width=".7"{fade}/>',
                )
            )
        seen = eye
        for a, b, facing_edge in _visible_edges(solid, seen):
            ends = flat(solid.points[[a, b]])
            z = float(solid.points[[a, b]].mean(axis=0) @ eye) + 0.02
            entries.append(
                (
                    z,
                    f'<path d="M{ends[0, 0]:.1f} {ends[0, 1]:.1f}L{ends[1, 0]:.1f} '
                    f'{ends[1, 1]:.1f}" stroke="#2b3a42" stroke-width="{facing_edge:g}"/>',
                )
            )
    return [text for _, text in sorted(entries, key=lambda entry: entry[0])]


def _edge_normals(solid: Solid) -> dict[tuple[int, int], list[Array]]:
    corners = solid.points[solid.faces]
    normal = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    length = np.linalg.norm(normal, axis=1)
    out: dict[tuple[int, int], list[Array]] = {}
    for face, n, size in zip(solid.faces, normal, length, strict=True):
        if size < 1e-12:
            continue
        for k in range(3):
            a, b = int(face[k]), int(face[(k + 1) % 3])
            out.setdefault((min(a, b), max(a, b)), []).append(n / size)
    return out


def feature_edges(solid: Solid) -> list[tuple[int, int]]:
    """Edges at which the surface folds by more than 25 deg, as pairs of point numbers."""
    return [
        edge
        for edge, normals in _edge_normals(solid).items()
        if len(normals) != 2 or normals[0] @ normals[1] < CREASE
    ]


def _visible_edges(solid: Solid, eye: Array) -> list[tuple[int, int, float]]:
    """Folds toward the eye (thin) and the silhouette (thicker)."""
    out = []
    for (a, b), normals in _edge_normals(solid).items():
        facing = [float(n @ eye) > 0.0 for n in normals]
        if len(normals) == 2 and facing[0] != facing[1]:
            out.append((a, b, 1.6))
        elif any(facing) and (len(normals) != 2 or normals[0] @ normals[1] < CREASE):
            out.append((a, b, 0.8))
    return out
