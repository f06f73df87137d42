"""Checks between the fields of the limits: order, limits that cross, what they need beside them."""

from __future__ import annotations

from collections.abc import Iterator

from planform.core.mass.limits import Limit, crossing
from planform.design.limits import LimitPoint, Limits
from planform.design.problems import Problem
from planform.design.units import POUND

ROLES = ("lifting.*.role",)
PATH = "balance.limits"


def check_limits(limits: Limits, *, has_mac: bool) -> Iterator[Problem]:
    """Problems of the limits by themselves; has_mac : whether a share of the MAC says anything."""
    path = PATH
    if all(getattr(limits, name) in (None, ()) for name in ANY):
        yield Problem(path, "nothing in it", "give forward, aft or max_mass, or leave limits out")
    yield from _in_order(limits)
    sound = True
    for side in ("forward", "aft"):
        points: tuple[LimitPoint, ...] = getattr(limits, side)
        for k, point in enumerate(points):
            here = f"{path}.{side}[{k + 1}]"
            if point.mass is None and len(points) > 1:
                sound = False
                yield Problem(f"{here}.mass", "nothing", "several points need a mass each")
            before = points[k - 1].mass if k else None
            if before is not None and point.mass is not None and not point.mass > before:
                sound = False
                yield Problem(
                    f"{here}.mass",
                    repr(point.mass.text),
                    f"allowed: above the point before it ({before.text})",
                    (f"{path}.{side}[{k}].mass",),
                )
            if point.percent_mac is not None and not has_mac:
                sound = False
                allowed = "no MAC here; give fs"
                yield Problem(f"{here}.percent_mac", repr(point.percent_mac.text), allowed, ROLES)
    one_kind = {point.fs is None for point in (*limits.forward, *limits.aft)}
    if sound and limits.forward and limits.aft and len(one_kind) == 1:
        yield from crossed(
            *(_curve(getattr(limits, side), limits.between) for side in ("forward", "aft"))
        )


ANY = ("forward", "aft", "max_mass", "max_zero_fuel_mass", "left", "right", "lateral_moment")
"""Limits of which one at least stands there."""


def _in_order(limits: Limits) -> Iterator[Problem]:
    """Limits that must lie above, or to the right of, another."""
    for low, high, words in (
        ("min_mass", "max_mass", "above min_mass"),
        ("min_mass", "max_zero_fuel_mass", "above min_mass"),
        ("left", "right", "to the right of left"),
    ):
        one, two = getattr(limits, low), getattr(limits, high)
        if one is not None and two is not None and not two > one:
            allowed = f"allowed: {words} ({one.text})"
            yield Problem(f"{PATH}.{high}", repr(two.text), allowed, (f"{PATH}.{low}",))
    most, dry = limits.max_mass, limits.max_zero_fuel_mass
    if most is not None and dry is not None and dry > most:
        allowed = f"allowed: at most max_mass ({most.text}); it leaves the fuel out"
        yield Problem(f"{PATH}.max_zero_fuel_mass", repr(dry.text), allowed, (f"{PATH}.max_mass",))
    side = limits.lateral_moment
    if side is not None and not side > 0.0:
        allowed = "allowed: a moment above zero; it holds to the left and to the right"
        yield Problem(f"{PATH}.lateral_moment", repr(side.text), allowed)


def _curve(points: tuple[LimitPoint, ...], between: str) -> Limit:
    """A limit as written, all in stations or all in shares of the MAC."""
    where = (p.fs if p.fs is not None else p.percent_mac for p in points)
    pairs = ((float(p.mass or 0.0), float(w or 0.0)) for p, w in zip(points, where, strict=True))
    return Limit.through(pairs, between)


def crossed(forward: Limit, aft: Limit) -> Iterator[Problem]:
    """The problem of limits that leave nothing between them at some mass."""
    mass = crossing(forward, aft)
    if mass is not None:
        yield Problem(
            "balance.limits",
            f"forward aft of aft at {mass:.1f} kg ({mass / POUND:.0f} lb)",
            "allowed: a forward limit ahead of the aft one at every mass; are they swapped?",
            ("balance.limits",),
        )
