"""Areas of wings that begin at the body's side, spans at winglet tips, panels held open."""

from __future__ import annotations

import copy
import itertools
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planform.aero.lifting import lifting_surfaces
from planform.airframe.build import build
from planform.airframe.measure import design_measures, standing_measures
from planform.airframe.stance import stand_all
from planform.design.load import design_from
from planform.design.problems import InputError
from planform.design.questions import design_questions
from tests.conftest import PLAIN

AXES = {"fs": 0, "bl": 1, "wl": 2}


@given(
    inner=st.floats(0.2, 1.0),
    root=st.floats(1.0, 2.0),
    tip=st.floats(0.4, 1.0),
    sweep=st.floats(0.0, 0.6),
)
def test_a_wing_from_the_bodys_side_is_what_it_says(inner, root, tip, sweep):
    """By hand: two trapezoids from the side outward, and a rectangle between them where told."""
    table = copy.deepcopy(PLAIN)
    table["winglets"] = {}
    wing = table["lifting"]["wing"]
    wing["cuts"] = [
        {"fs": "0 m", "bl": f"{inner:.9f} m", "wl": "0 m", "chord": f"{root:.9f} m"},
        {"bl": "4 m", "sweep_le_plan": f"{math.degrees(sweep):.6f} deg", "chord": f"{tip:.9f} m"},
    ]
    outer = (4.0 - inner) * (root + tip)
    asked = design_questions(design_from(table))
    assert any("does the wing go on through the body" in q for q in asked)
    for told, area in ((None, outer), (False, outer), (True, outer + 2.0 * inner * root)):
        if told is not None:
            wing["carried_through"] = told
        design = design_from(table)
        airframe = build(design)
        item = next(m for m in design_measures(airframe).items if m.key == "wing.area")
        assert item.value == pytest.approx(area, rel=1e-6)
        assert "through the body" not in item.reference
        line = lifting_surfaces(airframe)[0].line
        assert line.edge[0, 1] == pytest.approx(0.0 if told else inner)
        assert told is None or not any("go on through" in q for q in design_questions(design))


@given(cant=st.floats(-60.0, 60.0), sides=st.sampled_from(["both", "left", "right"]))
def test_the_span_at_the_tips_is_that_of_the_tips(cant, sides):
    table = copy.deepcopy(PLAIN)
    table["winglets"]["winglet"] |= {"cant": f"{cant:.6f} deg", "side": sides}
    found = design_measures(build(design_from(table)))
    tip = 4.0 + math.sin(math.radians(cant))
    other = tip if sides == "both" else 4.0  # the bare tip of the wing
    assert found["span_with_winglets"] == pytest.approx(tip + other, abs=1e-6)


def lid_table(hinge, toward, opens, **more):
    """A panel hinged along a line of two points, and the stage with it open."""
    table = copy.deepcopy(PLAIN)
    ends = [dict(zip(AXES, (f"{v} m" for v in point), strict=True)) for point in hinge]
    table["panels"] = {
        "lid": {
            "hinge_from": ends[0], "hinge_to": ends[1], "width": "0.5 m", "toward": toward,
            "opens": opens, "thickness": "0.01 m", **more,
        }
    }  # fmt: skip
    table["stages"][0]["open"] = ["lid"]
    return table


def stood(table):
    return stand_all(build(design_from(table)))[0]


WAYS = {
    "left": (1, -1), "right": (1, 1), "ahead": (0, -1), "aft": (0, 1), "up": (2, 1), "down": (2, -1)
}  # fmt: skip


@settings(max_examples=40)
@given(
    along=st.sampled_from([0, 1, 2]),
    toward=st.sampled_from(list(WAYS)),
    opens=st.sampled_from(list(WAYS)),
    angle=st.floats(1.0, 180.0),
)
def test_any_hinge_opens_the_way_it_is_told_or_is_refused(along, toward, opens, angle):
    start = np.array([-0.5, 0.3, 0.4])
    end = start + 0.6 * np.eye(3)[along]
    table = lid_table((start, end), toward, opens, open_angle=f"{angle:.6f} deg")
    axes = {along, WAYS[toward][0], WAYS[opens][0]}
    if len(axes) < 3:
        with pytest.raises(InputError):
            design_from(table)
        return
    standing = stood(table)
    found = standing_measures(standing)
    edge = start + 0.5 * (
        math.cos(math.radians(angle)) * WAYS[toward][1] * np.eye(3)[WAYS[toward][0]]
        + math.sin(math.radians(angle)) * WAYS[opens][1] * np.eye(3)[WAYS[opens][0]]
    )
    heights = [standing.to_floor((edge + shift)[None])[0, 2] for shift in (0, end - start)]
    assert found["lid.free_edge"] == pytest.approx(max(heights), abs=0.011)  # and its thickness
    assert found["lid.headroom"] == pytest.approx(min(heights), abs=0.011)
    assert found["lid.open_angle"] == pytest.approx(math.radians(angle), abs=1e-6)


@settings(max_examples=30)
@given(
    frame=st.floats(0.1, 0.5),
    mount=st.floats(0.1, 0.45),
    drop=st.floats(0.0, 0.3),
    share=st.floats(-0.4, 1.3),
)
def test_a_strut_opens_by_the_law_of_cosines_or_is_refused(frame, mount, drop, share):
    """Both mounts on the same side of the hinge: c2 = a2 + b2 - 2 a b cos(opening + shut)."""
    hinge = np.array([[-0.5, 0.0, 0.4], [0.1, 0.0, 0.4]])
    low = np.array([-0.5, -frame, 0.4 - drop])
    moving = np.array([-0.5, -mount, 0.4])
    a, b = math.hypot(frame, drop), mount
    shut = math.atan2(drop, frame)
    least = math.dist(low, moving)
    half_turn = math.sqrt(a * a + b * b - 2.0 * a * b * math.cos(min(math.pi, math.pi + shut)))
    most = max(half_turn, a + b if shut >= 0.0 else half_turn)
    length = least + share * (most - least)

    def point(p):
        return dict(zip(AXES, (f"{v:.9f} m" for v in p), strict=True))

    strut = {
        "length": f"{max(length, 0.001):.9f} m",
        "frame_mount": point(low),
        "panel_mount": point(moving),
    }
    table = lid_table(hinge, "left", "up", strut=strut)
    if not 0.001 < share < 0.999:
        if share < -1e-3 or share > 1.001:
            with pytest.raises(InputError, match="longer than its mounts are apart"):
                design_from(table)
        return
    found = standing_measures(stood(table))
    by_cosines = math.acos((a * a + b * b - length * length) / (2.0 * a * b)) - shut
    assert found["lid.open_angle"] == pytest.approx(by_cosines, abs=1e-4)
    assert 0.0 < found["lid.open_angle"] <= math.pi


def test_mirrored_hinges_mirror():
    for toward, opens in itertools.product(("left", "up", "aft"), repeat=2):
        if toward == opens:
            continue
        other = {"left": "right"}
        here = ((-0.5, 0.3, 0.4), (0.1, 0.35, 0.9))
        there = tuple((x, -y, z) for x, y, z in here)
        angle = {"open_angle": "70 deg"}
        try:
            one = standing_measures(stood(lid_table(here, toward, opens, **angle)))
        except InputError:
            continue
        two = standing_measures(
            stood(lid_table(there, other.get(toward, toward), other.get(opens, opens), **angle))
        )
        for key in ("lid.free_edge", "lid.headroom", "lid.open_angle", "width"):
            assert two[key] == pytest.approx(one[key], abs=1e-9)
