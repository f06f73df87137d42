"""Whatever is answered shows itself in one line and a small table, names as they stand."""

from __future__ import annotations

import re
import tomllib
from html import unescape
from html.parser import HTMLParser

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

import planform as pf
from planform.core.shown import LONGEST, MOST_ROWS, Brief, Shown
from planform.design.load import carrier_from, design_from, place_from
from tests.laws.worlds import worlds

NO_ANSWERS = {"Desk", "InputError", "Reading", "Verdict", "Winglets", "Wish"}
"""Public types that are no answers: an error, a number, a word, what is asked, and who is."""

NUMBER_AND_UNIT = re.compile(r"\d( ?(mm|m2?|in|ft2?|kg|lb|deg|%)\b|[\"'%°])")


class Cells(HTMLParser):
    """The tags of a table and the texts of its cells."""

    def __init__(self, text):
        super().__init__()
        self.tags, self.texts = set(), []
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        self.tags.add(tag)
        if tag in ("td", "th", "caption"):
            self.texts.append("")

    def handle_data(self, data):
        self.texts[-1] += data


def holds(value):
    """The law for one answer."""
    line = repr(value)
    assert "\n" not in line
    assert len(line) < 200
    assert "array(" not in line
    assert not re.search(r"\b(nan|inf)\b", line)
    assert str(value) == line
    brief, cells = value.brief(), Cells(value._repr_html_())
    assert cells.tags <= {"table", "caption", "tr", "th", "td"}
    told = [brief.head, *(text for row in brief.rows[:MOST_ROWS] for text in row)]
    assert cells.texts[: len(told)] == told


def test_every_public_answer_shows_itself():
    types = [getattr(pf, name) for name in pf.__all__ if isinstance(getattr(pf, name), type)]
    assert {t.__name__ for t in types if not issubclass(t, Shown)} == NO_ANSWERS


@settings(max_examples=3)
@given(worlds)
def test_what_is_built_shows_itself_in_one_line_with_units(found):
    design, place, carrier = (
        read(tomllib.loads(found.texts()[name]))
        for name, read in (
            ("design", design_from), ("place", place_from), ("carrier", carrier_from)
        )
    )  # fmt: skip
    airframe = pf.build(design)
    standing = pf.stand(airframe)
    piece = pf.piece_named(airframe, airframe.names[0])
    sized = (
        airframe,
        standing,
        pf.build_room(place),
        pf.design_measures(airframe),
        pf.standing_measures(standing),
        piece,
    )
    for value in (design, place, carrier, *sized, pf.balance_findings((standing,), design)):
        holds(value)
    for value in sized:
        assert NUMBER_AND_UNIT.search(unescape(value._repr_html_())), repr(value)


class _Any(Shown):
    """An answer with any figures."""

    def __init__(self, head, rows):
        self._brief = Brief(head, tuple(rows))

    def brief(self):
        return self._brief


TEXT = st.text(st.characters(blacklist_categories=("Cs", "Cc", "Zl", "Zp", "Cf")), min_size=1)


@given(TEXT, st.lists(st.tuples(TEXT, TEXT), max_size=2 * MOST_ROWS))
def test_any_name_stands_in_the_table_as_it_is(head, rows):
    value = _Any(head, rows)
    line = repr(value)
    assert "\n" not in line
    assert len(line) <= LONGEST
    holds(value) if not re.search(r"nan|inf|array", line) else None
    assert len(Cells(value._repr_html_()).texts) <= 2 * MOST_ROWS + 2


def test_a_batch_tells_ranges_and_no_arrays():
    k = np.linspace(1.0, 2.0, 5000)
    one = np.ones_like(k)
    wings = pf.measure_planforms(
        np.outer(one, [0.0, 4.0]), np.outer(one, [0.0, 1.0]), np.outer(k, [1.0, 0.5]),
        np.outer(one, [0.0, 0.0]), pf.Winglets(one, 0.0 * one, 0.0 * one, 0.5 * one),
    )  # fmt: skip
    holds(wings)
    assert ("area", "6 m2 to 12 m2") in wings.brief().rows
