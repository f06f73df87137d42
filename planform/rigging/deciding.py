"""GO, STOP or measure again: what readings at the bench say of a joint.

Two things are told apart. A check is a sum of readings with a limit of the designer: it decides.
How the part stands, and which shim would bring it to its target, is found from all readings
together by least squares; it decides nothing. Readings that contradict each other, or are far off
their targets, decide nothing either: they are taken again.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Annotated

import numpy as np

from planform.core.quantity import OfKind, UnitOf
from planform.core.vectors import Array
from planform.rigging.agreeing import BoxRead, agreement
from planform.rigging.card import Card, CardCheck, CardTarget

GO, STOP, AGAIN = "GO", "STOP", "measure again"
LEVEL_ZERO = math.radians(1.0)
"""Two readings of a level that is turned end for end may differ by this much; assumption."""

Boxes = Sequence[float | None]
"""What is read: one value, or of a level two, the second turned end for end; None: not read."""


@dataclass(frozen=True)
class DecidedRow:
    """What is said of one reading; word '' where it is not read, or no limit is given.

    off : how far it is from its target [m] or [rad], None where it is not read
    """

    number: int
    word: str
    why: str
    kind: str
    off: Annotated[float | None, UnitOf("kind")]


@dataclass(frozen=True)
class DecidedCheck:
    """What is said of one check; off and half None while some reading of it lacks."""

    name: str
    word: str
    why: str
    kind: str
    off: Annotated[float | None, UnitOf("kind")]
    half: Annotated[float | None, UnitOf("kind")]


@dataclass(frozen=True)
class FoundTurn:
    """How a part stands, against how it is drawn, in one freedom; half : known to, at 95 %."""

    name: str
    kind: str
    by: OfKind
    half: OfKind


@dataclass(frozen=True)
class Decided:
    """All that the readings say; shims : (bolt, thickness [m]), the least of them zero."""

    word: str
    why: str
    rows: tuple[DecidedRow, ...]
    checks: tuple[DecidedCheck, ...]
    turns: tuple[FoundTurn, ...]
    shims: tuple[tuple[str, float], ...]


def decide(card: Card, values: Sequence[Boxes]) -> Decided:
    """What readings say of a joint.

    values : for each target of the card in its order what is read [m] or [rad]
    Raises ValueError where there are not as many as targets.
    """
    if len(values) != len(card.targets):
        raise ValueError(f"{len(values)} readings; allowed: {len(card.targets)}, None for none")
    read = {t.number: _read(t, boxes) for t, boxes in zip(card.targets, values, strict=True)}
    agreed = agreement(card, read)
    for number, why in agreed.faults.items():
        read[number] = replace(read[number], fault=why, void=True)
    checks = tuple(_checked(one, read) for one in card.checks)
    rows = tuple(_row(card, target, checks, read[target.number]) for target in card.targets)
    turns = tuple(
        FoundTurn(one.name, one.kind, float(agreed.by[k]), float(agreed.half[k]))
        for k, one in enumerate(card.freedoms)
        if agreed.known[k]
    )
    by = np.where(np.abs(agreed.by) > agreed.half, agreed.by, 0.0)  # within its own half: noise
    by = np.where(agreed.known, by, np.nan)
    shims = () if any(one.void for one in read.values()) else _shims(card, by, noise=True)
    return Decided(*_whole(card, checks, read), rows, checks, turns, shims)


def _read(target: CardTarget, boxes: Boxes) -> BoxRead:
    """How far a reading is off, its tolerance, and why it must be taken again."""
    first, second = boxes[0], boxes[1] if target.twice and len(boxes) > 1 else None
    if first is None and second is None:
        return BoxRead(None, target.tolerance)
    if not target.twice:
        assert first is not None
        return BoxRead(first - target.target, target.tolerance)
    if first is None or second is None:
        one = first if first is not None else second
        assert one is not None
        off = one - target.target
        return BoxRead(off, target.once, "turn the level end for end and read again")
    off = 0.5 * (first + second) - target.target
    if abs(first - second) > LEVEL_ZERO:
        why = "the two readings of the level differ too much: lay it on again"
        return BoxRead(off, target.once, why, void=True)
    return BoxRead(off, target.tolerance)


def _checked(check: CardCheck, read: Mapping[int, BoxRead]) -> DecidedCheck:
    """GO where all of the tolerance lies within the limit, STOP where none of it does."""

    def told(word: str, why: str, off: float | None, half: float | None) -> DecidedCheck:
        return DecidedCheck(check.name, word, why, check.kind, off, half)

    lacks = [number for number, _ in check.of if read[number].off is None]
    if lacks:
        return told("", f"still to read: {', '.join(map(str, lacks))}", None, None)
    off = sum(factor * (read[number].off or 0.0) for number, factor in check.of)
    half = sum(abs(factor) * read[number].wide for number, factor in check.of)
    if check.limit is None:
        return told("", "no limit is given", off, half)
    again = [f"{number}: {read[number].fault}" for number, _ in check.of if read[number].fault]
    if any(read[number].void for number, _ in check.of):
        return told(AGAIN, "; ".join(again), off, half)
    if abs(off) - half > check.limit:
        return told(STOP, f"{check.name} is outside its limit", off, half)
    if again:
        return told(AGAIN, "; ".join(again), off, half)
    if abs(off) + half <= check.limit:
        return told(GO, f"{check.name} is within its limit", off, half)
    return told(AGAIN, f"{check.name} is too near its limit for these instruments", off, half)


def _row(
    card: Card, target: CardTarget, checks: Sequence[DecidedCheck], read: BoxRead
) -> DecidedRow:
    """The worst of the checks that a reading goes into."""
    number, off = target.number, read.off
    if off is None:
        return DecidedRow(number, "", "", target.kind, None)
    if read.fault:
        return DecidedRow(number, AGAIN, read.fault, target.kind, off)
    mine = [
        told
        for check, told in zip(card.checks, checks, strict=True)
        if check.limit is not None and number in {one for one, _ in check.of}
    ]
    for word in (STOP, AGAIN):
        bad = [told for told in mine if told.word == word]
        if bad:
            return DecidedRow(number, word, bad[0].why, target.kind, off)
    open_ones = [told for told in mine if not told.word]
    if open_ones:
        return DecidedRow(number, "", open_ones[0].why, target.kind, off)
    if mine:
        why = "; ".join(told.why for told in mine)
        return DecidedRow(number, GO, why, target.kind, off)
    return DecidedRow(number, "", "no limit is given", target.kind, off)


def _whole(
    card: Card, checks: Sequence[DecidedCheck], read: Mapping[int, BoxRead]
) -> tuple[str, str]:
    """What all of it comes to."""
    limited = [t for c, t in zip(card.checks, checks, strict=True) if c.limit is not None]
    stops = [told.why for told in limited if told.word == STOP]
    void = [f"{number}: {one.fault}" for number, one in read.items() if one.void]
    if void:
        return AGAIN, "; ".join([*void, *(f"as read, {why}" for why in stops)])
    if stops:
        return STOP, "; ".join(stops)
    again = [told.why for told in limited if told.word == AGAIN]
    if again:
        return AGAIN, "; ".join(again)
    faulty = next((f"{number}: {one.fault}" for number, one in read.items() if one.fault), "")
    if faulty:
        return AGAIN, faulty
    if not limited:
        return "", "no limit is given: the person responsible decides"
    if any(not told.word for told in limited):
        return "", "not all is read yet"
    return GO, "every limit is kept, with all of the tolerance"


def shims_for(card: Card, found: Mapping[str, float]) -> tuple[tuple[str, float], ...]:
    """How thick a shim at each bolt takes out turns that are known; the least is zero.

    found : by the name of a freedom of the card [rad]; what is not named is as drawn
    Raises KeyError for a name that the card has not.
    """
    names = [one.name for one in card.freedoms]
    by = np.zeros(len(names))
    for name, value in found.items():
        if name not in names:
            raise KeyError(name)
        by[names.index(name)] = value
    return _shims(card, by)


def _shims(card: Card, by: Array, noise: bool = False) -> tuple[tuple[str, float], ...]:
    """How thick a shim at each bolt takes the turns out that were found; the least is zero.

    None is told for a side while a turn that shims could take is not known.
    noise : turns of zero are no more than noise; a side with no other gets no shim
    """
    out: list[tuple[str, float]] = []
    for side in dict.fromkeys(bolt.side for bolt in card.bolts):
        mine = [bolt for bolt in card.bolts if bolt.side == side]
        turning = np.any([np.array(bolt.per) != 0.0 for bolt in mine], axis=0)
        if not turning.any() or np.isnan(by[turning]).any():
            continue
        if noise and not by[turning].any():
            continue
        thick = np.array(
            [-float(np.dot(np.array(bolt.per)[turning], by[turning])) for bolt in mine]
        )
        thick -= thick.min()
        out += [(bolt.name, float(t)) for bolt, t in zip(mine, thick, strict=True)]
    return tuple(out)
