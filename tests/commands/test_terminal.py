"""Tables on a terminal: columns apart, values whole, nothing cut off, whatever the width."""

from __future__ import annotations

import re

from hypothesis import given, settings
from hypothesis import strategies as st

from planform.cli.terminal import TRIED, Texts, laid_out

WORD = st.text("abcdefgh-", min_size=1, max_size=14)
TEXT = st.lists(WORD, max_size=6).map(" ".join)
NUMBER = st.integers(-99999, 999999).map(lambda n: f"FS {n / 100:.2f} in")
BAND = st.integers(1, 99).map(lambda n: f" ± 0.{n:02d} in")
VALUE = st.one_of(st.just(""), NUMBER, st.tuples(NUMBER, BAND).map("".join))


@st.composite
def tables(draw):
    count = draw(st.integers(1, 7))
    values = frozenset(draw(st.sets(st.integers(1, count - 1)))) if count > 1 else frozenset()
    cell = [VALUE if k in values else TEXT for k in range(count)]
    rows = draw(st.lists(st.tuples(*cell), min_size=1, max_size=4))
    return Texts("title", tuple(draw(st.tuples(*[TEXT] * count))), tuple(rows), values)


def pieces(table):
    """What of a table's cells may not be broken: words, values, tolerances."""
    for row in table.rows:
        for k, cell in enumerate(row):
            yield from re.split(r" (?=±)", cell) if k in table.values else cell.split()


@settings(max_examples=60)
@given(table=tables(), width=st.integers(60, 160))
def test_nothing_is_cut_or_broken_and_columns_are_apart(table, width):
    lines = laid_out(table, width)
    assert max(map(len, lines)) <= width
    whole = "\n".join(lines)
    for piece in pieces(table):
        assert piece in whole or piece.split("-")[0] in whole
    rule = next((k for k, line in enumerate(lines) if line.startswith(" ─")), None)
    if rule is None or len(table.columns) < 2:
        return
    # between two columns every line has blanks, as many as were tried at the least
    body = [line.ljust(width) for line in lines[rule + 1 :]]
    blank = "".join("·" if all(line[k] == " " for line in body) else "x" for k in range(width))
    filled = [k for k in range(len(table.columns)) if any(row[k] for row in table.rows)]
    assert len(re.findall(rf"·{{{TRIED[-1][0]},}}(?=x)", blank)) >= len(filled) - 1


def test_what_does_not_fit_stands_row_by_row():
    table = Texts("t", ("", "weight", "CG"), (("empty", "1196.5 lb", "FS 179.67 in"),), {1, 2})
    assert laid_out(table, 30) == [
        "t",
        "",
        "  empty",
        "    weight: 1196.5 lb",
        "    CG: FS 179.67 in",
    ]


def test_a_tolerance_may_stand_under_its_value():
    table = Texts("t", ("a", "b"), (("x", "FS 179.67 in ± 0.25 in"),), {1})
    assert laid_out(table, 22)[-2:] == ["  x       FS 179.67 in", "             ± 0.25 in"]
