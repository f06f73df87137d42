"""A practitioner's published canard notes, Tables 4-3, 4-4, Equations 2-1, 2-2, 2-7, as quoted.

CN-01 foreplane volume coefficient, CN-02 trim lift ratio, CN-03 CG ahead of the main wing, CN-04
static margin, CN-05 rule-of-thumb neutral point; model scale, inches. CN-11 a flight-test report
quoted in an encyclopaedia (its 40 lb is a rounded pair of 20 kg). CN-12 and CN-10 practitioners'
words. CN-13 textbooks, from memory. Tolerance: half of the last printed digit.
"""

import math

import numpy as np
import pytest

import planform as pf
from planform.balance.reference import Reference
from planform.balance.stages import stage_balance
from planform.core.mass.sums import nose_load
from planform.core.mass.support import tip_angle
from planform.core.shape.canard import neutral_point_by_rule, static_margin
from planform.core.shape.planform import volume_coefficient
from planform.design.units import POUND
from tests.conftest import DESIGNS
from tests.formulas import trim_lift_ratio


@pytest.mark.parametrize(
    ("foreplane", "arm", "wing", "mac", "printed"),
    [(62.2, 15.71, 249.0, 7.10, 0.55), (82.0, 10.29, 164.0, 6.08, 0.85)],
)
def test_cn_01_foreplane_volume_coefficient(foreplane, arm, wing, mac, printed):
    assert volume_coefficient(foreplane, arm, wing, mac) == pytest.approx(printed, abs=0.005)


@pytest.mark.parametrize(
    ("arm", "ahead", "foreplane", "wing", "printed", "digit"),
    [(22.0, 6.29, 62.2, 249.0, 1.603, 0.0005), (18.0, 7.71, 82.0, 164.0, 1.50, 0.005)],
)
def test_cn_02_trim_lift_ratio(arm, ahead, foreplane, wing, printed, digit):
    ratio = trim_lift_ratio(arm, ahead, foreplane, wing)
    assert ratio == pytest.approx(printed, abs=digit)
    assert ratio > 1.0


@pytest.mark.parametrize(("ahead", "mac", "printed"), [(6.29, 7.10, 0.886), (7.71, 6.08, 1.268)])
def test_cn_03_cg_ahead_of_the_wing_is_shown_as_it_is(ahead, mac, printed):
    assert ahead / mac == pytest.approx(printed, abs=0.0005)
    wing = Reference("given", "rear wing", lemac=100.0, mac=mac)
    cg = 100.0 + 0.25 * mac - ahead
    assert wing.share(cg) == pytest.approx(0.25 - printed, abs=0.0005)
    assert wing.share(cg) < 0.0
    assert wing.station(wing.share(cg)) == pytest.approx(cg)


def test_cn_04_static_margin_names_its_chord():
    # 0.20 to 0.25 of the rear MAC in the notes
    assert static_margin(101.0, 99.5, 7.10) == pytest.approx(0.211, abs=0.0005)


def test_cn_05_rule_of_thumb_neutral_point():
    ahead = neutral_point_by_rule(62.2, 249.0, 22.0)
    assert ahead == pytest.approx(62.2 * 22.0 / (62.2 + 0.8 * 249.0))
    margin = static_margin(-ahead, -6.29, 7.10)
    assert 0.1 < margin < 0.3  # the notes' own example lies in their own range


def test_cn_09_and_12_kneeling_moves_the_cg_forward_over_the_wheels():
    airframe = pf.build(pf.load(DESIGNS / "quillwort.toml"))
    stage = airframe.design.stages[1]
    level = stage_balance(pf.stand(airframe, stage, "gear"))
    kneeling = stage_balance(pf.stand(airframe, stage, "kneeling"))
    margin = {}
    for name, found in (("level", level), ("kneeling", kneeling)):
        mains = [s for s in found.supports if "main" in s.name]
        margin[name] = np.mean([s.fs for s in mains]) - found.over_floor[0]
    assert margin["kneeling"] - margin["level"] > 0.03  # "a few centimetres" and more
    assert kneeling.tip_back > level.tip_back + math.radians(10.0)


def test_cn_10_mains_in_a_trough_bring_it_nearer_to_tipping():
    design = pf.load(DESIGNS / "quillwort.toml")
    deep = pf.changed(design, "stances.gear.heights", {"main": "-3 in"})
    found = [
        stage_balance(pf.stand(pf.build(d), d.stages[-1], "gear")).tip_back for d in (design, deep)
    ]
    assert found[1] < found[0] - math.radians(1.5)


def test_cn_11_twenty_kilograms_are_forty_four_pounds():
    in_pounds = float(pf.read("20 kg", "mass")) / POUND
    assert in_pounds == pytest.approx(44.1, abs=0.05)


def test_cn_13_tip_back_angle_from_memory():
    assert math.degrees(tip_angle(10.0, 40.0)) == pytest.approx(14.04, abs=0.005)
    assert nose_load(1.0, 90.0, 0.0, 100.0) == pytest.approx((100.0 - 90.0) / 100.0)
