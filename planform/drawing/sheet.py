"""A sheet on which a drawing is made, in metres; words find their places when it is done."""

from __future__ import annotations

import textwrap
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from planform.airframe.outlines import Shape
from planform.drawing import labels
from planform.drawing.drawing import Anchor, Arc, Dimension, Drawing, Fill, Line, Mark, Text
from planform.drawing.labels import Box, Found
from planform.drawing.style import Kind, look_of

Array = NDArray[np.float64]

WRAP = 34
"""Letters of a line of a label, about."""

LEADING = 1.2
"""Distance of lines of words as a share of their size."""

SIMPLER = 0.001
"""Outlines are drawn without corners that are off by less than this [m]."""


@dataclass(frozen=True)
class Label:
    """Words that still look for their place beside a point."""

    point: Array
    lines: tuple[str, ...]
    kind: Kind

    @property
    def size(self) -> tuple[float, float]:
        """Width and height [px]."""
        look = look_of(self.kind)
        wide = max(len(line) for line in self.lines) * look.letter * look.letter_width
        return wide, look.letter * (1.0 + LEADING * (len(self.lines) - 1) + 0.25)


class Sheet:
    """Collects marks given in metres (y up) and makes them a drawing.

    Labels are placed when it is done, with all that is on it known.

    low, high : corners of what is drawn, shape (2,) [m]
    width : of the sheet [px]
    margin : free paper on each side [m]
    wordless : a thumbnail, with no words but single letters
    """

    def __init__(
        self,
        low: Array,
        high: Array,
        width: int = 640,
        margin: float = 0.6,
        wordless: bool = False,
    ) -> None:
        self.low = np.asarray(low, float) - margin
        self.high = np.asarray(high, float) + margin
        self.scale = width / float(self.high[0] - self.low[0])
        self.width = width
        self.marks: list[Mark] = []
        self.labels: list[Label] = []
        self.boxes: list[Box] = []
        self.wordless = wordless

    def drawing(self, title: str) -> Drawing:
        """All that is on the sheet, its labels in their places."""
        self._settle()
        return self._so_far(title)

    def _so_far(self, title: str = "") -> Drawing:
        return Drawing(title, self.low, self.high, self.scale, tuple(self.marks))

    def shape(self, geometry: Shape, kind: Kind, title: str = "") -> None:
        """A shapely polygon or collection of them, with holes."""
        self.marks += fills(geometry, kind, title)

    def polygon(self, points: ArrayLike, kind: Kind) -> None:
        """A closed outline of points."""
        self.marks.append(Fill((_flat(points),), kind))

    def line(self, points: ArrayLike, kind: Kind) -> None:
        """An open line through points."""
        self.marks.append(Line(_flat(points), kind))

    def dot(self, point: ArrayLike, kind: Kind, radius: float = 3.0) -> None:
        """A dot of so many px."""
        self.marks.append(Arc(_flat(point), radius / self.scale, kind))

    def dimension(
        self, start: ArrayLike, end: ArrayLike, words: str, ends: Kind | None = "end"
    ) -> None:
        """A measured distance with its words beside the middle."""
        a, b = _flat(start), _flat(end)
        self.marks.append(Dimension(a, b, words, ends=ends))
        self.note(0.5 * (a + b), words, "strong")

    def words(
        self, point: ArrayLike, text: str, kind: Kind = "words", anchor: Anchor = "middle"
    ) -> None:
        """Words at a point, kept on the sheet; none on a wordless one."""
        if not self.wordless:
            self._put(point, text, kind, anchor)

    def letter(self, point: ArrayLike, text: str, kind: Kind) -> None:
        """A letter in the middle over a point, on a wordless sheet too."""
        self._put(point, text, kind, "middle")

    def _put(self, point: ArrayLike, text: str, kind: Kind, anchor: Anchor) -> None:
        look = look_of(kind)
        x, y = _spot(self._so_far(), _flat(point))
        wide = look.letter_width * look.letter * len(text)
        left = x - {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor] * wide
        shift = min(max(left, 4.0), max(4.0, self.width - 4.0 - wide)) - left
        self.boxes.append(
            (left + shift, y - look.letter, left + shift + wide, y + 0.3 * look.letter)
        )
        at = _flat(point) + np.array([shift / self.scale, 0.0])
        self.marks.append(Text(at, text, kind, anchor))

    def note(self, point: ArrayLike, text: str, kind: Kind = "words") -> None:
        """Words beside a point, over no aircraft, wall or other words; none on a wordless sheet.

        A place farther off gets a thin line to the point. Where the sheet has no place left, it
        grows at its lower end.
        """
        if not self.wordless and text.strip():
            self.labels.append(Label(_flat(point), tuple(textwrap.wrap(text, WRAP)), kind))

    def arrow(self, points: ArrayLike, kind: Kind, head: Kind, size: float = 11.0) -> None:
        """A line with a head of so many px at its end."""
        track = np.asarray(points, float)
        reach = size / self.scale
        back = np.linalg.norm(track - track[-1], axis=1) >= reach
        if not back.any():
            return
        way = track[-1] - track[np.flatnonzero(back)[-1]]
        way = way / np.linalg.norm(way)
        side = np.array([-way[1], way[0]])
        foot = track[-1] - reach * way
        self.line([*track[: np.flatnonzero(back)[-1] + 1], foot], kind)
        self.polygon([track[-1], foot + 0.5 * reach * side, foot - 0.5 * reach * side], head)

    def hatch(self, outline: ArrayLike, kind: Kind, gap: float = 7.0) -> None:
        """Slanting lines over a shape, so many px apart."""
        import shapely

        area = shapely.polygons(np.asarray(outline, float))
        x0, y0, x1, y1 = area.bounds
        step = gap * 2.0**0.5 / self.scale
        rise = y1 - y0
        for start in np.arange(x0 - rise + 0.5 * step, x1, step):
            piece = shapely.linestrings([(start, y0), (start + rise, y1)]).intersection(area)
            for part in shapely.get_parts(piece):
                if part.geom_type == "LineString" and part.length > 0.0:
                    self.line(list(part.coords), kind)

    def _settle(self) -> None:
        """Place the labels that still look for their place, the strong ones first."""
        if not self.labels:
            return
        room = self._room()
        waiting, self.labels = sorted(self.labels, key=lambda one: one.kind != "strong"), []
        for label in waiting:
            wide, high = label.size
            spot = _spot(self._so_far(), label.point)
            found = room.place(spot, wide, high)
            while found is None:
                self.low = self.low - np.array([0.0, (high + 8.0) / self.scale])
                room.grow(self._so_far().size[1])
                found = room.place(spot, min(wide, self.width - 12.0), high)
            self._write(label, found)

    def _write(self, label: Label, found: Found) -> None:
        if found.leader is not None:
            self.line([label.point, self._back(*found.leader)], "thin")
        left, top, right, _ = found.box
        size = look_of(label.kind).letter
        for k, line in enumerate(label.lines):
            down = top + size * (1.0 + LEADING * k)
            self._put(self._back(0.5 * (left + right), down), line, label.kind, "middle")

    def _room(self) -> labels.FreePaper:
        """What is drawn, as what words must and had better keep off."""
        so_far = self._so_far()
        room = labels.FreePaper(*so_far.size)
        for mark in self.marks:
            for one in mark.drawn(self.scale) if isinstance(mark, Dimension) else (mark,):
                _keep(room, one, so_far)
        for box in self.boxes:
            room.keep_box(box)
        return room

    def _back(self, x: float, y: float) -> Array:
        """The point of the thing drawn that lies at a place of the sheet [px]."""
        return np.array([self.low[0] + x / self.scale, self.high[1] - y / self.scale])


def fills(geometry: Shape, kind: Kind, title: str = "") -> list[Fill]:
    """The polygons of a shapely geometry as fills, with their holes."""
    import shapely

    out = []
    for polygon in shapely.get_parts(geometry):
        if polygon.geom_type == "Polygon" and not polygon.is_empty:
            simple = polygon.simplify(SIMPLER)
            rings = [simple.exterior, *simple.interiors]
            out.append(Fill(tuple(np.array(r.coords)[:-1, :2] for r in rings), kind, title))
    return out


def _flat(points: ArrayLike) -> Array:
    return np.asarray(points, float)[..., :2]


def _spot(sheet: Drawing, point: Array) -> tuple[float, float]:
    """Where a point lies on the sheet, to a tenth of a px, so that words never flicker."""
    x, y = sheet.px(point).round(1).tolist()
    return x, y


def _keep(room: labels.FreePaper, mark: Mark, sheet: Drawing) -> None:
    """Keep words off a mark, as its look asks."""
    look = look_of(mark.kind)
    if isinstance(mark, Arc):
        room.keep_dot(*_spot(sheet, mark.centre), mark.radius * sheet.scale)
    elif isinstance(mark, Line):
        room.keep_line(sheet.px(mark.points), look.words == "off")
    elif isinstance(mark, Fill):
        rings = [sheet.px(np.concatenate([ring, ring[:1]])) for ring in mark.rings]
        if look.words == "off":
            room.keep_rings(rings)
        elif look.words == "rather off":
            room.keep_line(rings[0])
