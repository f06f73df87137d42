"""What tolerances do is shown in one way in every table: with ±, and blank where nothing."""

from __future__ import annotations

from types import SimpleNamespace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planform.core.spread import NO_SPREAD, ranked
from planform.design.told import plus_minus
from planform.fit.verdict import FITS
from planform.report.carry.tables import _doors
from planform.report.haul.tables import _limits
from planform.report.packing.tables import _gaps
from planform.report.table import cell
from planform.study.load_limits import LimitCheck
from planform.study.spreads_of_parked import key_between, key_room

BANDS = ("worst case", "99 %")


def tables(spread):
    """A table each of pack, carry and haul, in which all is moved by the same."""
    near = SimpleNamespace(part="wing", thing="wall", gap=0.4)
    between = SimpleNamespace(first="a", second="b", part="wing", other="fin", apart=0.3, over=())
    parked = SimpleNamespace(between=(between,), walls=(("a", near),))
    door = SimpleNamespace(
        opening="door", width=2.0, height=2.0, answer="passes", way=SimpleNamespace(name="long"),
        roll=0.0, spare=0.2, ranges=(), side=0.0, head=0.0,
    )  # fmt: skip
    line = LimitCheck("height", "length", 3.0, 4.0, 1.0, FITS, "law")
    haul = SimpleNamespace(lines=(line,), spreads={} if spread is None else {"height": spread})
    named = {} if spread is None else {key_between("a", "b"): spread, key_room("a"): spread}
    yield _gaps(parked, named)
    yield _doors((door,), {} if spread is None else {"door": spread})
    yield _limits(haul)


def told(spread, system):
    return [
        [cell(row[sheet.columns.index(head)], system) for head in BANDS]
        for sheet in tables(spread)
        for row in sheet.rows
    ]


@pytest.mark.parametrize("system", ["mm", "in", "ft-in"])
def test_where_no_tolerance_is_given_its_place_is_blank(system):
    for spread in (None, NO_SPREAD):
        assert told(spread, system) == [["", ""]] * 4


@given(change=st.floats(0.0, 0.05), system=st.sampled_from(["mm", "m", "in", "ft-in"]))
def test_what_a_tolerance_does_reads_as_in_a_check_of_the_fit(change, system):
    spread = ranked({"span": change})
    worst, usual = (plus_minus(v, "length", system) for v in (spread.worst, spread.within_99))
    assert told(spread, system) == [[worst, usual]] * 4
    assert (worst == "") == (spread.worst <= 1e-4)
