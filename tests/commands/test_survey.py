"""The command that holds readings against the drawing, run as a user runs it."""

from __future__ import annotations

import json
import math
import shutil
import tomllib

import numpy as np
import pytest

from planform.airframe.build import build
from planform.airframe.freedoms import displaced, freedoms
from planform.airframe.stages import stand
from planform.design.load import load
from planform.design.units import INCH
from planform.rigging.equations import equations
from planform.rigging.reading_file import readings_in
from planform.rigging.scan.surface import skin_of
from planform.study.scanned import in_aircraft_axes
from tests.commands.test_commands import DESIGNS, called, names_in

MARRAM, BARN = str(DESIGNS / "marram.toml"), str(DESIGNS / "barn.toml")
PANEL = ("outer panel tip, leading edge", "outer panel tip, trailing edge",
         "outer panel root, leading edge", "outer panel root, trailing edge",
         "winglet tip, leading edge", "foreplane tip, leading edge")  # fmt: skip
FROM = ("nose tip", "hull tail end", "spinner tip", "spar bulkhead, top", "nose axle")
WRITTEN = {"as-built.toml", "survey.csv", "survey.html", "survey.json", "survey.pdf",
           "readings-above.png", "readings-above.svg", "readings-ahead.png", "readings-ahead.svg",
           "readings-left.png", "readings-left.svg"}  # fmt: skip


def asked():
    """What is read: tapes from the hull to both panels, and heights over the floor."""
    rows = []
    for side in ("left", "right"):
        ends = [f"{side} {one}" for one in PANEL]
        near = (*FROM, f"{side} main axle")
        rows += [("distance", start, end) for start in near for end in ends]
        rows += [("height", end, "") for end in (*ends, f"{side} main axle")]
    rows += [("height", point, "") for point in FROM]
    left, right = (f"{side} {PANEL[0]}" for side in ("left", "right"))
    return [*rows, ("distance", left, right)]


def table(rows, values):
    lines = ["what,point,to,read,tolerance,instrument"]
    for (what, point, to), value in zip(rows, values, strict=True):
        lines.append(f'{what},"{point}","{to}",{value / INCH:.3f} in,1/16 in,tape')
    return "\n".join(lines) + "\n"


def readings(airframe, off, wrong=None, kept=None):
    """The table of an aircraft that is so far off; wrong : the row that is an inch too long."""
    rows = asked()[:kept]
    own = equations(airframe, readings_in(table(rows, [1.0] * len(rows)), "made", airframe))
    ways = [one for one in freedoms(airframe) if one.name in off]
    assert len(ways) == len(off)
    at = displaced(ways, [off[w.name] for w in ways], [p.part for p in own.points], own.at)
    dice = np.random.default_rng(3)
    values = own.seen(at, own.start) + dice.uniform(-0.9, 0.9, len(rows)) * INCH / 16
    if wrong is not None:
        values[wrong] += INCH
    return table(rows, values)


@pytest.fixture(scope="module")
def marram():
    return build(load(MARRAM))


@pytest.fixture(scope="module")
def survey(marram, tmp_path_factory):
    """A quarter of a degree of sweep, and one tape hooked an inch off, found by the command."""
    folder = tmp_path_factory.mktemp("survey")
    file = folder / "shop.csv"
    file.write_text(readings(marram, {"left outer panel, sweep": math.radians(0.25)}, wrong=0))
    done = called("survey", MARRAM, file, "-o", folder / "out")
    return folder, file, done


def test_what_is_found_comes_first_and_all_is_written(survey):
    folder, _, (code, out, _) = survey
    assert code == 0
    first = out.splitlines()[0]
    assert first.startswith("Found from ")
    assert "left outer panel sweep 0.2" in first
    assert "tip aft, and row 2 (distance, nose tip to left outer panel tip" in first
    assert "looks like 1 in" in out
    assert names_in(folder / "out") == WRITTEN
    answer = json.loads((folder / "out" / "survey.json").read_text())
    assert [one["deviation"] for one in answer["found"]] == ["left outer panel, sweep"]
    off = answer["found"][0]
    assert abs(off["by"]["value"] - math.radians(0.25)) < off["half_width_95"]["value"]


def test_the_design_as_built_is_one_that_every_command_takes(survey):
    folder, _, _ = survey
    file = folder / "out" / "as-built.toml"
    (row,) = tomllib.loads(file.read_text())["as_built"]
    assert (row["of"], row["side"]) == ("outer panel", "left")
    assert row["text"].startswith("survey of shop.csv, ")
    assert called("check", file)[0] == 0
    before, after = (json.loads(called("measure", one, "--json")[1]) for one in (MARRAM, file))
    assert before != after


def test_before_and_after_by_hand(survey):
    """The left tip goes aft by the sweep times the panel's butt lines, 66 in to 174 in."""
    _, file, _ = survey
    answer = json.loads(called("survey", MARRAM, file, "--json")[1])
    sides = answer["before_and_after"]["figures"]["Left and right apart"]
    aft = next(one for one in sides if one["what"] == "wing tips, right one aft of the left")
    by = answer["found"][0]["by"]["value"]
    assert aft["drawn"]["value"] == 0.0
    assert aft["built"]["value"] == pytest.approx(-by * 108.0 * INCH, rel=0.02)
    assert aft["built_within"]["value"] > 0.0


def test_in_a_place_the_verdicts_stand_beside_each_other(survey):
    _, file, _ = survey
    code, out, _ = called("survey", MARRAM, file, BARN)
    assert code == 0
    assert "In the place" in out
    assert "least gap on the way out" in out


def test_points_taken_as_drawn(survey):
    _, file, _ = survey
    datum = "left outer panel tip, leading edge; right outer panel tip leading edge"
    answer = json.loads(called("survey", MARRAM, file, "--datum", datum, "--json")[1])
    assert not any("outer panel, sweep" in one["deviation"] for one in answer["found"])


def test_as_drawn_nothing_is_built_in(marram, tmp_path):
    file = tmp_path / "same.csv"
    file.write_text(readings(marram, {}))
    code, out, _ = called("survey", MARRAM, file, "-o", tmp_path / "out")
    assert code == 0
    assert out.startswith("Nothing found: ")
    assert "possible deviations open" in out
    assert names_in(tmp_path / "out") == WRITTEN - {"as-built.toml"}


def test_too_few_is_the_answer(marram, tmp_path):
    file = tmp_path / "few.csv"
    file.write_text("what,point,read\nheight,nose tip,3 ft\nheight,nose axle,2 in\n")
    code, out, _ = called("survey", MARRAM, file)
    assert code == 1
    assert "No answer: " in out


def test_files_that_the_design_names_come_along(survey, tmp_path):
    _, file, _ = survey
    text = (DESIGNS / "marram.toml").read_text()
    start = text.index("[stances") if "[stances" in text else text.index("[[stages]]")
    (tmp_path / "own").mkdir()
    (tmp_path / "own" / "rest.toml").write_text(text[start:])
    (tmp_path / "own" / "mine.toml").write_text('include = ["rest.toml"]\n' + text[:start])
    code, _, err = called("survey", tmp_path / "own" / "mine.toml", file, "-o", tmp_path / "out")
    assert code == 0, err
    assert names_in(tmp_path / "out") == WRITTEN | {"rest.toml"}
    shutil.rmtree(tmp_path / "own")
    assert called("check", tmp_path / "out" / "as-built.toml")[0] == 0


GOOD = "what,point,to,read\ndistance,nose tip,spinner tip,240 in\n"


@pytest.mark.parametrize(
    ("text", "more", "told"),
    [
        ("", (), "no readings"),
        ("what,point,to,read\ndistance,nose tap,spinner tip,240 in\n", (), "nose tip"),
        ("what,point,to,read\ndistance,nose tip,spinner tip,#REF!\n", (), "line 2"),
        (GOOD, ("--datum", "left wing tap"), "--datum"),
        (GOOD, ("--stage", "complet"), "complete"),
        (GOOD, ("--stance", "kneelin"), "did you mean"),
        (GOOD, ("--scanned", "mm"), "allowed with a scan"),
        (GOOD, ("--units", "yard"), "ft-in"),
        (GOOD, ("--paper", "A3"), "A4"),
    ],
)
def test_wrong_input_is_one_message_and_writes_nothing(tmp_path, text, more, told):
    file = tmp_path / "wrong.csv"
    file.write_text(text)
    code, out, err = called("survey", MARRAM, file, *more, "-o", tmp_path / "out")
    assert (code, out) == (2, "")
    assert told in err
    assert "Traceback" not in err
    assert not (tmp_path / "out").exists()


def test_files_that_are_none(tmp_path):
    for words, told in (
        ((MARRAM, tmp_path / "none.csv"), "no such file"),
        ((BARN, tmp_path / "none.csv"), "design"),
        ((MARRAM, tmp_path), str(tmp_path)),
    ):
        code, out, err = called("survey", *words)
        assert (code, out) == (2, "")
        assert told in err


def test_a_scan_is_laid_on_the_drawing(tmp_path):
    standing = stand(build(load(MARRAM)))
    skin = skin_of(in_aircraft_axes(standing), 0.06)
    dice = np.random.default_rng(5)
    points = skin.at + dice.normal(0.0, 0.001, skin.at.shape) + np.array([4.0, -2.0, 1.0])
    file = tmp_path / "scan.xyz"
    np.savetxt(file, points * 1000.0, fmt="%.2f")
    code, out, _ = called("survey", MARRAM, file, "--scanned", "mm", "-o", tmp_path / "out")
    assert code == 0
    assert "lie on the aircraft" in out
    assert {"survey.html", "survey.pdf", "scan-above.svg", "scan-cut-left.png"} <= names_in(
        tmp_path / "out"
    )
    answer = json.loads((tmp_path / "out" / "survey.json").read_text())
    hull = next(one for one in answer["parts"] if one["part"] == "hull")
    assert abs(hull["mean"]["value"]) < 0.0005
    for more, told in (((), "--scanned"), ((BARN, "--scanned", "mm"), "a table of readings")):
        code, out, err = called("survey", MARRAM, file, *more)
        assert (code, out) == (2, "")
        assert told in err
