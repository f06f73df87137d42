"""The command that tells what would make it fit, run as a user runs it."""

from __future__ import annotations

import json

import pytest

from tests.commands.test_commands import DESIGNS, called

QUILLWORT = str(DESIGNS / "quillwort.toml")
BARN, SHED = str(DESIGNS / "barn.toml"), str(DESIGNS / "garden-shed.toml")


def test_what_comes_out_lists_nothing():
    code, out, _ = called("changes", QUILLWORT, BARN)
    assert code == 0
    assert "comes out as it stands; nothing needs to be changed" in out
    assert "\n1. " not in out


def test_json_page_and_plans_in_the_time_given(tmp_path):
    words = ("--time", "4", "--json", "-o", tmp_path / "out")
    code, out, err = called("changes", QUILLWORT, SHED, *words)
    answer = json.loads(out)
    found = answer["frees_it"]
    assert code == (0 if found else 1)  # how much is found in the time is the machine's
    assert answer["comes_out"] is not True
    assert ": frees it" in err or ": does not free it" in err or not found
    page = (tmp_path / "out" / "changes.html").read_text()
    assert "What would make it fit" in page
    written = json.loads((tmp_path / "out" / "changes.json").read_text())
    assert [one["what"] for one in written["frees_it"]] == [one["what"] for one in found]
    for one in found:
        assert one["beside"][0]["after"]["unit"] in ("m", "kg", "rad", "1", "m2")
        assert one["what"][1:] in page


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--keep", "-2 in"), "zero (just not touching) or more"),
        (("--keep", "2"), "--keep"),
        (("--stage", "complet"), "did you mean"),
        (("--stance", "gaer"), "did you mean"),
        (("--spot", "midle"), "did you mean"),
        (("--units", "yards"), "allowed: ft-in"),
    ],
)
def test_wrong_input_is_one_message(words, told):
    code, out, err = called("changes", QUILLWORT, SHED, *words)
    assert code == 2
    assert told in err
    assert out == ""
