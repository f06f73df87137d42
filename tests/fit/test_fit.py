"""Fit in rooms whose answer is plain arithmetic."""

from __future__ import annotations

import numpy as np
import pytest

import planform as pf
from planform.core.shape.distances import nearest_of_all
from planform.design.load import changed, design_from, place_from
from planform.fit.clearance import Gaps, clearances
from planform.fit.door import best_heading, needed_width
from planform.fit.straight import judge_straight
from planform.fit.verdict import CARE, FITS, NOT, UNJUDGED
from planform.study.spreads_of_fit import with_spreads


def _judged(design, place, **kinds):
    room = pf.build_room(place_from(place))
    airframe = pf.build(design_from(design))
    return judge_straight(pf.stand_all(airframe)[0], room, **kinds), room


def _gap(answer, key):
    return next(c.gap for c in answer.checks if c.key == key)


def test_width_through_the_door_is_the_opening_less_the_overall_width(plain, room):
    answer, _ = _judged(plain, room)
    standing = answer.standing
    width = pf.standing_measures(standing)["width"]
    assert _gap(answer, "door: width") == pytest.approx(10.0 - width - 2 * standing.bulge, abs=1e-9)


def test_head_and_ceiling_gaps_are_heights(plain, room):
    answer, _ = _judged(plain, room)
    height = pf.standing_measures(answer.standing)["height"]
    top = next(c for c in answer.checks if c.key == "ceiling").clearance
    assert _gap(answer, "ceiling") == pytest.approx(3.0 - height, abs=answer.standing.bulge + 1e-9)
    assert top.direction == "up"
    assert _gap(answer, "door: head") == pytest.approx(2.5 - height, abs=0.01)


def test_wall_gap_is_the_plan_distance(plain, room):
    answer, _ = _judged(plain, room)
    half = 0.5 * pf.standing_measures(answer.standing)["width"]
    wall = next(c for c in answer.checks if c.key == "wall")
    assert wall.gap == pytest.approx(6.0 - half, abs=answer.standing.bulge + 1e-9)
    assert wall.clearance.direction in ("to the left", "to the right")


@pytest.mark.parametrize(
    ("ceiling", "verdict"), [("2.0 m", NOT), ("2.05 m", CARE), ("2.5 m", FITS)]
)
def test_verdict_follows_the_ceiling(plain, room, ceiling, verdict):
    room["ceiling"]["height"] = ceiling
    room["doors"][0]["clear_height"] = "2 m"
    answer, _ = _judged(plain, room)
    height = pf.standing_measures(answer.standing)["height"]
    assert height == pytest.approx(2.0, abs=0.05)
    expected = 3.0
    assert expected > height
    check = next(c for c in answer.checks if c.key == "ceiling")
    value = float(ceiling.split()[0]) - height - answer.standing.bulge
    assert check.gap == pytest.approx(value, abs=0.01)
    assert check.verdict == (NOT if check.gap < 0 else CARE if check.gap < 0.1 else FITS)
    if abs(value) > 0.02:
        assert check.verdict == verdict


def test_tolerance_larger_than_the_gap_needs_care(plain, room):
    room["clearances"] = {}
    room["doors"][0]["clear_height"] = "2.05 m ± 0.2 m (measured)"
    answer, built = _judged(plain, room)
    with_tolerance = with_spreads(answer, built)
    check = next(c for c in with_tolerance.checks if c.key == "door: head")
    assert check.spread.worst == pytest.approx(0.2, abs=1e-9)
    assert check.verdict == CARE
    assert "tolerance" in check.why


def test_worst_case_adds_and_root_sum_square_does_not(plain, room):
    room["doors"][0]["clear_width"] = "10 m ± 30 mm (measured)"
    plain["lifting"]["wing"]["cuts"][1]["bl"] = "4 m ± 20 mm (measured)"
    answer, built = _judged(plain, room)
    check = next(c for c in with_spreads(answer, built).checks if c.key == "door: width")
    assert check.spread.worst == pytest.approx(0.07, abs=1e-6)
    assert check.spread.rss == pytest.approx((0.03**2 + 0.04**2) ** 0.5, abs=1e-6)
    assert check.spread.by_input[0][0].endswith("cuts[2].bl")


def test_a_thing_in_the_wing_is_an_overlap_with_its_depth(plain, room):
    room["obstacles"] = [
        {
            "name": "post",
            "kind": "standing",
            "outline": [["8 m", "4 m"], ["8.2 m", "4 m"], ["8.2 m", "6 m"], ["8 m", "6 m"]],
            "top": "2 m",
        }
    ]
    answer, _ = _judged(plain, room)
    check = next(c for c in answer.checks if c.key == "obstacle")
    assert check.gap < 0.0
    assert check.verdict == NOT


def test_hanging_thing_above_is_measured_upright(plain, room):
    room["obstacles"] = [
        {
            "name": "lamp",
            "kind": "hanging",
            "outline": [
                ["5.8 m", "4.8 m"],
                ["6.2 m", "4.8 m"],
                ["6.2 m", "5.2 m"],
                ["5.8 m", "5.2 m"],
            ],
            "bottom": "2 m",
        }
    ]
    answer, _ = _judged(plain, room)
    check = next(c for c in answer.checks if c.key == "obstacle")
    assert check.clearance.part == "pod"
    assert check.gap == pytest.approx(2.0 - 1.5, abs=1e-6)


def test_no_spot_and_no_ceiling_are_not_judged(plain, room):
    del room["spots"], room["ceiling"]
    answer, _ = _judged(plain, room)
    assert answer.verdict_of("room") == UNJUDGED
    assert any("no ceiling" in note for note in answer.notes)
    assert answer.verdict == UNJUDGED


def test_off_the_floor_is_said(plain, room):
    room["spots"][0] |= {"at": ["6 m", "0.1 m"], "heading": "180 deg"}
    answer, _ = _judged(plain, room)
    assert "stands off the floor" in answer.checks[0].missing


def test_sloped_ceiling_meets_the_part_under_its_low_end(plain, room):
    room["ceiling"] = {
        "along": "depth",
        "profile": [{"at": "0 m", "height": "2.6 m"}, {"at": "10 m", "height": "4 m"}],
    }
    answer, built = _judged(plain, room)
    check = next(c for c in answer.checks if c.key == "ceiling")
    points = np.concatenate([p.points for p in answer.standing.parts])
    placed = np.column_stack([6.0 - points[:, 1], 5.0 + points[:, 0]])
    roof = 2.6 + placed[:, 1] * 0.14
    assert check.gap == pytest.approx(
        (roof - points[:, 2]).min() / np.hypot(1.0, 0.14) - answer.standing.bulge, abs=0.006
    )
    assert built.ceiling_over(np.array([[0.0, 5.0]]))[0] == pytest.approx(3.3)


def test_best_heading_of_a_rectangle_is_its_short_side():
    corners = np.array([[0.0, 0.0], [4.0, 0.0], [4.0, 1.5], [0.0, 1.5]])
    heading, width = best_heading(corners)
    assert width == pytest.approx(1.5)
    assert needed_width(corners, heading) == pytest.approx(1.5)


def test_mirroring_design_and_place_changes_no_gap(plain, room):
    room["obstacles"] = [
        {
            "name": "post",
            "kind": "standing",
            "outline": [["11 m", "1 m"], ["11.5 m", "1 m"], ["11.5 m", "2 m"], ["11 m", "2 m"]],
            "top": "1.8 m",
        }
    ]
    here, _ = _judged(plain, room)
    room["obstacles"][0]["outline"] = [
        ["0.5 m", "1 m"],
        ["1 m", "1 m"],
        ["1 m", "2 m"],
        ["0.5 m", "2 m"],
    ]
    there, _ = _judged(plain, room)
    assert [c.gap for c in here.checks] == pytest.approx([c.gap for c in there.checks], abs=1e-9)


def test_a_beam_over_the_middle_of_a_facet_is_an_overlap_upright(plain, room):
    """No corner of the pod is under the beam, only its flat top."""
    a, b = ("5.9 m", "6.1 m"), ("4.9 m", "5.1 m")
    ring = [[a[0], b[0]], [a[1], b[0]], [a[1], b[1]], [a[0], b[1]]]
    beam = {"name": "beam", "kind": "hanging", "outline": ring, "bottom": "1.45 m"}
    room["obstacles"] = [beam]
    answer, _ = _judged(plain, room)
    assert _gap(answer, "obstacle") == pytest.approx(1.45 - 1.5, abs=1e-6)


def _told(found):
    return [(c.part, c.thing, c.gap, *c.at_part, *c.at_thing) for c in found]


def test_kept_clearances_are_those_measured_anew(plain, room, monkeypatch):
    shop, design = pf.build_room(place_from(room)), design_from(plain)
    gaps, spot, measured = Gaps(), shop.place.spots[0], []

    def counted(meshes, things, limit):
        measured.append((len(meshes), len(things)))
        return nearest_of_all(meshes, things, limit)

    for cant in ("20 deg", "21 deg", "21 deg"):
        moved = pf.stand(pf.build(changed(design, "winglets.winglet.cant", cant)))
        for limit in (0.4, 3.0):
            with monkeypatch.context() as patch:
                patch.setattr("planform.fit.clearance.nearest_of_all", counted)
                kept = gaps.near(moved, shop, spot, limit)
            assert _told(kept) == _told(clearances(moved, shop, spot, limit))
    parts, things = len(moved.parts), len(shop.fixed)
    assert measured[:2] == [(parts, things)] * 2  # all of them, once for each limit
    assert all(0 < count < parts and all_of == things for count, all_of in measured[2:])
    assert len(measured) == 4  # the winglets alone, and nothing for the same again
    higher = {**room, "doors": [{**room["doors"][0], "clear_height": "2.6 m"}]}
    other = pf.build_room(place_from(higher))
    with monkeypatch.context() as patch:
        patch.setattr("planform.fit.clearance.nearest_of_all", counted)
        kept = gaps.near(moved, other, spot, 3.0)
    assert _told(kept) == _told(clearances(moved, other, spot, 3.0))
    assert measured[4:] == [(parts, 1)]  # the door's head alone


@pytest.mark.parametrize("heading", ["0 deg", "90 deg", "180 deg", "270 deg"])
def test_what_reaches_into_a_wall_comes_out_into_the_room(plain, room, heading):
    """By as much as it is beyond the inner face of the wall, however near its outer one is."""
    table = {**room, "doors": [], "obstacles": []}
    width = float(np.ptp(pf.stand(pf.build(design_from(plain))).all_points()[:, 1]))
    for beyond in (0.01, 0.05, 0.09):
        at = 0.5 * width - beyond
        spot = {**room["spots"][0], "heading": heading}
        across = heading in ("0 deg", "180 deg")
        spot["at"] = [f"{at} m", room["spots"][0]["at"][1]] if across else [
            room["spots"][0]["at"][0], f"{at} m"]  # fmt: skip
        answer, _ = _judged(plain, {**table, "spots": [spot]})
        wall = "left wall" if across else "front wall"
        worst = min((c for c in answer.near if c.thing == wall), key=lambda c: c.gap)
        assert worst.gap == pytest.approx(-beyond, abs=2e-3)
        moved = worst.at_thing - worst.at_part
        assert moved[0 if across else 1] == pytest.approx(beyond, abs=2e-3)
