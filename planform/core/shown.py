"""How an answer shows itself in a notebook: one line, and a small table of its main figures."""

from __future__ import annotations

from dataclasses import dataclass
from html import escape
from math import isfinite

LONGEST = 180
"""Characters of the one line; what is longer is cut."""

MOST_ROWS = 60
"""Rows of a table; how many more there are is told."""


@dataclass(frozen=True)
class Brief:
    """The main figures of an answer.

    head : what it is and what it comes to, in one line
    rows : what is told, and its value in words with its unit, the most telling first
    """

    head: str
    rows: tuple[tuple[str, str], ...] = ()


class Shown:
    """What shows itself by its `brief`; of a dataclass with `repr=False`."""

    def brief(self) -> Brief:
        """The main figures, in words."""
        raise NotImplementedError(f"{type(self).__name__} has no brief")

    def __repr__(self) -> str:
        brief = self.brief()
        told = [brief.head, *(f"{what}: {value}" for what, value in brief.rows if value)]
        line = " ".join(f"<{type(self).__name__} {'; '.join(told)}>".split())
        return line if len(line) <= LONGEST else f"{line[: LONGEST - 2]}…>"

    __str__ = __repr__

    def _repr_html_(self) -> str:
        brief = self.brief()
        rows = [
            f'<tr><th scope="row" style="text-align:left">{escape(what)}</th>'
            f'<td style="text-align:left">{escape(value)}</td></tr>'
            for what, value in brief.rows[:MOST_ROWS]
        ]
        more = len(brief.rows) - MOST_ROWS
        if more > 0:
            rows.append(f'<tr><td colspan="2">and {more} more</td></tr>')
        head = f'<caption style="text-align:left">{escape(brief.head)}</caption>'
        return f"<table>{head}{''.join(rows)}</table>"


def bracket(low: str, high: str) -> str:
    """Two told ends of a range, as one where they are told alike."""
    return low if low == high else f"{low} to {high}"


def known(value: float) -> bool:
    """Whether a figure is there to be told: no answer shows a NaN or an infinity."""
    return isfinite(value)
