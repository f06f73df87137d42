"""The push out of a door over uneven ground: verdicts, words, and what is refused."""

from __future__ import annotations

import itertools
import json
import math
import xml.etree.ElementTree as ET
from dataclasses import replace

import pytest

import planform as pf
from planform.design.load import design_from, place_from
from planform.drawing.writers import svg
from planform.fit import door_checks
from planform.fit.straight import judge_straight
from planform.fit.verdict import FITS, NOT, UNJUDGED
from planform.report.fit.push import instant, side_views
from planform.report.fit.record import fit_record
from planform.report.record import document
from planform.study.spreads_of_fit import with_spreads
from tests.conftest import DESIGNS

APRON = [
    {"at": "-1 m", "height": "0 mm"},
    {"at": "0 m", "height": "20 mm"},
    {"at": "0.1 m", "height": "20 mm"},
    {"at": "0.1 m", "height": "-30 mm"},
    {"at": "3 m", "height": "-0.2 m"},
]


def judged(design, place, stage=0):
    room = pf.build_room(place_from(place))
    return judge_straight(pf.stand_all(pf.build(design_from(design)))[stage], room), room


def keys(answer):
    return {c.key: c for c in answer.checks if c.group == "door"}


def problems(place):
    with pytest.raises(pf.InputError) as caught:
        place_from(place)
    return [str(p) for p in caught.value.problems]


def test_a_door_with_an_apron_is_judged_along_the_way(plain, room):
    room["doors"][0]["ground"] = APRON
    answer, _ = judged(plain, room)
    found = keys(answer)
    assert set(found) == {
        f"door: {kind} on the way" for kind in ("jamb", "head", "ceiling", "ground")
    }
    head = found["door: head on the way"]
    assert head.detail == "right winglet and the door head, nose first"
    assert 0.5 < head.gap < 0.53  # 0.497 on a level floor; it stands lower, but its tail is up
    assert head.tight.part == "right winglet"
    assert answer.pushes[0].way == "nose first"  # parked with its nose to the door
    assert answer.verdict_of("door") == FITS


def test_an_even_door_is_judged_as_before(plain, room):
    room["doors"][0]["ground"] = [{"at": "0 m", "height": "0 m"}, {"at": "1 m", "height": "0 m"}]
    answer, _ = judged(plain, room)
    assert set(keys(answer)) == {"door: width", "door: head"}
    assert not answer.pushes


def test_a_ramp_down_outside_raises_the_tips_toward_the_head(plain, room):
    """Nose first, the tips stand behind the main wheels."""
    level, _ = judged(plain, room)
    room["doors"][0]["ground"] = [
        {"at": "0.8 m", "height": "0 m"},
        {"at": "2.6 m", "height": "-0.3 m"},
    ]
    answer, _ = judged(plain, room)
    head = keys(answer)["door: head on the way"]
    assert head.gap < keys(level)["door: head"].gap - 0.02
    assert head.tight.pose.pitch < -0.02


def test_parked_across_the_better_end_leads(plain, room):
    room["doors"][0]["ground"] = [{"at": "0 m", "height": "0 m"}, {"at": "2 m", "height": "-0.3 m"}]
    room["spots"][0]["heading"] = "90 deg"
    across, _ = judged(plain, room)
    gaps = {}
    for end, heading in (("nose first", "180 deg"), ("tail first", "0 deg")):
        room["spots"][0]["heading"] = heading
        answer, _ = judged(plain, room)
        assert answer.pushes[0].way == end
        gaps[end] = min(
            c.gap - (c.wanted or 0.0) for c in answer.checks if c.key.startswith("door:")
        )
    assert across.pushes[0].way == max(gaps, key=gaps.get)


def test_where_both_ends_are_as_good_but_for_rounding_the_nose_leads(plain, room, monkeypatch):
    room["doors"][0]["ground"] = [{"at": "0 m", "height": "0 m"}, {"at": "2 m", "height": "-0.3 m"}]
    room["spots"][0]["heading"] = "90 deg"
    nose = door_checks.push_through

    def told(standing, place, door, ahead=1):
        """The push nose first, of which a last bit is better tail first."""
        found = nose(standing, place, door, 1)
        more = tuple(replace(t, gap=t.gap + (1e-14 if ahead < 0 else 0.0)) for t in found.tightest)
        return replace(found, ahead=ahead, tightest=more)

    monkeypatch.setattr(door_checks, "push_through", told)
    answer, _ = judged(plain, room)
    assert answer.pushes[0].way == "nose first"


def test_a_low_propeller_strikes_the_lip(plain, room):
    plain["propeller"] = {
        "disc_fs": "2.2 m",
        "wl": "0 m",
        "diameter": "1.9 m",
        "depth": "0.1 m",
    }
    room["doors"][0]["threshold"] = "60 mm"
    answer, _ = judged(plain, room)
    ground = keys(answer)["door: ground on the way"]
    assert ground.verdict == NOT
    assert (ground.tight.part, ground.tight.thing) == ("propeller", "the threshold")
    assert ground.gap == pytest.approx(0.05 - 0.06, abs=0.006)


def test_a_leg_that_strikes_a_block_is_told(plain, room):
    plain["wheels"]["nose"]["leg"] = {
        "top": {"fs": "-1 m", "bl": "0.6 m", "wl": "-0.75 m"},
        "thickness": "60 mm",
    }
    block = {
        "start": "1 m",
        "end": "1.3 m",
        "middle": "0.4 m",
        "width": "0.2 m",
        "height": "0.25 m",
    }
    room["doors"][0]["planks"] = [block]
    answer, _ = judged(plain, room)
    legs = keys(answer)["door: legs on the way"]
    assert legs.verdict == NOT
    assert (legs.tight.part, legs.tight.thing) == ("nose leg", "the plank")
    del room["doors"][0]["planks"]
    room["doors"][0]["threshold"] = "10 mm"
    answer, _ = judged(plain, room)
    assert "door: legs on the way" not in keys(answer)


def test_a_plank_bridges_the_gutter_it_lies_over(plain, room):
    gutter = [(-9.0, 0.0), (0.5, 0.0), (0.5, -0.1), (0.9, -0.1), (0.9, 0.0), (2.0, 0.0)]
    room["doors"][0]["ground"] = [{"at": f"{a} m", "height": f"{h} m"} for a, h in gutter]
    plank = {"start": "0.3 m", "end": "1.1 m", "width": "2.6 m", "height": "20 mm"}
    without, _ = judged(plain, room)
    room["doors"][0]["planks"] = [plank]
    answer, _ = judged(plain, room)
    assert not answer.pushes[0].remarks
    low = min(abs(t.pose.pitch) for t in without.pushes[0].tightest if t.kind == "ground")
    assert low < 0.06
    top = answer.pushes[0].least("ground")
    assert top.thing == "the plank"
    assert top.at_thing[2] == pytest.approx(0.02, abs=1e-9)


def test_a_tyre_partly_on_a_plank_is_told(plain, room):
    plank = {
        "start": "0 m", "end": "2 m", "middle": "1.03 m", "width": "0.06 m", "height": "30 mm",
    }  # fmt: skip
    room["doors"][0]["planks"] = [plank]
    answer, _ = judged(plain, room)
    assert answer.notes == (
        "door: right main has only 50 % of its tyre on the plank; it is taken as carried by it",
    )


def test_a_step_up_to_the_axle_is_not_judged(plain, room):
    room["doors"][0]["ground"] = [
        {"at": "1 m", "height": "0 m"},
        {"at": "1 m", "height": "-0.25 m"},
    ]
    answer, _ = judged(plain, room)
    check = keys(answer)["door: way"]
    assert check.verdict == UNJUDGED
    assert check.missing == (
        "nose cannot roll over a step that reaches its axle (0.200 m), 1.000 m outside the inner "
        "wall line; ramp it"
    )
    assert answer.verdict == UNJUDGED


def test_pads_and_stools_are_not_followed(plain, room):
    plain["pads"] = {"bumper": {"fs": "-1.5 m", "bl": "0 m", "wl": "-0.6 m"}}
    plain["stances"]["kneeling"] = {"on": ["bumper", "main"], "retracted": ["nose"]}
    plain["stages"][0]["stance"] = "kneeling"
    room["doors"][0]["ground"] = APRON
    answer, _ = judged(plain, room)
    assert keys(answer)["door: way"].missing.startswith("it stands on bumper, which is no wheel")
    del room["doors"][0]["ground"]
    room["doors"][0]["threshold"] = "20 mm"
    answer, _ = judged(plain, room)
    assert set(keys(answer)) == {"door: width", "door: head", "door: threshold"}
    assert answer.notes[0].startswith("door: taken level over its threshold, as it stands on")


def test_the_nose_turned_over_uneven_ground_is_not_followed(plain, room):
    room["doors"][0] |= {"clear_width": "6 m", "ground": APRON}
    answer, _ = judged(plain, room)
    found = keys(answer)
    assert found["door: width"].gap > 0.0
    assert "dollies" in found["door: way"].missing


def test_what_tolerances_of_the_ground_do(plain, room):
    apron = [dict(point) for point in APRON]
    apron[-1]["height"] = "-0.2 m ± 20 mm (measured)"
    room["doors"][0] |= {"ground": apron, "clear_height": "2.5 m ± 10 mm (measured)"}
    answer, built = judged(plain, room)
    found = keys(with_spreads(answer, built))
    head = found["door: head on the way"].spread
    assert dict(head.by_input)["Box: doors[1].clear_height"] == pytest.approx(0.01, abs=1e-9)
    slope = dict(head.by_input)["Box: doors[1].ground[5].height"]
    assert 0.0 < slope < 0.02
    moved = []
    for height in ("-0.22 m", "-0.18 m"):
        apron[-1]["height"] = height
        moved.append(keys(judged(plain, room)[0])["door: head on the way"].gap)
    true = max(abs(gap - found["door: head on the way"].gap) for gap in moved)
    assert slope == pytest.approx(true, abs=2e-3)


def test_json_and_drawing_say_the_same(plain, room):
    room["doors"][0]["ground"] = APRON
    answer, built = judged(plain, room)
    told = json.loads(document("fit", fit_record(answer, pf.advice(answer, built))))["pushes"][0]
    assert (told["way"], told["problem"]) == ("nose first", None)
    head = next(t for t in told["least"] if t["kind"] == "head")
    check = keys(answer)["door: head on the way"]
    assert head["gap_proved"]["value"] == check.gap
    assert 0.0 <= head["bracket"]["value"] <= 1e-3 + 1e-12
    (drawing,) = side_views(answer, built, "mm")
    assert ET.fromstring(svg.text(drawing)).tag.endswith("svg")
    assert f"{math.floor(check.gap * 1000.0 + 1e-6)} mm under the head" in svg.text(drawing)
    assert "inner wall line" in instant(check.tight, "mm")


def test_letters_of_close_instants_stand_side_by_side(plain, room):
    room["doors"][0]["ground"] = APRON
    answer, built = judged(plain, room)
    (push,) = answer.pushes
    first = push.tightest[0].pose
    close = tuple(
        replace(one, pose=replace(first, along=first.along + 0.01 * k))
        for k, one in enumerate(push.tightest)
    )
    (drawing,) = side_views(replace(answer, pushes=(replace(push, tightest=close),)), built, "mm")
    texts = [e for e in ET.fromstring(svg.text(drawing)).iter() if e.tag.endswith("text")]
    at = {e.text: (float(e.get("x")), float(e.get("y"))) for e in texts if len(e.text) == 1}
    assert len(at) > 1
    for (x, y), (x1, y1) in itertools.combinations(at.values(), 2):
        assert abs(x - x1) >= 9.0 or abs(y - y1) >= 12.0


def test_the_demo_barn_lets_samphire_down_its_apron():
    room = pf.build_room(pf.load_place(DESIGNS / "barn.toml"))
    standing = pf.stand_all(pf.build(pf.load(DESIGNS / "samphire.toml")))[-1]
    answer = judge_straight(standing, room)
    found = {c.key: c for c in answer.checks}
    assert answer.verdict == FITS
    # level floor: 27.9 in under the head; the fins stand behind the main wheels and rise a little
    assert found["barn door: head on the way"].gap / 0.0254 == pytest.approx(27.5, abs=0.1)
    assert found["barn door: head on the way"].tight.part in ("right fin", "left fin")
    assert found["barn door: ground on the way"].tight.part == "pod"


@pytest.mark.parametrize(
    ("points", "told"),
    [
        (
            [("0 m", "10 mm"), ("1 m", "0 m")],
            "doors[1].ground[1].height: given '10 mm'; allowed: zero, as heights are over the "
            "room's floor and the way begins on it",
        ),
        (
            [("1 m", "0 m"), ("0.5 m", "0 m")],
            "doors[1].ground[2].at: given '0.5 m'; allowed: no nearer than the point before it "
            "(1 m); points go outward, and inside the room they are negative",
        ),
        (
            [("1 m", "0 m"), ("1 m", "10 mm"), ("1 m", "20 mm")],
            "doors[1].ground[3].at: given '1 m'; a third point at one place; two make a step, "
            "from the lower to the upper height",
        ),
        (
            [("0 m", "0 m"), ("0 m", "3 m")],
            "doors[1].ground: given height '3 m' at '0 m'; allowed: in the opening, under its "
            "head (2.5 m)",
        ),
        ([("0 m", "0 m")], "doors[1].ground: given [{'at': '0 m', 'height': '0 m'}]; "),
        ([("0 m", "0 m"), ("1 m", "12,5 mm")], "doors[1].ground[2].height: given '12,5 mm'"),
    ],
)
def test_bad_ground_is_told_in_one_sentence(room, points, told):
    room["doors"][0]["ground"] = [{"at": a, "height": h} for a, h in points]
    (problem,) = problems(room)
    assert problem.startswith(told)


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (
            {"end": "-1 m"},
            "doors[1].planks[1].end: given '-1 m'; allowed: further out than its start (0 m)",
        ),
        (
            {"middle": "4.95 m"},
            "doors[1].planks[1].middle: given '4.95 m', '0.3 m' wide; allowed: between the jambs, "
            "5.000 m either side of the door's middle",
        ),
        ({"width": "0 m"}, "doors[1].planks[1].width: given '0 m'; allowed: a length above zero"),
        ({"lenght": "1 m"}, "doors[1].planks[1].lenght: no such field; "),
    ],
)
def test_bad_planks_are_told_in_one_sentence(room, change, told):
    plank = {"start": "0 m", "end": "1 m", "width": "0.3 m", "height": "30 mm"}
    room["doors"][0]["planks"] = [{**plank, **change}]
    (problem,) = problems(room)
    assert problem.startswith(told)
