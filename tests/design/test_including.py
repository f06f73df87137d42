"""One file with parts of others: put together by name, told with their file, nothing else read."""

from __future__ import annotations

import copy
import os
import re

import pytest

import planform as pf
from planform.design.including import DEEPEST, MOST_FILES
from planform.design.load import design_from, load, load_any, load_carrier, load_place
from tests.commands.test_commands import called
from tests.conftest import PLAIN, ROOM
from tests.fuzz.changes import written


@pytest.fixture
def shop(tmp_path):
    """A folder with the plain design in three files, and a function that writes one more."""
    folder = tmp_path / "shop"
    folder.mkdir()

    def put(name, table):
        path = folder / name
        path.parent.mkdir(exist_ok=True)
        text = table if isinstance(table, str) else written(table)
        path.write_text(text, encoding="utf-8")
        return path

    whole = copy.deepcopy(PLAIN)
    wheels, winglets = whole.pop("wheels"), whole.pop("winglets")
    nose = {"nose": wheels.pop("nose")}
    put("parts/gear.toml", {"wheels": wheels})
    put("tips.toml", {"format": PLAIN["format"], "winglets": winglets})
    put("my.toml", {"include": ["parts/gear.toml", "tips.toml"], **whole, "wheels": nose})
    return put


def told(path, read=load):
    with pytest.raises(pf.InputError) as caught:
        read(path)
    return [str(problem) for problem in caught.value.problems]


def test_parts_of_several_files_are_the_design_of_one(shop, tmp_path):
    design = load(tmp_path / "shop/my.toml")
    one = design_from(copy.deepcopy(PLAIN))
    assert dict(design) == dict(one)
    assert set(design.wheels) == set(one.wheels)
    table = design.model_dump(mode="json", exclude_unset=True)
    assert "include" not in table
    assert design_from(table) == one
    assert load_any(tmp_path / "shop/my.toml") == design


def test_lists_of_things_stand_one_after_the_other(shop, tmp_path):
    item = {"name": "seat", "mass": "9 kg", "fs": "1 m", "wl": "0 m"}
    shop("masses.toml", {"masses": [item, item | {"name": "stove", "mass": "-1 kg"}]})
    whole = copy.deepcopy(PLAIN) | {"include": ["masses.toml"], "masses": [item | {"name": "a"}]}
    path = shop("all.toml", whole)
    (line,) = told(path)
    assert line.startswith("masses[3].mass (in masses.toml, masses[2].mass): given '-1 kg'")
    shop("masses.toml", {"masses": [item]})
    assert [m.name for m in load(path).masses] == ["a", "seat"]


def test_shared_values_of_one_file_serve_all(shop, tmp_path):
    gear = copy.deepcopy(PLAIN["wheels"])
    gear["main"]["fs"] = "= axle"
    shop("gear.toml", {"values": {"axle": "1.2 m ± 5 mm"}, "wheels": gear})
    whole = copy.deepcopy(PLAIN) | {"include": ["gear.toml"], "values": {"lean": "10 deg"}}
    del whole["wheels"]
    whole["winglets"]["winglet"]["cant"] = "= lean"
    design = load(shop("all.toml", whole))
    assert design.wheels["main"].fs == 1.2
    assert set(design.values) == {"axle", "lean"}


def test_a_problem_names_the_file_it_is_in(shop, tmp_path):
    gear = copy.deepcopy(PLAIN["wheels"])
    gear["main"]["bl"] = "27"
    shop("parts/gear.toml", {"wheels": {"main": gear["main"]}})
    path = tmp_path / "shop/my.toml"
    assert told(path) == [
        "wheels.main.bl (in parts/gear.toml): given '27'; no unit; write 27 in or 27 mm"
    ]
    code, _, err = called("check", path)
    assert code == 2
    assert "(in parts/gear.toml)" in err
    code, out, _ = called("check", "--json", path)
    assert code == 2
    assert '"file": "parts/gear.toml"' in out


def test_a_thing_given_twice_is_told_with_both_files(shop, tmp_path):
    shop("more.toml", {"wheels": {"main": PLAIN["wheels"]["main"]}, "name": "Other"})
    path = tmp_path / "shop/my.toml"
    text = path.read_text(encoding="utf-8").replace('"tips.toml"', '"tips.toml", "more.toml"')
    path.write_text(text, encoding="utf-8")
    found = told(path)
    assert any("wheels.main" in t and "given in parts/gear.toml and in more.toml" in t
               for t in found)  # fmt: skip
    assert any(t.startswith("name (in more.toml): given twice; given in my.toml and in more.toml")
               for t in found)  # fmt: skip
    assert len(found) == 2


@pytest.mark.parametrize(
    ("given", "words"),
    [
        ("../other.toml", "a .toml file in the folder of this file or below it"),
        ("/etc/passwd", "a .toml file in the folder of this file or below it"),
        ("/etc/hosts.toml", "a .toml file in the folder of this file or below it"),
        ("notes.txt", "a .toml file in the folder of this file or below it"),
        ("parts\\gear.toml", "a .toml file in the folder of this file or below it"),
        ("link.toml", "a .toml file in the folder of this file or below it"),
        ("below/other.toml", "a .toml file in the folder of this file or below it"),
        ("none.toml", "no such file"),
        ("folder.toml", "this is a folder"),
        ("broken.toml", "not readable as TOML"),
        ("pipe.toml", "this is no file but a device or a pipe"),
        ("my.toml", "a file that includes itself (my.toml → my.toml)"),
        ("parts/gear.toml", "this file is included already"),
    ],
)
def test_nothing_else_is_read(shop, tmp_path, given, words):
    folder = tmp_path / "shop"
    (tmp_path / "other.toml").write_text("secret = 'word of the neighbour'", encoding="utf-8")
    (folder / "link.toml").symlink_to(tmp_path / "other.toml")
    (folder / "below").symlink_to(tmp_path)
    (folder / "folder.toml").mkdir()
    (folder / "notes.txt").write_text("secret = 1", encoding="utf-8")
    os.mkfifo(folder / "pipe.toml")
    shop("broken.toml", "a = ")
    path = folder / "my.toml"
    text = path.read_text(encoding="utf-8").replace('"tips.toml"', f"\"tips.toml\", '{given}'")
    path.write_text(text, encoding="utf-8")
    found = told(path)
    assert len(found) == 1
    assert found[0].startswith("include: given ")
    assert words in found[0]
    assert "secret" not in found[0]


def test_a_link_within_the_folder_is_read(shop, tmp_path):
    folder = tmp_path / "shop"
    (folder / "tips.toml").rename(folder / "parts/old.toml")
    (folder / "tips.toml").symlink_to(folder / "parts/old.toml")
    assert load(folder / "my.toml").winglets


@pytest.mark.parametrize("given", ['"gear.toml"', "1", "[1]", "{ a = 1 }"])
def test_include_is_a_list_of_names(shop, tmp_path, given):
    path = shop("odd.toml", f"include = {given}\n" + written(PLAIN))
    assert "a list of .toml files" in told(path)[0]


def test_files_in_a_row_and_in_all_are_bounded(shop, tmp_path):
    path = shop("a0.toml", 'include = ["a1.toml"]\n' + written(PLAIN))
    for k in range(1, DEEPEST + 2):
        shop(f"a{k}.toml", f'include = ["a{k + 1}.toml"]\n')
    (line,) = told(path)
    assert line.startswith(f"include (in a{DEEPEST - 1}.toml): ")
    assert f"at most {DEEPEST} files in a row" in line
    names = [f"b{k}.toml" for k in range(MOST_FILES + 2)]
    for name in names:
        shop(name, "")
    for name in names:
        shop(name, "# nothing yet\n")
    path = shop("all.toml", f"include = {names!r}\n" + written(PLAIN))
    assert sum(f"at most {MOST_FILES} files in all" in line for line in told(path)) == 2


def test_files_that_include_one_another_are_told(shop, tmp_path):
    shop("tips.toml", {"include": ["my.toml"]})
    found = told(tmp_path / "shop/my.toml")
    assert any(re.search(r"include \(in tips\.toml\).*\(my\.toml → tips\.toml → my\.toml\)", line)
               for line in found)  # fmt: skip


def test_places_and_carriers_include_too(shop):
    room = copy.deepcopy(ROOM)
    doors = room.pop("doors")
    shop("doors.toml", {"doors": doors})
    place = load_place(shop("hall.toml", {"include": ["doors.toml"], **room}))
    assert len(place.doors) == len(doors)
    shop("bed.toml", {"bed": {"length": "5 m", "width": "2 m"}})
    cart = {"include": ["bed.toml"], "format": "planform carrier 1", "name": "Cart", "units": "m"}
    assert load_carrier(shop("cart.toml", cart)).bed.length == 5.0


def test_tables_that_are_no_file_include_nothing(plain):
    plain["include"] = ["gear.toml"]
    with pytest.raises(pf.InputError, match=r"include: .*allowed: in a file, with which"):
        design_from(plain)
