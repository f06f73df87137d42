"""Loading cases against the user's limits: margins, fuel burn, what they still take."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from planform.airframe.weight.items import Item, summed
from planform.balance.loader import Amounts, Burn, Loader, Margin
from planform.balance.remedies import Remedy, remedies
from planform.core.mass.limits import CLOSE
from planform.core.mass.loading import room_left
from planform.core.quantity import Kilograms, Metres
from planform.design.loading import LoadingCase

INSIDE, CARE, OUTSIDE, UNJUDGED = "inside", "inside only with care", "outside", "not judged"


@dataclass(frozen=True)
class BurnPoint:
    """A point of the fuel burn: which tank gives no more there, total mass and CG [kg, m]."""

    what: str
    mass: Kilograms
    fs: Metres
    bl: Metres


@dataclass(frozen=True)
class Loaded:
    """One loading case worked out; margins at their worst from full to the last of its fuel.

    zero_fuel : of all but the fuel that can be burnt
    over : places and joint limits that carry more than they may
    under : places that carry less than the least they must
    """

    name: str
    lines: tuple[Item, ...]
    total: Item
    zero_fuel: Kilograms
    burn: tuple[BurnPoint, ...]
    margins: tuple[Margin, ...]
    over: tuple[str, ...]
    under: tuple[str, ...]
    verdict: str
    remedies: tuple[Remedy, ...]
    room: tuple[tuple[str, float], ...]
    useful_left: Kilograms | None

    @property
    def room_by_place(self) -> dict[str, Kilograms]:
        """What each place still takes, alone [kg]."""
        return dict(self.room)


def load_case(loader: Loader, case: LoadingCase, *, searched: bool = True) -> Loaded:
    """One case worked out.

    searched : also what would bring it inside, and what it still takes
    """
    amounts, burn = loader.amounts(case), loader.burning(case)
    path = burn.path(amounts)
    margins = loader.margins([state for _, state in path])
    over, under = loader.over(amounts), loader.under(amounts)
    bad = over or under or any(m.left < -CLOSE for m in margins)
    verdict = OUTSIDE if bad else INSIDE if loader.envelope.judges else UNJUDGED
    lines = loader.lines(amounts)
    most = loader.envelope.max_mass
    first = path[0][1]
    return Loaded(
        name=case.name,
        lines=lines,
        total=summed(case.name, lines),
        zero_fuel=first[0] - first[3],
        burn=tuple(BurnPoint(what, m, q / m, side / m) for what, (m, q, side, _) in path),
        margins=tuple(margins),
        over=over,
        under=under,
        verdict=verdict,
        remedies=tuple(remedies(loader, amounts, burn)) if searched and verdict == OUTSIDE else (),
        room=tuple(_room(loader, amounts, burn)) if searched and verdict == INSIDE else (),
        useful_left=None if most is None else most - first[0],
    )


def _room(loader: Loader, amounts: Amounts, burn: Burn) -> Iterator[tuple[str, float]]:
    """How much more each place takes with the case still inside [kg]."""
    states = [state for _, state in burn.path(amounts)]
    for name in loader.places:
        step = loader.step({name: 1.0})
        spare = max(0.0, loader.spare(name, amounts))
        room = min(room_left(loader.envelope, s, step, spare) or 0.0 for s in states)
        if np.isfinite(room):
            yield name, _verified(loader, amounts, burn, name, room)


def _verified(loader: Loader, amounts: Amounts, burn: Burn, name: str, room: float) -> float:
    """The room, lessened where the burn between its ends is what meets a limit first."""

    def good(more: float) -> bool:
        return loader.holds({**amounts, name: amounts.get(name, 0.0) + more}, burn)

    if good(room):
        return room
    low, high = 0.0, room
    for _ in range(60):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if good(middle) else (low, middle)
    return low
