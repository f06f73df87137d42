"""Struts between two parts, as written down: what braces a wing."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from typing import Literal

from pydantic import model_validator

from planform.design.fields import Length, Model, Name, PositiveLength, refuse
from planform.design.pairs import Sideable
from planform.design.problems import Problem, unknown

NEAR = 1e-3
"""Ends nearer than this to one another count as one [m]; assumption."""
THIN, THICK = 0.05, 0.4
"""Least and greatest thickness of a fairing, in chords; assumption."""


class StrutEnd(Model):
    """An end of a strut on a part; the skin gives bl (its side) or wl (its underside) left out."""

    on: Name
    fs: Length
    bl: Length | None = None
    wl: Length | None = None


class LiftStrut(Sideable):
    """A strut from one part to another: a round rod, or faired with a chord and a thickness.

    Its line runs through the rod's middle, and where the fairing is thickest.
    """

    side: Literal["both", "right", "left"] = "both"
    inner_end: StrutEnd
    outer_end: StrutEnd
    diameter: PositiveLength | None = None
    chord: PositiveLength | None = None
    thickness: PositiveLength | None = None

    @model_validator(mode="after")
    def _one_shape(self) -> LiftStrut:
        given = [n for n in ("diameter", "chord", "thickness") if getattr(self, n) is not None]
        if given not in (["diameter"], ["chord", "thickness"]):
            allowed = "allowed: either a diameter, or a chord and a thickness"
            raise refuse(" and ".join(given) or "none of them", allowed)
        if self.chord is not None and self.thickness is not None:
            ratio = self.thickness / self.chord
            if not THIN <= ratio <= THICK:
                allowed = f"allowed: {100.0 * THIN:g} to {100.0 * THICK:g} % of its chord"
                raise refuse(f"thickness {self.thickness.text!r}", allowed)
        return self


def check_struts(struts: dict[str, LiftStrut], parts: Iterable[str]) -> Iterator[Problem]:
    """Problems of struts: no part to end on, no place, no length, a faired one along the stream.

    parts : the names that a strut may end on
    """
    known = [
        name for name in parts if name.removeprefix("left ").removeprefix("right ") not in struts
    ]
    for name, strut in struts.items():
        path = f"struts.{name}"
        ends = strut.inner_end, strut.outer_end
        for field, end in zip(("inner_end", "outer_end"), ends, strict=True):
            if end.on not in known:
                yield unknown(f"{path}.{field}.on", end.on, known)
            if end.bl is None and end.wl is None:
                allowed = "allowed: bl or wl, or both; the skin gives the one left out"
                yield Problem(f"{path}.{field}", "neither bl nor wl", allowed)
            if end.bl is not None and end.bl < 0.0:
                allowed = "allowed: zero or more, as on the right; side says where it stands"
                yield Problem(f"{path}.{field}.bl", repr(end.bl.text), allowed)
        points = [(end.fs, end.bl, end.wl) for end in ends]
        if any(one is None for point in points for one in point):
            continue
        aft, out, up = (float(b or 0.0) - float(a or 0.0) for a, b in zip(*points, strict=True))
        if math.hypot(aft, out, up) < NEAR:
            allowed = "allowed: ends that stand apart"
            yield Problem(f"{path}.outer_end", "the inner end itself", allowed)
