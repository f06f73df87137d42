"""Tables as lines of text: columns with air between them, and values that are never broken."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from planform.report.table import Table

TRIED = ((4, False), (4, True), (3, True))
"""Blanks between two columns, and whether tolerances may stand under their values: the first that
fits is taken; assumption."""
MARGIN = 2
"""Blanks before the first column."""
LONGEST = 24
"""Letters of one word of a text that are kept together; a longer one is broken; assumption."""
NARROWEST = 16
"""Letters that a column of texts is given at the least, where it holds so many; assumption."""


@dataclass(frozen=True)
class Texts:
    """A table as texts.

    values : numbers of the columns whose cells are values: to the right, and on one line
    """

    title: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    values: frozenset[int] = frozenset()


def to_lines(table: Table, width: int, system: str) -> list[str]:
    """The lines of a table within a width [letters], its title first; its remarks are not in it."""
    rows = tuple(map(tuple, table.texts(system)))
    values = frozenset(k for k in range(len(table.columns)) if table.numeric(k))
    return laid_out(Texts(table.title, table.columns, rows, values), width)


def laid_out(table: Texts, width: int) -> list[str]:
    """The lines of a table within a width [letters].

    Where the columns do not fit side by side, every row stands by itself, its cells one under the
    other, each behind its column's head.
    """
    for air, under in TRIED:
        widths = _widths(table, width - MARGIN, air, under=under)
        if widths is not None:
            return [table.title, "", *_beside(table, widths, air)]
    return [table.title, *_below(table, width)]


def _long(text: str) -> int:
    from rich.cells import cell_len

    return cell_len(text)


def _pieces(line: str, *, value: bool) -> list[str]:
    """What of a line is kept together: words, or a value and its tolerance."""
    return line.replace(" ±", "\n±").split("\n") if value else line.split()


def _widths(table: Texts, room: int, air: int, *, under: bool) -> list[int] | None:
    """How wide each column is; None where they do not fit.

    under : tolerances may stand under their values
    """
    least, widths = [], []
    for k, head in enumerate(table.columns):
        cells = [line for row in table.rows for line in row[k].split("\n")]
        widths.append(max(map(_long, (head, *cells))))
        value = k in table.values
        kept = [piece for line in cells for piece in _pieces(line, value=value)]
        kept = cells if value and not under else kept
        heads = [min(_long(word), LONGEST) for word in head.split()]
        readable = 1 if value else min(widths[-1], NARROWEST)
        least.append(
            max((readable, *heads, *(_long(p) if value else min(_long(p), LONGEST) for p in kept)))
        )
    over = sum(widths) + air * (len(widths) - 1) - room
    while over > 0:
        loose = [k for k in range(len(widths)) if widths[k] > least[k]]
        if not loose:
            return None
        widths[max(loose, key=widths.__getitem__)] -= 1
        over -= 1
    return widths


def _wrapped(text: str, width: int, *, value: bool = False) -> list[str]:
    """A text in lines of at most a width, as they stand in the text where it has its own."""
    out = []
    for line in text.split("\n"):
        now = ""
        for word in _pieces(line, value=value):
            while _long(word) > width:
                cut = next(k for k in range(len(word), 0, -1) if _long(word[:k]) <= width or k == 1)
                out += [now] * bool(now) + [word[:cut]]
                now, word = "", word[cut:]
            if now and _long(now) + 1 + _long(word) > width:
                out.append(now)
                now = word
            else:
                now = f"{now} {word}".strip()
        out.append(now)
    return out


def _beside(table: Texts, widths: Sequence[int], air: int) -> list[str]:
    lines = _row(table, table.columns, widths, air, head=True) if any(table.columns) else []
    lines.append(" " + "─" * (sum(widths) + air * (len(widths) - 1) + MARGIN - 1))
    for row in table.rows:
        lines += _row(table, row, widths, air)
    return lines


def _row(
    table: Texts, cells: Sequence[str], widths: Sequence[int], air: int, *, head: bool = False
) -> list[str]:
    """The lines of one row; short heads stand at its foot, short cells at its top."""
    texts = [
        _wrapped(cell, wide, value=k in table.values and not head)
        for k, (cell, wide) in enumerate(zip(cells, widths, strict=True))
    ]
    high = max(map(len, texts))
    gaps = [[""] * (high - len(text)) for text in texts]
    filled = [g + t if head else t + g for g, t in zip(gaps, texts, strict=True)]
    lines = []
    for parts in zip(*filled, strict=True):
        out = [
            " " * (wide - _long(part)) + part
            if k in table.values
            else part + " " * (wide - _long(part))
            for k, (part, wide) in enumerate(zip(parts, widths, strict=True))
        ]
        lines.append((" " * MARGIN + (" " * air).join(out)).rstrip())
    return lines


def _below(table: Texts, width: int) -> list[str]:
    """Every row by itself."""
    lines = []
    for row in table.rows:
        lines.append("")
        for k, (head, cell) in enumerate(zip(table.columns, row, strict=True)):
            told = f"{head}: {cell}" if head and k else cell
            indent = MARGIN * (2 if k else 1)
            if cell:
                lines += [" " * indent + one for one in _wrapped(told, max(20, width - indent))]
    return lines
