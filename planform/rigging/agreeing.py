"""Whether readings of a joint agree with each other, and how it then stands."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planform.core.adjust.snooping import one_of, squares_seldom_above
from planform.core.vectors import Array
from planform.design.units import FOOT, INCH
from planform.rigging.card import Card, CardTarget

SURE = 1.96
"""Standard deviations of what is told as known to: 95 % of cases."""
FOUND = 0.25
"""A turn is told where it is known to within this share of what was likely beforehand."""
FAR = 2.0
"""A turn of more than so often what is likely beforehand is asked about; assumption."""
AS_BAD = 0.98
"""A reading that fits nearly as badly as the worst is named with it; assumption."""
SEEN = 1e-9
"""The least share of a mistake in a reading that is left after the fit, where it is judged."""
RATIOS = ((25.4, "25.4"), (12.0, "12"), (304.8, "304.8"), (10.0, "10"))
RATIO_OFF = 0.03
"""How near one of those ratios a mistaken unit is looked for; assumption."""
SLIPS = ((INCH, "an inch"), (FOOT, "a foot"), (0.1, "100 mm"))
"""Misread tapes [m]."""


@dataclass(frozen=True)
class BoxRead:
    """What a reading's boxes come to; off is None where nothing is read.

    off : from its target [m] or [rad] ; wide : its tolerance
    fault : why it is taken again ; void : it tells nothing at all
    """

    off: float | None
    wide: float
    fault: str = ""
    void: bool = False


@dataclass(frozen=True, eq=False)
class Agreement:
    """All readings together.

    faults : by the number of a reading, what is wrong with it against the others or its target
    by, half : of each freedom [rad] or [m], half at 95 % and grown with what does not fit
    known : which are told well; none is where something is wrong
    """

    faults: dict[int, str]
    by: Array
    half: Array
    known: NDArray[np.bool_]


def most_off(card: Card) -> float:
    """What the greatest residual of a card, in its own deviations, seldom passes (Sidak, 1967)."""
    return one_of(len(card.targets))


def agreement(card: Card, read: Mapping[int, BoxRead]) -> Agreement:
    """Least squares of all that is read, and which readings do not fit it."""
    usual = np.array([one.usual for one in card.freedoms])
    used = [t for t in card.targets if read[t.number].off is not None and not read[t.number].void]
    if not used:
        none = np.zeros(len(usual))
        return Agreement({}, none, none, np.zeros(len(usual), dtype=bool))
    deviation = np.array([read[t.number].wide for t in used]) / math.sqrt(3.0)
    off = np.array([read[t.number].off or 0.0 for t in used])
    matrix = np.array([t.columns for t in used]) * usual / deviation[:, None]
    seen = off / deviation
    q, r = np.linalg.qr(np.vstack([matrix, np.eye(len(usual))]))
    inverse = np.linalg.inv(r)
    x = inverse @ (q.T @ np.concatenate([seen, np.zeros(len(usual))]))
    left = seen - matrix @ x
    share = 1.0 - np.sum((matrix @ inverse) ** 2, axis=1)
    spare = np.maximum(np.abs(left) - _bent(card, used, x) / deviation, 0.0)
    judged = np.where(share > SEEN, spare / np.sqrt(np.maximum(share, SEEN)), 0.0)
    faults: dict[int, str] = {}
    greatest = float(judged.max())
    if greatest > most_off(card) or float(spare @ spare) > squares_seldom_above(len(used)):
        for k in np.flatnonzero(judged >= AS_BAD * greatest):
            wrong = float(left[k] / max(share[k], SEEN) * deviation[k])
            hint = _slip(used[k], off[k], off[k] - wrong) or _slip(used[k], off[k], 0.0)
            faults[used[k].number] = f"it does not fit the other readings{hint}"
    half = SURE * np.linalg.norm(inverse, axis=1)
    far = _far(card, used, off, np.where(half <= FOUND, x, 0.0))
    half = half * max(1.0, math.sqrt(float(left @ left) / max(float(share.sum()), 0.5)))
    faults = {**far, **faults}
    return Agreement(faults, x * usual, half * usual, (half <= FOUND) & (not faults))


def _far(card: Card, used: list[CardTarget], off: Array, x: Array) -> dict[int, str]:
    """Readings that are further off their targets than a part is likely to be set.

    x : of what is known, in what is likely beforehand
    """
    usual = np.array([one.usual for one in card.freedoms])
    stands = np.array([one.stands for one in card.freedoms])
    large = (np.abs(x) > FAR) & ~stands
    out = {}
    for target, by in zip(used, off, strict=True):
        columns = np.array(target.columns)
        most = float(np.abs(columns) @ usual) + target.tolerance
        turned = bool(np.any(np.abs(columns * usual * x)[large] > 0.5 * abs(by)))
        if abs(by) > most or (turned and abs(by) > target.tolerance):
            hint = _slip(target, float(by), 0.0) or ": are the unit and the sign right?"
            out[target.number] = f"it is far off its target{hint}"
    return out


def _bent(card: Card, used: list[CardTarget], x: Array) -> Array:
    """How much readings may be off their straight lines for turns so large [m] or [rad].

    Half of the turn's square, at the end of the longest lever.
    """
    usual = np.array([one.usual for one in card.freedoms])
    angles = np.array([one.kind == "angle" for one in card.freedoms])
    turns = np.clip(x, -FAR, FAR) * usual * angles
    lengths = [np.abs(np.array(t.columns)[angles]) for t in card.targets if t.kind == "length"]
    lever = max((float(one.max(initial=0.0)) for one in lengths), default=0.0)
    bent = 0.5 * float(turns @ turns)
    return np.array([bent * (lever if t.kind == "length" else 1.0) for t in used])


def _slip(target: CardTarget, off: float, meant: float) -> str:
    """What mistake of the reader would explain it; both off the target; empty where none does."""
    value, right = target.target + off, target.target + meant
    near = 2.0 * target.tolerance
    told = abs(right) > 2.0 * near
    if told and abs(value + right) <= max(near, RATIO_OFF * abs(right)):
        return ": is the sign right?"
    if target.kind == "angle":
        return ""
    for factor, words in RATIOS if told else ():
        if abs(value / right / factor - 1.0) < RATIO_OFF:
            return f": about {words} times too large, is the unit right?"
        if abs(value / right * factor - 1.0) < RATIO_OFF:
            return f": about {words} times too small, is the unit right?"
    for size, words in SLIPS:
        if abs(abs(value - right) - size) <= near:
            return f": about {words} off, is it misread?"
    return ""
