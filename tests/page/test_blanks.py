"""Texts that a file leaves out leave nothing behind: no empty brackets, no column twice."""

from __future__ import annotations

import re

import pytest

from planform.airframe.build import build
from planform.airframe.measure import standing_measures
from planform.airframe.stance import shaped, stand_all
from planform.design.load import design_from
from planform.report.measures.page import sheet_page
from planform.report.measures.sheet import rows

EMPTY = re.compile(r"\(\s*\)|:\s*\)|\(\s*:|<p[^>]*>\s*</p>")


@pytest.fixture(scope="module")
def sheet():
    """The sheet of the plain design, which has no text that it could leave out, by its units."""
    from tests.conftest import PLAIN

    design = design_from(PLAIN)
    standings = stand_all(build(shaped(design)))
    heights = tuple(standing_measures(one) for one in standings)
    lines = rows(heights, ({},) * len(heights))
    return lambda system: sheet_page(design, tuple(standings), lines, heights, system)


@pytest.mark.parametrize(("system", "columns"), [("mm", 1), ("m", 2), ("ft-in", 2)])
def test_the_sheet_tells_each_unit_once(sheet, system, columns):
    text = sheet(system)
    assert text.count('<th class="n">metric</th>') == 3 * (columns - 1)
    assert text.count(f'<th class="n">{system}</th>') == 3  # how big, how high, guidance
    for table in re.findall(r"<table>.*?</table>", text, re.DOTALL):
        heads, first, *_ = table.split("<tr>")[1:]
        assert heads.count("<th") == first.count("<td")
    body = text.partition("</head>")[2]  # before it stands the look, with selectors in brackets
    assert body
    assert not EMPTY.search(body)


def test_no_template_has_brackets_that_may_stay_empty():
    """A text of a file in brackets goes through `bracketed`, or its brackets are conditional."""
    from importlib.resources import files

    optional = re.compile(
        r"\(\{\{[^}]*\.(?:text|story|record|source|why)\b[^}]*\}\}|: \{\{[^}]*\.text"
    )
    for template in files("planform.report.templates").iterdir():
        for found in optional.finditer(template.read_text(encoding="utf-8")):
            before = template.read_text(encoding="utf-8")[: found.start()]
            assert "{% if " in before[-80:], (template.name, found[0])


def test_a_neutral_point_without_a_source_has_no_brackets():
    from planform.design.texts import bracketed

    assert bracketed("") == bracketed(" ") == ""
    assert bracketed("a record") == " (a record)"
