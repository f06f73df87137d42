"""Checks between the fields of the balance part: names, fluids, limits that cross."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from planform.design.balance import Balance
from planform.design.limit_checks import ROLES, check_limits
from planform.design.loading_checks import check_loading
from planform.design.problems import Problem
from planform.design.weighing_checks import EMPTY, check_remaining, check_tilted, check_weighing


def check_balance(
    balance: Balance, contacts: list[str], groups: Iterable[str], has_wing: bool, has_masses: bool
) -> Iterator[Problem]:
    """Problems of the balance part.

    contacts : names of single wheels and pads; groups : names that stand for a pair of them
    """
    if balance.weighing is not None:
        yield from check_weighing(balance.weighing, contacts, set(groups), has_masses)
        yield from check_tilted(balance.weighing)
    yield from check_remaining(balance)
    yield from check_loading(balance)
    for k, change in enumerate(balance.changes):
        if not change.off and not change.on:
            yield Problem(f"balance.changes[{k + 1}]", "neither off nor on", "list what changed")
    if balance.limits is not None:
        yield from check_limits(balance.limits, has_mac=has_wing or balance.mac is not None)
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
