"""Dimensions as objects: what is measured, where its line stands, and the marks it is drawn by.

As ISO 129-1:2018 asks (from memory): extension lines run a little past the dimension line, arrows
of 15 deg filled, the value over the line and read from the bottom or the right; where it is too
narrow the arrows stand outside, and then the value beside the line's end.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import numpy as np

from planform.drawing.paper.letters import width
from planform.drawing.paper.marks import Area, Array, Circle, Foot, Lettering, Mark, PenStroke, line

LETTER = 2.2
"""Height of the capitals of a value [mm]."""
SMALL = 1.6
"""Height of the capitals of what stands under the line [mm]."""
ARROW = 2.4
"""Length of an arrow [mm]."""
HALF = np.tan(np.radians(7.5))
PAST = 1.5
"""How far an extension line runs past the dimension line [mm]."""
FREE = 0.8
"""Between a feature and its extension line; between a line and its value [mm]."""
TAIL = 5.0
"""How long the line runs on behind an arrow that stands outside [mm]."""


@dataclass(frozen=True, eq=False, kw_only=True)
class DimensionLine:
    """What all dimensions have: a key by which a file hides or moves it, its value and its words.

    value : what is measured [m] or [rad]
    words, tail : over its line, and smaller under it: the tolerance and where it comes from
    """

    key: str
    value: float
    words: str
    tail: str = ""

    @property
    def told(self) -> str:
        """Words and tail on one line."""
        return f"{self.words} {self.tail}".rstrip()

    def drawn(self) -> Iterator[Mark]:
        """The marks that it is drawn by [mm]."""
        raise NotImplementedError


@dataclass(frozen=True, eq=False, kw_only=True)
class Linear(DimensionLine):
    """A distance between two points along a direction; an aligned one where that joins them.

    start, end, through : arrays, shape (2,) [mm on paper]; `through` lies on the dimension line
    along : array, shape (2,), a unit vector
    beyond : at which end the value stands where it finds no place between
    extended : whether extension lines are drawn to its ends
    shift : how far the value stands off the middle of its line, along it [mm]
    """

    start: Array
    end: Array
    along: Array
    through: Array
    beyond: Literal["start", "end"] = "end"
    extended: tuple[bool, bool] = (True, True)
    shift: float = 0.0

    @cached_property
    def feet(self) -> tuple[Array, Array]:
        """The ends of the dimension line, the lower one along it first."""
        across = np.array([-self.along[1], self.along[0]])
        first, last = (
            one + across * float((self.through - one) @ across) for one in (self.start, self.end)
        )
        return first, last

    @property
    def length(self) -> float:
        """Between the arrows [mm]."""
        first, last = self.feet
        return float(np.linalg.norm(last - first))

    @property
    def inside(self) -> bool:
        """Whether arrows and value stand between the extension lines."""
        return self.length >= self.wide + 2.0 * FREE

    @cached_property
    def wide(self) -> float:
        """How wide its words are [mm]."""
        return max(width(self.words, LETTER), width(self.tail, SMALL))

    @property
    def _arrows_inside(self) -> bool:
        return self.length >= 2.6 * ARROW and self.inside

    def reach(self) -> tuple[float, float]:
        """How far it runs past its two ends along its line [mm]."""
        if self.inside:
            return (0.0, 0.0) if self._arrows_inside else (TAIL, TAIL)
        tail = TAIL + self.wide + FREE
        return (tail, TAIL) if self.beyond == "start" else (TAIL, tail)

    @property
    def middle(self) -> Array:
        """The point of its line that the words stand at, shape (2,) [mm]."""
        first, last = self.feet
        unit = self._unit
        if self.inside:
            return np.asarray(0.5 * (first + last) + self.shift * unit)
        before, after = self.reach()
        if self.beyond == "start":
            return np.asarray(first - (before - 0.5 * self.wide) * unit)
        return np.asarray(last + (after - 0.5 * self.wide) * unit)

    @property
    def _unit(self) -> Array:
        first, last = self.feet
        return (last - first) / self.length if self.length > 1e-9 else self.along

    def drawn(self) -> Iterator[Mark]:
        """Extension lines, dimension line, arrows and words."""
        first, last = self.feet
        unit = self._unit
        for feature, foot, wanted in zip(
            (self.start, self.end), self.feet, self.extended, strict=True
        ):
            if wanted:
                yield from _extension(feature, foot)
        inward = 1.0 if self._arrows_inside else -1.0
        before, after = self.reach()
        yield line([first - before * unit, last + after * unit], "dimension")
        yield _arrow(first, unit * inward)
        yield _arrow(last, -unit * inward)
        turn, upward = reading(unit)
        yield Lettering(self.middle + FREE * upward, self.words, LETTER, "middle", turn)
        if self.tail:
            under = self.middle - (FREE + 1.1 * SMALL) * upward
            yield Lettering(under, self.tail, SMALL, "middle", turn)


@dataclass(frozen=True, eq=False, kw_only=True)
class Angular(DimensionLine):
    """An angle at a point, from one direction to another, counter-clockwise.

    centre : array, shape (2,) [mm]; first, sweep : [rad]; radius : of the arc [mm]
    legs : from where to where each leg is drawn [mm from the centre]
    """

    centre: Array
    first: float
    sweep: float
    radius: float
    legs: tuple[float, float] = (0.0, 0.0)

    def drawn(self) -> Iterator[Mark]:
        """Both legs, the arc with its arrows, and the value by its middle."""
        ends = (self.first, self.first + self.sweep)
        for turn, start in zip(ends, self.legs, strict=True):
            unit = _unit(turn)
            yield line(
                [self.centre + start * unit, self.centre + (self.radius + PAST) * unit], "dimension"
            )
        room = self.sweep * self.radius >= max(2.6 * ARROW, width(self.told, LETTER) + 2.0 * FREE)
        extra = 0.0 if room else TAIL / self.radius
        yield Circle(
            self.centre, self.radius, "dimension", self.first - extra, self.sweep + 2.0 * extra
        )
        for turn, way in zip(ends, (1.0, -1.0) if room else (-1.0, 1.0), strict=True):
            tangent = way * np.array([-np.sin(turn), np.cos(turn)])
            yield _arrow(self.centre + self.radius * _unit(turn), tangent)
        yield self._value(extra)

    def _value(self, extra: float) -> Lettering:
        """The words by the arc's middle; where the legs are too near, behind the outer arrow."""
        wide = width(self.told, LETTER)
        if self.sweep * self.radius >= wide + 2.0 * FREE or not extra:
            middle = _unit(self.first + 0.5 * self.sweep)
            foot: Foot = "start" if middle[0] > 0.3 else "end" if middle[0] < -0.3 else "middle"
            drop = np.array([0.0, -0.5 * LETTER * (1.0 - middle[1])])
            at = self.centre + (self.radius + FREE + 0.7) * middle + drop
            return Lettering(at, self.told, LETTER, foot)
        turn = self.first - extra
        tail = self.centre + self.radius * _unit(turn)
        right = bool(np.sin(turn) > 0.0)
        shift = np.array([FREE if right else -FREE, -0.5 * LETTER])
        return Lettering(tail + shift, self.told, LETTER, "start" if right else "end")


@dataclass(frozen=True, eq=False, kw_only=True)
class Radius(DimensionLine):
    """The radius of an arc: an arrow onto it from its inside; from its outside where told so.

    Where the inside is too small for the words it comes from outside by itself.

    centre, on : arrays, shape (2,) [mm], `on` lies on the arc
    """

    centre: Array
    on: Array
    outside: bool = False

    def drawn(self) -> Iterator[Mark]:
        """The line to the arc, its arrow and the value with an R before it."""
        reach = self.on - self.centre
        unit = reach / max(float(np.linalg.norm(reach)), 1e-9)
        text = f"R {self.told}"
        run = width(text, LETTER) + 2.0 * FREE + ARROW
        outside = self.outside or bool(np.linalg.norm(reach) < run)
        far = self.on + run * unit if outside else self.centre
        yield line([far, self.on], "dimension")
        yield _arrow(self.on, unit if outside else -unit)
        turn, upward = reading(unit)
        middle = 0.5 * (far + self.on) + 0.5 * ARROW * (unit if outside else -unit)
        yield Lettering(middle + FREE * upward, text, LETTER, "middle", turn)


@dataclass(frozen=True, eq=False, kw_only=True)
class Note(DimensionLine):
    """Words beside a point, with a line to it.

    point, elbow : arrays, shape (2,) [mm]; the words go on from the elbow, level
    """

    point: Array
    elbow: Array

    def drawn(self) -> Iterator[Mark]:
        """A dot, the line and the words over its level end."""
        right = bool(self.elbow[0] >= self.point[0])
        run = np.array([(1.0 if right else -1.0) * (width(self.told, LETTER) + FREE), 0.0])
        yield Circle(self.point, 0.35, "dimension")
        yield line([self.point, self.elbow, self.elbow + run], "dimension")
        foot: Foot = "start" if right else "end"
        lift = np.array([FREE if right else -FREE, FREE])
        yield Lettering(self.elbow + lift, self.told, LETTER, foot)


def reading(unit: Array) -> tuple[float, Array]:
    """How words along a direction are turned to be read from the bottom or the right, and their up.

    Within 90 deg from level, counter-clockwise; upright ones are read from the right.
    """
    turn = float(np.arctan2(unit[1], unit[0]))
    if turn > np.pi / 2 + 1e-6:
        turn -= np.pi
    elif turn <= -np.pi / 2 + 1e-6:
        turn += np.pi
    return turn, np.array([-np.sin(turn), np.cos(turn)])


def _extension(feature: Array, foot: Array) -> Iterator[PenStroke]:
    way = foot - feature
    far = float(np.linalg.norm(way))
    if far > FREE:
        unit = way / far
        yield line([feature + FREE * unit, foot + PAST * unit], "dimension")


def _arrow(tip: Array, way: Array) -> Area:
    """An arrow whose tip stands at a point; its shaft goes on along `way`."""
    side = np.array([-way[1], way[0]]) * ARROW * HALF
    return Area((np.array([tip, tip + ARROW * way + side, tip + ARROW * way - side]),), "ink")


def _unit(turn: float) -> Array:
    return np.array([np.cos(turn), np.sin(turn)])
