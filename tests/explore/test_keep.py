"""'Keep this': a new file, its difference first, and none that is there written over."""

from __future__ import annotations

import os
import tomllib

import pytest

from planform.design.changing import DESIGN, PLACE, source_of
from planform.explore import keep as keeping
from planform.explore.asked import Kept
from planform.explore.keep import kept_files
from tests.conftest import DESIGNS

CANT, BOX = "winglets.winglet.cant", "bodies.hull.cuts[1].boxiness"
CHANGES = {CANT: "20 deg", BOX: "2.2"}


@pytest.fixture
def marram(tmp_path):
    path = tmp_path / "marram.toml"
    path.write_bytes((DESIGNS / "marram.toml").read_bytes())
    return path


def kept(path, name="marram-2.toml", changes=CHANGES, carry=None, *, write=False, sort=DESIGN):
    return kept_files(path, sort, Kept(name, changes, carry or {}), write)


def files_in(folder):
    return sorted(path.name for path in folder.iterdir())


def test_the_difference_is_shown_first_and_the_tolerance_is_asked_about(marram):
    found = kept(marram, write=True)
    assert files_in(marram.parent) == ["marram.toml"]
    (ask,) = found["asks"]
    assert (ask["path"], ask["tail"]) == (CANT, "± 0.25 deg (measured)")
    assert "12 deg" in ask["words"]
    changed = [line for line in found["difference"] if line[:1] in "+-"]
    assert changed[:2] == ["--- marram.toml", "+++ marram-2.toml"]
    assert len(changed) == 6
    assert changed[3].startswith('+cant = "20 deg ± 0.25 deg (measured)"    # from the vertical')


@pytest.mark.parametrize(
    ("carry", "text"), [("keep", "20 deg ± 0.25 deg (measured)"), ("drop", "20 deg")]
)
def test_the_new_file_differs_in_the_changed_values_alone(marram, carry, text):
    found = kept(marram, carry={CANT: carry}, write=True)
    new = marram.parent / "marram-2.toml"
    assert found == {"written": str(new), "files": [str(new)]}
    assert files_in(marram.parent) == ["marram-2.toml", "marram.toml"]
    before, after = (path.read_text("utf-8").split("\n") for path in (marram, new))
    differing = [k for k, pair in enumerate(zip(before, after, strict=True)) if len({*pair}) > 1]
    assert len(differing) == 2
    design = source_of(new, DESIGN).design
    assert design.winglets["winglet"].cant.text == text
    assert design.bodies["hull"].cuts[0].boxiness == 2.2
    assert marram.read_bytes() == (DESIGNS / "marram.toml").read_bytes()


def test_a_tolerance_of_its_own_is_not_asked_about(marram):
    found = kept(marram, changes={CANT: "20 deg ± 1 deg"}, write=True)
    assert "written" in found
    new = tomllib.loads((marram.parent / "marram-2.toml").read_text("utf-8"))
    assert new["winglets"]["winglet"]["cant"] == "20 deg ± 1 deg"


@pytest.mark.parametrize(
    "name",
    ["", "x", "../x.toml", "a/b.toml", "a\\b.toml", "/etc/x.toml", ".x.toml", "..toml", "x.toml\n",
     "~/x.toml", "x.toml/", "C:x.toml", "x\0.toml", "x" * 100 + ".toml"],
)  # fmt: skip
def test_a_name_that_leads_out_of_the_folder_is_refused(marram, name):
    (told,) = kept(marram, name, carry={CANT: "keep"}, write=True)["problems"]
    assert told["path"] == "name"
    assert "in the folder of the original" in told["allowed"]
    assert files_in(marram.parent) == ["marram.toml"]


def test_no_file_is_written_over(marram, tmp_path):
    (tmp_path / "taken.toml").write_text("mine", encoding="utf-8")
    (tmp_path / "leads.toml").symlink_to(tmp_path / "nowhere.toml")
    (tmp_path / "folder.toml").mkdir()
    for name in ("marram.toml", "taken.toml", "leads.toml", "folder.toml"):
        (told,) = kept(marram, name, carry={CANT: "keep"}, write=True)["problems"]
        assert told["allowed"] == "this file is there already; give another name"
    assert (tmp_path / "taken.toml").read_text("utf-8") == "mine"
    assert not (tmp_path / "nowhere.toml").exists()
    assert marram.read_bytes() == (DESIGNS / "marram.toml").read_bytes()


@pytest.mark.parametrize("second_names", [True, False])
def test_a_file_that_came_in_between_is_not_written_over(marram, monkeypatch, second_names):
    inner = os.link

    def linked(old, new):
        with open(new, "x", encoding="utf-8") as stream:
            stream.write("mine")
        if not second_names:
            raise PermissionError(1, "no second names here")
        inner(old, new)

    monkeypatch.setattr(os, "link", linked)
    (told,) = kept(marram, carry={CANT: "keep"}, write=True)["problems"]
    assert told["allowed"] == "this file is there already; give another name"
    assert files_in(marram.parent) == ["marram-2.toml", "marram.toml"]
    assert (marram.parent / "marram-2.toml").read_text("utf-8") == "mine"


def test_on_a_disk_without_second_names_the_file_is_written_too(marram, monkeypatch):
    def refused(old, new):
        raise PermissionError(1, "no second names here")

    monkeypatch.setattr(os, "link", refused)
    assert "written" in kept(marram, carry={CANT: "keep"}, write=True)
    assert files_in(marram.parent) == ["marram-2.toml", "marram.toml"]
    assert source_of(marram.parent / "marram-2.toml", DESIGN)


def test_what_is_not_written_whole_is_not_there(marram, monkeypatch):
    def full(handle):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    (told,) = kept(marram, carry={CANT: "keep"}, write=True)["problems"]
    assert "No space left on device" in told["allowed"]
    assert files_in(marram.parent) == ["marram.toml"]


def test_what_check_refuses_is_not_kept(marram):
    told = kept(marram, changes={CANT: "steep", "no.such": "1 m"}, write=True)["problems"]
    assert {one["path"] for one in told} == {CANT, "no.such"}
    assert kept(marram, changes={})["problems"][0]["allowed"].startswith("nothing is changed")
    assert files_in(marram.parent) == ["marram.toml"]


def test_a_place_is_kept_likewise(tmp_path):
    shed = tmp_path / "shed.toml"
    shed.write_bytes((DESIGNS / "boatshed.toml").read_bytes().replace(b"\n", b"\r\n"))
    changes = {"spots[1].at[2]": "16 ft", "obstacles[1].outline[1][1]": "17 ft 6 in"}
    kept(shed, "shed-2.toml", changes, write=True, sort=PLACE)
    before, after = (p.read_bytes().split(b"\r\n") for p in (shed, tmp_path / "shed-2.toml"))
    assert sum(a != b for a, b in zip(before, after, strict=True)) == 2


@pytest.fixture
def parted(marram):
    text = marram.read_text("utf-8")
    head, rest = text.split("[winglets.winglet]", 1)
    own, tail = rest.split("# --- bodies", 1)
    folder = marram.parent / "parts"
    folder.mkdir()
    (folder / "tips.toml").write_text(f"[winglets.winglet]{own}", encoding="utf-8")
    text = f"{head}# --- bodies{tail}"
    text = text.replace('units = "ft-in"', 'units = "ft-in"\ninclude = ["parts/tips.toml"]  # tips')
    marram.write_text(text, encoding="utf-8")
    return marram


def test_of_an_included_file_a_new_one_is_kept_beside_it(parted):
    found = kept(parted, carry={CANT: "keep"}, write=True)
    assert [os.path.relpath(one, parted.parent) for one in found["files"]] == [
        "parts/tips-marram-2.toml",
        "marram-2.toml",
    ]
    new = parted.parent / "marram-2.toml"
    assert 'include = ["parts/tips-marram-2.toml"]  # tips' in new.read_text("utf-8")
    design = source_of(new, DESIGN).design
    assert design.winglets["winglet"].cant.text == "20 deg ± 0.25 deg (measured)"
    assert design.bodies["hull"].cuts[0].boxiness == 2.2
    difference = kept(parted, "third.toml")["difference"]
    assert "--- tips.toml" in difference
    assert "+++ third.toml" in difference


def test_of_two_new_files_none_stays_where_one_cannot_be_written(parted, monkeypatch):
    inner = keeping._write

    def write(path, content):
        if path.name == "marram-2.toml":
            raise OSError(28, "No space left on device")
        inner(path, content)

    monkeypatch.setattr(keeping, "_write", write)
    assert "problems" in kept(parted, carry={CANT: "keep"}, write=True)
    assert files_in(parted.parent / "parts") == ["tips.toml"]


def test_a_field_of_a_file_that_an_included_one_includes_is_told_where_it_stands(parted):
    (parted.parent / "parts" / "more.toml").write_text(
        'include = ["tips.toml"]\n', encoding="utf-8"
    )
    text = parted.read_text("utf-8").replace("parts/tips.toml", "parts/more.toml")
    parted.write_text(text, encoding="utf-8")
    (told,) = kept(parted, carry={CANT: "keep"}, write=True)["problems"]
    assert told["path"] == CANT
    assert "parts/tips.toml" in told["allowed"]
    assert files_in(parted.parent) == ["marram.toml", "parts"]
