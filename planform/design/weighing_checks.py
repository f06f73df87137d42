"""Checks between the fields of the weighing: its points, its tilt, what is left of the aircraft."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from planform.design.balance import Balance
from planform.design.notation import read
from planform.design.problems import Problem, unknown
from planform.design.units import POUND
from planform.design.weighing import LEAST_TILT, Weighing
from planform.design.weights import FLUIDS, Weight

CONTACTS = ("wheels.*.side", "pads.*.side")
"""What the names of single wheels and pads come from."""
EMPTY = ("masses", "balance.weighing", "balance.empty")


def check_weighing(
    weighing: Weighing, contacts: list[str], groups: set[str], has_masses: bool
) -> Iterator[Problem]:
    """Problems of the weighing: its points, what they showed, what a tilt needs."""
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
        tilted = tilted or weighing.tilted is not None
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
        elif float(angle) != 0.0 and not (_height_told(weighing, contacts) or has_masses):
            yield Problem(
                "balance.weighing.cg_wl",
                "nothing",
                f"{field} is {angle.text}: its correction needs the height of the CG (a waterline)",
                (f"balance.weighing.{field}", "masses"),
            )


def _height_told(weighing: Weighing, contacts: list[str]) -> bool:
    """Whether the weighing has the height of the CG: given, or from attitudes apart enough."""
    tilted = weighing.tilted
    if weighing.cg_wl is not None or tilted is None:
        return weighing.cg_wl is not None
    level = abs(float(tilted.level) - float(weighing.level))
    lean = abs(float(tilted.lean) - float(weighing.lean))
    has_bl = all(scale.bl is not None or scale.at in contacts for scale in weighing.scales)
    return (max(level, lean) if has_bl else level) >= LEAST_TILT


SCALES = ("balance.weighing.scales*.at",)
"""What the second attitude's points come from."""


def check_tilted(weighing: Weighing) -> Iterator[Problem]:
    """Problems of the second attitude: its points, its angles, a height that is given too."""
    tilted = weighing.tilted
    if tilted is None:
        return
    path = "balance.weighing.tilted"
    points = [scale.at for scale in weighing.scales]
    here = [scale.at for scale in tilted.scales]
    for k, name in enumerate(here):
        if name not in points:
            yield unknown(f"{path}.scales[{k + 1}].at", name, points, SCALES)
        elif here.index(name) < k:
            allowed = "two scales stand here; name each point"
            yield Problem(f"{path}.scales[{k + 1}].at", repr(name), allowed)
    lacking = [name for name in points if name not in here]
    if lacking:
        allowed = f"{', '.join(lacking)} too: the same points carry it at both attitudes"
        yield Problem(f"{path}.scales", f"{len(here)} scales", allowed, SCALES)
    if not sum(float(s.reading) - float(s.tare or 0.0) for s in tilted.scales) > 0.0:
        allowed = "allowed: scales that show more than their tare"
        yield Problem(f"{path}.scales", "readings that sum to the tare", allowed)
    for field in ("level", "lean"):
        angle = getattr(tilted, field)
        if abs(float(angle)) > 0.5:
            yield Problem(f"{path}.{field}", repr(angle.text), "allowed: within 28 deg of level")
    if weighing.cg_wl is not None:
        allowed = "the second attitude tells the height of the CG; allowed: one of the two"
        yield Problem("balance.weighing.cg_wl", repr(weighing.cg_wl.text), allowed)


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


def check_remaining(balance: Balance) -> Iterator[Problem]:
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
