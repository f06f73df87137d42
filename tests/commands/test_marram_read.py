"""The story of the demo's readings, as the docs tell it: every quoted line is what is printed."""

import re
from pathlib import Path

from tests.commands.test_commands import MARRAM, called
from tests.conftest import DESIGNS

STORY = DESIGNS.parent / "docs" / "marram-read.md"


def quoted():
    return re.findall(r"^> (.+)$", STORY.read_text(encoding="utf-8"), re.MULTILINE)


def test_the_evening_names_the_tape_and_a_rival_and_what_would_part_them(tmp_path):
    found, wanted, _ = quoted()
    code, out, _ = called("survey", MARRAM, DESIGNS / "readings" / "marram-evening.csv")
    assert code == 1  # not decided
    assert found in out
    assert wanted in out
    assert "the tape was burnt or hooked an inch off" in out


def test_the_morning_decides_and_writes_the_aircraft_as_built(tmp_path):
    *_, found = quoted()
    folder = tmp_path / "morning"
    readings = DESIGNS / "readings" / "marram-morning.csv"
    code, out, _ = called("survey", MARRAM, readings, "-o", folder)
    assert code == 0
    assert found in out
    text = (folder / "as-built.toml").read_text(encoding="utf-8")
    plain = Path(MARRAM).read_text(encoding="utf-8")
    assert text.startswith(plain.rstrip())
    assert len(text[len(plain.rstrip()) :].split("\n")) - 2 == 6
    assert 'sweep = "0.237 deg ± 0.060 deg (measured)"' in text
    code, out, _ = called("check", folder / "as-built.toml")
    assert code == 0
    assert "good" in out
