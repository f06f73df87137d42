"""Checks of a ceiling: levels in order, a ridge over its eaves and between the walls, an arch."""

from __future__ import annotations

import math
from collections.abc import Iterator

from planform.design.ceiling import Arch, Ceiling, Gable, Hip
from planform.design.place import Place
from planform.design.problems import Problem
from planform.design.roof import across
from planform.design.slope import extent
from planform.design.units import like

PLAN = ("floor.outline", "floor.width", "floor.depth")

LEAST_SLOPE = 0.01
"""A ridge and a hip end at least this far from a wall, or at it [m]; assumption."""

WALLS = (("left", "right"), ("front", "back"))
"""The walls at the two ends of each axis."""


def check_ceiling(place: Place) -> Iterator[Problem]:
    """Problems of a ceiling over the floor of its place; either may be missing."""
    ceiling = place.ceiling
    if ceiling is None:
        return
    yield from _in_order(ceiling)
    for name, roof in (("gable", ceiling.gable), ("hip", ceiling.hip)):
        if roof is not None:
            yield from _check_gable(place, f"ceiling.{name}", roof)
    if ceiling.hip is not None and place.floor is not None:
        yield from _check_hips(place, ceiling.hip)
    if ceiling.arch is not None and place.floor is not None:
        yield from _check_arch(place, ceiling.arch)


def _in_order(ceiling: Ceiling) -> Iterator[Problem]:
    """Levels of a sloped ceiling out of order."""
    levels = ceiling.profile or ()
    for k in range(1, len(levels)):
        if not levels[k].at > levels[k - 1].at:
            yield Problem(
                f"ceiling.profile[{k + 1}].at",
                repr(levels[k].at.text),
                f"allowed: beyond the level before it ({levels[k - 1].at.text})",
                (f"ceiling.profile[{k}].at",),
            )


def _check_gable(place: Place, path: str, roof: Gable) -> Iterator[Problem]:
    if not roof.ridge > roof.eaves:
        yield Problem(
            f"{path}.ridge",
            repr(roof.ridge.text),
            f"allowed: above the eaves ({roof.eaves.text}); a flat ceiling has one height",
            (f"{path}.eaves",),
        )
    if roof.ridge_at is None or place.floor is None:
        return
    low, high = extent(place, across(roof))
    if not LEAST_SLOPE <= roof.ridge_at <= high - low - LEAST_SLOPE:
        first, last = WALLS[across(roof)]
        yield Problem(
            f"{path}.ridge_at",
            repr(roof.ridge_at.text),
            f"allowed: between the {first} wall and the {last} one, which is "
            f"{like(high - low, roof.ridge_at.text)} away; a roof of one slope is a profile",
            (*PLAN, f"{path}.ridge_along"),
        )


def _check_hips(place: Place, roof: Hip) -> Iterator[Problem]:
    axis = 1 - across(roof)
    low, high = extent(place, axis)
    for name in ("near_hip", "far_hip"):
        hip = getattr(roof, name)
        if 0.0 < hip < LEAST_SLOPE:
            allowed = f"allowed: zero, or at least {like(LEAST_SLOPE, hip.text)}"
            yield Problem(f"ceiling.hip.{name}", repr(hip.text), allowed)
    if roof.near_hip + roof.far_hip > high - low + 1e-9:
        yield Problem(
            "ceiling.hip.far_hip",
            f"{roof.far_hip.text!r} beside {roof.near_hip.text!r}",
            "allowed: both together no more than the ridge's way from wall to wall, "
            f"{like(high - low, roof.far_hip.text)}",
            (*PLAN, "ceiling.hip.near_hip", "ceiling.hip.ridge_along"),
        )


def _check_arch(place: Place, roof: Arch) -> Iterator[Problem]:
    low, high = extent(place, across(roof))
    half = 0.5 * (high - low)
    rests = (*PLAN, "ceiling.arch.ridge_along")
    if roof.rise is not None and roof.rise > half + 1e-9:
        allowed = f"allowed: at most half the span, {like(half, roof.rise.text)}: a half circle"
        yield Problem("ceiling.arch.rise", repr(roof.rise.text), allowed, rests)
    if roof.radius is not None and roof.radius < half - 1e-9:
        allowed = f"allowed: at least half the span, {like(half, roof.radius.text)}: a half circle"
        yield Problem("ceiling.arch.radius", repr(roof.radius.text), allowed, rests)
    given = roof.rise or roof.radius
    if given is not None and not roof.eaves + _rise(roof, half) > 0.3:
        allowed = "allowed: an arch whose crown is 0.3 m (12 in) over the floor or more"
        yield Problem("ceiling.arch.eaves", repr(roof.eaves.text), allowed, rests)


def _rise(roof: Arch, half: float) -> float:
    if roof.rise is not None:
        return float(roof.rise)
    assert roof.radius is not None
    radius = max(float(roof.radius), half)
    return radius - math.sqrt(radius * radius - half * half)
