"""Points of a builder's own: a dowel, a scribed line, a target stuck on."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Literal

from pydantic import model_validator

from planform.design.fields import Length, LengthOrZero, Model, Name, Prose, refuse
from planform.design.problems import Problem, unknown
from planform.design.structure import Fraction


class FarEnd(Model):
    """A place by station, butt line and waterline."""

    fs: Length
    bl: Length
    wl: Length


class OwnPoint(Model):
    """A named point: by fs, bl and wl, or on a surface by how far out and how far aft it is.

    on : the part that it moves with; the fuselage where it is left out
    side : of a pair butt lines count outboard
    to : the other end of a line, such as one that is scribed
    """

    side: Literal["both", "left", "right", "centre"] = "centre"
    on: Name | None = None
    fs: Length | None = None
    bl: Length | None = None
    wl: Length | None = None
    along: LengthOrZero | None = None
    chord_fraction: Fraction | None = None
    face: Literal["upper", "lower", "chord line"] = "chord line"
    to: FarEnd | None = None
    text: Prose = ""

    @property
    def on_surface(self) -> bool:
        """Whether it is given by a share of the chord."""
        return self.chord_fraction is not None

    @model_validator(mode="after")
    def _one_way(self) -> OwnPoint:
        if self.on_surface:
            if self.on is None or (self.along is None) == (self.bl is None):
                raise refuse(
                    "chord_fraction", "allowed: with on, and bl or along to say how far out"
                )
            if self.fs is not None or self.wl is not None or self.to is not None:
                raise refuse("chord_fraction and fs or wl", "allowed: one way only")
        elif self.fs is None or self.bl is None or self.wl is None or self.along is not None:
            raise refuse(
                "not all of fs, bl and wl",
                "allowed: the three of them, or on a surface bl (or along) and chord_fraction",
            )
        return self


def check_points(
    points: dict[str, OwnPoint], parts: Iterable[str], surfaces: Iterable[str]
) -> Iterator[Problem]:
    """Problems of named points: parts and surfaces that are not there.

    parts : names that one may move with ; surfaces : those it may be given on
    """
    known, lofted = list(parts), list(surfaces)
    for name, point in points.items():
        path = f"points.{name}"
        if point.on is not None and point.on not in (lofted if point.on_surface else known):
            yield unknown(f"{path}.on", point.on, lofted if point.on_surface else known)
        if point.side != "centre" and point.bl is not None and point.bl < 0.0:
            allowed = "allowed: zero or more, outboard; side says which"
            yield Problem(f"{path}.bl", repr(point.bl.text), allowed)
