"""One table, three writers: the same cells on a terminal, on a page and in a spreadsheet."""

from __future__ import annotations

import csv
import html
import io
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planform.cli.terminal import to_lines
from planform.report.table import Band, Quantity, Table, Words
from planform.report.table_html import to_html
from planform.report.writers import csv as table_csv

NAME = st.text("ab<>&\"'{}-", min_size=1, max_size=8).map(lambda t: f"n{t}")
VALUE = st.builds(Quantity, st.floats(0.01, 9.0), st.sampled_from(["length", "mass", "angle"]))
CELL = st.one_of(
    NAME, VALUE, st.none(), st.builds(Band, st.floats(0.01, 0.2), st.just("length")),
    st.builds(lambda v: Words("{0} to spare", (v,)), VALUE),
)  # fmt: skip


@st.composite
def tables(draw):
    rows = draw(st.lists(st.tuples(NAME, CELL, CELL), min_size=1, max_size=4))
    return Table("key", draw(NAME), ("what", "first", "second"), tuple(rows), (draw(NAME),))


@settings(max_examples=25)
@given(tables(), st.sampled_from(["ft-in", "mm"]))
def test_every_writer_has_the_same_cells(table, system):
    texts = table.texts(system)
    page = to_html(table, system)
    cells = [html.unescape(re.sub("<.*?>", "", c)) for c in re.findall("<td.*?>(.*?)</td>", page)]
    assert cells == [text for row in texts for text in row]
    lines = " ".join(" ".join(to_lines(table, 400, system)).split())
    assert all(" ".join(text.split()) in lines for row in texts for text in row)
    lines = list(csv.reader(io.StringIO(table_csv.written([table], system))))[1:]
    read = {line[7] for line in lines} | {line[3].removeprefix("'") for line in lines}
    plain = {t for row, cells in zip(texts, table.rows, strict=True)
             for t, c in zip(row, cells, strict=True) if isinstance(c, str)}  # fmt: skip
    assert plain <= read


@pytest.mark.parametrize("text", ["fits", "does not fit", "inside", "outside by a lot"])
def test_verdicts_stand_in_colour(text):
    page = to_html(Table("k", "t", ("verdict",), ((text,),)), "mm")
    assert re.search(rf'<span class="v \w+">{text}</span>', page)
