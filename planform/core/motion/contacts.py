"""The pose of a rigid aircraft from what it stands on."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from planform.core.frames import body2floor

Array = NDArray[np.float64]
LEVEL_ENOUGH = 1e-4
"""Contacts within this height of their support count as touching [m]; assumption."""


@dataclass(frozen=True)
class Contact:
    """A wheel (radius above zero) or a pad, and the height of what is under it, SI units."""

    name: str
    point: tuple[float, float, float]
    support: float = 0.0
    radius: float = 0.0
    width: float = 0.0


@dataclass(frozen=True)
class Attitude:
    """Pitch (nose up) and roll (right wing down) [rad], height of the aircraft origin [m]."""

    pitch: float
    roll: float
    height: float
    carrying: tuple[str, ...]


class CannotStand(ValueError):
    """The contacts do not define how the aircraft stands."""


def lowest(contact: Contact, turn: Array) -> float:
    """Height of the contact's lowest point over the aircraft origin [m], turned by `turn`."""
    centre = float(turn[2] @ np.asarray(contact.point))
    axle = float(turn[2, 1])
    rim = contact.radius * float(np.sqrt(max(0.0, 1.0 - axle * axle)))
    return centre - rim - 0.5 * contact.width * abs(axle)


def _three(contacts: tuple[Contact, ...]) -> Attitude:
    state = np.zeros(3)

    def gap(state: Array) -> Array:
        turn = body2floor(state[0], state[1])
        return np.array([lowest(c, turn) + state[2] - c.support for c in contacts])

    for _ in range(60):
        error = gap(state)
        if np.abs(error).max() < 1e-12:
            break
        slope = np.empty((3, 3))
        for k in range(3):
            step = np.zeros(3)
            step[k] = 1e-7
            slope[:, k] = (gap(state + step) - gap(state - step)) / 2e-7
        if not abs(np.linalg.det(slope)) > 0.0:
            break
        move = np.linalg.solve(slope, error)
        state = state - move * min(1.0, 0.3 / max(1e-12, float(np.abs(move[:2]).max())))
    if np.abs(gap(state)).max() > 1e-9 or np.abs(state[:2]).max() > 1.0:
        names = ", ".join(c.name for c in contacts)
        raise CannotStand(f"no attitude within 57 deg puts {names} on their supports")
    pitch, roll = (0.0 if abs(a) < 1e-12 else float(a) for a in state[:2])
    return Attitude(pitch, roll, float(state[2]), tuple(c.name for c in contacts))


@lru_cache(maxsize=256)
def rest_on(contacts: tuple[Contact, ...]) -> Attitude:
    """The attitude in which the contacts rest on their supports.

    With more than three contacts: the three that carry while no other sinks into its support,
    and whose triangle holds the middle of all contacts.
    Raises CannotStand with fewer than three contacts, or three on one line.
    """
    if len(contacts) < 3:
        raise CannotStand(f"{len(contacts)} contact(s) given; an aircraft stands on three or more")
    plan = np.array([c.point[:2] for c in contacts])
    middle = plan.mean(axis=0)
    extent = float(np.ptp(plan, axis=0).max())
    found: list[tuple[float, Attitude]] = []
    straight = True
    for chosen in combinations(range(len(contacts)), 3):
        a, b, c = plan[list(chosen)]
        area = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
        if abs(area) <= 1e-6 * extent * extent:
            continue
        straight = False
        attitude = _three(tuple(contacts[k] for k in chosen))
        turn = body2floor(attitude.pitch, attitude.roll)
        sink = min(lowest(c, turn) + attitude.height - c.support for c in contacts)
        weights = np.linalg.solve(np.array([[*p, 1.0] for p in plan[list(chosen)]]).T, [*middle, 1])
        if sink > -LEVEL_ENOUGH and weights.min() > -1e-9:
            found.append((float(weights.min()), attitude))
    if straight:
        raise CannotStand("the contacts lie on one line; one of them must stand aside")
    if not found:
        raise CannotStand(
            "no three of the contacts carry while the others stay above their supports"
        )
    return max(found, key=lambda pair: pair[0])[1]
