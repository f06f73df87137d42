"""Charts: what they leave as it was, and what they show."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

import matplotlib
import pytest
from hypothesis import given
from hypothesis import strategies as st

import planform as pf
from planform.drawing.charts import EDGE, chart, chart_svg
from planform.drawing.style import PAPER
from planform.report.balance.charts import case_letter, envelope_chart, loading_chart
from tests.conftest import DESIGNS


@pytest.fixture(scope="module")
def found():
    design = pf.load(DESIGNS / "marram.toml")
    return pf.balance_findings(pf.stand_all(pf.build(design)), design)


def test_settings_of_matplotlib_are_as_before(found):
    with matplotlib.rc_context({"font.size": 17.0, "svg.fonttype": "path", "axes.edgecolor": "r"}):
        before = dict(matplotlib.rcParams)
        first = envelope_chart(found, "in")
        loading_chart(found, "mm")
        with pytest.raises(ZeroDivisionError), chart("broken", 4.0, 3.0):
            raise ZeroDivisionError
        assert dict(matplotlib.rcParams) == before
    assert envelope_chart(found, "in") == first  # and nothing of the user's own gets in


def test_cases_are_lettered_and_the_letters_listed(found):
    words = ["".join(e.itertext()) for e in ET.fromstring(envelope_chart(found, "in")).iter()]
    for k, case in enumerate(found.answer.cases):
        letter = case_letter(k)
        assert letter in words
        assert any(w.startswith(f"{letter}: {case.name[:12]}") for w in words)


@given(st.integers(0, 20_000), st.integers(0, 20_000))
def test_no_two_cases_share_a_letter(a, b):
    assert (case_letter(a) == case_letter(b)) == (a == b)
    assert [case_letter(k) for k in (0, 25, 26, 701, 702)] == ["A", "Z", "AA", "ZZ", "AAA"]


def test_the_envelope_is_a_bold_line_with_nothing_in_it(found):
    """Of all areas only the paper and the ground of the axes are filled; outside is a hatch."""
    text = envelope_chart(found, "in")
    assert "url(#envelope-" in text
    groups = [g for g in ET.fromstring(text).iter() if "-patch_" in (g.get("id") or "")]
    styles = ["".join(p.get("style") or "" for p in g) for g in groups]
    assert {f for style in styles for f in re.findall("fill: (#[0-9a-f]+)", style)} == {
        PAPER,
        "#ffffff",
    }
    assert "stroke-width: 3.2" in text


def test_two_charts_on_one_page_share_no_ids():
    ids = []
    for name in ("one", "two"):
        with chart(name, 4.0, 3.0) as (figure, axes):
            axes.plot([0, 1], [0, 1], color=EDGE)
            tree = ET.fromstring(chart_svg(figure, name))
        ids += [e.get("id") for e in tree.iter() if e.get("id")]
    assert len(ids) == len(set(ids)) > 10
