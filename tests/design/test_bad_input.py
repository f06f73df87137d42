"""Bad files: all mistakes at once, in words; odd but legal ones are asked about."""

from __future__ import annotations

import contextlib
import copy
import re

import pytest

import planform as pf
from planform.airframe.stance import stage_named
from planform.design.load import design_from, place_from
from planform.design.questions import design_questions, place_questions

LID = {
    "hinge_from": {"fs": "0 m", "bl": "0.4 m", "wl": "0.4 m"},
    "hinge_to": {"fs": "1 m", "bl": "0.4 m", "wl": "0.4 m"},
    "width": "0.8 m",
    "toward": "left",
    "thickness": "0.02 m",
    "strut": {
        "length": "3 m",
        "frame_mount": {"fs": "0.5 m", "bl": "0.3 m", "wl": "0.1 m"},
        "panel_mount": {"fs": "0.5 m", "bl": "0 m", "wl": "0.4 m"},
    },
}


def problems(table, read=design_from):
    with pytest.raises(pf.InputError) as caught:
        read(table)
    return {p.path: str(p) for p in caught.value.problems}


def test_many_mistakes_of_one_file_are_told_together(plain):
    wing = plain["lifting"]["wing"]["cuts"]
    wing[0]["chord"] = "-2 m"
    wing[1]["bl"] = 4
    wing[1]["chrd"] = "1 m"
    plain["winglets"]["winglet"]["on"] = "wnig"
    plain["winglets"]["winglet"]["cant"] = "12,5 mm"
    plain["bodies"]["pod"]["cuts"][1]["fs"] = "-3 m"
    plain["stages"][0]["without"] = ["canrad"]
    plain["stages"][0]["stance"] = "geer"
    plain["stances"]["gear"]["on"] = ["nose"]
    plain["colour"] = "red"
    found = problems(plain)
    assert "above zero" in found["lifting.wing.cuts[1].chord"]
    assert "write 4 in or 4 mm" in found["lifting.wing.cuts[2].bl"]
    assert "did you mean chord?" in found["lifting.wing.cuts[2].chrd"]
    assert "did you mean 'wing'?" in found["winglets.winglet.on"]
    assert "winglets.winglet.cant" in found
    assert "aft of the cut before it (-2 m)" in found["bodies.pod.cuts[2].fs"]
    assert "no such name" in found["stages[1].without"]
    assert "did you mean 'gear'?" in found["stages[1].stance"]
    assert "three or more" in found["stances.gear.on"]
    assert "no such field" in found["colour"]
    assert len(found) == 10


@pytest.mark.parametrize(
    ("chord", "words"),
    [
        ("0 m", "above zero"),
        ("-1 m", "above zero"),
        (1.0, "write 1.0 in or 1.0 mm"),
        ("12,5 mm", "12.5"),
        (float("nan"), "finite"),
        ("nan m", ""),
        ("8 kg", "kg is a unit of mass"),
        ("", ""),
        (True, ""),
        (None, ""),
    ],
)
def test_a_bad_chord(plain, chord, words):
    plain["lifting"]["wing"]["cuts"][0]["chord"] = chord
    assert words in problems(plain)["lifting.wing.cuts[1].chord"]


def test_sections_must_go_outward(plain):
    plain["lifting"]["wing"]["cuts"].append({"bl": "3 m", "fs": "1 m", "chord": "1 m"})
    assert "further out" in problems(plain)["lifting.wing.cuts[3].bl"]


def test_two_ways_of_saying_one_thing(plain):
    plain["lifting"]["wing"]["cuts"][1]["fs"] = "1 m"
    assert "only one of fs, sweep" in problems(plain)["lifting.wing.cuts[2]"]


def test_first_section_names_its_place(plain):
    del plain["lifting"]["wing"]["cuts"][0]["wl"]
    assert "first cut names fs, bl and wl" in problems(plain)["lifting.wing.cuts[1]"]


def test_unknown_profile(plain):
    plain["lifting"]["wing"]["profile"] = "NACA 24"
    assert "lifting.wing.profile" in problems(plain)


def test_missing_wheel_in_a_stance(plain):
    plain["stances"]["gear"]["on"] = ["nose", "mane"]
    assert "did you mean 'main'?" in problems(plain)["stances.gear.on"]


def test_contacts_on_one_line(plain):
    plain["pads"] = {
        name: {"fs": f"{k} m", "bl": "0 m", "wl": "-1 m"} for k, name in enumerate("abc")
    }
    plain["stances"]["jacks"] = {"on": ["a", "b", "c"]}
    assert "on one line" in problems(plain)["stances.jacks.on"]


def test_strut_that_cannot_be(plain):
    plain["panels"] = {"canopy": copy.deepcopy(LID)}
    assert (
        "longer than its mounts are apart with the panel shut"
        in problems(plain)["panels.canopy.strut.length"]
    )


def test_door_wider_than_its_wall(room):
    room["doors"][0]["clear_width"] = "13 m"
    assert "opening inside its wall" in problems(room, place_from)["doors[1].clear_width"]


def test_ceiling_under_the_door_head(room):
    room["ceiling"]["height"] = "2.4 m"
    assert "head under the ceiling" in problems(room, place_from)["doors[1].clear_height"]


def test_door_on_no_wall(room):
    room["doors"][0]["wall"] = "frunt"
    assert "did you mean 'front'?" in problems(room, place_from)["doors[1].wall"]


def test_obstacle_upside_down(room):
    room["obstacles"] = [
        {
            "name": "lamp",
            "kind": "hanging",
            "outline": [["1 m", "1 m"], ["2 m", "1 m"], ["2 m", "2 m"]],
            "bottom": "2 m",
            "top": "1 m",
        }
    ]
    assert "upside down" in problems(room, place_from)["obstacles[1].top"]


def test_crossing_outline(room):
    room["floor"] = {"outline": [["0 m", "0 m"], ["9 m", "9 m"], ["9 m", "0 m"], ["0 m", "9 m"]]}
    room["doors"] = []
    assert "corners in order" in problems(room, place_from)["floor.outline"]


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "empty"),
        (b"\x00\xff\xfe\x80", "not a text file"),
        (b"name = 'x", "not readable as TOML"),
        (b"a = 1\na = 2\n", "not readable as TOML"),
        (
            b"a = 1\nfront seat = 2\n",
            'line 2: the name “front seat” has a space and stands in quotes; write "front',
        ),
        (b"a = [\n { b = 1, c d.e = 2 } ]\n", "line 2: the name “c d” has a space and stands in"),
        (b"[balance.places.front seat]\n", 'write [balance.places."front seat"]'),
        (b"[[build stages]]\n", 'write [["build stages"]]'),
        ("t\u00fcr = 3".encode(), 'write "t\u00fcr" = …'),
        (b"front seat\n", "not readable as TOML"),
        (b"a = 1 2\n", "not readable as TOML"),
    ],
)
def test_files_that_are_no_design(tmp_path, content, words):
    path = tmp_path / "file.toml"
    path.write_bytes(content)
    with pytest.raises(pf.InputError, match=re.escape(words)):
        pf.load(path)


def test_huge_file_is_refused_without_reading(tmp_path):
    path = tmp_path / "huge.toml"
    with path.open("wb") as file:
        file.truncate(100_000_000)
    with pytest.raises(pf.InputError, match=r"100\.0 MB"):
        pf.load(path)


def test_missing_file_and_folder(tmp_path):
    with pytest.raises(pf.InputError, match="no such file"):
        pf.load(tmp_path / "none.toml")
    with pytest.raises(pf.InputError, match="folder"):
        pf.load(tmp_path)


def test_questions_on_legal_but_odd(plain):
    cuts = plain["lifting"]["wing"]["cuts"]
    del cuts[1]["sweep_le_plan"]
    cuts[1]["sweep"] = "0.349 deg"
    cuts[1]["chord"] = "2.5 m"
    plain["winglets"]["winglet"]["tip_chord"] = "0.031 m"
    asked = "\n".join(design_questions(design_from(plain)))
    assert "names no line" in asked
    assert "is it 20.0 deg?" in asked
    assert "longer than the root chord" in asked
    assert "inches and millimetres mixed" in asked


def test_a_plain_design_raises_no_question(plain):
    assert design_questions(design_from(plain)) == ()


def test_place_without_wishes_is_asked(room):
    room["clearances"] = {}
    asked = place_questions(place_from(room))
    assert any(
        "no clearance is wanted for walls, ceiling, obstacles, door sides" in q for q in asked
    )


def test_change_is_checked_again(plain):
    design = design_from(plain)
    other = pf.changed(design, "winglets.winglet.cant", "15 deg")
    assert float(other.winglets["winglet"].cant) == pytest.approx(0.2617993877991494)
    with pytest.raises(pf.InputError, match="above zero"):
        pf.changed(design, "lifting.wing.cuts[2].chord", "-1 m")
    with pytest.raises(pf.InputError, match="no such field"):
        pf.changed(design, "lifting.wing.cuts[9].chord", "1 m")


def test_dump_and_read_again_is_equal(plain):
    design = design_from(plain)
    assert design_from(design.model_dump(mode="json", exclude_unset=True)) == design


@pytest.mark.parametrize("steers", ["0 deg", "90 deg", "-20 deg"])
def test_a_nose_wheel_steers_less_than_square(plain, steers):
    plain["wheels"]["nose"]["steers"] = steers
    with pytest.raises(pf.InputError, match="more than 0 and less than 90 deg"):
        design_from(plain)


def test_a_mistake_in_the_wing_does_not_make_it_no_wing(plain):
    plain["balance"] = {"reference": "planform"}
    plain["lifting"]["wing"]["cuts"][0]["chord"] = "8 kg"
    assert list(problems(plain)) == ["lifting.wing.cuts[1].chord"]


def test_names_that_hold_commas_are_told_apart(plain):
    plain["stages"][0]["name"] = "hull, no wing"
    with pytest.raises(pf.InputError, match="names: 'hull, no wing'"):
        stage_named(design_from(plain), "full")


def _inner(node, path=()):
    """The path of every table and list of a file."""
    found = node.items() if isinstance(node, dict) else enumerate(node)
    for key, one in found:
        if isinstance(one, dict | list):
            yield (*path, key)
            yield from _inner(one, (*path, key))


@pytest.mark.parametrize("value", [None, 3, [3], {"a": "b"}])
def test_whatever_stands_in_place_of_a_table_is_read_or_told(plain, room, value):
    plain["panels"] = {"lid": copy.deepcopy(LID)}
    plain["wheels"]["nose"]["leg"] = {
        "top": {"fs": "-1 m", "bl": "0 m", "wl": "-0.2 m"}, "thickness": "40 mm"
    }  # fmt: skip
    plain["balance"] = {"weighing": {"scales": [{"at": "nose", "reading": "50 kg"}]}}
    for file, read in ((plain, design_from), (room, place_from)):
        for *path, last in _inner(file):
            table = copy.deepcopy(file)
            target = table
            for key in path:
                target = target[key]
            target[last] = value
            if value is None:
                del target[last]
            with contextlib.suppress(pf.InputError):
                read(table)
