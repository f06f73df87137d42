"""What counts only while an aircraft is moved: a castering wheel, a tow bar and its person."""

from __future__ import annotations

import numpy as np
import pytest

import planform as pf
from planform.airframe.build import build
from planform.airframe.on_the_move import PERSON, on_the_move
from planform.design.load import design_from, place_from
from planform.fit.question import question_for
from planform.fit.room import build_room
from planform.fit.second_check import go_over
from planform.fit.way_out import way_out

BAR = {"length": "1.2 m", "width": "0.3 m", "height": "0.9 m"}


def standing_with(plain, **fields):
    plain["wheels"]["nose"] |= fields
    return pf.stand(build(design_from(plain)))


def test_nothing_of_it_leaves_the_very_same_aircraft(plain):
    standing = standing_with(plain)
    assert on_the_move(standing) is standing


def test_a_castering_wheel_sweeps_the_circle_worked_out_by_hand(plain):
    standing = standing_with(plain, trail="0.15 m")
    wheel = next(p for p in on_the_move(standing).parts if p.name == "nose")
    parked = next(p for p in standing.parts if p.name == "nose")
    axle = 0.5 * (parked.points.min(axis=0) + parked.points.max(axis=0))
    swivel = axle[:2] - [0.15, 0.0]
    radius = np.hypot(0.15 + 0.2, 0.05)  # 0.4 m wheel, 0.1 m wide
    reach = np.linalg.norm(wheel.points[:, :2] - swivel, axis=1)
    assert reach.min() >= radius
    assert reach.max() <= radius / np.cos(np.pi / 24) + 1e-12
    for turn in np.linspace(0.0, 2.0 * np.pi, 60):  # the wheel swung by a second method
        c, s = np.cos(turn), np.sin(turn)
        swung = (parked.points[:, :2] - swivel) @ np.array([[c, s], [-s, c]])
        assert np.linalg.norm(swung, axis=1).max() <= reach.max()
    assert wheel.trimesh().is_watertight
    assert wheel.points[:, 2].max() == pytest.approx(parked.points[:, 2].max())


@pytest.mark.parametrize(("toward", "sign"), [("ahead", -1.0), ("aft", 1.0)])
def test_a_bar_and_its_person_stand_straight_out_and_only_while_moved(plain, toward, sign):
    standing = standing_with(plain, tow_bar=BAR | {"toward": toward})
    assert {p.role for p in standing.parts} & {"tow bar"} == set()
    parts = {p.name: p for p in on_the_move(standing).parts}
    wheel = parts["nose"].points
    axle = 0.5 * (wheel.min(axis=0) + wheel.max(axis=0))
    bar, person = parts["nose tow bar"], parts["nose person at the tow bar"]
    far = max(sign * (bar.points[:, 0] - axle[0]))
    assert far == pytest.approx(1.2)
    assert np.ptp(bar.points[:, 1]) == pytest.approx(0.3)
    end = max(sign * (person.points[:, 0] - axle[0]))
    assert 1.2 + 2 * PERSON <= end <= 1.2 + 2 * PERSON * 1.01
    assert bar.trimesh().is_watertight
    assert person.trimesh().is_watertight


def test_the_way_out_counts_the_bar_and_the_second_check_sees_it(plain, room):
    room["doors"][0]["clear_width"] = "9.5 m"
    place = build_room(place_from(room))
    plainly = question_for(standing_with(plain), place)
    towed = question_for(standing_with(plain, tow_bar=BAR | {"length": "2.5 m"}), place)
    names = {p.name for p in towed.plan.standing.parts}
    assert "nose tow bar" in names
    assert towed.parked <= plainly.parked
    ways = [way_out(question, 0.0) for question in (plainly, towed)]
    assert [way.answer for way in ways] == ["way out", "way out"]
    assert all(go_over(way, "the way").done for way in ways)


def test_the_answer_says_what_counts(plain, room):
    standing = standing_with(plain, trail="0.15 m", tow_bar=BAR)
    notes = " ".join(pf.judge(standing, build_room(place_from(room))).notes)
    assert "the nose wheel counts with the" in notes
    assert "a tow bar" in notes
    assert "who pulls it" in notes


@pytest.mark.parametrize(
    ("fields", "said"),
    [
        ({"trail": "0.1 m", "steers": "30 deg"}, "of a wheel that casters"),
        ({"trail": "0 m"}, "above zero"),
        ({"tow_bar": {"length": "1 m"}}, "this field is needed"),
        ({"tow_bar": BAR | {"toward": "left"}}, "'ahead' or 'aft'"),
    ],
)
def test_what_cannot_be_is_told(plain, fields, said):
    plain["wheels"]["nose"] |= fields
    with pytest.raises(pf.InputError) as refused:
        design_from(plain)
    assert said in " ".join(problem.allowed for problem in refused.value.problems)
