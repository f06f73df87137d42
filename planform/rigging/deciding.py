"""GO, STOP or measure again: what readings at the bench say of a joint.

Two things are told apart. A check is a sum of readings with a limit of the designer: it decides.
How the part stands, and which shim would bring it to its target, is found from all readings
together by least squares; it decides nothing.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated

import numpy as np

from planform.core.quantity import OfKind, UnitOf
from planform.core.vectors import Array
from planform.rigging.card import Card, CardTarget

GO, STOP, AGAIN = "GO", "STOP", "measure again"
SURE = 1.96
"""Standard deviations of what is told as known to: 95 % of cases."""
FOUND = 0.25
"""A turn is told where it is known to within this share of what was likely beforehand."""
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
    read = [_read(target, boxes) for target, boxes in zip(card.targets, values, strict=True)]
    offs = {t.number: one[0] for t, one in zip(card.targets, read, strict=True)}
    wide = {t.number: one[1] for t, one in zip(card.targets, read, strict=True)}
    faults = {t.number: one[2] for t, one in zip(card.targets, read, strict=True) if one[2]}
    checks = tuple(_checked(card, k, offs, wide, faults) for k in range(len(card.checks)))
    rows = tuple(_row(card, target, checks, offs, faults) for target in card.targets)
    turns, by = _found(card, offs, wide, faults)
    return Decided(*_whole(card, checks, faults), rows, checks, turns, _shims(card, by))


def _read(target: CardTarget, boxes: Boxes) -> tuple[float | None, float, str]:
    """How far a reading is off, its tolerance, and why it must be taken again."""
    first, second = boxes[0], boxes[1] if target.twice and len(boxes) > 1 else None
    if first is None and second is None:
        return None, target.tolerance, ""
    if not target.twice:
        assert first is not None
        return first - target.target, target.tolerance, ""
    if first is None or second is None:
        one = first if first is not None else second
        assert one is not None
        return one - target.target, target.once, "turn the level end for end and read again"
    off = 0.5 * (first + second) - target.target
    if abs(first - second) > LEVEL_ZERO:
        return off, target.once, "the two readings of the level differ too much: lay it on again"
    return off, target.tolerance, ""


def _checked(
    card: Card,
    which: int,
    offs: dict[int, float | None],
    wide: dict[int, float],
    faults: dict[int, str],
) -> DecidedCheck:
    """GO where all of the tolerance lies within the limit, STOP where none of it does."""
    check = card.checks[which]

    def told(word: str, why: str, off: float | None, half: float | None) -> DecidedCheck:
        return DecidedCheck(check.name, word, why, check.kind, off, half)

    lacks = [number for number, _ in check.of if offs[number] is None]
    if lacks:
        return told("", f"still to read: {', '.join(map(str, lacks))}", None, None)
    off = sum(factor * (offs[number] or 0.0) for number, factor in check.of)
    half = sum(abs(factor) * wide[number] for number, factor in check.of)
    if check.limit is None:
        return told("", "no limit is given", off, half)
    again = [f"{number}: {faults[number]}" for number, _ in check.of if number in faults]
    if abs(off) - half > check.limit:
        return told(STOP, f"{check.name} is outside its limit", off, half)
    if again:
        return told(AGAIN, "; ".join(again), off, half)
    if abs(off) + half <= check.limit:
        return told(GO, f"{check.name} is within its limit", off, half)
    return told(AGAIN, f"{check.name} is too near its limit for these instruments", off, half)


def _row(
    card: Card,
    target: CardTarget,
    checks: Sequence[DecidedCheck],
    offs: dict[int, float | None],
    faults: dict[int, str],
) -> DecidedRow:
    """The worst of the checks that a reading goes into."""
    number, off = target.number, offs[target.number]
    if off is None:
        return DecidedRow(number, "", "", target.kind, None)
    if number in faults:
        return DecidedRow(number, AGAIN, faults[number], target.kind, off)
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


def _whole(card: Card, checks: Sequence[DecidedCheck], faults: dict[int, str]) -> tuple[str, str]:
    """What all of it comes to."""
    limited = [t for c, t in zip(card.checks, checks, strict=True) if c.limit is not None]
    for word in (STOP, AGAIN):
        bad = [told.why for told in limited if told.word == word]
        if bad:
            return word, "; ".join(bad)
    if faults:
        number, why = next(iter(faults.items()))
        return AGAIN, f"{number}: {why}"
    if not limited:
        return "", "no limit is given: the person responsible decides"
    if any(not told.word for told in limited):
        return "", "not all is read yet"
    return GO, "every limit is kept, with all of the tolerance"


def _found(
    card: Card, offs: dict[int, float | None], wide: dict[int, float], faults: dict[int, str]
) -> tuple[tuple[FoundTurn, ...], Array | None]:
    """How it stands, from all readings; only what they tell well."""
    usual = np.array([freedom.usual for freedom in card.freedoms])
    rows, seen = [], []
    for target in card.targets:
        off = offs[target.number]
        if off is not None and not (target.number in faults and not target.twice):
            sd = wide[target.number] / math.sqrt(3.0)
            rows.append(np.array(target.columns) * usual / sd)
            seen.append(off / sd)
    if not rows:
        return (), None
    matrix = np.vstack([*rows, np.eye(len(usual))])
    right = np.concatenate([seen, np.zeros(len(usual))])
    q, r = np.linalg.qr(matrix)
    inverse = np.linalg.inv(r)
    x = inverse @ (q.T @ right)
    half = SURE * np.linalg.norm(inverse, axis=1)
    known = half <= FOUND
    turns = tuple(
        FoundTurn(freedom.name, freedom.kind, float(x[k] * usual[k]), float(half[k] * usual[k]))
        for k, freedom in enumerate(card.freedoms)
        if known[k]
    )
    return turns, np.asarray(np.where(known, x * usual, np.nan))


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


def _shims(card: Card, by: Array | None) -> tuple[tuple[str, float], ...]:
    """How thick a shim at each bolt takes the turns out that were found; the least is zero.

    None is told for a side while a turn that shims could take is not known.
    """
    if by is None or not card.bolts:
        return ()
    out: list[tuple[str, float]] = []
    for side in dict.fromkeys(bolt.side for bolt in card.bolts):
        mine = [bolt for bolt in card.bolts if bolt.side == side]
        turning = np.any([np.array(bolt.per) != 0.0 for bolt in mine], axis=0)
        if not turning.any() or np.isnan(by[turning]).any():
            continue
        thick = np.array(
            [-float(np.dot(np.array(bolt.per)[turning], by[turning])) for bolt in mine]
        )
        thick -= thick.min()
        out += [(bolt.name, float(t)) for bolt, t in zip(mine, thick, strict=True)]
    return tuple(out)
