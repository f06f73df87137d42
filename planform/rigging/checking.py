"""What decides at a joint: sums of readings that see one limit alone, and in which order to set."""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planform.core.vectors import Array
from planform.design.told import said
from planform.design.units import INCH
from planform.rigging.card import CardCheck, CardFreedom, CardTarget, RigStep
from planform.rigging.instruments import GAUGES

PRACTICE = {"angle": math.radians(0.2), "length": INCH / 8.0}
"""What left and right are held alike to where no limit is given: 0.2 deg is a published limit of
left and right (structure alignment in a naval training text) and what builders reach with a level
that is turned end for end; 1/8 in of stations is common practice, no source."""
SMALL = 0.2
"""A reading with less than this share in the tolerance of a sum is left out of it."""
WORSE = 1.15
"""Leaving readings out may widen the tolerance of a sum to this much of the surest one's."""
LEAK = 0.002
"""What a sum may take of another freedom, each as large as likely beforehand."""
OWN = 0.3
"""A limit hangs on one reading alone where the others of the part have less than this share."""
SEEN = 2.0
"""An instrument tells what is this many times its own tolerance."""
ALIKE = 0.02
"""Factors are told as one where they differ from it by less than this."""
BETTER = {
    "cant": "a digital level on a block cut to its side",
    "toe": "a long straight edge along its chord",
}
SURER = "a total station or photogrammetry"
"""What may read surer than a card's own instruments; common practice, no source."""
LIGHT = 0.02
"""Told as disturbing nothing: less than this share of a reading's own change."""


@dataclass(frozen=True)
class CheckWanted:
    """One thing to be checked: a sum over the card's freedoms, and the limit of it.

    without : numbers of readings that are not taken for it
    """

    name: str
    kind: str
    of: tuple[float, ...]
    limit: float | None
    without: tuple[int, ...] = ()


def checks_of(
    wanted: Sequence[CheckWanted],
    targets: Sequence[CardTarget],
    freedoms: Sequence[CardFreedom],
    system: str,
) -> tuple[CardCheck, ...]:
    """The checks that readings can make; what they cannot see at all is left out.

    targets, freedoms : of the card, with the ways of standing among the freedoms
    """
    columns = np.array([target.columns for target in targets])
    wide = np.array([target.tolerance for target in targets])
    usual = np.array([one.usual for one in freedoms])
    references = [target.reference for target in targets]
    out = []
    for one in wanted:
        aim = np.array(one.of)
        allowed = np.array([target.number not in one.without for target in targets])
        factors = _factors(columns * usual * allowed[:, None], wide, aim * usual, references)
        if factors is not None:
            scaled = columns * usual * allowed[:, None]
            by_sort: dict[str, float | None] = {
                sort: _sort_alone(sort, scaled, wide, aim * usual, targets)
                for sort in dict.fromkeys(t.sort for t in targets if not t.reference)
            }
            out.append(_check(one, factors, targets, columns, system, by_sort))
    return tuple(out)


def _sort_alone(
    sort: str, columns: Array, wide: Array, aim: Array, targets: Sequence[CardTarget]
) -> float | None:
    """The tolerance of the surest sum of one sort of reading and the references; None: no sum."""
    chosen = np.array([t.reference or t.sort == sort for t in targets])
    found = _surest(columns, wide, aim, chosen)
    return None if found is None else float(np.abs(found) @ wide)


def _factors(columns: Array, wide: Array, aim: Array, kept: Sequence[bool]) -> Array | None:
    """The sum of readings that gives `aim`, the surest, without those that add next to nothing.

    kept : of readings that are left out last
    """
    chosen: NDArray[np.bool_] = np.ones(len(wide), dtype=bool)
    found = _surest(columns, wide, aim, chosen)
    most = WORSE * float(np.abs(found) @ wide) if found is not None else 0.0
    while found is not None:
        share = np.where(chosen, np.abs(found) * wide, np.inf)
        whole = float(share[chosen].sum())
        small = np.flatnonzero(share < SMALL * whole)
        if not len(small):
            break
        tied = np.flatnonzero(share <= 1e-9 * whole)
        ranked = sorted((int(k) for k in small), key=lambda k: (kept[k], share[k]))
        some = [np.array(few) for n in (1, 2) for few in itertools.combinations(ranked, n)]
        for fewer in (one for one in (tied, *some) if len(one)):
            rest = chosen.copy()
            rest[fewer] = False
            again = _surest(columns, wide, aim, rest)
            if again is not None and float(np.abs(again) @ wide) <= most:
                chosen, found = rest, again
                break
        else:
            break
    return found


def _surest(columns: Array, wide: Array, aim: Array, chosen: NDArray[np.bool_]) -> Array | None:
    """Factors of least variance among the chosen readings; None where they do not see it alone."""
    scaled = np.where(chosen[:, None], columns / wide[:, None], 0.0)
    y, *_ = np.linalg.lstsq(scaled.T, aim, rcond=1e-10)
    if np.abs(scaled.T @ y - aim).max() > LEAK * np.abs(aim).max():
        return None
    return np.asarray(np.where(chosen, y / wide, 0.0))


def _check(
    one: CheckWanted,
    factors: Array,
    targets: Sequence[CardTarget],
    columns: Array,
    system: str,
    by_sort: Mapping[str, float | None],
) -> CardCheck:
    """A check with its words: which reading it is, and what can see it.

    by_sort : the tolerance of a sum of one sort of reading, None where it makes none
    """
    size = one.limit if one.limit is not None else PRACTICE[one.kind]
    per = columns @ _unit(one)
    of = tuple((t.number, float(f)) for t, f in zip(targets, factors, strict=True) if f)
    chief = _chief(factors * per, targets)
    change = _change(chief, factors, targets, per) * size
    kind = targets[chief[0]].kind
    practice = "" if one.limit is not None else f"usual aim: {_told(size, one.kind, system)}"
    whole = float(sum(abs(f) * t.tolerance for t, f in zip(targets, factors, strict=True)))
    deciding: dict[str, float | None] = {
        t.sort: whole for t, f in zip(targets, factors, strict=True) if f
    }
    seen = _seen(size, per, targets, system, {**by_sort, **deciding})
    if whole >= size:
        seen = _never(one, whole, system)
    return CardCheck(
        one.name, one.kind, of, one.limit, whole, abs(change), kind,
        _reading(chief, factors, targets, system), seen, practice,
    )  # fmt: skip


def _never(one: CheckWanted, whole: float, system: str) -> str:
    """Of a limit that is not decided even where every reading is exactly on its target."""
    size = one.limit if one.limit is not None else PRACTICE[one.kind]
    known = f"these readings know it to ± {_told(whole, one.kind, system)} only"
    told = _told(size, one.kind, system)
    name = next((name for name in BETTER if name in one.name), "")
    by = f"read it by {BETTER.get(name, SURER)}, {whole / size:.1f} times as well at the least"
    if one.limit is None:
        return f"{known}, more than the usual aim of {told}: {by}"
    return f"{known}, against a limit of {told}: never GO with these instruments; {by}"


def _unit(one: CheckWanted) -> Array:
    """The freedoms taken so that the sum is one: of left less right, half of it on each side."""
    aim = np.array(one.of)
    return np.asarray(aim / float(aim @ aim))


def _chief(shares: Array, targets: Sequence[CardTarget]) -> list[int]:
    """The reading of the part with most of the sum, and its like on the other side."""
    share = shares * [not t.reference for t in targets]
    first = int(share.argmax())
    twin = _swapped(targets[first].words)
    like = [
        k
        for k, t in enumerate(targets)
        if k == first or (_swapped(t.words) != t.words and t.words == twin)
    ]
    return [k for k in like if k == first or share[k] > 0.5 * share[first]]


def _swapped(words: str) -> str:
    """Left for right and right for left."""
    sides = {"left": "right", "right": "left"}
    return re.sub(r"\b(left|right)\b", lambda found: sides[found[1]], words)


def _change(
    chief: Sequence[int], factors: Array, targets: Sequence[CardTarget], per: Array
) -> float:
    """How much the chief reading, or the difference or mean of two, moves for one."""
    if len(chief) == 1:
        return float(per[chief[0]])
    a, b = chief
    if factors[a] * factors[b] < 0.0:
        return float(per[b] - per[a])
    return float(0.5 * (per[a] + per[b]))


def _reading(
    chief: Sequence[int], factors: Array, targets: Sequence[CardTarget], system: str
) -> str:
    """All readings of the sum, each with its sign, and its factor where that is not one."""
    if len(chief) == 2 and abs(abs(factors[chief[0]] / factors[chief[1]]) - 1.0) > ALIKE:
        chief = chief[:1]
    numbers = [targets[k].number for k in chief]
    base, words = float(factors[chief[-1]]), f"no. {numbers[0]}"
    if len(chief) == 2 and factors[chief[0]] * factors[chief[1]] < 0.0:
        words = f"no. {numbers[1]} less no. {numbers[0]}"
    elif len(chief) == 2:
        base, words = 2.0 * base, f"the mean of no. {numbers[0]} and no. {numbers[1]}"
    out = [words]
    for k, target in enumerate(targets):
        if not factors[k] or k in chief:
            continue
        share, unit = float(factors[k]) / base, ""
        if target.kind != targets[chief[0]].kind:
            short, size = ("in", INCH) if system in ("ft-in", "in") else ("mm", 1e-3)
            turn = math.radians(1.0)
            share *= turn / size if target.kind == "angle" else size / turn
            unit = f" {short}/deg" if target.kind == "angle" else f" deg/{short}"
        times = "" if not unit and abs(abs(share) - 1.0) < ALIKE else f"{abs(share):.3g}{unit} × "
        sign = "less" if share < 0.0 else "plus"
        own = " (reference)" if target.reference else ""
        out.append(f"{sign} {times}no. {target.number}{own}")
    return ", ".join(out)


def _seen(
    size: float,
    per: Array,
    targets: Sequence[CardTarget],
    system: str,
    by_sort: Mapping[str, float | None],
) -> str:
    """Which instruments of the card can tell the limit and which cannot, in words.

    by_sort : the tolerance of the whole sum that decides, or that a sort makes by itself; where it
        makes none it is named only where even its own tolerance is too wide
    Of two readings alike on both sides their difference counts. What it hardly moves is not named.
    """
    can, cannot = [], []
    for sort in dict.fromkeys(t.sort for t in targets if not t.reference):
        mine = [k for k, t in enumerate(targets) if t.sort == sort and not t.reference]
        best = max(mine, key=lambda k: abs(per[k]) / targets[k].tolerance)
        change, wide = abs(float(per[best])) * size, targets[best].tolerance
        opposed = [k for k in mine if per[k] * per[best] < -0.5 * per[best] ** 2]
        if opposed:
            change, wide = change + abs(float(per[opposed[0]])) * size, 2.0 * wide
        if change < 0.1 * wide:
            continue
        whole = by_sort[sort]
        wide = wide if whole is None else whole * change / size
        kind = targets[best].kind
        told = f"{_told(change, kind, system)} against {_told(wide, kind, system)}"
        name = GAUGES[sort].short
        if change < wide:
            cannot.append(f"{name} cannot ({told})")
        elif whole is not None:
            can.append(f"{name} can{'' if change >= SEEN * wide else ' only just'} ({told})")
    return "; ".join([*can, *cannot]) or "no instrument of this card tells it by itself"


def _told(value: float, kind: str, system: str) -> str:
    return said(value, "angle_fine" if kind == "angle" else "fine", system)


def alone(check: CardCheck, targets: Sequence[CardTarget]) -> tuple[tuple[int, float], ...]:
    """The reading on which a limit hangs alone, and how far it may be off [m] or [rad].

    The tolerance of the whole sum is taken off: within that far all else at its target is GO.
    """
    if check.limit is None or check.tolerance >= check.limit:
        return ()
    by_number = {t.number: t for t in targets}
    mine = [(by_number[n], f) for n, f in check.of if not by_number[n].reference]
    whole = sum(abs(f) * t.tolerance for t, f in mine)
    if not mine:
        return ()
    target, factor = max(mine, key=lambda one: abs(one[1]) * one[0].tolerance)
    if abs(factor) * target.tolerance < (1.0 - OWN) * whole:
        return ()
    return ((target.number, (check.limit - check.tolerance) / abs(factor)),)


def order_of(
    targets: Sequence[CardTarget], freedoms: Sequence[CardFreedom], kinds: Sequence[str]
) -> tuple[RigStep, ...]:
    """In which order the part is set: what is set later moves earlier readings least.

    kinds : of the part's freedoms, by their places in `freedoms`
    Found by trying every order of up to six kinds on the readings' own movements.
    """
    names = list(dict.fromkeys(kinds))[:6]
    chief = {name: _own_reading(name, targets, freedoms, kinds) for name in names}
    matrix = np.array([[_moves(chief[a], a, b, targets, freedoms, kinds) for b in names]
                       for a in names])  # fmt: skip
    count = range(len(names))

    def disturbed(order: Sequence[int]) -> float:
        return float(sum(matrix[a, b] for a, b in itertools.combinations(order, 2)))

    best = min(itertools.permutations(count), key=lambda o: (round(disturbed(o), 6), o))
    steps = []
    for place, k in enumerate(best):
        earlier = [(float(matrix[j, k]), names[j]) for j in best[:place]]
        numbers = tuple(sorted(targets[j].number for j in chief[names[k]]))
        steps.append(RigStep(f"Set {names[k]}", _why(earlier), numbers))
    return tuple(steps)


def _why(earlier: Sequence[tuple[float, str]]) -> str:
    """What setting one kind does to what was set before."""
    if not earlier:
        return "first, as what follows moves its readings least"
    most, name = max(earlier)
    if most < LIGHT:
        return "this moves none of the readings set before"
    return (
        f"this moves the readings of {name} by up to {most:.0%} of what the same amount of "
        f"{name} does: read those again"
    )


def _own_reading(
    name: str, targets: Sequence[CardTarget], freedoms: Sequence[CardFreedom], kinds: Sequence[str]
) -> list[int]:
    """The readings that tell most of one kind, on each side of the part."""
    out = []
    for k, kind in enumerate(kinds):
        if kind == name:
            ratio = [abs(t.columns[k]) * freedoms[k].usual / t.tolerance for t in targets]
            most = max(ratio)
            best = [j for j, one in enumerate(ratio) if one > 0.9 * most and most > 0.0]
            out += [j for j in best if targets[j].sort == targets[best[0]].sort]
    return sorted(set(out))


def _moves(
    rows: Sequence[int],
    own: str,
    other: str,
    targets: Sequence[CardTarget],
    freedoms: Sequence[CardFreedom],
    kinds: Sequence[str],
) -> float:
    """How much readings of one kind move with another, as a share of their own movement.

    Of two readings that move against each other, what moves both alike counts nothing.
    """
    columns = np.array([targets[j].columns for j in rows]).reshape(len(rows), -1)
    columns = columns * [one.usual for one in freedoms]
    out = 0.0
    for k in (k for k, kind in enumerate(kinds) if kind == own):
        mine = columns[:, k]
        theirs = [columns[:, j] for j, kind in enumerate(kinds) if kind == other]
        if mine @ mine > 0.0:
            out = max(out, *(abs(float(mine @ one / (mine @ mine))) for one in theirs))
    return out
