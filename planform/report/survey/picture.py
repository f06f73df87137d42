"""Where readings were taken, and what is left of each: arrows, drawn larger by a told factor."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from planform.airframe.outlines import outline
from planform.core.vectors import Array
from planform.drawing.drawing import Drawing
from planform.drawing.sheet import Sheet
from planform.drawing.style import PAPER, Look
from planform.report.flat_views import VIEWS, flattened
from planform.study.scanned import in_aircraft_axes
from planform.study.surveyed import ReadAt, Surveyed

SHAPE = Look(fill="#dfe5e2", opacity=0.75, stroke="#9aa6a4", weight=0.7, words="over")
LEVEL = Look(stroke="#9aa6a4", weight=0.8, dash=(9, 4))
BETWEEN = Look(stroke="#8d8576", weight=0.8, dash=(6, 3))
GOOD, HEAD = Look(stroke="#1d4e7a", weight=2.4, words="off"), Look(fill="#1d4e7a")
BAD, BAD_HEAD = Look(stroke="#b3361b", weight=3.6, words="off"), Look(fill="#b3361b")
POINT = Look(fill=PAPER, stroke="#22343c", weight=1.3)
BAD_POINT = Look(fill="#b3361b", stroke="#22343c", weight=1.3)
NUMBER = Look(fill="#22343c", letter=11.0, bold=True)
BAD_NUMBER = Look(fill="#8c2f1b", letter=12.5, bold=True)

LONGEST = 0.09
"""The longest arrow of a reading that is not doubted, as a share of the aircraft's length."""
FACTORS = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000)
"""How many times larger than they are arrows may be drawn."""
FLAT = 0.3
"""A reading is drawn in views that show at least this share of its direction."""
SHORTEST = 6.0
"""An arrow shorter than this is a point alone [px]."""


@dataclass(frozen=True, eq=False)
class _Arrow:
    """What is left of a reading, at its point; left : (3,) [m], true size."""

    label: str
    spot: ReadAt
    left: Array
    doubted: bool


def pictures(found: Surveyed) -> dict[str, Drawing]:
    """The views in which a reading can be seen, by name."""
    arrows = list(_arrows(found))
    if not arrows:
        return {}
    factor = exaggeration(found, arrows)
    out = {}
    for name, (words, axes) in VIEWS.items():
        seen = [one for one in arrows if np.linalg.norm(axes @ one.spot.along) >= FLAT]
        if seen:
            title = f"{words}: what is left of each reading, {factor} times its size"
        elif name == "above":  # so that every reading is found from above
            seen, title = arrows, f"{words}: where each reading is taken"
        if seen:
            out[f"readings-{name}"] = _view(found, seen, axes, factor, title)
    return out


def exaggeration(found: Surveyed, arrows: list[_Arrow] | None = None) -> int:
    """How many times larger than it is what is left of a reading is drawn."""
    arrows = list(_arrows(found)) if arrows is None else arrows
    sizes = [float(np.linalg.norm(one.left)) for one in arrows if not one.doubted]
    largest = max(sizes, default=0.0)
    length = float(np.ptp(found.drawn.all_points()[:, 0]))
    wanted = LONGEST * length / largest if largest > 0.0 else 1.0
    return max((f for f in FACTORS if f <= wanted), default=1)


def _arrows(found: Surveyed) -> Iterator[_Arrow]:
    doubted = {one.number for one in found.explanation.suspects}
    for k, spot in enumerate(found.spots):
        if spot is None or k >= len(found.explanation.residuals):
            continue
        left = float(found.explanation.residuals[k]) * spot.lever
        row = found.readings[k].row
        yield _Arrow(str(row or k + 1), spot, left * spot.along, k in doubted)


def _view(found: Surveyed, arrows: list[_Arrow], axes: Array, factor: int, title: str) -> Drawing:
    parts = [flattened(part, axes) for part in in_aircraft_axes(found.drawn)]
    corners = np.concatenate([part.points[:, :2] for part in parts])
    points = np.array([axes @ one.spot.at for one in arrows])
    both = np.concatenate([corners, points])
    wide = float(np.ptp(both[:, 0]))
    sheet = Sheet(both.min(axis=0), both.max(axis=0), width=760, margin=0.11 * wide)
    for part in sorted(parts, key=lambda one: float(one.points[:, 2].max())):
        sheet.shape(outline(part), SHAPE, part.name)
    if axes[1, 2] > 0.0:
        _floor(sheet, found, axes, both)
    for one in arrows:
        if one.spot.to is not None:
            sheet.line([axes @ one.spot.at, axes @ one.spot.to], BETWEEN)
    labels: dict[tuple[float, float], list[_Arrow]] = {}
    for one in sorted(arrows, key=lambda each: each.doubted):
        at = axes @ one.spot.at
        _arrow(sheet, at, axes @ one.left * factor, doubted=one.doubted)
        labels.setdefault((round(float(at[0]), 2), round(float(at[1]), 2)), []).append(one)
    for (x, y), some in labels.items():
        doubted = any(one.doubted for one in some)
        sheet.dot((x, y), BAD_POINT if doubted else POINT, 4.6 if doubted else 3.2)
        some.sort(key=lambda one: int(one.label))
        words = ", ".join(one.label + "!" * one.doubted for one in some)
        sheet.note((x, y), words, BAD_NUMBER if doubted else NUMBER)
    return sheet.drawing(title)


def _floor(sheet: Sheet, found: Surveyed, axes: Array, both: Array) -> None:
    """The floor as a line, as it lies under the aircraft."""
    standing = found.drawn
    ends = []
    for x in (both[:, 0].min(), both[:, 0].max()):
        # the floor's point that lies on the sheet at x: height zero over the floor
        along = axes[0] * x
        up = standing.turn[2]
        height = float(up @ along + standing.shift[2])
        ends.append(axes @ (along - axes[1] * height / float(up @ axes[1])))
    sheet.line(ends, LEVEL)


def _arrow(sheet: Sheet, at: Array, left: Array, *, doubted: bool) -> None:
    """What is left of a reading, from its point on; one that is too long is cut and has no head."""
    size = float(np.linalg.norm(left))
    if size * sheet.scale < SHORTEST:
        return
    most = 0.16 * (sheet.high[0] - sheet.low[0])
    way = left / size
    end = at + way * min(size, most)
    sheet.line([at, end], BAD if doubted else GOOD)
    if size > most:
        for k in (1, 2):
            sheet.dot(end + way * k * 7.0 / sheet.scale, BAD_HEAD if doubted else HEAD, 1.8)
        return
    aside = np.array([-way[1], way[0]])
    head = 8.0 / sheet.scale
    corners = [end + way * 0.6 * head, end - way * head + aside * 0.6 * head,
               end - way * head - aside * 0.6 * head]  # fmt: skip
    sheet.polygon(corners, BAD_HEAD if doubted else HEAD)


def caption(found: Surveyed) -> str:
    """What the arrows mean."""
    factor = exaggeration(found)
    return (
        "Numbers are rows of the readings. An arrow is what is left of a reading once the "
        f"explanation is taken off, drawn {factor} times its size, towards where the point would "
        "have to lie to read so; thick with ! is a reading that looks wrong, two dots behind an "
        "arrow say that it is longer still. A point without an arrow has next to nothing left."
    )
