"""Sizes that nothing has, shapes that cannot be, and files that are none: one sentence each."""

from __future__ import annotations

import copy
import math
import os
import re

import pytest

import planform as pf
from planform.design.bounds import LONGEST_LIST, SIZES
from planform.design.fields import Model
from planform.design.load import design_from, place_from
from planform.design.naming import path_of, path_text
from planform.study.sound import refusals
from tests.conftest import PLAIN, ROOM
from tests.fuzz.drive import run


def told(table, read=design_from):
    with pytest.raises(pf.InputError) as caught:
        read(table)
    return {p.path: str(p) for p in caught.value.problems}


def scaled(node, factor):
    """The same file with every length taken times a factor."""
    if isinstance(node, dict):
        return {key: scaled(value, factor) for key, value in node.items()}
    if isinstance(node, list):
        return [scaled(value, factor) for value in node]
    if isinstance(node, str) and re.fullmatch(r"-?[\d.]+ m", node):
        return f"{float(node[:-2]) * factor:.6f} m"
    return node


@pytest.mark.parametrize("factor", [0.125, 1.0, 10.0])
def test_models_and_large_aircraft_pass(factor):
    design = design_from(scaled(PLAIN, factor))
    assert not refusals(design)


@pytest.mark.parametrize("factor", [0.001, 0.0254, 25.4, 1000.0])
def test_an_aircraft_in_the_wrong_unit_is_asked_about(factor):
    assert "is the unit right?" in " ".join(told(scaled(PLAIN, factor)).values())


@pytest.mark.parametrize("side", ["9000 m", "400 m", "8 mm"])
def test_a_room_in_the_wrong_unit_is_asked_about(room, side):
    room["floor"]["width"] = side
    assert "is the unit right?" in told(room, place_from)["floor.width"]


def test_a_hangar_of_150_m_passes(room):
    room["floor"] = {"width": "150 m", "depth": "150 m"}
    assert place_from(room).floor.width == 150.0


def all_models(base):
    return [one for sub in base.__subclasses__() for one in (sub, *all_models(sub))]


def test_every_bound_is_of_a_field_that_there_is():
    models = {model.__name__: model for model in all_models(Model)}
    for (owner, field), (low, high) in SIZES.items():
        found = [models[owner]] if owner in models else []
        assert found, owner
        assert field in found[0].model_fields, (owner, field)
        assert 0.0 <= low < high


def changed(base, path, value):
    table = copy.deepcopy(base)
    node, *rest = table, *path
    for key in rest[:-1]:
        node = node[key]
    node[rest[-1]] = value
    return table


WING = ("lifting", "wing", "cuts")
SHAPES = {
    "paired wheel left of the centre": (("wheels", "main", "bl"), "-1 m", "mirror image"),
    "paired wheel on the centre": (("wheels", "main", "bl"), "0 m", "mirror image"),
    "a tyre flatter than its wheel": (("wheels", "main", "flat_drop"), "0.3 m", "half the diam"),
    "a tolerance over the length": ((*WING, 1, "chord"), "1 m ± 1 m", "a tolerance of less"),
    "a sweep of a right angle": ((*WING, 1, "sweep_le_plan"), "90 deg", "within 85 deg"),
    "a name with an escape": (("name",), "a\x1b[31m", "U+001B"),
    "a name from right to left": (("name",), "a\u202eb", "right-to-left override"),
    "a name of two lines": (("name",), "a\nb", "on one line"),
    "a name with a space behind it": (("name",), "Plain ", "no spaces at its ends"),
}


@pytest.mark.parametrize("case", SHAPES)
def test_a_design_that_cannot_be(case):
    path, value, words = SHAPES[case]
    assert words in " ".join(told(changed(PLAIN, path, value)).values())


def test_a_fin_with_the_role_of_a_wing(plain):
    plain["lifting"]["wing"]["cuts"][1] = {
        "bl": "0 m", "wl": "2 m", "fs": "0 m", "chord": "1 m",
    }  # fmt: skip
    assert "allowed: fin, as it stands upright" in told(plain)["lifting.wing.role"]


def test_a_body_wider_than_the_wing_is_refused_by_check(plain):
    for station in plain["bodies"]["pod"]["cuts"]:
        station["half_width"] = "4.5 m"
    (problem,) = refusals(design_from(plain))
    assert "narrower than the wing" in problem.allowed


def test_more_deducted_than_there_is(plain):
    fuel = {"name": "fuel", "volume": "1100 gal (US)", "fluid": "avgas", "fs": "1 m"}
    scales = [{"at": n, "reading": "100 kg"} for n in ("nose", "left main", "right main")]
    plain["balance"] = {"weighing": {"scales": scales, "deduct": [fuel]}}
    assert "less than the aircraft itself" in told(plain)["balance.weighing.deduct"]


def test_limits_that_cross_in_different_words_are_refused_by_check(plain):
    plain["balance"] = {"limits": {"forward": [{"fs": "5 m"}], "aft": [{"percent_mac": "10 %"}]}}
    (problem,) = refusals(design_from(plain))
    assert "forward limit ahead of the aft one" in problem.allowed


def test_a_span_over_the_last_class_of_the_airfields_is_said(tmp_path):
    from tests.fuzz.changes import written

    path = tmp_path / "wide.toml"
    path.write_text(written(scaled(PLAIN, 12.0)), encoding="utf-8")
    answer = run("sheet", str(path), "-o", str(tmp_path / "out.svg"))
    assert answer.code == 0, answer
    page = (tmp_path / "out.svg").read_text("utf-8")
    assert "larger than group VI" in page
    assert "larger than letter F" in page


OUTLINES = {
    "a corner twice": ([(0, 0), (4, 0), (4, 0), (4, 3)], "corners 2 and 3 at one place"),
    "the first again": ([(0, 0), (4, 0), (4, 3), (0, 0)], "at one place"),
    "sides that cross": ([(0, 0), (4, 3), (4, 0), (0, 3)], "cross"),
    "a corner on a side": ([(0, 0), (4, 0), (4, 3), (2, 0), (0, 3)], "lies on the side"),
    "a spike": ([(0, 0), (4, 0), (2, 0), (2, 3)], "lies on the side"),
}


@pytest.mark.parametrize("case", OUTLINES)
def test_an_outline_that_encloses_no_floor(room, case):
    corners, words = OUTLINES[case]
    room["obstacles"] = [
        {"name": "rack", "kind": "standing", "top": "1 m",
         "outline": [[f"{x} m", f"{y} m"] for x, y in corners]}
    ]  # fmt: skip
    assert words in told(room, place_from)["obstacles[1].outline"]


def test_a_round_floor_passes(room):
    ring = [2.0 * math.pi * k / LONGEST_LIST for k in range(LONGEST_LIST)]
    corners = [(16.0 + 15.0 * math.cos(a), 16.0 + 15.0 * math.sin(a)) for a in ring]
    room["floor"] = {"outline": [[f"{x:.6f} m", f"{y:.6f} m"] for x, y in corners]}
    room["spots"][0]["at"] = ["16 m", "16 m"]
    room["doors"] = []
    assert len(place_from(room).floor.outline) == LONGEST_LIST


def test_two_openings_over_one_another(room):
    room["doors"].append({**ROOM["doors"][0], "name": "other", "from_corner": "3 m"})
    assert "beyond 'door'" in told(room, place_from)["doors[2].from_corner"]


@pytest.mark.parametrize("unit", ["m", "mm", "in"])
def test_two_openings_that_meet(room, unit):
    each = {"m": ("3.2", "1.6", "4.8"), "mm": ("3200", "1600", "4800"), "in": ("126", "63", "189")}
    begins, wide, other = (f"{size} {unit}" for size in each[unit])
    first = {**ROOM["doors"][0], "from_corner": begins, "clear_width": wide, "name": "first"}
    second = {**first, "name": "second", "from_corner": other}
    room["doors"] = [first, second]
    assert [door.name for door in place_from(room).doors] == ["first", "second"]


def test_more_than_can_be_meant(room):
    room["obstacles"] = [{}] * 2000
    assert told(room, place_from) == {
        "obstacles": f"obstacles: given 2000 entries; allowed: at most {LONGEST_LIST} entries"
    }


FILES = {
    "many digits": "x = " + "9" * 5000,
    "a long key": ".".join("a" * 20_000) + " = 1",
    "deep": "a = " + "[" * 400 + "]" * 400,
    "marks of Windows": '\ufeffformat = "planform design 1"\r\nname = "A"\r\n',
    "a hostile key": 'format = "planform design 1"\n"\\u001b[2Jx" = 1',
}


@pytest.mark.parametrize("case", FILES)
def test_an_odd_file_is_told_in_words(tmp_path, case):
    path = tmp_path / "odd.toml"
    path.write_bytes(FILES[case].encode("utf-8"))
    answer = run("check", str(path))
    assert answer.code == 2
    assert not answer.failure
    assert answer.err.startswith(str(path))
    assert "\x1b" not in answer.err
    assert answer.seconds < 2.0


def test_what_is_no_file_is_not_read(tmp_path):
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    for path in ("/dev/zero", "/dev/null", str(pipe), str(tmp_path)):
        answer = run("check", path)
        assert answer.code == 2
        assert "name a .toml file" in answer.err


@pytest.mark.parametrize("name", ["winglet", "a.b", "x[2]", 'say "hi"', "it's", "k=v, w", "[b]"])
def test_a_path_says_any_name_and_is_read_again(name):
    path = ("winglets", name, "cuts", 3, "cant")
    assert path_of(path_text(path)) == path


def test_a_name_with_points_can_be_varied(plain):
    plain["winglets"] = {"my.winglet [1]": plain["winglets"]["winglet"]}
    design = design_from(plain)
    changed_one = pf.changed(design, 'winglets."my.winglet [1]".cant', "7 deg")
    assert changed_one.winglets["my.winglet [1]"].cant == pytest.approx(math.radians(7.0))
