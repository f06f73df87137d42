"""What a wrong reading looks like: the mistakes that are made with tapes and levels.

The list is common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from planform.design.units import FOOT, INCH
from planform.rigging.explain.net import Observed

STEPS = (
    (INCH, "1 in: the tape was burnt or hooked an inch off"),
    (FOOT, "1 ft: the feet were misread"),
    (10.0 * INCH, "10 in: the tens were misread"),
    (0.01, "10 mm: the tape was hooked or read 10 mm off"),
    (0.1, "100 mm: the tape was burnt or read 100 mm off"),
    (1.0, "1 m: the metres were misread"),
    (6.0 * INCH, "6 in: read from the wrong half of a foot"),
)

FACTORS = (
    (25.4, "25.4 times: millimetres were read as inches"),
    (1.0 / 25.4, "a 25.4th: inches were read as millimetres"),
    (12.0, "12 times: inches were read as feet"),
    (1.0 / 12.0, "a 12th: feet were read as inches"),
    (10.0, "10 times: the decimal point is one place off"),
    (0.1, "a tenth: the decimal point is one place off"),
    (1.0 / FOOT, "3.28 times: feet were read as metres"),
    (FOOT, "a 3.28th: metres were read as feet"),
    (2.54, "2.54 times: centimetres and inches were mixed"),
)

ANGLES = (
    (math.radians(1.0), "1 deg: the degrees were misread"),
    (math.radians(10.0), "10 deg: the degrees were misread"),
    (math.radians(0.5), "half a degree: the scale was misread"),
)


def looks_like(one: Observed, expected: float, within: float) -> str:
    """The mistake that gives just what was read, in words; empty where none does.

    expected : what the other readings let expect [m] or [rad]
    within : how far off that may be [m] or [rad]
    """
    for read, words in _mistakes(one.is_angle, expected):
        if abs(one.read - read) <= within and abs(expected - read) > 2.0 * within:
            return words
    for factor, words in () if one.is_angle else FACTORS:
        slack = within * max(factor, 1.0)
        if (
            abs(one.read - factor * expected) <= slack
            and abs(expected * (factor - 1.0)) > 2 * slack
        ):
            return words
    return "" if one.is_angle else _swapped(one.read, expected, within)


def _mistakes(is_angle: bool, expected: float) -> Iterator[tuple[float, str]]:
    """What each mistake would read, the commonest first."""
    if is_angle:
        yield -expected, "the sign is turned: up for down, or the level end for end"
        yield math.pi / 2.0 - expected, "taken from the vertical instead of the level"
        for step, words in ANGLES:
            yield from ((expected + step, words), (expected - step, words))
        return
    for step, words in STEPS[:2]:
        yield from ((expected + step, words), (expected - step, words))
    yield -expected, "the sign is turned: the other side, or above for below"
    for step, words in STEPS[2:]:
        yield from ((expected + step, words), (expected - step, words))


def _swapped(read: float, expected: float, within: float) -> str:
    """Two neighbouring digits changed places, in millimetres or inches; only where that is sure."""
    for unit in (0.001, INCH):
        if within > 2.0 * unit:
            continue
        digits = str(round(abs(expected) / unit))
        for k in range(len(digits) - 1):
            other = digits[:k] + digits[k + 1] + digits[k] + digits[k + 2 :]
            step = (int(other) - int(digits)) * unit * math.copysign(1.0, expected)
            if step and abs(expected + step - read) <= within and abs(step) > 4.0 * within:
                return f"two digits changed places, {digits} and {other}"
    return ""


def sides_changed(
    one: Observed, twin: Observed, expected: tuple[float, float], within: float
) -> bool:
    """Whether two readings of left and right stand in each other's place."""
    apart = abs(expected[0] - expected[1]) > 3.0 * within
    return (
        apart and abs(one.read - expected[1]) <= within and abs(twin.read - expected[0]) <= within
    )
