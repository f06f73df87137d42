"""Bodies, as written down: hull, cowl, spinner, boom."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Annotated, Literal

from pydantic import Field, model_validator

from planform.design.fields import (
    ZERO_LENGTH,
    Length,
    LengthOrZero,
    Model,
    PositiveLength,
    Side,
    refuse,
)
from planform.design.pairs import Sideable
from planform.design.problems import Problem


class BodyCut(Model):
    """One cut through a body: a superellipse between two waterlines, with a keel where it has one.

    boxiness : the exponent of the superellipse; 2 is an ellipse, more is nearer to a rectangle
    flat_sides : height of a straight, upright part of both sides, half way up the round
    keel : how far the keel at `bottom` stands under the round, both joined by straight flanks
    flat_bottom : width of a level flat at `bottom`; that of the keel where there is one
    """

    fs: Length
    half_width: PositiveLength
    bottom: Length
    top: Length
    boxiness: Annotated[float, Field(ge=1.5, le=12.0)] = 2.5
    flat_sides: LengthOrZero | None = None
    keel: LengthOrZero | None = None
    flat_bottom: LengthOrZero | None = None

    @model_validator(mode="after")
    def _round(self) -> BodyCut:
        flat, keel, width = self.flat_sides or 0.0, self.keel or 0.0, self.flat_bottom or 0.0
        given = " and ".join(
            f"{name} {one.text!r}"
            for name, one in (("flat_sides", self.flat_sides), ("keel", self.keel))
            if one
        )
        if self.top > self.bottom and not flat + keel < self.top - self.bottom:
            allowed = "allowed: less than from bottom to top together, so that some round is left"
            raise refuse(given, allowed)
        if self.flat_bottom is not None and not width <= 2.0 * self.half_width:
            allowed = f"allowed: at most twice the half width ({self.half_width.text})"
            raise refuse(f"flat_bottom {self.flat_bottom.text!r}", allowed)
        return self

    @model_validator(mode="after")
    def _upright(self) -> BodyCut:
        if not self.top > self.bottom:
            raise refuse(
                f"bottom {self.bottom.text!r}, top {self.top.text!r}",
                "allowed: a top above the bottom",
            )
        return self


class CanopyBulge(Model):
    """A bulge on top of a body, with cuts of its own: a canopy, a turtle deck, a blister.

    It is a part of its own, named after the body, and may sink into it.
    """

    smooth: bool = False
    cuts: Annotated[tuple[BodyCut, ...], Field(min_length=2)]


class Body(Sideable):
    """A body lofted from cut to cut, straight or smooth: pod, cowl, spinner, boom.

    smooth : it runs smoothly through its cuts, rising and falling only where they do
    """

    role: Literal["fuselage", "cowl", "spinner", "boom"] = "fuselage"
    side: Side = "centre"
    bl: Length = Field(default=ZERO_LENGTH, validate_default=True)
    smooth: bool = False
    cuts: Annotated[tuple[BodyCut, ...], Field(min_length=2)]
    canopy_bulge: CanopyBulge | None = None


def bulge_of(name: str, body: Body) -> tuple[str, ...]:
    """The name of a body's canopy bulge, where it has one."""
    return (f"{name} canopy bulge",) if body.canopy_bulge is not None else ()


def skins_of(bodies: Mapping[str, Body]) -> tuple[str, ...]:
    """What panels may be cut from: bodies and their canopy bulges, by name."""
    return (*bodies, *(bulge for name, body in bodies.items() for bulge in bulge_of(name, body)))


def check_bodies(bodies: dict[str, Body]) -> Iterator[Problem]:
    """Problems of bodies: cuts out of order, a bulge that stands off its body."""
    for name, body in bodies.items():
        yield from _in_order(f"bodies.{name}.cuts", body.cuts)
        if body.canopy_bulge is None:
            continue
        path, cuts = f"bodies.{name}.canopy_bulge.cuts", body.canopy_bulge.cuts
        yield from _in_order(path, cuts)
        ends = body.cuts[0].fs, body.cuts[-1].fs
        for k, cut in enumerate(cuts):
            if not ends[0] <= cut.fs <= ends[1]:
                allowed = f"allowed: within the body, {ends[0].text} to {ends[1].text}"
                yield Problem(f"{path}[{k + 1}].fs", repr(cut.fs.text), allowed)


def _in_order(path: str, cuts: tuple[BodyCut, ...]) -> Iterator[Problem]:
    for k in range(1, len(cuts)):
        here, before = cuts[k].fs, cuts[k - 1].fs
        if not here > before:
            yield Problem(
                f"{path}[{k + 1}].fs",
                repr(here.text),
                f"allowed: aft of the cut before it ({before.text})",
                (f"{path}[{k}].fs",),
            )
