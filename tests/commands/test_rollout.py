"""The command that finds the way out, run as a user runs it."""

from __future__ import annotations

import csv
import json
import os
import re
import signal

import pytest
from PIL import Image
from pypdf import PdfReader

from planform.cli.watching import watching
from planform.fit import way_out
from planform.study import roll_out
from planform.study.roll_out import find_way_out
from tests.commands.test_commands import DESIGNS, called, names_in
from tests.conftest import ROOT

QUILLWORT, SAMPHIRE = (str(DESIGNS / f"{name}.toml") for name in ("quillwort", "samphire"))
BARN = str(DESIGNS / "barn.toml")
ROOMS = ROOT / "benchmarks/rooms"
WIDE, LOW, NEAR = (str(ROOMS / f"{name}.toml") for name in ("wide-door", "low-head", "near-miss"))


def test_a_way_is_printed_and_handed_over(tmp_path):
    code, out, err = called("rollout", QUILLWORT, BARN, "--json", "-o", tmp_path / "out")
    answer = json.loads(out)
    assert code == 0
    assert answer["verdict"] in ("fits", "fits only with care")
    greatest = answer["greatest_clearance"]
    assert greatest["at_least"]["value"] > 0.0
    route = json.loads((tmp_path / "out" / "route.json").read_text())["route"]
    assert route["moves"]
    assert len(route["steps"]) >= 1
    names = names_in(tmp_path / "out")
    assert names >= {"route.html", "helpers-card.html", "roll-out.gif", "step-1.svg", "step-1.png"}
    with Image.open(tmp_path / "out" / "roll-out.gif") as film:
        assert film.n_frames > 5
    rows = list(csv.reader((tmp_path / "out" / "floor-marks.csv").read_text().splitlines()))
    assert len(rows) > 10
    card = (tmp_path / "out" / "helpers-card.html").read_text()
    assert "STOP" in card
    assert "left tip" in card
    assert "Traceback" not in err
    printed = PdfReader(tmp_path / "out" / "helpers-card.pdf")
    text = " ".join(" ".join(page.extract_text() for page in printed.pages).split())
    for words in (
        "STOP",
        "left tip",
        "leads",
        "Walkers, the tightest first",
        f"1 of {len(printed.pages)}",
    ):
        assert words in text
    for step in route["steps"]:
        assert f"{step['step']}. {step['instruction']}." in text


def test_no_way_is_told_with_its_reason_and_its_picture(tmp_path, monkeypatch):
    monkeypatch.setattr(way_out, "MORE", 5_000)  # how deep it jams is told roughly
    code, out, _ = called("rollout", QUILLWORT, NEAR, "-o", tmp_path / "out")
    assert code == 1
    assert "does not fit" in out
    assert "It jams with" in out
    names = names_in(tmp_path / "out")
    assert "roll-out.gif" not in names
    assert names >= {"jam.svg", "jam.png"}
    assert "Where it jams" in (tmp_path / "out" / "route.html").read_text()


def test_a_low_head_is_refused_at_once():
    code, out, _ = called("rollout", QUILLWORT, LOW)
    assert code == 1
    assert "stands higher than every door head" in out


def test_on_wheels_the_steps_never_slide(monkeypatch):
    found = []

    def once(*words):
        found[:] = found or [find_way_out(*words)]
        return found[0]

    monkeypatch.setattr(roll_out, "find_way_out", once)  # told twice, searched once
    words = ("rollout", SAMPHIRE, BARN, "--moving", "wheels", "--keep", "4 in")
    code, out, _ = called(*words, "--json")
    answer = json.loads(out)
    assert code == 0
    assert answer["on_its_own_wheels"]["answer"] == "way out"
    code, out, _ = called(*words)
    steps = re.findall(r"^\d+\. (.*)$", out, re.MULTILINE)
    assert code == 0
    assert steps
    tight = answer["tight_on_its_own_wheels"]
    assert tight[0]["tolerance"]["worst_case"] > 0.0
    rolls = ("Roll ", "Push straight ")
    assert all(s.startswith(rolls) or s.endswith("main wheel.") for s in steps)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--keep", "5"), "no unit; write 5 in or 5 mm"),
        (("--keep", "-3 mm"), "allowed: zero (just not touching) or more"),
        (("--over", "nine"), "--over"),
        (("--moving", "wings"), "allowed: dollies (any way) or wheels (no side-slip)"),
        (("--stage", "complet"), "did you mean"),
        (("--spot", "byy"), "did you mean"),
        (("--units", "yards"), "allowed: ft-in"),
    ],
)
def test_wrong_input_is_one_message(words, told, tmp_path):
    code, out, err = called("rollout", QUILLWORT, WIDE, *words, "-o", tmp_path / "out")
    assert (code, out) == (2, "")
    assert told in err
    assert not (tmp_path / "out").exists()


def test_a_spot_in_contact_is_told_with_what_it_touches(tmp_path):
    place = tmp_path / "place.toml"
    text = (ROOT / "benchmarks/rooms/wide-door.toml").read_text()
    place.write_text(text.replace('"6000 mm", "4500 mm"', '"2000 mm", "4500 mm"'))
    code, out, err = called("rollout", QUILLWORT, place)
    assert (code, out) == (2, "")
    assert "spots: bay" in err
    assert "already meets left wall, over by" in err


def test_no_clearance_asked_is_said():
    code, out, _ = called("rollout", QUILLWORT, WIDE, "--keep", "0 mm")
    assert code == 0
    assert "none was asked for: a push that strays may touch" in out


def test_an_interrupt_ends_the_search_and_not_the_command():
    before = signal.getsignal(signal.SIGINT)
    with watching(60.0) as watch:
        assert watch("way out", 10, 0.1)
        os.kill(os.getpid(), signal.SIGINT)
        assert not watch("way out", 20, 0.2)
    assert signal.getsignal(signal.SIGINT) is before
