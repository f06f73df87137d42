"""Named points on the aircraft: where each number is, from above, from the left and from ahead."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from planform.airframe.outlines import outline
from planform.airframe.stance import Standing
from planform.core.vectors import Array
from planform.drawing.drawing import Drawing
from planform.drawing.sheet import Sheet
from planform.drawing.style import PAPER, Look
from planform.report.flat_views import VIEWS, flattened
from planform.rigging.points import NamedPoint

SHAPE = Look(fill="#e9ebe4", opacity=0.8, stroke="#8f958a", weight=0.8, words="over")
SPOT = Look(fill=PAPER, stroke="#22343c", weight=1.3)
NUMBER = Look(fill="#22343c", letter=11.0, bold=True)

TOGETHER = 0.012
"""Points nearer than this share of the picture's width have one spot and their numbers in a row."""


def point_pictures(standing: Standing, points: Sequence[NamedPoint]) -> dict[str, Drawing]:
    """Each view by name, with the numbers of the points in their order.

    From the left only points on the left and on the centre line have numbers.
    """
    return {
        f"points-{name}": _view(standing, points, words, axes)
        for name, (words, axes) in VIEWS.items()
    }


def _view(standing: Standing, points: Sequence[NamedPoint], words: str, axes: Array) -> Drawing:
    on = {part.name for part in standing.parts}
    parts = [flattened(part, axes) for part in standing.airframe.parts if part.name in on]
    corners = np.concatenate([part.points[:, :2] for part in parts])
    low, high = corners.min(axis=0), corners.max(axis=0)
    wide = float(high[0] - low[0])
    sheet = Sheet(low, high, width=1000, margin=0.07 * wide)
    for part in sorted(parts, key=lambda one: float(one.points[:, 2].max())):
        sheet.shape(outline(part), SHAPE, part.name)
    spots: list[tuple[Array, list[int]]] = []
    for number, point in enumerate(points, 1):
        if axes[0, 0] < 0.0 and point.side == "right":
            continue
        at = axes @ point.at
        near = next((s for s in spots if np.linalg.norm(s[0] - at) < TOGETHER * wide), None)
        if near is None:
            spots.append((at, [number]))
        else:
            near[1].append(number)
    for at, numbers in spots:
        sheet.dot((float(at[0]), float(at[1])), SPOT, 3.4)
        sheet.note((float(at[0]), float(at[1])), _listed(numbers), NUMBER)
    return sheet.drawing(f"{words}: named points by their numbers")


def _listed(numbers: Sequence[int]) -> str:
    """Numbers in a row, runs of three and more as from to."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(
        f"{run[0]}–{run[-1]}" if len(run) > 2 else ", ".join(map(str, run)) for run in runs
    )
