"""A scan on the drawn aircraft: how far off each spot is, in shades, and cuts through it."""

from __future__ import annotations

import numpy as np

from planform.airframe.outlines import outline
from planform.airframe.part import Part
from planform.core.vectors import Array
from planform.design.told import said
from planform.drawing.drawing import Drawing
from planform.drawing.sheet import Sheet
from planform.drawing.style import Look
from planform.report.flat_views import VIEWS, flattened
from planform.report.survey.picture import SHAPE
from planform.study.scanned import Scanned

SHADES = (
    "#f9f0cf", "#e6e4ab", "#bcd298", "#86b795", "#579b95", "#3b7d91", "#335c86", "#37386f",
    "#26163f",
)  # fmt: skip
"""From inward of the drawing, light, to outward of it, dark; in grey they stand in one order."""
CELL = 110
"""How many spots of a picture lie along its longer side."""
NEAR = 0.06
"""Points this far behind the nearest of a spot are of the same surface [m]."""
CUT = Look(stroke="#22343c", weight=1.1)
SEEN = Look(fill="#b3361b")
LARGER = (1, 2, 5, 10, 20, 50, 100)
"""How many times larger a cut may show how far off the scan is."""
SHOWN = 0.03
"""About how large that is then, as a share of the cut's width."""
SLICE = 0.015
"""Points of the scan this near to a cut are shown in it [m]."""
MOST = 700
"""Points of the scan that a cut shows."""


def scan_pictures(found: Scanned, system: str) -> dict[str, Drawing]:
    """The views with shades, and the cuts, by name."""
    reach = shade_reach(found)
    out = {
        f"scan-{name}": _view(found, words, axes, reach, system)
        for name, (words, axes) in VIEWS.items()
    }
    for name, axis, at, words in _cuts(found, system):
        drawn = _cut(found, axis, at, words)
        if drawn is not None:
            out[f"scan-{name}"] = drawn
    return out


def shade_reach(found: Scanned) -> float:
    """How far off the drawing the outermost shades begin [m]."""
    off = np.abs(found.laid.off[found.laid.part >= 0])
    return max(float(np.quantile(off, 0.98)), 0.0005) if len(off) else 0.001


def _view(found: Scanned, words: str, axes: Array, reach: float, system: str) -> Drawing:
    parts = [flattened(part, axes) for part in found.parts]
    corners = np.concatenate([part.points for part in parts])
    low, high = corners[:, :2].min(axis=0), corners[:, :2].max(axis=0)
    wide = float(high[0] - low[0])
    sheet = Sheet(low - [0.0, 0.13 * wide], high, width=760, margin=0.05 * wide)
    for part in sorted(parts, key=lambda one: float(one.points[:, 2].max())):
        sheet.shape(outline(part), SHAPE, part.name)
    size = float(max(high - low)) / CELL
    for spot, off in _spots(found, axes, size):
        corner = np.array([[0, 0], [1, 0], [1, 1], [0, 1]]) * size + spot
        sheet.polygon(corner, Look(fill=_shade(off, reach), words="over"))
    _key(sheet, low, wide, reach, system)
    return sheet.drawing(f"{words}: light inward of the drawing, dark outward")


def _spots(found: Scanned, axes: Array, size: float) -> list[tuple[Array, float]]:
    """Lower left corners of spots, and how far off what is seen there lies on the mean [m]."""
    on = found.laid.part >= 0
    at = found.laid.at[on] @ np.vstack([axes, np.cross(axes[0], axes[1])]).T
    off = found.laid.off[on]
    cells = np.floor(at[:, :2] / size).astype(int)
    unique, which = np.unique(cells, axis=0, return_inverse=True)
    which = which.ravel()
    nearest = np.full(len(unique), -np.inf)
    np.maximum.at(nearest, which, at[:, 2])
    seen = at[:, 2] > nearest[which] - NEAR
    count = np.bincount(which[seen], minlength=len(unique))
    total = np.bincount(which[seen], off[seen], minlength=len(unique))
    return [(cell * size, float(t / c)) for cell, t, c in zip(unique, total, count, strict=True)]


def _shade(off: float, reach: float) -> str:
    share = 0.5 + 0.5 * off / reach
    return SHADES[int(np.clip(share * len(SHADES), 0, len(SHADES) - 1))]


def _key(sheet: Sheet, low: Array, wide: float, reach: float, system: str) -> None:
    """What the shades mean."""
    side = 0.05 * wide
    start = low + np.array([0.5 * (wide - side * len(SHADES)), -0.1 * wide])
    for k, shade in enumerate(SHADES):
        corner = np.array([[0, 0], [1, 0], [1, 0.5], [0, 0.5]]) * side + start + [k * side, 0.0]
        sheet.polygon(corner, Look(fill=shade, stroke="#6d6a60", weight=0.5))
    ends = (
        (0.0, -reach, "inward"),
        (0.5 * len(SHADES), 0.0, ""),
        (1.0 * len(SHADES), reach, "outward"),
    )
    for at, off, words in ends:
        text = f"{said(abs(off), 'fine', system)} {words}".strip()
        sheet.words(start + np.array([at * side, -0.4 * side]), text, "small")


def _cuts(found: Scanned, system: str) -> list[tuple[str, int, float, str]]:
    """Where the aircraft is cut: both wings halfway out, the hull ahead of the wing's root."""
    wings = [part.points for part in found.parts if part.role == "wing"]
    hulls = [part.points for part in found.parts if part.role == "fuselage"]
    cuts = []
    if wings:
        half = 0.55 * float(np.abs(np.concatenate(wings)[:, 1]).max())
        for name, side in (("left", -1.0), ("right", 1.0)):
            words = f"Cut at {said(side * half, 'butt', system)}, seen from the left"
            cuts.append((f"cut-{name}", 1, side * half, words))
    if hulls:
        along = np.concatenate(hulls)[:, 0]
        at = float(along.min() + 0.4 * np.ptp(along))
        cuts.append(("cut-hull", 0, at, f"Cut at {said(at, 'station', system)}, seen from ahead"))
    return cuts


def _cut(found: Scanned, axis: int, at: float, words: str) -> Drawing | None:
    """One cut: the drawing as lines, the scan as dots, farther off it than they are."""
    _, axes = VIEWS["ahead" if axis == 0 else "left"]
    role = "fuselage" if axis == 0 else "wing"
    own = [part for part in found.parts if part.role == role]
    lines = (
        np.concatenate([_crossed(part, axis, at) for part in own]) if own else np.zeros((0, 2, 3))
    )
    numbers = [k for k, part in enumerate(found.parts) if part.role == role]
    near = np.abs(found.laid.at[:, axis] - at) < SLICE
    dots = found.laid.at[near & np.isin(found.laid.part, numbers)]
    if not len(lines) or not len(dots):
        return None
    flat = lines @ axes.T
    dots = dots[:: max(len(dots) // MOST, 1)] @ axes.T
    low, high = flat.reshape(-1, 2).min(axis=0), flat.reshape(-1, 2).max(axis=0)
    wide = float(max(high - low))
    foot = _feet(flat, dots)
    off = float(np.quantile(np.linalg.norm(dots - foot, axis=1), 0.95))
    factor = max((f for f in LARGER if f * off <= SHOWN * wide), default=1)
    sheet = Sheet(low, high, width=760, margin=0.1 * wide)
    for line in flat:
        sheet.line(line, CUT)
    for dot in foot + factor * (dots - foot):
        sheet.dot(dot, SEEN, 1.3)
    return sheet.drawing(f"{words}; the scan as dots, {factor} times as far off as it is")


def _crossed(part: Part, axis: int, at: float) -> Array:
    """The lines in which a plane cuts a part's facets, shape (n, 2, 3) [m]."""
    corners = part.points[part.faces]
    side = corners[:, :, axis] - at
    side = np.where(side == 0.0, 1e-12, side)
    crossed = (side > 0.0).any(axis=1) & (side < 0.0).any(axis=1)
    corners, side = corners[crossed], side[crossed]
    other = np.roll(corners, -1, axis=1)
    beyond = np.roll(side, -1, axis=1)
    cut = (side > 0.0) != (beyond > 0.0)  # two of three sides
    share = np.where(cut, side / np.where(cut, side - beyond, 1.0), 0.0)
    points = corners + share[..., None] * (other - corners)
    return np.asarray(points[cut].reshape(-1, 2, 3))


def _feet(lines: Array, dots: Array) -> Array:
    """The point of the lines that is nearest to each dot, shape (n, 2)."""
    start, step = lines[:, 0], lines[:, 1] - lines[:, 0]
    length = np.maximum((step * step).sum(axis=1), 1e-18)
    along = ((dots[:, None] - start) * step).sum(axis=2) / length
    feet = start + np.clip(along, 0.0, 1.0)[..., None] * step
    best = np.linalg.norm(dots[:, None] - feet, axis=2).argmin(axis=1)
    return np.asarray(feet[np.arange(len(dots)), best])
