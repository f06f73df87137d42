"""The numbers that can be moved: every one that is written, with words and a range."""

from __future__ import annotations

import pytest

from planform.design.changing import DESIGN, PLACE, source_of, with_changes
from planform.design.naming import path_text
from planform.design.notation import read
from planform.design.vary import readings
from planform.explore.numbers import movable, sliders, written_in
from tests.conftest import DESIGNS

FILES = [
    (DESIGNS / f"{name}.toml", sort)
    for sort, names in {
        DESIGN: ("marram", "quillwort", "samphire"),
        PLACE: ("barn", "boatshed", "creamery", "garden-shed", "long-hall"),
    }.items()
    for name in names
]


@pytest.fixture(scope="module", params=FILES, ids=lambda one: one[0].stem)
def source(request):
    return source_of(*request.param)


def test_every_reading_of_a_file_is_there_once_with_words(source):
    found = sliders(source)
    paths = [one["path"] for one in found]
    assert len(set(paths)) == len(paths)
    written = {
        path_text(path)
        for path, reading in readings(source.model)
        if reading.text and _is_written(source, path)
    }
    assert written <= set(paths)
    for one in found:
        assert one["label"]
        assert one["where"]
        assert one["says"].endswith(".")
        assert "\n" not in one["says"]


def _is_written(source, path):
    table = source.whole.table
    for key in path:
        try:
            table = table[key]
        except (KeyError, IndexError, TypeError):
            return False
    return True


def test_a_slider_goes_round_its_value_and_not_beyond_what_is_allowed(source):
    for one in sliders(source):
        low, high = one["from"], one["to"]
        assert low <= one["value"] <= high, one["path"]
        assert low < high, one["path"]
        assert 0.0 < one["step"] < high - low, one["path"]
        if one["least"] is not None:
            assert one["least"] <= low
        if one["most"] is not None:
            assert high <= one["most"]


def test_what_a_slider_writes_reads_as_its_value(source):
    for one in sliders(source):
        if one["kind"] in ("ratio",):
            assert (one["unit"], one["factor"]) == ("", 1.0)
            continue
        text = f"{one['lead']}{one['value'] / one['factor']:.9f} {one['unit']}"
        assert float(read(text, one["kind"])) == pytest.approx(one["value"], abs=1e-8), one
        assert float(read(one["bare"], one["kind"], leans=True)) == one["value"]


def test_what_is_not_written_is_no_number_to_move():
    found = {one["path"] for one in sliders(source_of(DESIGNS / "boatshed.toml", PLACE))}
    assert "obstacles[2].top" in found
    assert "obstacles[2].bottom" not in found
    assert "clearances.walls" in found


@pytest.mark.parametrize(
    ("text", "kind", "unit", "lead"),
    [
        ("FS 142.5 in ± 1/8 in (measured)", "length", "in", "FS "),
        ("11'-4 1/2\"", "length", "in", ""),
        ("36 ft ± 1 in", "length", "in", ""),
        ("1250 mm", "length", "mm", ""),
        ("BL 55.5 in L", "length", "in", "BL "),
        ("LBL 12 1/2 in", "length", "in", "BL "),
        ("2° 30'", "angle", "deg", ""),
        ("inboard 4 deg", "angle", "deg", ""),
        ("0.3 rad", "angle", "rad", ""),
        ("60 gal (US) (measured)", "volume", "gal (US)", ""),
        ("0", "length", "in", ""),
        ("1854 lb", "mass", "lb", ""),
        ("12391 lb in", "moment", "lb in", ""),
        ("18.5 %", "percent", "%", ""),
        ("2.4", "ratio", "", ""),
    ],
)
def test_the_unit_that_a_text_is_written_in(text, kind, unit, lead):
    assert written_in(text, kind, "ft-in") == (unit, lead)


def test_things_that_stand_somewhere_are_moved_by_the_numbers_of_their_place():
    shed = source_of(DESIGNS / "boatshed.toml", PLACE)
    found = [one for one in sliders(shed) if one["moves"] == "chain hoist"]
    assert [one["axis"] for one in found] == ["x", "y"] * 4
    assert {"chain hoist", "lumber rack", "bench"} <= movable(shed)
    bay = {one["path"]: one["axis"] for one in sliders(shed) if one["moves"] == "building bay"}
    assert bay == {
        "spots[1].at[1]": "x",
        "spots[1].at[2]": "y",
        "spots[1].heading": "heading",
    }
    changes = {one["path"]: f"{one['value'] + 0.5:.6f} m" for one in found if one["axis"] == "x"}
    moved = with_changes(shed, changes).obstacles[0]
    before = shed.place.obstacles[0]
    for now, then in zip(moved.outline, before.outline, strict=True):
        assert float(now[0]) == pytest.approx(float(then[0]) + 0.5, abs=1e-6)
        assert now[1] == then[1]


def test_the_unit_of_an_included_file_and_its_name(tmp_path):
    (tmp_path / "gear.toml").write_text('[values]\ngap = "2 in"\n', encoding="utf-8")
    text = (DESIGNS / "boatshed.toml").read_text(encoding="utf-8")
    text = text.replace('units = "ft-in"', 'units = "ft-in"\ninclude = ["gear.toml"]')
    text = text.replace('walls = "6 in"', 'walls = "= gap + 4 in"')
    (tmp_path / "shed.toml").write_text(text, encoding="utf-8")
    found = {one["path"]: one for one in sliders(source_of(tmp_path / "shed.toml", PLACE))}
    assert found["values.gap"]["file"] == "gear.toml"
    assert found["clearances.walls"]["file"] == ""
    assert found["clearances.walls"]["shared"] == ("values.gap",)
    assert found["clearances.walls"]["value"] == pytest.approx(6 * 0.0254)
