"""An aircraft with a tail wheel: its three-point attitude, and going over on its nose."""

from __future__ import annotations

import copy
import math

import numpy as np
import pytest

from planform.airframe.build import build
from planform.airframe.stance import stand_on
from planform.balance.ends import BACK, OVER
from planform.balance.footing import footing
from planform.balance.stages import stage_balance
from planform.design.load import design_from
from planform.design.parking import main_axle
from planform.report.balance.ground_tables import ground_table
from planform.report.way_out.card import tail_line
from tests.conftest import PLAIN


def tail_wheeled(fs="-0.6 m", mass="500 kg"):
    """Main wheels ahead, 0.2 m in radius; a tail wheel of 0.1 m aft, 0.4 m higher at its axle."""
    table = copy.deepcopy(PLAIN)
    table["wheels"]["main"] |= {"fs": "-1 m"}
    del table["wheels"]["nose"]
    table["wheels"]["tail"] = {
        "fs": "2 m", "bl": "0 m", "wl": "-0.4 m", "diameter": "0.2 m", "width": "0.06 m",
    }  # fmt: skip
    table["stances"] = {"gear": {"on": ["main", "tail"]}}
    table["masses"] = [{"name": "all of it", "mass": mass, "fs": fs, "wl": "0.1 m"}]
    return table


def standing_of(table):
    airframe = build(design_from(table))
    return stand_on(airframe, airframe.design.stages[0])


def three_point():
    """Nose up so that both tyres touch: (z_t - z_m) cos p - (x_t - x_m) sin p = r_t - r_m.

    By hand: 0.4 cos p - 3 sin p = -0.1; R cos(p + a) = -0.1 with R = hypot(3, 0.4) and
    a = atan2(3, 0.4).
    """
    return math.acos(-0.1 / math.hypot(3.0, 0.4)) - math.atan2(3.0, 0.4)


def test_the_three_point_attitude_is_that_of_trigonometry():
    standing = standing_of(tail_wheeled())
    assert math.degrees(three_point()) > 9.0
    assert standing.attitude.pitch == pytest.approx(three_point(), abs=1e-12)
    lows = {p.name: p.points[:, 2].min() for p in standing.parts if p.role == "wheel"}
    assert all(-2e-3 < low < 1e-9 for low in lows.values())
    assert main_axle(standing.airframe.design) == ("left main", "right main")


def test_it_goes_over_its_nose_by_the_angle_from_its_main_wheels():
    standing = standing_of(tail_wheeled())
    found = stage_balance(standing)
    pitch = three_point()
    aft = 0.4 * math.cos(pitch) + 0.9 * math.sin(pitch)  # of the axle, to the CG
    high = 0.2 - 0.4 * math.sin(pitch) + 0.9 * math.cos(pitch)
    base = 3.0 * math.cos(pitch) + 0.4 * math.sin(pitch)
    assert found.ends is OVER
    assert found.tip_back == pytest.approx(math.atan2(aft, high), abs=1e-9)
    assert found.front == ("tail",)
    assert found.front_load == pytest.approx(500.0 * aft / base, abs=1e-6)
    assert "nose" in found.push.at
    assert "aft end" in found.lift.at
    assert found.stands


def test_a_cg_ahead_of_the_main_wheels_goes_over_until_the_nose_rests():
    standing = standing_of(tail_wheeled(fs="-1.4 m"))
    found = stage_balance(standing)
    assert found.tip_back < 0.0
    assert not found.stands
    rest = footing(standing).tail
    assert rest.name == "pod"
    hull = next(p for p in standing.parts if p.name == "pod").points @ rest.turn.T + rest.shift
    assert hull[:, 2].min() == pytest.approx(0.0, abs=1e-9)
    assert hull[np.argmin(hull[:, 2]), 0] < -0.5  # its nose
    assert sum(s.load for s in found.supports) == pytest.approx(500.0)
    assert any("nose (" in s.name for s in found.supports)
    assert "push" not in found.set_down.at
    assert "aft end" in found.set_down.at
    words = str(ground_table((found,)).rows)
    assert "GOES OVER ON ITS NOSE" in words
    assert "TAIL" not in words
    assert "IT GOES OVER ON ITS NOSE" in tail_line(found).text


def test_the_words_of_a_nose_wheel_stay_and_those_of_a_tail_wheel_are_its_own():
    nosed = copy.deepcopy(PLAIN)
    nosed["masses"] = [{"name": "all of it", "mass": "500 kg", "fs": "0.5 m", "wl": "0.1 m"}]
    nose, tail = (stage_balance(standing_of(one)) for one in (nosed, tail_wheeled()))
    assert nose.ends is BACK
    assert "tip back" in ground_table((nose,)).columns
    assert "nose over" in ground_table((tail,)).columns
    assert "tip back or nose over" in ground_table((nose, tail)).columns
    assert "lifts the nose" in str(ground_table((nose,)).rows)
    assert "lifts the tail" in str(ground_table((tail,)).rows)
    assert tail_line(nose).text.startswith("Tail:")
    assert tail_line(tail).text.startswith("Nose:")


def test_a_mirror_of_fore_and_aft_tips_by_the_same_angle():
    """Seen level, an aircraft turned end for end goes over as the first sits back."""
    nosed = copy.deepcopy(PLAIN)
    nosed["masses"] = [{"name": "all of it", "mass": "500 kg", "fs": "0.5 m", "wl": "0.1 m"}]
    tailed = copy.deepcopy(nosed)
    tailed["wheels"]["nose"]["fs"], tailed["wheels"]["main"]["fs"] = "1 m", "-1 m"
    tailed["masses"][0]["fs"] = "-0.5 m"
    nose, tail = (stage_balance(standing_of(one)) for one in (nosed, tailed))
    assert tail.tip_back == pytest.approx(nose.tip_back)
    assert tail.front_load == pytest.approx(nose.front_load)
    assert tail.overturn == pytest.approx(nose.overturn)


def test_without_weights_a_tail_wheel_is_not_told_to_hold_its_nose_down():
    assert "hold" not in tail_line(None, OVER).text
    assert tail_line(None, OVER).text.startswith("Nose: no weights are given")
    assert "holds the nose down" in tail_line(None).text
