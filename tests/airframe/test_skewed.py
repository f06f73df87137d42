"""Sides that differ, in trim: against the half model, against each other's mirror, by hand."""

import math
import tomllib
from pathlib import Path

import pytest

from planform.aero.answer import reference_wing
from planform.aero.flow import solve
from planform.aero.lifting import lifting_surfaces
from planform.aero.skewed import skewed
from planform.airframe.build import build
from planform.design.load import design_from

MARRAM = Path("designs/marram.toml")
CG = 4.25


def marram(*rows):
    table = tomllib.loads(MARRAM.read_text(encoding="utf-8"))
    return build(design_from({**table, "as_built": list(rows)}))


def test_sides_alike_do_nothing():
    got = skewed(marram(), 0.4, CG)
    assert got.lift_aside.value == pytest.approx(0.0, abs=1e-9)
    assert got.yaw_arm.value == pytest.approx(0.0, abs=1e-9)
    assert got.set_apart.value == pytest.approx(0.0, abs=1e-9)
    assert got.on == "outer panel"


def test_the_other_side_is_the_mirror_image():
    left, right = (
        skewed(marram({"of": "outer panel", "side": side, "incidence": "0.5 deg"}), 0.4, CG)
        for side in ("left", "right")
    )
    assert left.lift_aside.value == pytest.approx(-right.lift_aside.value, rel=1e-6)
    assert right.lift_aside.value > 0.01
    assert left.yaw_arm.value == pytest.approx(-right.yaw_arm.value, rel=1e-6)


def test_what_would_take_it_out_is_what_put_it_in():
    got = skewed(marram({"of": "outer panel", "side": "right", "incidence": "0.5 deg"}), 0.4, CG)
    assert math.degrees(got.set_apart.value) == pytest.approx(-0.5, abs=0.03)


def test_it_is_linear_and_sweep_and_dihedral_count():
    one, two = (
        skewed(marram({"of": "outer panel", "side": "left", "sweep": f"{deg} deg"}), 0.4, CG)
        for deg in (0.25, 0.5)
    )
    assert two.lift_aside.value == pytest.approx(2.0 * one.lift_aside.value, rel=0.05)
    assert abs(one.lift_aside.value) > 1e-4


@pytest.mark.parametrize(
    "row",
    [
        {"of": "outer panel", "side": "left", "sweep": "1 deg"},
        {"of": "outer panel", "side": "right", "incidence": "1 deg"},
        {"of": "winglet", "side": "left", "cant": "2 deg"},
    ],
)
def test_the_mean_has_the_neutral_point_of_both_within_squares(row):
    """What is off on one side counts half: half as much on both sides is the same aircraft."""
    built = marram(row)
    kind = next(key for key in row if key not in ("of", "side"))
    half = f"{float(row[kind].split()[0]) / 2.0} deg"
    both = marram(*({"of": row["of"], "side": side, kind: half} for side in ("left", "right")))
    found = []
    for airframe in (built, both):
        area, chord, _ = reference_wing(both)
        flow = solve(lifting_surfaces(airframe), area, chord, 20, 3)
        found.append((flow.neutral_point, flow.lift_slope, flow.moment_at_zero))
    assert found[0] == pytest.approx(found[1], abs=3e-4)
