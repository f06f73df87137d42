"""Where each reading of a card is taken, on views of the aircraft as it stands."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from planform.airframe.outlines import outline
from planform.airframe.stance import Standing
from planform.drawing.drawing import Array, Drawing
from planform.drawing.sheet import Sheet
from planform.drawing.style import Look
from planform.rigging.card import CardBolt

Sort = Literal["tape", "height", "level", "plumb"]
"""Between two points, over the floor, a level laid from one to the other, a mark under a point."""

QUIET = Look(fill="#eef0ec", stroke="#8a979b", weight=0.7, words="over")
SET = Look(fill="#c3d8dc", stroke="#1f3f4a", weight=1.2, words="over")
TAPE = Look(stroke="#6b4f8f", weight=1.3, dash=(6, 3))
LEVEL = Look(stroke="#1f5f4d", weight=4.0, words="off")
DROP = Look(stroke="#a8641e", weight=1.0, dash=(3, 3))
FLOOR = Look(stroke="#4b463e", weight=1.4)
MIDDLE = Look(stroke="#7a8387", weight=0.8, dash=(12, 3, 2, 3), words="over")
DOT = Look(fill="#fbfaf6", stroke="#8c2f1b", weight=1.6, words="off")
NUMBER = Look(fill="#8c2f1b", letter=15.0, bold=True)
NAME = Look(fill="#4d5a5f", letter=14.0)
BOLT = Look(stroke="#1d2f6b", weight=1.2, words="off")
BOLT_NUMBER = Look(fill="#1d2f6b", letter=14.0, bold=True)
CROSS = 4.0
"""Of a bolt's cross, from its middle [px]."""

WIDTH, NARROW = 560, 480
"""Of the sheet [px]."""
WHOLE = 0.6
"""A view shows all of the aircraft where the readings take up more of its length than this."""
BESIDE = 0.35
"""Kept round what the readings span [m]."""
APART = 0.35
"""Between two views [m]."""
SAME = 0.02
"""Points nearer than this stand at one place of a view [m]."""


@dataclass(frozen=True, eq=False)
class Taken:
    """Where one reading is taken.

    number : in the card's table ; ends : (1 or 2, 3) floor axes [m]
    """

    number: int
    sort: Sort
    ends: Array


@dataclass(frozen=True, eq=False)
class SeenFrom:
    """One of the views on the sheet.

    across, up : (3,) floor axes, what lies to the right and up on paper
    low, high : (2,) the window of it [m]
    at : (2,) where its lower left corner lies on the sheet [m]
    """

    name: str
    across: Array
    up: Array
    low: Array
    high: Array
    at: Array

    def flat(self, points: Array) -> Array:
        """Points (n, 3) on the sheet, (n, 2) [m]."""
        seen = np.column_stack([points @ self.across, points @ self.up])
        return np.asarray(seen - self.low + self.at)

    @property
    def size(self) -> Array:
        """Width and height [m]."""
        return np.asarray(self.high - self.low)


AFT, RIGHT, UP = np.eye(3)
DIRECTIONS = {"from above": (AFT, RIGHT), "from ahead": (-RIGHT, UP)}
"""The nose points to the left on paper from above."""


def readings_drawing(
    standing: Standing,
    parts: Iterable[str],
    taken: Sequence[Taken],
    bolts: Sequence[CardBolt] = (),
    narrow: bool = False,
) -> Drawing:
    """The aircraft from above and from ahead, with the number of each reading where it is taken.

    parts : names of the parts that are set, which stand out ; bolts : shown as crosses
    narrow : the views over one another, for a narrow screen
    """
    chosen = frozenset(parts)
    views = _laid(_views(standing, chosen, taken), narrow)
    corners = np.array([c for v in views for c in (v.at, v.at + v.size)])
    width = NARROW if narrow else WIDTH
    sheet = Sheet(corners.min(axis=0), corners.max(axis=0), width, margin=0.4)
    for view in views:
        _aircraft(sheet, view, standing, chosen)
        _lines(sheet, view, standing, taken)
    for view in views:
        _numbers(sheet, view, taken)
        if view is views[0]:
            _crosses(sheet, view, bolts)
        sheet.words(view.at + np.array([0.0, view.size[1] + 0.06]), view.name, NAME, "start")
    return sheet.drawing(f"Where each reading is taken: {standing.title}")


def _views(standing: Standing, chosen: frozenset[str], taken: Sequence[Taken]) -> list[SeenFrom]:
    """The views that show a reading, each with its window."""
    whole = standing.all_points()
    held = [p.points for p in standing.parts if p.name in chosen]
    spots = np.concatenate([*(one.ends for one in taken), *held] or [whole])
    low, high = whole.min(axis=0), whole.max(axis=0)
    near, far = spots.min(axis=0) - BESIDE, spots.max(axis=0) + BESIDE
    near, far = np.maximum(near, low), np.minimum(far, high)
    wide = (far - near) > WHOLE * (high - low)
    low = np.minimum(np.where(wide, low, near), spots.min(axis=0))
    high = np.maximum(np.where(wide, high, far), spots.max(axis=0))
    low[2] = 0.0
    out = []
    for name, (across, up) in DIRECTIONS.items():
        if any(_seen_in(one) == name for one in taken):
            ends = np.array([[low @ across, low @ up], [high @ across, high @ up]])
            out.append(SeenFrom(name, across, up, ends.min(axis=0), ends.max(axis=0), np.zeros(2)))
    return out


def _laid(views: Sequence[SeenFrom], narrow: bool) -> list[SeenFrom]:
    """From above at the left and from ahead at its right, or under it."""
    first, *others = views
    step = [0.0, -APART - 0.3] if narrow else [first.size[0] + APART, 0.0]
    out = [first]
    for view in others:
        down = np.array([0.0, view.size[1] if narrow else 0.0])
        out.append(replace(view, at=np.array(step) - down))
    return out


def _seen_in(one: Taken) -> str:
    """The view in which a reading has its number."""
    if one.sort == "height":
        return "from ahead"
    if one.sort == "level" and np.ptp(one.ends[:, 1]) > np.ptp(one.ends[:, 0]):
        return "from ahead"
    return "from above"


def _aircraft(sheet: Sheet, view: SeenFrom, standing: Standing, chosen: frozenset[str]) -> None:
    """Its silhouettes in the window, what is set over the rest."""
    import shapely

    window = shapely.box(*view.at, *(view.at + view.size))
    depth = np.cross(view.across, view.up)
    order = sorted(standing.parts, key=lambda p: (p.name in chosen, (p.points @ depth).max()))
    for part in order:
        flat = np.column_stack([view.flat(part.points), part.points @ depth])
        shape = outline(replace(part, points=flat)).intersection(window)
        sheet.shape(shape, SET if part.name in chosen else QUIET, part.name)
    if view.up is UP:
        sheet.line([view.at, view.at + np.array([view.size[0], 0.0])], FLOOR)
    if view.name == "from above":
        ends = np.array([[view.low[0], 0.0, 0.0], [view.high[0], 0.0, 0.0]])
        sheet.line(view.flat(ends), MIDDLE)


def _lines(sheet: Sheet, view: SeenFrom, standing: Standing, taken: Sequence[Taken]) -> None:
    """Tapes, levels, plumb lines and heights that have their number in this view."""
    for one in taken:
        if _seen_in(one) != view.name:
            continue
        ends = view.flat(one.ends)
        if one.sort == "height":
            foot = one.ends.copy()
            foot[:, 2] = 0.0
            for a, b in zip(ends, view.flat(foot), strict=True):
                sheet.line([a, b], DROP)
        elif one.sort == "plumb":
            foot = one.ends.copy()
            foot[:, 1] = 0.0
            for a, b in zip(ends, view.flat(foot), strict=True):
                sheet.line([a, b], DROP)
        else:
            sheet.line(ends, LEVEL if one.sort == "level" else TAPE)
        if one.sort != "level":
            for end in ends:
                sheet.dot(end, DOT, 3.4)


def _numbers(sheet: Sheet, view: SeenFrom, taken: Sequence[Taken]) -> None:
    """The numbers of the readings, those at one place in one label."""
    places: list[tuple[Array, list[int]]] = []
    for one in taken:
        if _seen_in(one) != view.name:
            continue
        ends = view.flat(one.ends)
        at = ends.mean(axis=0) if one.sort in ("tape", "level") else ends[0]
        near = [p for p in places if np.linalg.norm(p[0] - at) < SAME]
        if near:
            near[0][1].append(one.number)
        else:
            places.append((at, [one.number]))
    for at, numbers in places:
        sheet.note(at, " · ".join(map(str, numbers)), NUMBER)


def _crosses(sheet: Sheet, view: SeenFrom, bolts: Sequence[CardBolt]) -> None:
    """The bolts; those over one another in one label."""
    arm = CROSS / sheet.scale
    places: list[tuple[Array, list[str]]] = []
    for bolt in bolts:
        at = view.flat(bolt.at[None, :])[0]
        if (at < view.at).any() or (at > view.at + view.size).any():
            continue
        for way in ((arm, arm), (arm, -arm)):
            sheet.line(np.array([at - way, at + way]), BOLT)
        number = bolt.name.rpartition("bolt ")[2]
        near = [p for p in places if np.linalg.norm(p[0] - at) < SAME]
        if not near:
            places.append((at, [number]))
        elif number not in near[0][1]:
            near[0][1].append(number)
    for at, names in places:
        sheet.note(at, " · ".join(names), BOLT_NUMBER)
