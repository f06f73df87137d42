"""Tables as data: cells in SI that every writer (terminal, page, CSV) writes alike."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from string import Formatter

from planform.core.spread import Spread
from planform.design.told import plus_minus, said, stated


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


@dataclass(frozen=True)
class Noted:
    """A text with notes, which stand under it on a page and behind it in a line."""

    text: str
    notes: tuple[str, ...] = ()


Cell = str | Quantity | Words | Noted | None


@dataclass(frozen=True)
class Table:
    """A table: a key, a title, column heads, rows of cells, and remarks under it.

    values : heads of columns that hold values, where their cells need not tell
    """

    key: str
    title: str
    columns: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]
    remarks: tuple[str, ...] = ()
    values: frozenset[str] = frozenset()

    def numeric(self, column: int) -> bool:
        """Whether a column holds values, which stand to the right."""
        if self.columns[column] in self.values:
            return True
        return any(isinstance(row[column], Quantity) for row in self.rows)

    def texts(self, system: str) -> list[list[str]]:
        """The cells as they are read; system : one of 'ft-in', 'in', 'mm', 'm'."""
        return [[cell(one, system) for one in row] for row in self.rows]


def cell(value: Cell, system: str) -> str:
    """A cell as text: words, or a value with its tolerance."""
    if value is None or isinstance(value, str):
        return value or ""
    if isinstance(value, Noted):
        return "; ".join([value.text, *value.notes])
    if isinstance(value, Words):
        return value.filled([said(v.value, v.kind, system) for v in value.values])
    if isinstance(value, Band):
        return plus_minus(value.value, value.kind, system)
    worst = plus_minus(value.worst, value.kind, system)
    return said(value.value, value.kind, system) + (f" {worst}" if worst else "")
