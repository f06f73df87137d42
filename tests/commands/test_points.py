"""The points command: list, pictures, an empty table that reads back, and what cannot be."""

import csv
import json

import pytest

from planform.airframe.build import build
from planform.design.load import load
from planform.design.problems import InputError
from planform.rigging.reading_file import readings_in
from tests.commands.test_commands import MARRAM, called


def test_points_are_listed_drawn_and_can_be_read_into(tmp_path):
    code, _, err = called("points", MARRAM, "-o", tmp_path / "out")
    assert (code, err) == (0, "")
    names = {path.name for path in (tmp_path / "out").iterdir()}
    assert {"points-above.svg", "points-left.svg", "points-ahead.svg", "readings.csv"} <= names
    found = json.loads((tmp_path / "out" / "points.json").read_text())
    with (tmp_path / "out" / "points.csv").open(newline="") as file:
        assert sum(1 for _ in csv.reader(file)) >= len(found["points"]) + 1
    blank = (tmp_path / "out" / "readings.csv").read_text()
    airframe = build(load(MARRAM))
    with pytest.raises(InputError, match="no readings"):
        readings_in(blank, "readings.csv", airframe)
    rows = blank + "distance,nose tip,spinner tip,,20 ft,1/8 in,tape,,\n"
    assert readings_in(rows, "readings.csv", airframe).readings[0].stage == "complete"


def test_points_of_one_part():
    _, out, _ = called("points", MARRAM, "--of", "foreplane", "--units", "in")
    assert "left foreplane tip, leading edge" in out
    assert "winglet" not in out
    code, _, err = called("points", MARRAM, "--of", "foreplne")
    assert code == 2
    assert "did you mean" in err
