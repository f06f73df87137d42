"""Small tables on a page: what is told, its value, a remark."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from planform.drawing.paper.letters import fitted, shown, width, wrapped
from planform.drawing.paper.marks import Box, Lettering, Mark, line

CAPITAL, REMARK = 1.9, 1.5
"""Heights of capitals of a line and of its remark [mm]."""
PAD = 2.0


@dataclass(frozen=True)
class FactRow:
    """One line: what it is, its value, and a remark under it."""

    what: str
    value: str
    remark: str = ""


def listed(rows: Sequence[FactRow], box: Box) -> Iterator[Mark]:
    """Rows one under the other, as wide as a box, from its top; what it is left, the value right.

    Where both do not go on one line the value stands on its own.
    """
    left, bottom, right, top = box
    yield line([(left, bottom), (left, top)], "rule")
    room = right - left - 2.0 * PAD
    y = top - 1.2
    for row in rows:
        y -= CAPITAL + 1.3
        what = fitted(shown(row.what), room, CAPITAL)
        value = fitted(shown(row.value), room, CAPITAL, bold=True)
        yield Lettering(np.array([left + PAD, y]), what, CAPITAL, "start")
        if width(what, CAPITAL) + width(value, CAPITAL, True) + 2.0 > room:
            y -= CAPITAL + 1.2
        yield Lettering(np.array([right - PAD, y]), value, CAPITAL, "end", bold=True)
        for words in wrapped(shown(row.remark), room, REMARK):
            y -= REMARK + 1.1
            yield Lettering(np.array([right - PAD, y]), words, REMARK, "end", ink="#333333")
        y -= 1.2
        yield line([(left + PAD, y), (right - PAD, y)], "hair")


def columned(head: str, rows: Sequence[FactRow], box: Box, foot: str = "") -> Iterator[Mark]:
    """Rows under a head, as many as a box takes, from its top; under them a note, at its foot."""
    left, bottom, right, top = box
    room = right - left - 2.0 * PAD
    notes = wrapped(shown(foot), room, REMARK)
    y = top - CAPITAL - 1.0
    yield Lettering(np.array([left + PAD, y]), head, CAPITAL, "start", bold=True)
    y -= 1.0
    step = CAPITAL + 1.3
    room_down = y - bottom - len(notes) * (REMARK + 1.0) - 1.5
    count = max(0, int(room_down / step))
    told = list(rows[:count]) if len(rows) <= count else list(rows[: max(0, count - 1)])
    for row in told:
        y -= step
        value = shown(row.value)
        what = fitted(shown(row.what), room - width(value, CAPITAL, True) - 2.0, CAPITAL)
        yield Lettering(np.array([left + PAD, y]), what, CAPITAL, "start")
        yield Lettering(np.array([right - PAD, y]), value, CAPITAL, "end", bold=True)
    if len(told) < len(rows) and count:
        words = f"and {len(rows) - len(told)} more"
        yield Lettering(np.array([left + PAD, y - step]), words, REMARK, "start")
    for k, words in enumerate(reversed(notes)):
        at = np.array([left + PAD, bottom + 1.5 + k * (REMARK + 1.0)])
        yield Lettering(at, words, REMARK, "start", ink="#333333")
