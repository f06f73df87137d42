"""What to measure next, in sentences."""

from __future__ import annotations

from fractions import Fraction

from planform.design.naming import in_words
from planform.design.told import plus_minus, said
from planform.design.units import INCH
from planform.fit.check import Check
from planform.fit.verdict import CARE, NOT
from planform.study.inputs import ASSUMED, Input
from planform.study.next_reading import CAREFUL, Advice, Better

BAND_NOTE = (
    "Worst case: all inputs at the ends of their tolerances together, built and judged again. "
    "99 %: the half width that holds the gap in 99 of 100 cases, each input independent and "
    "anywhere in its tolerance with the same likelihood (JCGM 100:2008, 4.3.7)."
)


def sentences(found: Advice, system: str) -> tuple[str, ...]:
    """One sentence a check whose verdict could turn, and one on the check that decides."""
    out = []
    if found.deciding is not None and not found.deciding.open and found.deciding.gap is not None:
        out.append(_closed(found.deciding, system))
    for check, better in found.better:
        out.append(_next(better[0], system) if better else _finest(check, system))
    if found.bare and found.deciding is not None:
        out.append(_bare(found.bare, found.deciding, system))
    return tuple(out)


def _length(value: float, system: str) -> str:
    return said(value, "length", system)


def _band(value: float, system: str) -> str:
    return plus_minus(value, "length", system) or "nothing"


def _reading(one: Input) -> str:
    return f"{in_words(one.name)} (“{one.reading.text}”)"


def _reach(kind: str, value: float, system: str) -> str:
    if kind == "length" and system in ("ft-in", "in"):
        return f"± {Fraction(round(value / INCH * 16), 16)} in"
    return plus_minus(value, kind, system)


def _next(better: Better, system: str) -> str:
    check = better.check
    careful = _reach(better.input.reading.kind, better.careful, system)
    if better.verdict != check.verdict:
        outcome = f"coming out as written, it {better.verdict}"
    elif better.settles and better.can_turn:
        outcome = "coming out as written it settles this question, otherwise it can turn the answer"
    elif better.settles:
        outcome = "coming out as written it settles this question; alone it cannot turn the answer"
    elif better.can_turn:
        outcome = "it can turn the answer, and does not settle it alone"
    else:
        outcome = "alone it neither settles nor turns the answer"
    return (
        f"Measure next, for “{check.title}”: {_reading(better.input)}. Read to {careful} it "
        f"narrows {_band(check.worst, system)} to {_band(better.worst, system)} "
        f"(99 %: {_band(check.within_99, system)} to {_band(better.within_99, system)}); {outcome}."
    )


def _finest(check: Check, system: str) -> str:
    tape, level = (_reach(kind, CAREFUL[kind], system) for kind in ("length", "angle"))
    return (
        f"“{check.title}” could turn within {_band(check.worst, system)}, and all its inputs are "
        f"read as finely as a tape ({tape}) or a level ({level}) gives: leave more room."
    )


def _closed(check: Check, system: str) -> str:
    assert check.gap is not None
    band = _band(check.worst, system)
    if check.verdict == NOT:
        short = _length(-check.gap, system)
        return (
            f"No better reading turns “{check.title}”: it is short by {short}, and the "
            f"tolerances can give back {band.removeprefix('± ')}."
        )
    if check.verdict == CARE:
        under = _length((check.wanted or 0.0) - check.gap, system)
        return (
            f"No better reading turns “{check.title}”: it is {under} under what is wanted, and "
            f"the tolerances move it by {band}."
        )
    return (
        f"No reading turns the verdict within its tolerance; least to spare has “{check.title}”, "
        f"{_length(check.spare, system)} more than it needs."
    )


def _bare(found: tuple[tuple[Input, float], ...], check: Check, system: str) -> str:
    lines = ", ".join(f"{_reading(one)} by {_band(change, system)}" for one, change in found)
    tape, level = (_reach(kind, ASSUMED[kind], system) for kind in ("length", "angle"))
    return (
        f"No tolerance is given for these, and they matter most for “{check.title}” ({tape} or "
        f"{level} in each alone): {lines}."
    )
