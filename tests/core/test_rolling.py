"""Axles over uneven ground: closed forms, and bounds that hold everything they say they hold."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planform.core.motion.contacts import CannotStand
from planform.core.motion.uneven_ground import (
    GroundPose,
    RollingWheel,
    Top,
    axle_height,
    axle_range,
    blocking_step,
    play,
    settle,
)

FAR = 100.0


def line(*corners):
    """Tops through corners, level beyond them."""
    whole = [(-FAR, corners[0][1]), *corners, (FAR, corners[-1][1])]
    return tuple(Top(a[0], b[0], a[1], b[1]) for a, b in pairwise(whole) if b[0] > a[0])


@st.composite
def grounds(draw):
    at, corners = -2.0, [(-2.0, 0.0)]
    for _ in range(draw(st.integers(1, 5))):
        at += draw(st.sampled_from([0.0, 0.002, 0.05, 0.4, 1.0]))
        corners.append((at, draw(st.floats(-0.08, 0.08))))
    return line(*corners)


def wheels(tops, left=None):
    left = tops if left is None else left
    return (
        RollingWheel("nose", (-2.0, 0.0, -0.4), 0.18, 0.1, tops),
        RollingWheel("right main", (0.2, 0.9, -0.4), 0.2, 0.12, tops),
        RollingWheel("left main", (0.2, -0.9, -0.4), 0.2, 0.12, left),
    )


def test_a_wheel_at_a_step_stands_as_the_circle_about_its_edge():
    """Closed form: the axle runs on a circle about the edge, sqrt(r2 - d2) over it."""
    r, h = 0.2, 0.05
    tops = line((0.0, 0.0), (0.0, h))
    for d in (0.02, 0.08, 0.12):
        assert axle_height(tops, -d, r) == pytest.approx(h + math.sqrt(r * r - d * d))
    touch = math.sqrt(r * r - (r - h) ** 2)
    assert axle_height(tops, -touch - 1e-6, r) == pytest.approx(r, abs=1e-6)
    assert axle_height(tops, 0.3, r) == pytest.approx(r + h)


def test_on_a_slope_the_axle_stands_a_radius_off_it():
    slope = 0.3
    tops = (Top(-FAR, FAR, -slope * FAR, slope * FAR),)
    assert axle_height(tops, 1.0, 0.2) == pytest.approx(slope + 0.2 * math.hypot(1.0, slope))


def test_a_wheel_spans_a_gutter_narrower_than_itself():
    """Closed form: over the middle of a gap of width w it sinks by r - sqrt(r2 - w2/4)."""
    r, w = 0.2, 0.15
    tops = line((0.0, 0.0), (0.0, -1.0), (w, -1.0), (w, 0.0))
    sink = r - axle_height(tops, 0.5 * w, r)
    assert sink == pytest.approx(r - math.sqrt(r * r - 0.25 * w * w))
    assert blocking_step(tops, r) is None


@given(tops=grounds(), along=st.floats(-3.0, 3.0), squash=st.floats(0.9, 1.0))
def test_axle_height_is_the_highest_over_all_points_in_reach(tops, along, squash):
    r = 0.2
    at = along + np.linspace(-r, r, 4001)
    best = -np.inf
    for top in tops:
        on = at[(at >= top.start) & (at <= top.end)]
        on = np.concatenate([on, [e for e in (top.start, top.end) if abs(e - along) <= r]])
        if len(on):
            height = top.start_height + top.slope * (on - top.start)
            drop = np.sqrt(np.maximum(0.0, r * r - (on - along) ** 2))
            best = max(best, float((height + squash * drop).max()))
    found = axle_height(tops, along, r, squash)
    assert best - 1e-12 <= found <= best + 2e-5


@given(tops=grounds(), start=st.floats(-3.0, 3.0), length=st.floats(0.0, 0.5))
def test_axle_range_holds_every_height_within(tops, start, length):
    low, high = axle_range(tops, start, start + length, 0.2)
    for along in np.linspace(start, start + length, 60):
        assert low - 1e-12 <= axle_height(tops, float(along), 0.2) <= high + 1e-12


@given(tops=grounds(), along=st.floats(-3.0, 5.0))
def test_a_settled_pose_has_every_wheel_on_its_ground(tops, along):
    three = wheels(tops)
    pose = settle(three, along, 1.0)
    for wheel in three:
        centre = pose.turn @ np.array(wheel.arm)
        lean = abs(pose.turn[2, 1])
        wanted = axle_height(tops, along - centre[0], wheel.radius, math.sqrt(1.0 - lean * lean))
        assert pose.height + centre[2] == pytest.approx(wanted + 0.5 * wheel.width * lean, abs=1e-9)


@settings(max_examples=25)
@given(
    tops=grounds(),
    left=grounds(),
    along=st.floats(-3.0, 5.0),
    half=st.sampled_from([0.002, 0.02, 0.1]),
    ahead=st.sampled_from([1.0, -1.0]),
)
def test_play_holds_every_point_at_every_place_within(tops, left, along, half, ahead):
    """Points of a box move no further than the bound says; 41 places within the stretch."""
    three = wheels(tops, left)
    pose = settle(three, along, ahead)
    near = play(three, pose, ahead, half)
    if near is None:
        return
    corners = np.array([[x, y, z] for x in (-3.0, 2.0) for y in (-4.0, 4.0) for z in (-0.6, 2.0)])

    def seen(one: GroundPose):
        moved = corners @ one.turn.T
        return np.column_stack(
            [one.along - ahead * moved[:, 0], moved[:, 1], one.height + moved[:, 2]]
        )

    bound = near.of(corners[None])[0]
    for place in np.linspace(along - half, along + half, 41):
        off = np.abs(seen(settle(three, float(place), ahead)) - seen(pose)).max(axis=0)
        assert (off <= bound + 1e-9).all()


def test_play_is_proved_on_short_stretches_everywhere():
    tops = line((0.0, 0.0), (0.0, 0.06), (0.05, 0.06), (0.05, -0.05), (1.0, -0.2))
    three = wheels(tops)
    for along in np.linspace(-3.0, 4.0, 141):
        pose = settle(three, float(along), 1.0)
        assert play(three, pose, 1.0, 1e-3) is not None


def test_on_level_ground_the_pose_has_no_play_but_the_way_itself():
    tops = line((0.0, 0.0))
    near = play(wheels(tops), settle(wheels(tops), 0.0, 1.0), 1.0, 0.25)
    assert near is not None
    corners = np.array([[[1.0, 2.0, 3.0]] * 8])
    assert near.of(corners)[0] == pytest.approx([0.25, 0.0, 0.0], abs=1e-12)


def test_a_step_up_to_the_axle_blocks():
    assert blocking_step(line((0.0, 0.0), (0.0, 0.19)), 0.2) is None
    at, height = blocking_step(line((1.0, 0.0), (1.0, 0.21)), 0.2)
    assert (at, height) == (1.0, 0.21)
    assert blocking_step(line((1.0, 0.0), (1.0, -0.21)), 0.2) == (1.0, 0.0)


def test_two_wheels_or_four_are_not_followed():
    tops = line((0.0, 0.0))
    with pytest.raises(CannotStand, match="stands on 2 wheels"):
        settle(wheels(tops)[:2], 0.0, 1.0)
