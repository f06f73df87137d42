"""Measures in short tables: each stands in one of them, once, as it was measured."""

from __future__ import annotations

import copy
from collections import Counter

from hypothesis import given, settings
from hypothesis import strategies as st

import planform as pf
from planform.airframe.measure import QUESTIONS, Measure, Measures
from planform.core.spread import Spread
from planform.design.load import design_from
from planform.report.measures.tables import blocks
from planform.report.table import Quantity
from tests.conftest import PLAIN

SURFACES = ("", "wing", "fore.plane", "tip fin")
MEASURES = st.builds(
    lambda own, key, reference, value, asked: Measure(
        f"{own}.{key}" if own else key, f"{own} {key}".strip(), value, "length", reference, asked
    ),
    own=st.sampled_from(SURFACES),
    key=st.sampled_from(("span", "area", "area_true", "rise")),
    reference=st.sampled_from(("as built", "outboard", "")),
    value=st.floats(0.1, 9.0),
    asked=st.sampled_from(QUESTIONS),
)


@settings(max_examples=80)
@given(items=st.lists(MEASURES, max_size=30, unique_by=lambda m: (m.key, m.reference, m.asked)))
def test_every_measure_stands_in_its_table_once(items):
    found = Measures(tuple(items), "any", "mm")
    spreads = {item.key: Spread((("an input", 0.5 * item.value),)) for item in items[::2]}
    sheets = blocks("any", found, spreads)
    assert [sheet.key for sheet in sheets] == [
        q for q in QUESTIONS if any(item.asked == q for item in items)
    ]
    for sheet in sheets:
        there = Counter(c.value for row in sheet.rows for c in row if isinstance(c, Quantity))
        assert there == Counter(item.value for item in items if item.asked == sheet.key)
        assert all(len(row) == len(sheet.columns) for row in sheet.rows)


def test_a_design_is_told_by_what_a_builder_asks():
    airframe = pf.build(design_from(copy.deepcopy(PLAIN)))
    sheets = blocks("Plain", pf.design_measures(airframe), {})
    assert [sheet.title for sheet in sheets] == [f"Plain: {q}" for q in QUESTIONS]
    assert all(len(sheet.rows) < 16 for sheet in sheets)
    big, high, balance = sheets
    assert big.columns == ("measure", "wing", "winglet", "counted")
    assert "rise" in [row[0] for row in high.rows]
    assert {row[0] for row in balance.rows} == {"MAC", "LEMAC", "MAC butt line"}
