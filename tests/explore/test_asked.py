"""What a page asks: read, and every problem told at its field."""

from __future__ import annotations

import json

import pytest

from planform.explore.asked import (
    MOST_CHANGES,
    At,
    BadQuestion,
    json_of,
    kept_of,
    page_of,
    question_of,
)
from planform.explore.read import Files, Refused, read, values_of
from planform.explore.watch import Watch
from tests.conftest import DESIGNS

MARRAM, SHED = DESIGNS / "marram.toml", DESIGNS / "boatshed.toml"
WHOLE = {"page": "p", "ticket": 3}


@pytest.fixture(scope="module")
def files() -> Files:
    return Watch(MARRAM, SHED, None).files


def asked(files, changes, **more):
    return read(files, question_of({**WHOLE, "changes": changes, **more}).now)


def refused(files, changes, **more):
    with pytest.raises(Refused) as caught:
        asked(files, changes, **more)
    return caught.value.lines()


@pytest.mark.parametrize(
    "wrong",
    [
        [],
        "text",
        {},
        {"page": "p"},
        {"page": "", "ticket": 1},
        {"page": 3, "ticket": 1},
        {"page": "p" * 81, "ticket": 1},
        {"page": "p", "ticket": "1"},
        {"page": "p", "ticket": True},
        {"page": "p", "ticket": -1},
        {"page": "p", "ticket": 1.5},
        {**WHOLE, "changes": []},
        {**WHOLE, "changes": {"carrier": {}}},
        {**WHOLE, "changes": {"design": []}},
        {**WHOLE, "changes": {"design": {"a": 1}}},
        {**WHOLE, "changes": {"design": {"a": "x" * 201}}},
        {**WHOLE, "changes": {"design": {str(k): "1" for k in range(MOST_CHANGES + 1)}}},
        {**WHOLE, "stage": 3},
        {**WHOLE, "spot": "bay"},
        {**WHOLE, "spot": {}},
        {**WHOLE, "spot": {"at": [1]}},
        {**WHOLE, "spot": {"at": [1, "x"]}},
        {**WHOLE, "spot": {"at": [1, 1e9]}},
        {**WHOLE, "base": []},
    ],
)
def test_what_no_page_of_ours_asks_is_refused_in_one_sentence(wrong):
    with pytest.raises(BadQuestion) as caught:
        question_of(wrong)
    assert str(caught.value).startswith("Refused: ")
    assert str(caught.value).endswith(".")


@pytest.mark.parametrize("body", [b"", b"{", b"\xff", b"[NaN]", b"[" * 100_000])
def test_what_is_no_json_is_refused(body):
    with pytest.raises(BadQuestion):
        json_of(body)


def test_what_is_kept_is_one_of_two_files():
    with pytest.raises(BadQuestion):
        kept_of({"file": "carrier"})
    with pytest.raises(BadQuestion):
        kept_of({"file": "design", "carry": {"a": 1}})
    with pytest.raises(BadQuestion):
        page_of(None)
    sort, kept, write = kept_of({"file": "place", "name": "a.toml", "write": "yes"})
    assert (sort, kept.name, kept.changes, write) == ("place", "a.toml", {}, False)


def test_a_question_is_read_whole():
    given = {
        **WHOLE,
        "changes": {"design": {"a": "1 m"}},
        "stage": "s",
        "spot": {"at": [1, 2.5], "heading": 0.5},
        "has": ["x", 3],
        "base": {"changes": {"place": {"b": "2 m"}}, "spot": {"name": "bay"}},
    }
    found = question_of(json.loads(json.dumps(given)))
    assert (found.page, found.ticket, found.has) == ("p", 3, {"x"})
    assert (found.now.stage, found.now.spot) == ("s", At(1.0, 2.5, 0.5))
    assert found.base.changes == {"place": {"b": "2 m"}}
    assert (found.base.stage, found.base.spot) == ("s", "bay")
    assert question_of({**given, "whole": True}).has == frozenset()


def test_a_changed_value_carries_the_tolerance_and_source_that_the_field_has(files):
    changes = {"design": {"winglets.winglet.cant": "20 deg", "bodies.hull.cuts[1].boxiness": "2.2"}}
    found = asked(files, changes)
    told = values_of(found)["design"]
    assert told["winglets.winglet.cant"]["text"] == "20 deg ± 0.25 deg (measured)"
    assert told["bodies.hull.cuts[1].boxiness"]["value"] == 2.2
    own = asked(files, {"design": {"winglets.winglet.cant": "20 deg ± 1 deg"}})
    assert values_of(own)["design"]["winglets.winglet.cant"]["text"] == "20 deg ± 1 deg"
    assert own.place is files.place.model


def test_every_problem_is_told_at_its_field_in_the_words_of_check(files):
    changes = {
        "design": {
            "winglets.winglet.cant": "steep",
            "lifting.wing.cuts[1].chord": "0 in",
            "bodies.hull.cuts[1].boxiness": "2.x",
            "bodies.hull.cuts[2].boxiness": "nan",
            "no.such": "1 m",
            "name": "1 m",
            "][": "1 m",
        },
        "place": {"floor.width": "3 in", "doors[1].clear_height": "12,5 ft"},
    }
    told = refused(files, changes)
    paths = {(one["file"], one["path"]) for one in told}
    fields = {(sort, path) for sort, texts in changes.items() for path in texts}
    assert paths == fields
    by_path = {one["path"]: one for one in told}
    cant = by_path["winglets.winglet.cant"]
    assert cant["given"] == "'steep'"
    assert cant["allowed"].startswith("allowed: an angle with its unit")
    assert cant["words"] == f"winglets.winglet.cant: given 'steep'; {cant['allowed']}"
    assert by_path["bodies.hull.cuts[1].boxiness"]["allowed"] == (
        "allowed: a plain number, such as 2"
    )


def test_unknown_names_are_told_with_the_known_ones(files):
    told = refused(files, {}, stage="nowhere", stance="floating", spot={"name": "moon"})
    assert [one["path"] for one in told] == ["stage", "stance", "spot"]
    assert "complete" in told[0]["allowed"]
    assert "kneeling" in told[1]["allowed"]
    assert "building bay" in told[2]["allowed"]


def test_a_place_that_was_not_given_has_no_values():
    alone = Watch(MARRAM, None, None).files
    told = refused(alone, {"place": {"floor.width": "9 m"}})
    assert [(one["file"], one["path"]) for one in told] == [("place", "floor.width")]
    assert asked(alone, {}).place is None


def test_where_a_hand_put_it_is_a_spot_of_its_own(files):
    found = asked(files, {}, spot={"at": [5.25, 4.0], "heading": 3.0})
    spot = found.place.spots[-1]
    assert spot.name == found.spot
    assert [float(v) for v in (*spot.at, spot.heading)] == pytest.approx([5.25, 4.0, 3.0])
    assert found.place.spots[:-1] == files.place.model.spots


def test_a_field_on_shared_values_is_changed_at_the_value(tmp_path):
    text = MARRAM.read_text(encoding="utf-8")
    old = 'length = "60 in ± 1/4 in (measured)"'
    assert old in text
    text = text.replace(old, 'length = "= tall + 1 in"')
    head, rest = text.split("# --- lifting surfaces", 1)
    text = f'{head}[values]\ntall = "59 in ± 1/4 in"\n\n# --- lifting surfaces{rest}'
    file = tmp_path / "shared.toml"
    file.write_text(text, encoding="utf-8")
    files = Watch(file, None, None).files
    told = refused(files, {"design": {"winglets.winglet.length": "62 in"}})
    assert told[0]["allowed"] == (
        "this field is the sum '= tall + 1 in'; change values.tall, or write a sum"
    )
    moved = asked(files, {"design": {"values.tall": "61 in"}})
    assert float(moved.design.winglets["winglet"].length) == pytest.approx(62 * 0.0254)
    summed = asked(files, {"design": {"winglets.winglet.length": "= tall + 3 in"}})
    assert float(summed.design.winglets["winglet"].length) == pytest.approx(62 * 0.0254)
