"""The template and mockup commands, and what they say of wrong options."""

from __future__ import annotations

import pytest

from tests.commands.test_commands import MARRAM, called


def test_a_template_is_written_as_pages_and_as_one_sheet(tmp_path):
    import ezdxf

    for ending in ("pdf", "svg", "dxf"):
        file = tmp_path / f"t.{ending}"
        code, out, err = called("template", MARRAM, "--part", "winglet", "--at", "50 %", "-o", file)
        assert (code, err) == (0, "")
        assert f"wrote {file}" in out
    assert file.stat().st_size > 1000
    assert not ezdxf.readfile(file).audit().errors


def test_a_mockup_is_written(tmp_path):
    file = tmp_path / "m.pdf"
    code, out, _ = called("mockup", MARRAM, "--part", "winglet", "-o", file)
    assert code == 0
    assert f"wrote {file}" in out
    assert file.read_bytes().startswith(b"%PDF")


WING = ("template", MARRAM, "--part", "wing")
HULL = ("template", MARRAM, "--part", "hull")
MOCK = ("mockup", MARRAM, "--part", "winglet")


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (
            ("template", MARRAM, "--part", "wyng"),
            "--part: given 'wyng'; no such name; did you mean 'wing'?",
        ),
        ((*WING, "--of", "hole"), "--of: given 'hole'; allowed: section, rib, incidence"),
        ((*WING, "--of", "cradle"), "allowed of the wing: section, incidence"),
        (WING, "--at: a place is needed"),
        ((*WING, "--at", "far out"), "--at: given 'far out'"),
        ((*WING, "--at", "BL 300 in"), "--at: given 'BL 300 in'; allowed: on the right wing, BL 0"),
        ((*WING, "--at", "120 %"), "0 % at its root to 100 % at its tip"),
        ((*WING, "--at", "50 ft"), "--at: given '50 ft'; allowed: 0 to"),
        (
            (*WING, "--at", "40 %", "--skin", "9 in"),
            "--skin: given '9 in'; allowed: less than half",
        ),
        ((*WING, "--at", "40 %", "--skin", "0 in"), "a thickness above zero"),
        ((*WING, "--at", "40 %", "--height", "9 in"), "allowed with --of cradle, not section"),
        ((*WING, "--at", "40 %", "--of", "incidence", "--contact", "70 %"), "two shares"),
        ((*WING, "--at", "40 %", "--of", "incidence", "--contact", "70 %, 71 %"), "farther apart"),
        ((*WING, "--at", "40 %", "--paper", "foolscap"), "--paper: given 'foolscap'; allowed: A4"),
        (HULL, "--at: a cradle needs its station"),
        ((*HULL, "--at", "FS 3 in"), "allowed: on the hull, FS 40 in to FS 232 in"),
        ((*HULL, "--at", "FS 112 in", "--height", "90 in"), "--height: given '90 in'; allowed"),
        ((*HULL, "--at", "FS 112 in", "--padding", "90 ft"), "--padding: given '90 ft'; allowed"),
        ((*MOCK, "--view", "below"), "--view: given 'below'; allowed: ahead, above, side"),
        ((*MOCK, "--corners", "2"), "--corners: given '2'; allowed: 3 to 16"),
        ((*MOCK, "--stock", "soon"), "--stock: given 'soon'"),
        ((*MOCK, "--stock", "1 in"), "--stock: given '1 in'; allowed: lengths from"),
        ((*MOCK, "--kerf", "9 in"), "--kerf: given '9 in'; allowed: 0 to less than"),
        (("mockup", MARRAM, "--part", "tail"), "--part: given 'tail'"),
    ],
)
def test_a_wrong_option_is_told_in_a_sentence(words, told, tmp_path):
    file = tmp_path / "out.pdf"
    code, out, err = called(*words, "-o", file)
    assert (code, out) == (2, "")
    assert told in err
    assert len(err.strip().splitlines()) == 2  # whose problems they are, and the one sentence
    assert not file.exists()


def test_a_file_that_cannot_hold_true_size_is_refused(tmp_path):
    code, _, err = called(*WING, "--at", "40 %", "-o", tmp_path / "t.png")
    assert code == 2
    assert "allowed: a file that ends in .pdf, .svg, .dxf" in err
