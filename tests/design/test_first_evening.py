"""A first design and place from some answers: they build, and measure as was answered."""

from __future__ import annotations

import pytest

import planform as pf
from planform.design.first_evening import first_answers
from planform.design.first_files import DESIGN, PLACE, begun
from planform.design.first_questions import BY_KEY, QUESTIONS, TAIL_WHEEL
from planform.design.notation import read
from planform.study.sound import refusals


def loaded(folder, answers, system="ft-in"):
    for name, text in begun(answers, system).items():
        (folder / name).write_text(text, encoding="utf-8")
    return pf.load(folder / DESIGN), pf.load_place(folder / PLACE)


@pytest.mark.parametrize("system", ["ft-in", "in", "mm", "m"])
def test_what_is_taken_builds_and_fits(tmp_path, system):
    design, place = loaded(tmp_path, {}, system)
    assert design.units == place.units == system
    assert not refusals(design)
    for standing in pf.stand_all(pf.build(design)):
        assert pf.judge(standing, place).verdict == pf.Verdict.FITS


def test_what_is_answered_is_measured(tmp_path):
    answers = {
        "span": "26 ft 4 in ± 1/4 in",
        "root_chord": "62 in",
        "tip_chord": "25 1/2 in",
        "length": "17 ft 2 in",
        "foreplane_span": "11 ft 6 in",
        "winglet_length": "44 in",
        "floor_width": "31 ft",
        "door_height": "8 ft 3 in",
        "ceiling": "9 ft 6 in",
    }
    design, place = loaded(tmp_path, answers)
    sizes = {key: float(read(text, "length")) for key, text in answers.items()}
    found = pf.design_measures(pf.build(design))
    assert found["wing.span"] == pytest.approx(sizes["span"], abs=1e-9)
    assert found["foreplane.span"] == pytest.approx(sizes["foreplane_span"], abs=1e-9)
    assert found["wing.area"] == pytest.approx(
        sizes["span"] * (sizes["root_chord"] + sizes["tip_chord"]) / 2, rel=1e-9
    )
    assert found["winglet.length"] == pytest.approx(sizes["winglet_length"], abs=1e-9)
    standing = pf.stand(pf.build(design))
    aft = max(p.points[:, 0].max() for p in standing.airframe.parts if p.name == "propeller")
    assert aft == pytest.approx(sizes["length"], abs=1e-6)
    assert float(place.floor.width) == pytest.approx(sizes["floor_width"])
    assert float(place.doors[0].clear_height) == pytest.approx(sizes["door_height"])
    tip = design.lifting["wing"].cuts[-1].bl
    assert tip.tolerance == pytest.approx(0.125 * 0.0254)
    assert tip.source == "measured"


def test_what_is_taken_says_so_and_how_to_measure_it(tmp_path):
    design, _ = loaded(tmp_path, {"span": "8 m", "cant": "8 deg"}, "mm")
    text = (tmp_path / DESIGN).read_text(encoding="utf-8")
    assert design.winglets["winglet"].length.source == "assumed"
    assert design.winglets["winglet"].cant.source == "measured"
    assert BY_KEY["winglet_length"].how in text
    assert BY_KEY["cant"].how not in text
    whole = {q.key: q.usual[0] or "50 in" for q in QUESTIONS}
    assert {q.key for q in QUESTIONS if q.how and f"{q.how}\n" in text} <= set(whole) - {"cant"}


def test_a_tail_wheel_and_nothing_else(tmp_path):
    none = {"gear": TAIL_WHEEL, "winglet_length": "0", "foreplane_span": "0", "propeller": "0"}
    design, _ = loaded(tmp_path, none)
    assert "tail" in design.wheels
    assert not design.winglets
    assert design.propeller is None
    assert list(design.lifting) == ["wing"]
    assert [stage.name for stage in design.stages] == ["complete"]
    standing = pf.stand(pf.build(design))
    assert standing.attitude.pitch == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize(
    ("answers", "key", "words"),
    [
        ({"span": "26"}, "span", "unit"),
        ({"span": "26 km"}, "span", "unit"),
        ({"span": "120 ft"}, "span", "allowed:"),
        ({"spam": "26 ft"}, "answer", "did you mean 'span'"),
        ({"tip_chord": "90 in"}, "tip_chord", "at most the root chord"),
        ({"tip_chord": "90 in"}, "tip_chord", "centre line, taken)"),
        ({"tip_chord": "90 in", "root_chord": "80 in"}, "tip_chord", "the centre line)"),
        ({"door_width": "40 ft"}, "door_width", "as wide as its wall"),
        ({"ceiling": "8 ft", "door_height": "9 ft"}, "door_height", "lowest thing overhead"),
        ({"gear": "skid"}, "gear", "nose wheel"),
        ({"small_axle_at": "170 in"}, "small_axle_at", "well ahead"),
        ({"gear": TAIL_WHEEL, "small_axle_at": "30 in"}, "small_axle_at", "well aft"),
        ({"propeller": "120 in"}, "propeller", "clear of the floor"),
        ({"stands": "3 in", "propeller": "70 in"}, "propeller", "clear of the floor"),
        ({"foreplane_at": "150 in"}, "foreplane_at", "ahead of the wing"),
        ({"name": "a\x07b"}, "name", "allowed"),
        ({"sweep": "75 deg"}, "sweep", "allowed: -30"),
    ],
)
def test_answers_that_cannot_be_are_told_at_the_question(answers, key, words):
    with pytest.raises(pf.InputError) as caught:
        begun(answers, "ft-in")
    (problem,) = caught.value.problems
    assert problem.path == key
    assert words in str(problem)


def test_every_mistake_is_told_at_once():
    with pytest.raises(pf.InputError) as caught:
        begun({"span": "x", "cant": "y"}, "mm")
    assert [p.path for p in caught.value.problems] == ["span", "cant"]


def test_hostile_names_stay_names(tmp_path):
    name = '"]\n[stages]\\ ${span} </script>'.replace("\n", " ")
    design, _ = loaded(tmp_path, {"name": name})
    assert design.name == name


def test_an_answer_of_blanks_is_none():
    assert first_answers({"span": "  "}, "mm").answered == frozenset()
