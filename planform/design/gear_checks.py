"""Checks of wheels and what belongs to them: what could not be built, or would not roll."""

from __future__ import annotations

import math
from collections.abc import Iterator

from planform.design.gear import Wheel
from planform.design.kinds import contact_names, expand
from planform.design.models import Design, Stance
from planform.design.problems import Problem
from planform.design.standing import support_of
from planform.design.units import like

NEAR = 1e-3
"""Points nearer than this to one another count as one [m]; assumption."""


def check_gear(design: Design) -> Iterator[Problem]:
    """Problems of the wheels of a design; `design` may lack what could not be read."""
    for name, wheel in (design.wheels or {}).items():
        path = f"wheels.{name}"
        if not wheel.flat_drop < 0.5 * wheel.diameter:
            yield Problem(
                f"{path}.flat_drop",
                repr(wheel.flat_drop.text),
                f"allowed: less than half the diameter ({wheel.diameter.text})",
                rests=(f"{path}.diameter",),
            )
        yield from _check_leg(path, wheel)
        yield from _check_fairing(path, wheel)
        yield from _check_brake(path, wheel)
        yield from _check_springs(path, wheel)
        yield from _check_hinge(path, wheel)


def _check_leg(path: str, wheel: Wheel) -> Iterator[Problem]:
    top = wheel.leg.top if wheel.leg is not None else None
    axle = (wheel.fs, wheel.bl, wheel.wl)
    if top is not None and math.dist((top.fs, top.bl, top.wl), axle) < NEAR:
        yield Problem(f"{path}.leg.top", "the axle itself", "allowed: a point away from the axle")


def _check_fairing(path: str, wheel: Wheel) -> Iterator[Problem]:
    """A fairing holds its wheel's axle, and the tyre stands out below it."""
    one = wheel.fairing
    if one is None:
        return
    if not one.bottom < one.top:
        allowed = f"allowed: above its bottom ({one.bottom.text})"
        yield Problem(f"{path}.fairing.top", repr(one.top.text), allowed)
        return
    if not one.fs < wheel.fs < one.fs + one.length:
        allowed = f"allowed: one that begins ahead of the axle ({wheel.fs.text}) and ends aft of it"
        yield Problem(f"{path}.fairing.fs", repr(one.fs.text), allowed, (f"{path}.fs",))
    low = wheel.wl - 0.5 * wheel.diameter
    if not low < one.bottom < wheel.wl < one.top:
        allowed = (
            f"allowed: its bottom between the tyre's lowest ({like(low, wheel.wl.text)}) and the "
            f"axle ({wheel.wl.text}), its top over the axle"
        )
        given = f"{one.bottom.text} to {one.top.text}"
        yield Problem(f"{path}.fairing.bottom", repr(given), allowed, (f"{path}.wl",))


def _check_brake(path: str, wheel: Wheel) -> Iterator[Problem]:
    """A brake stands off the floor and beside or in its wheel."""
    one = wheel.brake
    if one is None:
        return
    if not one.diameter < wheel.diameter:
        allowed = f"allowed: less than the wheel's ({wheel.diameter.text}), or it drags"
        yield Problem(f"{path}.brake.diameter", repr(one.diameter.text), allowed)
    reach = 0.5 * (wheel.width + one.width) + wheel.width
    if not abs(one.bl - wheel.bl) <= reach:
        allowed = f"allowed: beside its wheel, whose middle is at {wheel.bl.text}"
        yield Problem(f"{path}.brake.bl", repr(one.bl.text), allowed, (f"{path}.bl",))


def _check_springs(path: str, wheel: Wheel) -> Iterator[Problem]:
    """A tyre gives less than its radius under the load named, a strut no more than its stroke."""
    tyre, strut = wheel.squash, wheel.stroke
    if tyre is not None and not tyre.by < 0.5 * wheel.diameter:
        allowed = f"allowed: less than half the diameter ({wheel.diameter.text})"
        yield Problem(f"{path}.squash.by", repr(tyre.by.text), allowed, (f"{path}.diameter",))
    if strut is not None and strut.by is not None and not strut.by <= strut.full:
        allowed = f"allowed: at most the full stroke ({strut.full.text})"
        yield Problem(f"{path}.stroke.by", repr(strut.by.text), allowed, (f"{path}.stroke.full",))


def _check_hinge(path: str, wheel: Wheel) -> Iterator[Problem]:
    one = wheel.retraction
    if one is None:
        return
    ends = [(float(p.fs), float(p.bl), float(p.wl)) for p in (one.hinge_from, one.hinge_to)]
    if math.dist(*ends) < NEAR:
        allowed = "allowed: a point away from hinge_from; the two ends say which way the hinge runs"
        yield Problem(f"{path}.retraction.hinge_to", "hinge_from itself", allowed)


def check_strokes(path: str, design: Design, stance: Stance) -> Iterator[Problem]:
    """A strut that a stance names is compressed by no more than its stroke."""
    for given, by in stance.compressed.items():
        for name in expand(given, contact_names(design)):
            found = support_of(design, name)
            strut = found[1].stroke if found and isinstance(found[1], Wheel) else None
            if strut is not None and found is not None and not 0.0 <= by <= strut.full:
                allowed = f"allowed: zero to the full stroke ({strut.full.text})"
                rests = (f"wheels.{found[0]}.stroke.full",)
                yield Problem(f"{path}.compressed.{given}", repr(by.text), allowed, rests)
                break
