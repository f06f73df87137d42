"""Measures in short tables, by what a builder asks: how big, how high, what for balance."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from planform.airframe.measure import QUESTIONS, Measure, Measures
from planform.core.spread import NO_SPREAD, Spread
from planform.design.guidance import GUIDES
from planform.design.told import said
from planform.report.measures.sheet import Row
from planform.report.table import Band, Cell, Quantity, Table


def blocks(
    title: str, found: Measures, spreads: Mapping[str, Spread], mark: str = ""
) -> tuple[Table, ...]:
    """A table for each question that something answers, a measure on each line.

    Measures of surfaces stand side by side, a column a surface; those of the whole in the first.
    spreads : what the inputs' tolerances do, by the measures' keys ; mark : behind tables' keys
    """
    out = []
    for question in QUESTIONS:
        items = [item for item in found.items if item.asked == question]
        if items:
            columns, rows = _side_by_side(items, spreads)
            out.append(Table(f"{question}{mark}", f"{title}: {question}", columns, rows))
    return tuple(out)


def _side_by_side(
    items: Sequence[Measure], spreads: Mapping[str, Spread]
) -> tuple[tuple[str, ...], tuple[tuple[Cell, ...], ...]]:
    """Column heads and rows: what is measured, each surface's value, what it is counted from."""
    surfaces = list(dict.fromkeys(_surface(item) for item in items if _surface(item)))
    columns = surfaces or [""]
    lines: list[tuple[str, str, dict[str, Measure]]] = []
    for item in items:
        own = _surface(item)
        words, column = item.label.removeprefix(own).strip(), own or columns[0]
        alike = (line for *told, line in lines if told == [words, item.reference])
        line = next((line for line in alike if column not in line), None)
        if line is None:
            line = {}
            lines.append((words, item.reference, line))
        line[column] = item
    rows = tuple(
        (words, *(_cell(line.get(column), spreads) for column in columns), reference)
        for words, reference, line in lines
    )
    if surfaces:
        return ("measure", *surfaces, "counted"), rows
    return ("measure", "value"), tuple(row[:-1] for row in rows)


def _surface(item: Measure) -> str:
    """The surface that a measure is of, as its key and its words begin with; else empty."""
    own = item.key.rpartition(".")[0]
    return own if own and item.label.startswith(f"{own} ") else ""


def _cell(item: Measure | None, spreads: Mapping[str, Spread]) -> Cell:
    if item is None:
        return None
    return Quantity(item.value, item.kind, spreads.get(item.key, NO_SPREAD).worst)


def sheet_tables(lines: Sequence[Row], system: str, stage: int) -> list[Table]:
    """The dimension sheet's tables of a stage, one for each question, in the reader's units.

    stage : its number, so that tables can be told apart
    """
    heads, metric = _systems(system)
    columns = ("dimension", *heads, "worst case")
    values = frozenset(columns[1:])
    out = []
    for asked in sorted({row.asked for row in lines}):
        rows: tuple[tuple[Cell, ...], ...] = tuple(
            (r.what, Quantity(r.value, r.kind), *metric(r.value, r.kind), Band(r.worst, r.kind))
            for r in lines
            if r.asked == asked
        )
        out.append(Table(f"sheet {stage} {asked}", asked, columns, rows, values=values))
    return out


def guides_table(system: str) -> Table:
    """What published guidance asks for, with its source."""
    heads, metric = _systems(system)
    rows: tuple[tuple[Cell, ...], ...] = tuple(
        (g.asks, Quantity(g.metres, "length"), *metric(g.metres, "length"),
         f"{g.source} ({g.status})")
        for g in GUIDES
    )  # fmt: skip
    return Table("guides", "", ("what", *heads, "source"), rows, values=frozenset(heads))


def _systems(system: str) -> tuple[tuple[str, ...], Callable[[float, str], tuple[str, ...]]]:
    """Heads of the columns of values, and a value as the metric one of them has it."""
    if system == "mm":
        return (system,), lambda value, kind: ()
    return (system, "metric"), lambda value, kind: (said(value, kind, "mm"),)
