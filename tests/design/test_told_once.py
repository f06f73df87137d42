"""One mistake is one problem: what follows from it is not told as a second mistake."""

from __future__ import annotations

import copy
import random
import re
import tomllib

import pytest

from planform.design.load import carrier_from, design_from, place_from
from planform.design.naming import path_text
from planform.design.problems import InputError, Problem, told_once
from tests.conftest import DESIGNS, PLAIN, ROOM

READ = {"design": design_from, "place": place_from, "carrier": carrier_from}
WILD = {
    "length": ["0 mm", "1 mm", "2 mm", "300 mm", "-3 m", "70 m", "900 m"],
    "angle": ["0 deg", "-80 deg", "89 deg", "179 deg", "-500 deg"],
    "mass": ["0 kg", "-5 kg", "90000 kg"],
    "word": ["zzz", ""],
}
QUANTITY = re.compile(r"(?:FS |BL |WL )?[-\d][-\d' ./]*(in|mm|m|ft|deg|lb|kg|gal|\"|')")
KINDS = {"deg": "angle", "lb": "mass", "kg": "mass", "gal": "mass"}


def leaves(node, path=()):
    if not isinstance(node, dict | list):
        return [(path, node)]
    inner = node.items() if isinstance(node, dict) else enumerate(node)
    return [leaf for key, one in inner for leaf in leaves(one, (*path, key))]


def wild(value):
    """What a text is changed to, by what it says."""
    found = QUANTITY.match(value)
    return WILD[KINDS.get(found[1], "length") if found else "word"]


def with_field(table, path, value):
    out = copy.deepcopy(table)
    target = out
    for key in path[:-1]:
        target = target[key]
    target[path[-1]] = value
    return out


def problems(table):
    try:
        READ[table["format"].split()[1]](table)
    except InputError as error:
        return error.problems
    return ()


def files():
    return [PLAIN, ROOM, *(tomllib.loads(p.read_text()) for p in sorted(DESIGNS.glob("*.toml")))]


def trials(count, seed):
    """Single fields of all files, changed wildly."""
    every = [
        (table, path, value)
        for table in files()
        for path, given in leaves(table)
        if isinstance(given, str) and path != ("format",)
        for value in wild(given)
    ]
    return random.Random(seed).sample(every, min(count, len(every)))


def not_once(table, path, value):
    """What is told besides the one mistake of a field changed wildly."""
    told = problems(with_field(table, path, value))
    here = path_text(path)
    own = [p for p in told if here == p.path]
    stances = [p for p in told if p.path.startswith("stances.")]
    return [str(p) for p in told if own and p not in own] + [str(p) for p in stances[1:]]


def test_a_wild_field_is_told_once():
    for table, path, value in trials(60, 21):
        assert not_once(table, path, value) == [], (table["name"], path_text(path), value)


@pytest.mark.parametrize(
    ("name", "path", "value"),
    [
        ("marram", ("wheels", "nose", "diameter"), "2 mm"),
        ("marram", ("wheels", "main", "bl"), "0 mm"),
        ("marram", ("wheels", "main", "wl"), "70 m"),
        ("marram", ("wheels", "main", "side"), "zzz"),
        ("marram", ("lifting", "wing", "role"), "zzz"),
        ("marram", ("lifting", "wing", "cuts", 3, "dihedral"), "89 deg"),
        ("marram", ("lifting", "wing", "cuts", 2, "joint"), ""),
        ("boatshed", ("floor", "width"), "1 mm"),
        ("boatshed", ("doors", 0, "clear_height"), "70 m"),
        ("flat-trailer", ("bed", "length"), "1 mm"),
    ],
)
def test_what_follows_from_a_mistake_is_not_told(name, path, value):
    table = with_field(tomllib.loads((DESIGNS / f"{name}.toml").read_text()), path, value)
    assert len(problems(table)) == 1


def test_two_mistakes_are_told_as_two(plain):
    plain["wheels"]["nose"]["diameter"] = "2 mm"
    plain["winglets"]["winglet"]["on"] = "wyng"
    plain["stances"]["gear"]["heights"] = {"nose": "30 m"}
    told = {p.path for p in problems(plain)}
    assert told == {"wheels.nose.diameter", "winglets.winglet.on"}
    plain["wheels"]["nose"]["diameter"] = "0.4 m"
    assert {p.path for p in problems(plain)} == {"winglets.winglet.on", "stances.gear.on"}


def test_a_stance_with_its_own_mistake_is_told_beside_another(plain):
    plain["stances"]["high"] = {"on": ["nose", "main"], "heights": {"nose": "30 m"}}
    plain["stances"]["higher"] = {"on": ["nose", "main"], "heights": {"nose": "40 m"}}
    assert {p.path for p in problems(plain)} == {"stances.high.on", "stances.higher.on"}


def test_of_two_that_rest_on_each_other_the_first_is_told():
    one, two = Problem("a.x", "", "", ("b",)), Problem('b."y.z"', "", "", ("a.*",))
    assert told_once([one, two]) == [one]
    assert told_once([two, one]) == [two]


@pytest.mark.parametrize(
    ("given", "hint"),
    [("east", ""), ("North", ""), ("frunt", "did you mean 'front'? "), ("Left", "'left'? ")],
)
def test_a_wall_by_another_name(room, given, hint):
    room["doors"][0]["wall"] = given
    (problem,) = problems(room)
    assert "names: front, right, back, left; as seen from the front wall" in problem.allowed
    assert (hint in problem.allowed) if hint else ("did you mean" not in problem.allowed)


def test_a_wall_of_an_outline_by_another_name():
    barn = tomllib.loads((DESIGNS / "barn.toml").read_text())
    barn["doors"][0]["wall"] = "front"
    (problem,) = problems(barn)
    assert "names: wall 1, wall 2" in problem.allowed
    assert "did you mean" not in problem.allowed
    assert "wall 1 runs from the first corner" in problem.allowed
