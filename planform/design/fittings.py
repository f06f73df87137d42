"""Small things that stand out of a part and hit first, as written down."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Literal

from pydantic import Field, model_validator

from planform.design.fields import (
    ZERO_ANGLE,
    Angle,
    Cant,
    Length,
    Model,
    Name,
    PositiveLength,
    Side,
    refuse,
)
from planform.design.pairs import Sideable
from planform.design.problems import Problem, unknown

ACROSS = {"ahead": "fs", "aft": "fs", "left": "bl", "right": "bl", "up": "wl", "down": "wl"}
"""The coordinate that runs the way a fitting stands out."""

LEANING = 1.3089969389957472
"""The most that a rod leans off the way it stands out [rad], 75 deg; assumption. More is another
way to stand out."""


class Foot(Model):
    """Where a fitting begins; the coordinate it stands out along is the skin's where left out."""

    fs: Length | None = None
    bl: Length | None = None
    wl: Length | None = None


class Rod(Model):
    """A round rod: an antenna, a pitot tube, an exhaust pipe; it may lean aft, or outboard."""

    length: PositiveLength
    diameter: PositiveLength
    leans_aft: Angle = Field(default=ZERO_ANGLE, validate_default=True)
    leans_out: Cant = Field(default=ZERO_ANGLE, validate_default=True)


class Box(Model):
    """A box: a step, a scoop, a light; its sizes fore and aft, from side to side, and upright."""

    fore_aft: PositiveLength
    across: PositiveLength
    upright: PositiveLength


class Fitting(Sideable):
    """A small thing on a part: a rod or a box that stands out of it one way.

    toward : outboard is right for the right one of a pair; a pair, a left or a right one takes
        no left or right of its own
    """

    on: Name
    side: Side = "centre"
    at: Foot
    toward: Literal["up", "down", "ahead", "aft", "left", "right", "outboard", "inboard"]
    rod: Rod | None = None
    box: Box | None = None

    @model_validator(mode="after")
    def _one_shape(self) -> Fitting:
        if (self.rod is None) == (self.box is None):
            given = "both" if self.rod else "neither"
            raise refuse(given, "allowed: either a rod or a box")
        if self.side == "centre" and self.toward in SIDEWAYS:
            allowed = "allowed: left or right here; outboard and inboard go with a side"
            raise refuse(repr(self.toward), allowed)
        if self.side != "centre" and self.toward in ("left", "right"):
            allowed = f"allowed: outboard or inboard, where side is {self.side!r}"
            raise refuse(repr(self.toward), allowed)
        return self

    @property
    def way(self) -> str:
        """The way it stands out, as its right one does."""
        return SIDEWAYS.get(self.toward, self.toward)


SIDEWAYS = {"outboard": "right", "inboard": "left"}
"""What outboard and inboard are on the right."""


def check_fittings(fittings: dict[str, Fitting], parts: Iterable[str]) -> Iterator[Problem]:
    """Problems of fittings: no part to stand on, no place, a rod that lies down.

    parts : the names that a fitting may stand on
    """
    known = [name for name in parts if name not in fittings]
    for name, fitting in fittings.items():
        path = f"fittings.{name}"
        if fitting.on not in known:
            yield unknown(f"{path}.on", fitting.on, known)
        along = ACROSS[fitting.way]
        for field in ("fs", "bl", "wl"):
            if field != along and getattr(fitting.at, field) is None:
                told = f"no {field}"
                allowed = f"this field is needed; only {along} may be left out: the skin gives it"
                yield Problem(f"{path}.at.{field}", told, allowed)
        off = fitting.at.bl
        if fitting.side != "centre" and off is not None and not off > 0.0:
            allowed = "allowed: above zero, as on the right; side says where it stands"
            yield Problem(f"{path}.at.bl", repr(off.text), allowed)
        if fitting.rod is not None:
            yield from _leaning(path, fitting.way, fitting.rod)


def _leaning(path: str, way: str, rod: Rod) -> Iterator[Problem]:
    """Problems of a rod that leans along itself, or lies down."""
    for field, along in (("leans_aft", "fs"), ("leans_out", "bl")):
        lean = getattr(rod, field)
        if lean and ACROSS[way] == along:
            allowed = f"allowed: none of it; a rod toward {way!r} already goes that way"
            yield Problem(f"{path}.rod.{field}", repr(lean.text), allowed)
        elif abs(lean) > LEANING:
            allowed = "allowed: within 75 deg either way; give another way to stand out"
            yield Problem(f"{path}.rod.{field}", repr(lean.text), allowed)
