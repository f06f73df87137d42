"""`planform rig`: joints by name, a card in each form, and what is refused."""

import json
from pathlib import Path

import pytest

from tests.commands.test_commands import MARRAM, called

STAGE = 'stage = "hull on its wheels"\nstance'
FOREPLANE = "foreplane to bulkhead"


def test_joints_are_listed():
    code, out, _ = called("rig", MARRAM)
    assert code == 0
    assert FOREPLANE in out
    assert "winglet to wing" in out
    told = json.loads(called("rig", MARRAM, "--json")[1])
    first = told["joints"][0]
    assert (first["name"], first["declared"]) == (FOREPLANE, True)
    assert first["stage"] == "hull on its wheels"


def test_a_card_is_said_and_told():
    code, out, _ = called("rig", MARRAM, "--joint", FOREPLANE, "--units", "in")
    assert code == 0
    assert "± 0.54 in" in out
    assert "approves no drilling" in out
    told = json.loads(called("rig", MARRAM, "--joint", FOREPLANE, "--json")[1])
    assert told["answer"] == "rig"
    assert len(told["readings"]) == 14
    assert told["limits_given"] is True


def test_shims_for_a_tilt():
    asked = ("--joint", FOREPLANE, "--found", "tilt = 0.2 deg", "--json")
    told = json.loads(called("rig", MARRAM, *asked)[1])
    shims = {name: one["value"] for name, one in told["shims_to_set"].items()}
    assert shims["right bolt 1"] == 0.0
    assert shims["left bolt 1"] == pytest.approx(14 * 0.0254 * 0.0034907, rel=1e-4)


def test_holes_move_for_the_skew_that_was_found():
    """Bolts 3 in and 7 in from their middle: 7.616 in x 1.2 deg = 0.16 in."""
    asked = ("--joint", FOREPLANE, "--found", "skew = 1.2 deg", "--units", "in")
    assert "for 1.20 deg the holes would move by up to 0.16 in" in " ".join(
        called("rig", MARRAM, *asked)[1].split()
    )


def test_bolts_on_the_centre_line_take_no_tilt(tmp_path):
    text = Path(MARRAM).read_text(encoding="utf-8").replace('bl = "BL 7 in"', 'bl = "BL 0 in"')
    design = tmp_path / "row.toml"
    design.write_text(text, encoding="utf-8")
    out = called("rig", design, "--joint", FOREPLANE)[1]
    assert "these bolts cannot take tilt" in " ".join(out.split())
    code, _, err = called("rig", design, "--joint", FOREPLANE, "--found", "tilt = 0.2 deg")
    assert (code, "these bolts cannot take tilt" in err) == (2, True)


def test_a_bolt_far_from_its_part_is_asked_about(tmp_path):
    text = Path(MARRAM).read_text(encoding="utf-8")
    design = tmp_path / "far.toml"
    design.write_text(text.replace('{ fs = "FS 68 in"', '{ fs = "FS 168 in"'), encoding="utf-8")
    code, out, err = called("check", design)
    assert code == 0
    assert "bolts[2] lies" in " ".join((out + err).split())
    assert "bolts[" not in "".join(called("check", MARRAM)[1:])


@pytest.mark.parametrize("ending", ["pdf", "html", "svg", "json"])
def test_a_card_as_one_file(ending, tmp_path):
    target = tmp_path / f"card.{ending}"
    code, out, _ = called("rig", MARRAM, "--joint", FOREPLANE, "-o", target)
    assert code == 0
    assert len(out.splitlines()) <= 6
    assert f"wrote {target}" in out
    assert target.stat().st_size > 1000
    assert [path.name for path in tmp_path.iterdir()] == [target.name]


@pytest.mark.parametrize(
    ("options", "told"),
    [
        (["--joint", "foreplane to bulkheat"], "did you mean 'foreplane to bulkhead'?"),
        (["--found", "tilt = 1 deg"], "allowed with --joint"),
        (["--joint", FOREPLANE, "--found", "tilt"], "as 'tilt = 0.2 deg'"),
        (["--joint", FOREPLANE, "--found", "tlt = 1 deg"], "did you mean 'tilt'?"),
        (["--joint", FOREPLANE, "--found", "tilt = 1"], "no unit"),
        (["--joint", FOREPLANE, "--found", "tilt = 6 deg"], "up to 5 deg"),
        (["--joint", "winglet", "--found", "left toe = 1 deg"], "this joint has no bolts"),
        (["--joint", FOREPLANE, "-o", "card.doc"], "a name that ends in .pdf"),
        (["--joint", FOREPLANE, "--stage", "spars and winglets, no skins"], "is not on at this"),
        (["--joint", FOREPLANE, "--stance", "gaer"], "did you mean 'gear'?"),
    ],
)
def test_what_is_refused_in_one_sentence(options, told):
    code, out, err = called("rig", MARRAM, *options)
    assert (code, out) == (2, "")
    assert told in err


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ('part = "foreplane"\nto', 'part = "foreplain"\nto', "did you mean 'foreplane'?"),
        ('tilt = "0.2 deg"', 'sweep = "0.2 deg"', "may be set by tilt, skew"),
        ('tilt = "0.2 deg"', 'tilt = "0 deg"', "above zero"),
        ('tilt = "0.2 deg"', 'tilt = "9 deg"', "up to 5 deg"),
        ('fs = "1/4 in"', 'fs = "6 in"', "up to 100 mm"),
        ('fs = "FS 68 in", bl = "BL 7 in"', 'fs = "FS 68 in", bl = "BL -7 in"', "zero or more"),
        ('fs = "FS 68 in", bl = "BL 7 in"', 'fs = "FS 62 in", bl = "BL 7 in"', "a second time"),
        ('face = "down"', 'face = "below"', "face"),
        (STAGE, 'stage = "hull"\nstance', "did you mean 'hull on"),
        (STAGE, 'stage = "spars and winglets, no skins"\nstance', "is not on at this stage"),
        ('stance = "gear"\nface', 'stance = "gaer"\nface', "did you mean 'gear'?"),
        ('reference = "wing"', 'reference = "wnig"', "did you mean 'wing'?"),
        ('reference = "wing"', 'reference = "foreplane"', "another part than is set"),
        ('left_right = { sweep', 'left_right = { tilt', "left_right"),
    ],
)  # fmt: skip
def test_what_check_tells_of_a_joint(old, new, told, tmp_path):
    text = Path(MARRAM).read_text(encoding="utf-8")
    assert old in text
    bad = tmp_path / "bad.toml"
    bad.write_text(text.replace(old, new, 1), encoding="utf-8")
    code, out, err = called("check", bad)
    assert code == 2
    assert told in err + out
    assert "joints" in err + out
