"""Control surfaces, as written down."""

from __future__ import annotations

from pydantic import model_validator

from planform.design.fields import Angle, Length, LengthOrZero, Model, Name, Percent, Side, refuse
from planform.design.pairs import Sideable

WAYS = (("down", "up"), ("outboard", "inboard"), ("left", "right"))
"""Where a control's trailing edge goes: a positive deflection, and a negative one. Common practice
for the first and the last, no source; of a pair of upright ones, outboard is our own."""


class ControlEnd(Model):
    """One end of a control: where along its surface, and where its hinge is there.

    bl, or along : its butt line, or its distance along the surface from the first cut; without
        either it is where its panel ends
    hinge : of the chord there, from the leading edge
    """

    bl: Length | None = None
    along: LengthOrZero | None = None
    hinge: Percent

    @model_validator(mode="after")
    def _one_way(self) -> ControlEnd:
        if self.bl is not None and self.along is not None:
            allowed = "allowed: one of them: the butt line, or how far along the surface"
            raise refuse("bl and along", allowed)
        return self


class Control(Sideable):
    """A control surface: what lies behind a straight hinge line, from one end to the other.

    inner, outer : its ends; it is cut out of its surface and is a part of its own
    down and up, of a winglet or of paired fins outboard and inboard, of one fin left and right :
        how far its trailing edge goes either way
    free : it is not locked when the aircraft stands or is moved
    """

    on: Name
    side: Side = "both"
    inner: ControlEnd
    outer: ControlEnd
    down: Angle | None = None
    up: Angle | None = None
    outboard: Angle | None = None
    inboard: Angle | None = None
    left: Angle | None = None
    right: Angle | None = None
    free: bool = False

    @model_validator(mode="after")
    def _one_pair(self) -> Control:
        given = {name for pair in WAYS for name in pair if getattr(self, name) is not None}
        if given not in [set(pair) for pair in WAYS]:
            allowed = "allowed: " + ", or ".join(" and ".join(pair) for pair in WAYS)
            raise refuse(" and ".join(sorted(given)) or "no deflections", allowed)
        return self


def ways(control: Control) -> tuple[str, str]:
    """The fields of a control's positive and negative deflection."""
    return next((pair for pair in WAYS if getattr(control, pair[0]) is not None), WAYS[0])
