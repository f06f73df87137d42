"""Every field of every file has words of its own, without a path in them."""

from __future__ import annotations

import copy
import pickle
from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planform.design.load import design_from, load, load_carrier, load_place, place_from
from planform.design.naming import FieldName, field_name, in_words, words_for
from planform.design.vary import readings
from tests.conftest import DESIGNS, PLAIN, ROOM

FILES = {
    "marram.toml": load,
    "quillwort.toml": load,
    "samphire.toml": load,
    "boatshed.toml": load_place,
    "barn.toml": load_place,
    "long-hall.toml": load_place,
    "garden-shed.toml": load_place,
    "flat-trailer.toml": load_carrier,
    "box-container.toml": load_carrier,
}
NAME = st.from_regex(r"[a-z]{3,6}(_[a-z]{3,6})?", fullmatch=True)


def held_words(model):
    return [words_for(model, path) for path, _ in readings(model)]


def holds(words):
    assert not any(mark in text for text in words for mark in ("_", "[", "]"))
    assert not any(set(text.split()) & {"fs", "bl", "wl"} for text in words)
    assert [text for text, count in Counter(words).items() if count > 1] == []


@pytest.mark.parametrize("file", FILES)
def test_demo_files_in_words(file):
    holds(held_words(FILES[file](DESIGNS / file)))


@given(names=st.lists(NAME, min_size=6, max_size=6, unique=True), joint=st.booleans())
def test_any_names_in_words(names, joint):
    wing, winglet, pod, nose, main, panel = names
    table = copy.deepcopy(PLAIN)
    table["lifting"] = {wing: table["lifting"].pop("wing")}
    cuts = table["lifting"][wing]["cuts"]
    cuts.insert(1, {"bl": "1 m", "sweep_le_plan": "0 deg", "chord": "2 m"})
    if joint:
        cuts[1]["joint"] = panel
    table["winglets"] = {winglet: {**table["winglets"].pop("winglet"), "on": wing}}
    table["bodies"] = {pod: table["bodies"].pop("pod")}
    table["wheels"] = {nose: table["wheels"]["nose"], main: table["wheels"]["main"]}
    table["stances"] = {"gear": {"on": [nose, main], "heights": {nose: "0.1 m", main: "0.1 m"}}}
    holds(held_words(design_from(table)))


@given(names=st.lists(NAME, min_size=3, max_size=3, unique=True), things=st.integers(1, 3))
def test_any_place_in_words(names, things):
    table = copy.deepcopy(ROOM)
    table["doors"][0]["name"], table["spots"][0]["name"], thing = (
        n.replace("_", " ") for n in names
    )
    outline = [["1 m", "1 m"], ["2 m", "1 m"], ["2 m", "2 m"]]
    table["obstacles"] = [
        {"name": f"{thing} {k}", "kind": "standing", "outline": outline, "top": "1 m"}
        for k in range(things)
    ]
    holds(held_words(place_from(table)))


def test_words_as_a_builder_says_them():
    design = load(DESIGNS / "marram.toml")
    said = {str(field_name(design, p)): words_for(design, p) for p, _ in readings(design)}
    assert said["balance.weighing.scales[3].arm"] == "arm of the right main scale"
    assert said["lifting.wing.cuts[4].bl"] == "butt line of the tip of the outer panel"
    assert said["wheels.main.wl"] == "waterline of the main wheel's axle"


def test_a_field_name_is_its_path_and_keeps_its_words_across_processes():
    name = FieldName("Box: doors[1].clear_width", "clear width of “door”")
    again = pickle.loads(pickle.dumps(name))
    assert again == "Box: doors[1].clear_width"
    assert in_words(again) == "clear width of “door”"
    assert in_words("plain") == "plain"
