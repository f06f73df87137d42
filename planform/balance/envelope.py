"""The user's limits as an envelope."""

from __future__ import annotations

from planform.balance.reference import Reference
from planform.core.mass.limits import Limit
from planform.core.mass.loading import Envelope
from planform.design.balance import Balance
from planform.design.limit_checks import crossed
from planform.design.limits import LimitPoint
from planform.design.problems import InputError
from planform.design.reading import Reading


def envelope_of(balance: Balance | None, reference: Reference | None) -> Envelope | None:
    """The user's limits as an envelope, percentages of the reference turned into stations.

    Raises InputError where the limits cross.
    """
    limits = balance.limits if balance is not None else None
    if limits is None:
        return None

    def station(point: LimitPoint) -> float:
        if point.fs is not None:
            return float(point.fs)
        assert point.percent_mac is not None
        assert reference is not None
        return reference.station(float(point.percent_mac))

    def curve(points: tuple[LimitPoint, ...]) -> Limit | None:
        if not points:
            return None
        return Limit.through(((float(p.mass or 0.0), station(p)) for p in points), limits.between)

    forward, aft = curve(limits.forward), curve(limits.aft)
    if forward is not None and aft is not None:
        problems = list(crossed(forward, aft))
        if problems:
            raise InputError("design", problems)
    return Envelope(
        forward,
        aft,
        max_mass=_known(limits.max_mass),
        min_mass=_known(limits.min_mass),
        left=_known(limits.left),
        right=_known(limits.right),
        lateral_moment=_known(limits.lateral_moment),
        max_zero_fuel_mass=_known(limits.max_zero_fuel_mass),
    )


def _known(given: Reading | None) -> float | None:
    return None if given is None else float(given)
