"""Checks between the fields of places, joint limits, the burn and the loading cases."""

from __future__ import annotations

from collections.abc import Iterator

from planform.design.balance import Balance
from planform.design.loading import (
    BurnStep,
    JointLimit,
    LoadingCase,
    LoadPlace,
    density_of,
    kilograms,
)
from planform.design.problems import Problem, unknown
from planform.design.reading import Reading

NEEDS_DENSITY = "a volume here needs the place's density, such as 6 lb/gal (US), or its fluid"


def check_loading(balance: Balance) -> Iterator[Problem]:
    """Problems of the places, their joint limits, the burn and the cases."""
    for name, place in balance.places.items():
        yield from _check_place(f"balance.places.{name}", place)
    for name, joint in balance.joint_limits.items():
        yield from _check_joint(f"balance.joint_limits.{name}", joint, balance.places)
    yield from _check_burn("balance.burn", balance.burn or (), balance.places)
    seen: set[str] = set()
    for k, case in enumerate(balance.cases):
        path = f"balance.cases[{k + 1}]"
        if case.name in seen:
            yield Problem(f"{path}.name", repr(case.name), "two cases have this name")
        seen.add(case.name)
        yield from _check_case(path, case, balance.places)


def _check_place(path: str, place: LoadPlace) -> Iterator[Problem]:
    """Problems of a place by itself: volumes without a density, a least above the limit."""
    if place.unusable is not None and place.kind != "fuel":
        allowed = "only a fuel tank has fuel that cannot be burnt; did you mean least?"
        yield Problem(f"{path}.unusable", repr(place.unusable.text), allowed)
    unreadable = False
    for field in ("least", "limit", "unusable"):
        amount = getattr(place, field)
        if amount is not None and _unreadable(amount, place):
            unreadable = True
            yield Problem(f"{path}.{field}", repr(amount.text), NEEDS_DENSITY)
    if unreadable or place.limit is None:
        return
    for field in ("least", "unusable"):
        amount = getattr(place, field)
        if amount is not None and kilograms(amount, place) > kilograms(place.limit, place):
            allowed = f"allowed: at most the limit {place.limit.text}"
            yield Problem(f"{path}.{field}", repr(amount.text), allowed, (f"{path}.limit",))


def _check_case(path: str, case: LoadingCase, places: dict[str, LoadPlace]) -> Iterator[Problem]:
    """Problems of a case: places and tanks that are none, volumes without a density."""
    for name, amount in case.loads.items():
        if name not in places:
            yield unknown(f"{path}.loads", name, places)
        else:
            yield from _readable(f"{path}.loads.{name}", amount, places[name])
    for name, amount in case.kept.items():
        if name in places and places[name].kind == "fuel":
            yield from _readable(f"{path}.kept.{name}", amount, places[name])
        else:
            yield unknown(f"{path}.kept", name, _tanks_of(places))
    yield from _check_burn(f"{path}.burn", case.burn or (), places)


def _tanks_of(places: dict[str, LoadPlace]) -> list[str]:
    """The names of the fuel tanks."""
    return [name for name, place in places.items() if place.kind == "fuel"]


def _check_burn(
    path: str, burn: tuple[BurnStep, ...], places: dict[str, LoadPlace]
) -> Iterator[Problem]:
    """Problems of the steps of a burn: tanks that are none, or twice in a step."""
    tanks = _tanks_of(places)
    for k, step in enumerate(burn):
        for name in dict.fromkeys(step.tanks):
            if name not in tanks:
                yield unknown(path, name, tanks)
            elif step.tanks.count(name) > 1:
                allowed = "allowed: each tank once in a step"
                yield Problem(f"{path}[{k + 1}].tanks", repr(name), allowed)


def _check_joint(path: str, joint: JointLimit, places: dict[str, LoadPlace]) -> Iterator[Problem]:
    """Problems of a joint limit: its places, and the least of each on which it must leave room."""
    sound = True
    for name in dict.fromkeys(joint.places):
        if name not in places:
            sound = False
            yield unknown(f"{path}.places", name, places)
        elif joint.places.count(name) > 1:
            sound = False
            yield Problem(f"{path}.places", repr(name), "allowed: each place once")
        elif joint.limit.kind == "volume" and density_of(places[name]) is None:
            sound = False
            allowed = f"a volume here needs a density or fluid of each of its places, {name} too"
            yield Problem(f"{path}.limit", repr(joint.limit.text), allowed)
    if not sound:
        return
    least = 0.0
    for name in joint.places:
        place = places[name]
        needed = [a for a in (place.least, place.unusable) if a is not None]
        held = [kilograms(a, place) for a in needed if not _unreadable(a, place)]
        density = density_of(place) if joint.limit.kind == "volume" else None
        least += max(held, default=0.0) / (1.0 if density is None else float(density))
    if least > float(joint.limit) * (1.0 + 1e-12):
        allowed = "allowed: at least what its places must carry together; look at their least"
        beside = tuple(f"balance.places.{name}.least" for name in joint.places)
        yield Problem(f"{path}.limit", repr(joint.limit.text), allowed, beside)


def _unreadable(amount: Reading, place: LoadPlace) -> bool:
    return amount.kind == "volume" and density_of(place) is None


def _readable(path: str, amount: Reading, place: LoadPlace) -> Iterator[Problem]:
    if _unreadable(amount, place):
        yield Problem(path, repr(amount.text), NEEDS_DENSITY)
