"""Tables as data: cells in SI that every writer prints alike."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from string import Formatter

from planform.core.spread import Spread
from planform.design.told import stated
from planform.design.units import KINDS, SI_UNIT


@dataclass(frozen=True)
class Quantity:
    """One value of a table in SI, its kind, and what the tolerances do to it."""

    value: float
    kind: str
    worst: float = 0.0


@dataclass(frozen=True)
class Band(Quantity):
    """What tolerances may give or take, shown with ±."""


def bands(spread: Spread, kind: str = "fine") -> tuple[Band | None, Band | None]:
    """The worst case, and what holds in 99 of 100 cases; None where no tolerance does anything."""
    worst, usual = (
        Band(value, kind) if stated(value, kind) else None
        for value in (spread.worst, spread.within_99)
    )
    return worst, usual


@dataclass(frozen=True)
class Words:
    """A sentence with values in it, at {0}, {1}, ...; names in it stand as `literal` has them."""

    text: str
    values: tuple[Quantity, ...] = ()

    def filled(self, shown: Sequence[str]) -> str:
        """The sentence with its values as they are shown."""
        return self.text.format(*shown)

    def before(self, number: int) -> str:
        """The words right before a value, back to the value before it."""
        words = ""
        for piece, field, *_ in Formatter().parse(self.text):
            words += piece
            if field == str(number):
                break
            words = "" if field is not None else words
        return words.strip(" ;,")


def literal(name: str) -> str:
    """A name as it goes into the text of `Words`: its braces are braces."""
    return name.replace("{", "{{").replace("}", "}}")


Cell = str | Quantity | Words | None


@dataclass(frozen=True)
class SheetTable:
    """A table: a key, a title, column heads, rows of cells, and remarks under it."""

    key: str
    title: str
    columns: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]
    remarks: tuple[str, ...] = ()

    def numeric(self, column: int) -> bool:
        """Whether a column holds values, which stand to the right."""
        return any(isinstance(row[column], Quantity) for row in self.rows)


Shown = Callable[[float, str], str]
"""A value [SI] of a kind as text in the reader's units."""


def to_csv(sheets: tuple[SheetTable, ...], shown: Shown) -> str:
    """Every value of the tables on a line of its own: in SI with its unit, and as it is read."""
    lines: list[Sequence[object]] = [
        ("table", "row", "column", "text", "value", "unit", "worst case", "as read")
    ]
    for sheet in sheets:
        for k, row in enumerate(sheet.rows):
            for head, cell in zip(sheet.columns, row, strict=True):
                lines += [(sheet.key, k + 1, head, *line) for line in _csv(cell, shown)]
    return csv_text(lines)


def csv_text(lines: Iterable[Sequence[object]]) -> str:
    """Lines of cells as CSV, in which no text runs where a spreadsheet opens it."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerows([_inert(c) if isinstance(c, str) else c for c in line] for line in lines)
    return out.getvalue()


_VALUE = re.compile(r"""[+-](?:\d+'-)?\d[\d ./]*(?:e[+-]?\d+|["']| ?[A-Za-z%°][A-Za-z0-9 %°]*)?""")


def _inert(text: str) -> str:
    """A cell that a spreadsheet shows and does not work out: values stay, formulas get a mark."""
    runs = text.startswith(("=", "+", "-", "@", "\t", "\r")) and not _VALUE.fullmatch(text)
    return f"'{text}" if runs else text


def _csv(cell: Cell, shown: Shown) -> Iterator[tuple[str, str, str, str, str]]:
    if isinstance(cell, str):
        yield cell, "", "", "", ""
    elif isinstance(cell, Quantity):
        yield "", *_value(cell, shown)
    elif isinstance(cell, Words):
        for k, value in enumerate(cell.values):
            yield cell.before(k), *_value(value, shown)
        if not cell.values and cell.text:
            yield cell.filled(()), "", "", "", ""


def _value(one: Quantity, shown: Shown) -> tuple[str, str, str, str]:
    worst = f"{one.worst:.6g}" if one.worst else ""
    return f"{one.value:.6f}", si_unit(one.kind), worst, shown(one.value, one.kind)


def si_unit(kind: str) -> str:
    """The SI unit of a cell's kind."""
    return SI_UNIT[KINDS.get(kind, kind)]
