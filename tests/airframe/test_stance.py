"""How the aircraft stands: contacts on the floor, kneeling, blocks, a flat tyre."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

import planform as pf
from planform.core.frames import body2floor
from planform.core.motion.contacts import CannotStand, Contact, lowest, rest_on
from planform.core.shape.hinge import strut_angle
from planform.design.load import design_from

heights = st.floats(-0.3, 0.3)


@given(nose=heights, left=heights, right=heights, radius=st.floats(0.0, 0.4))
def test_every_contact_rests_on_its_support(nose, left, right, radius):
    contacts = (
        Contact("nose", (-2.0, 0.0, -0.6), nose, radius, 0.1 if radius else 0.0),
        Contact("left", (0.5, -1.0, -0.5), left, radius, 0.1 if radius else 0.0),
        Contact("right", (0.5, 1.0, -0.5), right, radius, 0.1 if radius else 0.0),
    )
    found = rest_on(contacts)
    turn = body2floor(found.pitch, found.roll)
    for contact in contacts:
        assert lowest(contact, turn) + found.height == pytest.approx(contact.support, abs=1e-8)


def test_kneeling_angle_of_points_is_the_arc_tangent():
    """Three points: tan(pitch) = rise / run."""
    found = rest_on(
        (
            Contact("bumper", (0.0, 0.0, 0.6)),
            Contact("left", (2.0, -1.0, 0.0)),
            Contact("right", (2.0, 1.0, 0.0)),
        )
    )
    assert found.pitch == pytest.approx(-math.atan2(0.6, 2.0), abs=1e-9)
    assert found.roll == pytest.approx(0.0, abs=1e-9)


def test_flat_left_tyre_leans_left(plain):
    plain["stances"]["flat"] = {"on": ["nose", "main"], "flat": ["left main"]}
    airframe = pf.build(design_from(plain))
    flat = pf.stand(airframe, airframe.design.stages[0], "flat")
    even = pf.stand(airframe, airframe.design.stages[0], "gear")
    assert even.attitude.roll == pytest.approx(0.0, abs=1e-12)
    assert flat.attitude.roll == pytest.approx(-math.atan2(0.05, 2.0), rel=0.02)
    left = next(p for p in flat.parts if p.name == "left wing").points[:, 2].min()
    right = next(p for p in flat.parts if p.name == "right wing").points[:, 2].min()
    assert left < right


def test_blocks_lift_by_their_height(plain):
    plain["stances"]["blocks"] = {
        "on": ["nose", "main"],
        "heights": {"nose": "0.3 m", "main": "0.3 m"},
    }
    airframe = pf.build(design_from(plain))
    stage = airframe.design.stages[0]
    up = pf.standing_measures(pf.stand(airframe, stage, "blocks"))
    down = pf.standing_measures(pf.stand(airframe, stage, "gear"))
    assert up["height"] - down["height"] == pytest.approx(0.3, abs=1e-9)


def test_wheels_touch_the_floor(plain):
    standing = pf.stand_all(pf.build(design_from(plain)))[0]
    lows = [p.points[:, 2].min() for p in standing.parts if p.role == "wheel"]
    assert lows == pytest.approx([0.0, 0.0, 0.0], abs=1e-9)


def test_four_pads_need_no_more_than_three_to_carry():
    pads = tuple(
        Contact(f"{x}{y}", (x, y, 0.0), support)
        for x, y, support in ((0, -1, 0), (0, 1, 0), (3, -1, 0.02), (3, 1, 0.0))
    )
    found = rest_on(pads)
    turn = body2floor(found.pitch, found.roll)
    gaps = [lowest(c, turn) + found.height - c.support for c in pads]
    assert min(gaps) == pytest.approx(0.0, abs=1e-8)
    assert sorted(gaps)[2] == pytest.approx(0.0, abs=1e-8)


@pytest.mark.parametrize(
    ("points", "words"),
    [
        ([(0, 0, 0), (1, 0, 0)], "stands on three or more"),
        ([(0, 0, 0), (1, 0, 0), (2, 0, 0)], "on one line"),
    ],
)
def test_contacts_that_cannot_stand(points, words):
    with pytest.raises(CannotStand, match=words):
        rest_on(tuple(Contact(str(k), p) for k, p in enumerate(points)))


@given(angle=st.floats(0.05, 2.5))
def test_strut_angle_gives_back_the_angle(angle):
    """Turn the panel by an angle, measure the strut, ask for the angle."""
    axis, across = np.array([1.0, 0.0, 0.0]), np.array([0.0, 1.0, 0.0])
    frame, mount = np.array([0.1, 0.02, -0.3]), np.array([0.0, 0.4, 0.0])
    c, s = math.cos(angle), math.sin(angle)
    turned = np.array([0.0, 0.4 * c, 0.4 * s])
    length = float(np.linalg.norm(turned - frame))
    found = strut_angle(np.zeros(3), axis, across, frame, mount, length)
    turned_again = np.array([0.0, 0.4 * math.cos(found), 0.4 * math.sin(found)])
    assert np.linalg.norm(turned_again - frame) == pytest.approx(length, abs=1e-9)
    assert found <= angle + 1e-9


def test_strut_too_long_says_what_is_allowed():
    with pytest.raises(ValueError, match="these mounts allow a strut from"):
        strut_angle(
            np.zeros(3),
            np.array([1.0, 0.0, 0.0]),
            np.array([0.0, 1.0, 0.0]),
            np.array([0.0, 0.0, -0.3]),
            np.array([0.0, 0.4, 0.0]),
            2.0,
        )
