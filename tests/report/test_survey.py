"""A survey as it is told: the sentence, the lists, the record, the pictures, the folder."""

from __future__ import annotations

import json
import math
import re
from dataclasses import replace

import numpy as np
import pytest

from planform.cli.show import say
from planform.drawing.drawing import Fill, Line
from planform.report.answer import write
from planform.report.record import document
from planform.report.survey.answer import SurveyAnswer
from planform.report.survey.picture import BAD, GOOD, exaggeration, pictures
from planform.report.survey.words import verdict, way
from tests.report.made_survey import DEG, made_survey, with_rivals


@pytest.fixture(scope="module")
def made():
    return made_survey()


def lines(found, system="ft-in"):
    return "\n".join(b for b in SurveyAnswer(found=found).in_short(system) if isinstance(b, str))


def test_what_was_found_comes_first(made):
    first = next(iter(SurveyAnswer(found=made).in_short("ft-in")))
    assert first == verdict(made, "ft-in")
    assert re.match(r"Found from 22 readings: left wing dihedral 0\.[34]\d deg ± 0\.\d\d° tip up, "
                    r"and row 6 \(.*\) read wrong\.", first)  # fmt: skip
    assert "inch off. Read it again." in lines(made)


def test_a_deviation_the_other_way_is_told_so():
    assert "tip down" in verdict(made_survey(dihedral=-0.4 * DEG), "mm")


@pytest.mark.parametrize(
    ("name", "by", "words"),
    [("left wing, sweep", 1.0, "tip aft"), ("foreplane, skew", -1.0, "right tip forward"),
     ("left main wheel, bl", 1.0, "outboard"), ("foreplane, bl", -1.0, "left"),
     ("fuselage, bend_sideways", 1.0, "nose to the right"), ("a, thing", 1.0, "")],
)  # fmt: skip
def test_which_way(name, by, words):
    assert way(name, by) == words


def test_nothing_found_and_too_few_are_answers():
    same = made_survey(0.0, 0.0)
    assert verdict(same, "mm").startswith("Nothing found: 22 readings agree")
    assert SurveyAnswer(found=same).good
    few = made_survey(few=True)
    assert verdict(few, "mm").startswith("No answer: ")
    assert not SurveyAnswer(found=few).good
    assert "as-built.toml" not in SurveyAnswer(found=few).files("mm")


def test_every_list_is_told_in_every_form(made, tmp_path):
    found = with_rivals(made)
    told = lines(found)
    for words in (
        "Other explanations",
        "2 more explanations",
        "Read next",
        "no instrument",
        "Could be wrong unseen",
        "No reading sees: left wing sweep.",
        "b and c",
        "To part them",
    ):
        assert words in told
    answer = SurveyAnswer(found=found)
    assert not answer.good
    names = write(answer, tmp_path / "out", "in")
    assert {"as-built.toml", "survey.html", "survey.json", "survey.pdf", "readings-ahead.svg"} <= {
        *names
    }
    page = (tmp_path / "out" / "survey.html").read_text()
    for line in told.splitlines():
        assert line.removeprefix("- ").rstrip(":").replace("“", "")[:40] in page
    assert (tmp_path / "out" / "survey.pdf").read_bytes().startswith(b"%PDF")


def test_the_record_is_plain_numbers(made):
    found = with_rivals(made)
    record = json.loads(document("survey", SurveyAnswer(found=found).record("mm")))
    deviation = record["found"][0]
    assert deviation["deviation"] == "left wing, dihedral"
    assert deviation["by"]["unit"] == "rad"
    assert deviation["by"]["value"] == pytest.approx(
        0.4 * DEG, abs=deviation["half_width_95"]["value"]
    )
    assert record["suspects"][0]["residual"] == pytest.approx(record["suspects"][0]["residual"])
    assert record["suspects"][0]["residual"]["value"] == pytest.approx(0.0254, abs=0.003)
    assert len(record["readings"]) == 22
    assert len(record["correlation"]) == len(record["all_free"]) == 3
    assert record["rivals"][0]["deviations"]["foreplane, tilt"]["value"] == pytest.approx(0.3 * DEG)


def test_arrows_are_what_is_left_to_scale(made):
    factor = exaggeration(made)
    drawing = pictures(made)["readings-ahead"]
    drawn = [m for m in drawing.marks if isinstance(m, Line) and m.kind is GOOD]
    left = np.abs(made.explanation.residuals) * factor
    seen = sorted(float(np.ptp(m.points[:, 1])) for m in drawn)
    shown = sorted(x for x in np.delete(left, 4) if x * drawing.scale >= 6.0)
    assert seen == pytest.approx(shown, rel=1e-6)
    assert any(isinstance(m, Line) and m.kind is BAD for m in drawing.marks)
    assert any(isinstance(m, Fill) for m in drawing.marks)


def test_readings_of_no_point_have_no_picture(made):
    blind = replace(made, spots=(None,) * len(made.spots))
    assert pictures(blind) == {}
    assert "Where it was read" not in SurveyAnswer(found=blind).files("mm")["survey.html"]


def test_a_terminal_takes_all_of_it(made, capsys):
    for block in SurveyAnswer(found=made).said("ft-in"):
        say(block, "ft-in")
    out = capsys.readouterr().out
    assert "caution: This approves no drilling" in out
    assert "neutral point" in out
    assert not math.isnan(float(len(out)))
