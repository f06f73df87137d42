"""An answer in parts: each part as the whole answer has it, kept, and ended by a newer question."""

from __future__ import annotations

import threading

import pytest

import planform as pf
from planform.core.halting import Halt, Halted, look, under
from planform.design.content import content
from planform.design.load import design_from, place_from
from planform.fit.straight import PENDING, Straight
from planform.study import desk as desk_module
from planform.study.desk import Desk
from planform.study.judging import Step, answer_in_parts, judge


def told(answer):
    return [(c.key, c.verdict, c.gap, c.worst, c.missing, c.detail) for c in answer.checks]


@pytest.fixture
def asked(plain, room):
    return design_from(plain), place_from(room)


def test_parts_come_in_order_and_the_last_is_the_whole_answer(asked):
    design, place = asked
    standing = pf.stand(pf.build(design))
    parts = list(answer_in_parts(standing, place))
    assert [part.done[-1] for part in parts] == list(Step)
    assert [part.left for part in parts] == [tuple(Step)[k + 1 :] for k in range(len(Step))]
    whole = judge(standing, place)
    assert told(parts[-1].answer) == told(parts[-2].answer) == told(whole)
    parked = told(Straight(standing, pf.build_room(place), None).answer())
    for part, groups in zip(parts, ({"room"}, {"room", "door"}), strict=False):
        checks = [c for c in part.answer.checks if c.group in groups]
        assert [c.gap for c in checks] == [gap for key, _, gap, *_ in parked][: len(checks)]
        open_still = [c for c in part.answer.checks if c.group not in groups]
        assert open_still
        assert {c.missing for c in open_still} == {PENDING}
    assert parts[0].answer.verdict == "not judged"
    assert parts[-1].advice.deciding is not None


def test_where_there_is_nothing_to_search_nothing_is_being_worked_out(asked):
    design, place = asked
    nowhere = place.model_copy(update={"spots": ()})
    parts = list(answer_in_parts(pf.stand(pf.build(design)), nowhere))
    assert not any("worked out" in c.missing for c in parts[1].answer.checks)
    assert parts[-1].answer.verdict == "not judged"


def test_a_halt_that_was_asked_for_ends_the_work(asked):
    design, place = asked
    halt = Halt()
    parts = answer_in_parts(pf.stand(pf.build(design)), place, halt=halt)
    next(parts)
    halt.ask()
    with pytest.raises(Halted):
        next(parts)
    look()  # outside nothing is halted
    with pytest.raises(Halted), under(halt):
        pass


def test_a_newer_question_ends_the_one_before(asked):
    design, place = asked
    desk = Desk()
    older = desk.ask(design, place)
    next(older)
    newer = desk.ask(design, place)
    with pytest.raises(Halted):
        next(older)
    assert [part.done[-1] for part in newer] == list(Step)


def test_a_newer_question_ends_one_that_is_at_work_in_another_thread(asked, monkeypatch):
    design, place = asked
    begun, ended = threading.Event(), []

    def endless(*words):
        def find(room):
            begun.set()
            while True:
                look()

        return find

    desk = Desk()
    with monkeypatch.context() as patched:
        patched.setattr(desk_module, "searching", endless)

        def work():
            try:
                list(desk.ask(design, place))
            except Halted:
                ended.append("halted")

        thread = threading.Thread(target=work)
        thread.start()
        assert begun.wait(60.0)
    found = list(desk.ask(design, place))
    thread.join(60.0)
    assert ended == ["halted"]
    assert told(found[-1].answer) == told(judge(pf.stand(pf.build(design)), place))


@pytest.fixture
def counted(monkeypatch):
    """How often airframes and rooms were built and ways searched at a desk."""
    counts = {}

    def counting(name):
        inner = getattr(desk_module, name)

        def outer(*words, **more):
            counts[name] = counts.get(name, 0) + 1
            return inner(*words, **more)

        return outer

    for name in ("build", "build_room", "stand_on"):
        monkeypatch.setattr(desk_module, name, counting(name))
    inner = desk_module.searching

    def searching(*words):
        find = inner(*words)

        def counted_find(room):
            counts["search"] = counts.get("search", 0) + 1
            return find(room)

        return counted_find

    monkeypatch.setattr(desk_module, "searching", searching)
    return counts


def test_what_did_not_change_is_not_worked_out_again(plain, room, counted):
    desk = Desk()
    first = list(desk.ask(design_from(plain), place_from(room)))
    assert counted == {"build": 1, "build_room": 1, "stand_on": 1, "search": 1}
    again = list(desk.ask(design_from(plain), place_from(room)))
    assert counted["build"] == counted["search"] == 1
    assert told(again[-1].answer) == told(first[-1].answer)
    room["name"] = "another"
    list(desk.ask(design_from(plain), place_from(room)))
    assert counted == {"build": 1, "build_room": 2, "stand_on": 1, "search": 2}
    plain["lifting"]["wing"]["cuts"][1]["bl"] = "3.9 m"
    changed = list(desk.ask(design_from(plain), place_from(room)))
    assert counted == {"build": 2, "build_room": 2, "stand_on": 2, "search": 3}
    fresh = judge(pf.stand(pf.build(design_from(plain))), place_from(room))
    assert told(changed[-1].answer) == told(fresh)


def test_pieces_of_the_same_content_are_not_built_again(plain):
    first = pf.build(design_from(plain))
    plain["lifting"]["wing"]["cuts"][1]["bl"] = "3.9 m"
    again = pf.build(design_from(plain), like=first)
    pairs = zip(again.parts, first.parts, strict=True)
    kept = [part.name for part, other in pairs if part is other]
    assert kept
    assert not any("wing" in name for name in kept)
    fresh = pf.build(design_from(plain))
    for part, other in zip(again.parts, fresh.parts, strict=True):
        assert part.name == other.name
        assert (part.points == other.points).all()


def test_content_is_values_tolerances_and_texts_and_nothing_else(plain):
    one, same = design_from(plain), design_from(plain)
    assert content(one) == content(same)
    cuts = plain["lifting"]["wing"]["cuts"]
    before = cuts[1]["bl"]
    cuts[1]["bl"] = f"{before} ± 1 mm"
    assert content(design_from(plain)) != content(one)


def test_of_a_design_with_one_thing_moved_only_that_is_built(monkeypatch):
    from planform.airframe import drawn as building
    from planform.design.vary import shifted

    design = pf.load("designs/marram.toml")
    first = pf.build(design)
    made = []
    inner = building._made
    monkeypatch.setattr(
        building,
        "_made",
        lambda make, name, *pieces: made.append(name) or inner(make, name, *pieces),
    )
    pf.build(shifted(design, ("wheels", "nose", "diameter"), 0.001), like=first)
    assert made == ["nose"]


def test_stages_judged_in_processes_are_judged_the_same(plain, room, monkeypatch):
    from planform.study import side_by_side

    monkeypatch.setattr(side_by_side, "WORTH", 0.0)
    (standing,) = pf.stand_all(pf.build(design_from(plain)))[:1]
    built = pf.build_room(place_from(room))
    asked = [side_by_side.Cell(standing, built, advised=advised) for advised in (True, True, False)]
    here, *there = side_by_side.answered(asked, workers=2)
    alone = side_by_side.answered(asked, workers=1)
    assert [told(one.answer) for one in (here, *there)] == [told(one.answer) for one in alone]
    assert [one.done for one in (here, *there)] == [one.done for one in alone]
    assert all(one.answer.standing is standing for one in there)
    assert repr(there[0].advice) == repr(alone[1].advice)
