"""Angles of ramps that a standing vehicle clears.

Definitions: 49 CFR 523.2, "approach angle": the smallest angle between the level surface and a
line tangent to the front tyre's arc that touches the underside ahead of the tyre; "breakover
angle": the supplement of the largest angle between two lines tangent to the tyres' arcs that meet
on the underside (approach angle read; breakover angle from memory; the same in SAE J689, from
memory). The closed forms follow from the definitions; for wheels small beside the wheelbase the
breakover angle is the well-known 2 atan(2 clearance / wheelbase).
Poses: a rigid frame of wheelbase L with one axle h higher leans by asin(h / L) (geometry; told
along the floor it is atan(rise / run)).
"""

from __future__ import annotations

import math

import numpy as np
import pytest

import planform as pf
from planform.design.load import design_from, place_from
from planform.fit.push_path import PushPath

BASE, TRACK, RADIUS, CLEAR, OVERHANG = 2.0, 2.0, 0.2, 0.5, 1.0
"""Of the small design: wheelbase, track, wheel radius, underside, nose ahead of its wheel [m]."""


def way(plain, room, ground, ahead=1, planks=()):
    room["doors"][0]["ground"] = [{"at": f"{a:.12f} m", "height": f"{h:.12f} m"} for a, h in ground]
    room["doors"][0]["planks"] = list(planks)
    room.pop("ceiling", None)
    built = pf.build_room(place_from(room))
    standing = pf.stand_all(pf.build(design_from(plain)))[0]
    return PushPath(standing, built, built.place.doors[0], ahead)


def crest(angle, at=2.0):
    """Up at half the angle to a crest, and down again."""
    rise = 20.0 * math.tan(0.5 * angle)
    return [(at - 20.0, 0.0), (at, rise), (at + 20.0, 0.0)]


@pytest.mark.parametrize("angle", [0.2, 0.4, 0.6])
def test_clearance_over_a_crest(plain, room, angle):
    """Astride: c + r/cos(a/2) - r - (L/2) tan(a/2)."""
    found = way(plain, room, crest(angle))
    half = 0.5 * angle
    expected = CLEAR + RADIUS / math.cos(half) - RADIUS - 0.5 * BASE * math.tan(half)
    tight = found.least("ground", 1.0, 3.0)
    assert tight.part == "pod"
    assert tight.gap + found.bulge == pytest.approx(expected, abs=1e-3)
    assert abs(tight.pose.pitch) < 0.02
    assert tight.pose.along == pytest.approx(2.0 - 0.5 * BASE, abs=0.05)


def test_breakover_angle_of_small_wheels(plain, room):
    """2 atan(2 c / L) as it is commonly told; c 0.1 m, L 2 m: 11.42 deg."""
    for wheel in plain["wheels"].values():
        wheel |= {"diameter": "4 mm", "wl": "-0.598 m", "flat_drop": "0 mm"}
    angle = 2.0 * math.atan(2.0 * 0.1 / BASE)
    assert math.degrees(angle) == pytest.approx(11.42, abs=0.005)
    found = way(plain, room, crest(angle))
    tight = found.least("ground", 1.0, 3.0)
    assert tight.gap + found.bulge == pytest.approx(0.0, abs=1e-3)


def test_approach_angle(plain, room):
    """The ramp at the approach angle is just touched; a flatter one is cleared, a steeper struck.

    Line tangent to the tyre through the nose's lower corner, o ahead of the axle and c high:
    o sin a - (c - r) cos a = r.
    """
    reach = math.hypot(OVERHANG, CLEAR - RADIUS)
    angle = math.asin(RADIUS / reach) + math.atan2(CLEAR - RADIUS, OVERHANG)
    gaps = []
    for turn in (-0.03, 0.0, 0.03):
        run = 3.0
        ground = [(1.0, 0.0), (1.0 + run, run * math.tan(angle + turn))]
        found = way(plain, room, ground)
        gaps.append(found.least("ground", -1.2, 0.2).gap + found.bulge)
    assert gaps[1] == pytest.approx(0.0, abs=1.5e-3)
    assert gaps[0] > 0.02
    assert gaps[2] < -0.02


def test_nose_wheel_on_a_platform_leans_by_its_rise_over_the_wheelbase(plain, room):
    rise = 0.15
    found = way(plain, room, [(-1.0, 0.0), (1.0, 0.0), (1.0, rise), (9.0, rise)])
    pose = found.pose(0.0)  # mains at the wall line, nose wheel 2 m outside
    assert pose.pitch == pytest.approx(math.asin(rise / BASE), abs=1e-9)
    assert math.tan(pose.pitch) == pytest.approx(rise / (BASE * math.cos(pose.pitch)), abs=1e-9)


def test_one_main_wheel_on_a_block_leans_by_its_height_over_the_track(plain, room):
    """sin(roll) cos(pitch) = h / T; the nose wheel on the centre line stays down."""
    block = {"start": "-6 m", "end": "6 m", "middle": "1 m", "width": "0.2 m", "height": "80 mm"}
    found = way(plain, room, [(0.0, 0.0), (1.0, 0.0)], planks=[block])
    pose = found.pose(0.0)
    assert pose.roll < 0.0  # the right wheel is on it: the left wing is down
    assert -math.sin(pose.roll) * math.cos(pose.pitch) == pytest.approx(0.08 / TRACK, abs=1e-9)
    other = way(plain, room, [(0.0, 0.0), (1.0, 0.0)], ahead=-1, planks=[block])
    assert other.pose(0.0).roll == pytest.approx(-pose.roll, abs=1e-9)


def test_axle_over_a_step_along_the_push(plain, room):
    """The nose axle at d before a step of h stands sqrt(r2 - d2) + h high."""
    step, d = 0.05, 0.1
    found = way(plain, room, [(0.0, 0.0), (1.0, 0.0), (1.0, step), (2.0, step)])
    nose = found.wheels[0]
    low, high = -1.5, 0.5
    for _ in range(60):
        middle = 0.5 * (low + high)
        centre = found.seen(np.array([nose.arm]), found.pose(middle))[0]
        low, high = (middle, high) if centre[0] < 1.0 - d else (low, middle)
    assert centre[2] == pytest.approx(step + math.sqrt(RADIUS**2 - d * d), abs=1e-6)
