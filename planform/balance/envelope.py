"""The user's limits as an envelope."""

from __future__ import annotations

from planform.balance.reference import Reference
from planform.core.mass.loading import (
    Envelope,
    Limit,
)
from planform.design.balance import (
    Balance,
    LimitPoint,
)
from planform.design.balance_checks import crossed
from planform.design.problems import InputError


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
        return Limit.through((float(p.mass or 0.0), station(p)) for p in points)

    forward, aft = curve(limits.forward), curve(limits.aft)
    if forward is not None and aft is not None:
        problems = list(crossed(forward, aft))
        if problems:
            raise InputError("design", problems)
    most = None if limits.max_mass is None else float(limits.max_mass)
    least = None if limits.min_mass is None else float(limits.min_mass)
    return Envelope(forward, aft, most, least)
