"""The user's own design file with what was found written into it."""

from __future__ import annotations

import math
import tomllib

import pytest

from planform.design.as_built_file import BuiltRow, with_as_built
from planform.design.load import design_from, load
from planform.design.problems import Failure
from planform.design.units import INCH
from tests.conftest import DESIGNS

TEXT = (DESIGNS / "marram.toml").read_text(encoding="utf-8")
SWEEP = BuiltRow("outer panel", "left", "sweep", math.radians(0.25), math.radians(0.06),
                 'survey of "readings.csv", 14 readings')  # fmt: skip
WL = BuiltRow("foreplane", "", "wl", 0.125 * INCH, 0.03 * INCH, "survey")


def test_the_file_stays_and_the_tables_come_at_its_end():
    out = with_as_built(TEXT, [SWEEP, WL], "in")
    assert out.startswith(TEXT.rstrip())
    assert 'sweep = "0.250 deg ± 0.060 deg (measured)"' in out
    rows = tomllib.loads(out)["as_built"]
    assert [one["of"] for one in rows] == ["outer panel", "foreplane"]
    assert rows[0]["side"] == "left"
    assert "side" not in rows[1]


def test_what_is_written_is_a_design_with_those_values():
    table = tomllib.loads(with_as_built(TEXT, [SWEEP, WL], "in"))
    design = design_from(table)
    sweep = design.as_built[0].sweep
    assert float(sweep) == pytest.approx(math.radians(0.25), abs=1e-6)
    assert sweep.tolerance == pytest.approx(math.radians(0.06), abs=1e-6)
    assert sweep.source == "measured"
    assert float(design.as_built[1].wl) == pytest.approx(0.125 * INCH)
    assert design.model_copy(update={"as_built": ()}) == load(DESIGNS / "marram.toml")


def test_metric_files_are_written_in_millimetres():
    assert 'wl = "3.17 mm ± 0.76 mm (measured)"' in with_as_built(TEXT, [WL], "mm")


def test_one_that_is_there_gets_its_new_value():
    once = with_as_built(TEXT, [SWEEP, WL], "in")
    again = BuiltRow("outer panel", "left", "sweep", math.radians(0.1), 0.001, "second survey")
    twice = with_as_built(once, [again], "in")
    rows = tomllib.loads(twice)["as_built"]
    assert len(rows) == 2
    assert rows[0]["sweep"].startswith("0.100 deg")
    assert rows[0]["text"] == "second survey"
    assert rows[1] == tomllib.loads(once)["as_built"][1]


def test_line_ends_stay():
    out = with_as_built(TEXT.replace("\n", "\r\n"), [WL], "in")
    assert out.count("\n") == out.count("\r\n")


def test_a_list_in_one_value_is_not_broken():
    text = 'as_built = [ { of = "foreplane", fs = "1 mm" } ]\n' + TEXT
    with pytest.raises(Failure, match="as_built"):
        with_as_built(text, [SWEEP], "in")
