"""What would make it fit, in sentences and as JSON."""

from __future__ import annotations

import math
from dataclasses import dataclass

from planform.design.told import said
from planform.report.words import ROOM_SIDES, gone_over
from planform.study.change_cases import EFFORT, FAILS, UNDECIDED, UNTRIED, Effect
from planform.study.change_found import Change, Changes, drawn_out

_CLASSES = ", ".join(words for _, words in sorted(EFFORT.values(), key=lambda pair: pair[0]))
ORDER_NOTE = (
    "In order of effort, least first; then the smaller size, or the lighter part. The order is "
    f"our own (common practice, no source): {_CLASSES}."
)
ALONE = (
    "Each change is made alone, the aircraft and the room are built again with it and the way out "
    "is searched again; two smaller ones together were not tried."
)
LEAST = (
    "A least size leaves nothing to spare: take more, or ask again with a clearance to keep "
    "(--keep)."
)
LEVEL = (
    "The way is searched on an even floor, moved any way on dollies; walkers at tips, nose and "
    "tail; anyone's STOP stops all."
)


FINE_BELOW = 0.01
"""A gap below this [m] is told finer than a tape reads."""


@dataclass(frozen=True)
class Told:
    """One change in words: what, how sure the size is, where it is tight, what else it does."""

    number: int
    effort: str
    what: str
    bracket: str
    tight: str
    effects: tuple[tuple[str, str, str], ...]
    cautions: tuple[str, ...]

    @property
    def beside(self) -> str:
        """What else it does, in one line."""
        return "; ".join(
            f"{what} {after}" + (f" (was {before})" if before else "")
            for what, before, after in self.effects
        )


def verdict(found: Changes, system: str) -> str:
    """What was found, in one sentence."""
    kept = "" if not found.keep else f" keeping {said(found.keep, 'length', system)} all round"
    if found.free:
        return f"It comes out as it stands{kept}; nothing needs to be changed."
    stands = "does not come out" if found.base.answer == FAILS else "is not decided to come out"
    head = f"As it stands it {stands}{kept}: {found.base.reason}."
    count = len(found.found)
    if count:
        ways = "one change alone frees it" if count == 1 else f"{count} changes free it, each alone"
        return f"{head} {ways[0].upper()}{ways[1:]}."
    if found.with_answer(UNDECIDED) or found.with_answer(UNTRIED) or found.stopped:
        return f"{head} No change was found that frees it; not all were decided in the time."
    return f"{head} None of the {len(found.all)} changes looked at frees it alone."


def told(found: Changes, system: str) -> tuple[Told, ...]:
    """The changes that free it, in order."""
    return tuple(_told(k + 1, change, system) for k, change in enumerate(found.found))


def _told(number: int, change: Change, system: str) -> Told:
    return Told(
        number,
        EFFORT[change.kind][1],
        sized(change, system),
        _bracket(change, system),
        _tight(change, system),
        tuple(_effect(e, system) for e in change.effects),
        change.cautions,
    )


def _size(change: Change, value: float, system: str) -> str:
    if change.family.unit == "angle":
        return f"{math.degrees(value):.4g}°"
    return said(value, "length", system)


def sized(change: Change, system: str) -> str:
    """The change with its size."""
    what = f"{change.what[0].upper()}{change.what[1:]}"
    if change.size is None:
        return what
    text = f"{what} by {_size(change, change.size, system)}"
    start = change.family.start
    if start is not None:
        end = start + change.family.sign * change.size
        text += f", from {_size(change, start, system)} to {_size(change, end, system)}"
        text += " from the vertical" if change.kind == "cant" else ""
    return text


def _bracket(change: Change, system: str) -> str:
    """How sure the size is the least."""
    if change.size is None:
        return ""
    if change.fails is None:
        return "whether less frees it is not decided"
    if change.fails == 0.0:
        low = "nothing at all is proved not to"
    else:
        low = f"{_size(change, change.fails, system)} is proved not to free it"
    low += _drawn(change.drawn_out[0], system)
    if not change.closed:
        low += "; between the two is not decided"
    if change.family.monotone:
        return low
    return f"{low}; {_scanned(change, system)}"


def _drawn(out: float, system: str) -> str:
    """With what outlines a proof was made."""
    return f", with outlines drawn out by {said(out, 'fine_up', system)}" if out else ""


def _scanned(change: Change, system: str) -> str:
    sizes = change.family.sizes
    if len(sizes) < 2:
        return "less was halved down to, and a narrower window could be missed"
    every = _size(change, sizes[1] - sizes[0], system)
    return f"looked at every {every} and then halved, so a narrower window could be missed"


def _tight(change: Change, system: str) -> str:
    if not change.tight:
        return ""
    least = change.tight[0]
    kind = "gap" if least.gap > FINE_BELOW else "fine"
    gap = said(max(0.0, least.gap), kind, system)
    return f"{least.part} at {least.thing}, {gap}"


def _effect(one: Effect, system: str) -> tuple[str, str, str]:
    before = "" if one.before is None else said(one.before, one.kind, system)
    return one.what, before, said(one.after, one.kind, system)


def others(found: Changes, system: str) -> tuple[str, ...]:
    """The changes that do not free it, or were not decided; one sentence each."""
    out = [_fails(change, system) for change in found.with_answer(FAILS)]
    for change in found.with_answer(UNDECIDED):
        out.append(f"{_any(change, system)}: not decided in the time; more time may decide it.")
    return tuple(out)


def untried(found: Changes, system: str) -> tuple[str, ...]:
    """The changes that the search did not come to, by name."""
    return tuple(_any(change, system) for change in found.with_answer(UNTRIED))


def _fails(change: Change, system: str) -> str:
    family = change.family
    if not family.unit:
        return f"{_any(change, system)}: does not free it ({change.reason})."
    if family.monotone:
        limit = f", {family.limit}" if family.limit else ""
        most = f"{_size(change, change.upto, system)}{limit}"
        return f"{_any(change, system)}: not even by {most} ({change.reason})."
    most = f"any of {len(family.sizes)} sizes up to {_size(change, change.upto, system)}"
    if family.start is not None:
        end = _size(change, family.start + family.sign * change.upto, system)
        most = (
            f"any of {len(family.sizes)} looked at from "
            f"{_size(change, family.start, system)} to {end}"
        )
    return f"{_any(change, system)}: not by {most} (at the last: {change.reason})."


def _any(change: Change, system: str) -> str:
    return f"{change.what[0].upper()}{change.what[1:]}"


def notes(found: Changes, system: str) -> tuple[str, ...]:
    """What holds for all of them."""
    if found.free:
        return (*gone_over(found.gone_over), LEVEL)
    proofs = (*_proof(found, system), *gone_over(found.gone_over), *_pits(found))
    if not found.found:
        return (ALONE, *proofs, ROOM_SIDES, LEVEL)
    return (ORDER_NOTE, ALONE, LEAST, *proofs, ROOM_SIDES, LEVEL)


def _pits(found: Changes) -> tuple[str, ...]:
    """What is not proposed for a pit."""
    pits = [pit.name for pit in found.base.case.place.floor.pits]
    if not pits:
        return ()
    return (
        f"No board over a pit is proposed ({', '.join(pits)}): whether one carries a wheel is not "
        "known here. Leave a pit that is covered to carry it out of the file, and ask again.",
    )


def _proof(found: Changes, system: str) -> tuple[str, ...]:
    """With what outlines it is proved that something does not free it; nothing where nothing is."""
    pairs = [drawn_out([found.base]), *(change.drawn_out for change in found.all)]
    out, lower = (max(values) for values in zip(*pairs, strict=True))
    if not out:
        return ()
    words = (
        "What does not free it is proved for outlines drawn out by up to "
        f"{said(out, 'fine_up', system)}, true curves counted in"
    )
    if lower:
        words += f", and a sloped ceiling up to {said(lower, 'fine_up', system)} lower than it is"
    return (f"{words}: what lacks no more than that may free it after all.",)
