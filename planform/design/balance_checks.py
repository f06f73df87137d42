"""Checks between the fields of the balance part: names, fluids, limits that cross."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from planform.core.mass.loading import Limit, crossing
from planform.design.balance import (
    FLUIDS,
    Balance,
    LimitPoint,
    Limits,
    LoadingCase,
    LoadPlace,
    Weighing,
    Weight,
    density_of,
    kilograms,
)
from planform.design.notation import read
from planform.design.problems import Problem, unknown
from planform.design.units import POUND

CONTACTS = ("wheels.*.side", "pads.*.side")
"""What the names of single wheels and pads come from."""
ROLES = ("lifting.*.role",)
EMPTY = ("masses", "balance.weighing", "balance.empty")

NEEDS_DENSITY = "a volume here needs the place's density, such as 6 lb/gal (US), or its fluid"


def check_balance(
    balance: Balance, contacts: list[str], groups: Iterable[str], has_wing: bool, has_masses: bool
) -> Iterator[Problem]:
    """Problems of the balance part.

    contacts : names of single wheels and pads; groups : names that stand for a pair of them
    """
    if balance.weighing is not None:
        yield from _check_weighing(balance.weighing, contacts, set(groups), has_masses)
    yield from _check_remaining(balance)
    for name, place in balance.places.items():
        yield from _check_place(f"balance.places.{name}", place)
    seen: set[str] = set()
    for k, case in enumerate(balance.cases):
        path = f"balance.cases[{k + 1}]"
        if case.name in seen:
            yield Problem(f"{path}.name", repr(case.name), "two cases have this name")
        seen.add(case.name)
        yield from _check_case(path, case, balance.places)
    for k, change in enumerate(balance.changes):
        if not change.off and not change.on:
            yield Problem(f"balance.changes[{k + 1}]", "neither off nor on", "list what changed")
    if balance.limits is not None:
        yield from _check_limits(balance.limits, has_mac=has_wing or balance.mac is not None)
    if balance.reference in ("planform", "trapezoid") and not has_wing:
        allowed = "no surface has the role wing here"
        yield Problem("balance.reference", repr(balance.reference), allowed, ROLES)
    if balance.cases and not (balance.weighing or balance.empty or has_masses):
        yield Problem(
            "balance.cases",
            "no empty weight",
            "give balance.weighing, balance.empty or mass items, so that there is one",
            EMPTY,
        )


def _check_weighing(
    weighing: Weighing, contacts: list[str], groups: set[str], has_masses: bool
) -> Iterator[Problem]:
    seen: set[str] = set()
    for k, scale in enumerate(weighing.scales):
        path = f"balance.weighing.scales[{k + 1}]"
        if scale.at in seen:
            yield Problem(f"{path}.at", repr(scale.at), "two scales stand here; name each point")
        seen.add(scale.at)
        if scale.arm is None and scale.at in groups:
            yield Problem(
                f"{path}.at",
                repr(scale.at),
                f"one scale each: 'left {scale.at}' and 'right {scale.at}' (or give its arm)",
                CONTACTS,
            )
        elif scale.arm is None and scale.at not in contacts:
            problem = unknown(f"{path}.at", scale.at, contacts)
            allowed = f"{problem.allowed}; or give this scale an arm of its own"
            yield Problem(problem.path, problem.given, allowed, CONTACTS)
        tilted = float(weighing.level) != 0.0 or float(weighing.lean) != 0.0
        if tilted and scale.at not in contacts and scale.wl is None:
            needed = "a weighing out of level needs the waterline of each point"
            rests = (*CONTACTS, f"{path}.at", "balance.weighing.level", "balance.weighing.lean")
            yield Problem(f"{path}.wl", "nothing", needed, rests)
    net = sum(float(s.reading) - float(s.tare or 0.0) for s in weighing.scales)
    if not net > 0.0:
        yield Problem(
            "balance.weighing.scales",
            "readings that sum to the tare",
            "allowed: scales that show more than their tare",
            ("balance.weighing.scales",),
        )
    for field in ("level", "lean"):
        angle = getattr(weighing, field)
        if abs(float(angle)) > 0.5:
            yield Problem(
                f"balance.weighing.{field}", repr(angle.text), "allowed: within 28 deg of level"
            )
        elif float(angle) != 0.0 and weighing.cg_wl is None and not has_masses:
            yield Problem(
                "balance.weighing.cg_wl",
                "nothing",
                f"{field} is {angle.text}: its correction needs the height of the CG (a waterline)",
                (f"balance.weighing.{field}", "masses"),
            )


def _mass(items: Iterable[Weight]) -> float:
    """What items weigh together [kg]; a volume by its density or its fluid's."""
    out = 0.0
    for item in items:
        if item.mass is not None:
            out += float(item.mass)
        elif item.volume is not None:
            density = item.density or read(FLUIDS[str(item.fluid)], "density")
            out += float(item.volume) * float(density)
    return out


def _check_remaining(balance: Balance) -> Iterator[Problem]:
    """Whether something remains of the aircraft when what is to come off is off."""
    weighing, empty = balance.weighing, balance.empty
    if weighing is not None:
        whole = sum(float(s.reading) - float(s.tare or 0.0) for s in weighing.scales)
        less, more = _mass(weighing.deduct), _mass(weighing.add)
        if 0.0 < whole <= less:
            yield _nothing_left("balance.weighing.deduct", less, whole)
        whole += more - less
    elif empty is not None:
        whole = float(empty.mass)
    else:
        return
    for k, change in enumerate(balance.changes):
        less = _mass(change.off)
        if 0.0 < whole <= less:
            yield _nothing_left(f"balance.changes[{k + 1}].off", less, whole)
        whole += _mass(change.on) - less


def _nothing_left(path: str, less: float, whole: float) -> Problem:
    return Problem(
        path,
        f"{less:.0f} kg ({less / POUND:.0f} lb) in all",
        f"allowed: less than the aircraft itself, {whole:.0f} kg ({whole / POUND:.0f} lb); "
        "is the unit right?",
        (*EMPTY, "balance.changes"),
    )


def _check_place(path: str, place: LoadPlace) -> Iterator[Problem]:
    unreadable = False
    for field in ("least", "limit"):
        amount = getattr(place, field)
        if amount is not None and amount.kind == "volume" and density_of(place) is None:
            unreadable = True
            yield Problem(f"{path}.{field}", repr(amount.text), NEEDS_DENSITY)
    if unreadable or place.least is None or place.limit is None:
        return
    if kilograms(place.least, place) > kilograms(place.limit, place):
        allowed = f"allowed: at most the limit {place.limit.text}"
        yield Problem(f"{path}.least", repr(place.least.text), allowed, (f"{path}.limit",))


def _check_case(path: str, case: LoadingCase, places: dict[str, LoadPlace]) -> Iterator[Problem]:
    for name, amount in case.loads.items():
        if name not in places:
            yield unknown(f"{path}.loads", name, places)
        elif amount.kind == "volume" and density_of(places[name]) is None:
            yield Problem(f"{path}.loads.{name}", repr(amount.text), NEEDS_DENSITY)
    tanks = [name for name, place in places.items() if place.kind == "fuel"]
    for name in case.burn or ():
        if name not in tanks:
            yield unknown(f"{path}.burn", name, tanks)


def _check_limits(limits: Limits, *, has_mac: bool) -> Iterator[Problem]:
    path = "balance.limits"
    if not limits.forward and not limits.aft and limits.max_mass is None:
        yield Problem(path, "nothing in it", "give forward, aft or max_mass, or leave limits out")
    most, least = limits.max_mass, limits.min_mass
    if most is not None and least is not None and not most > least:
        allowed = f"allowed: above min_mass ({least.text})"
        yield Problem(f"{path}.max_mass", repr(most.text), allowed, (f"{path}.min_mass",))
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
        yield from crossed(*(_curve(getattr(limits, side)) for side in ("forward", "aft")))


def _curve(points: tuple[LimitPoint, ...]) -> Limit:
    """A limit as written, all in stations or all in shares of the MAC."""
    where = (p.fs if p.fs is not None else p.percent_mac for p in points)
    return Limit.through(
        (float(p.mass or 0.0), float(w or 0.0)) for p, w in zip(points, where, strict=True)
    )


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
