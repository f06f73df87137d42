"""Gear against closed forms and a general solver.

Loads of three wheels: moments about an axle (statics; FAA-H-8083-1B works its examples so).
The three-point attitude of a tail-dragger and the rotation of a leg about a line: trigonometry and
Rodrigues' formula (any handbook of mathematics), worked by hand here.
Springs in proportion to the load: Hooke's law. The general solver is `scipy.optimize.root`.
"""

from __future__ import annotations

import copy
import math

import numpy as np
import pytest

import planform as pf
from planform.airframe.build import build
from planform.airframe.stance import stand_on
from planform.design.load import design_from
from tests.conftest import PLAIN


def weighed(table, mass="600 kg", fs="0.7 m", wl="0.1 m"):
    table["masses"] = [{"name": "all of it", "mass": mass, "fs": fs, "wl": wl}]
    return table


def standing_of(table, stance=None):
    airframe = build(design_from(table))
    return stand_on(airframe, airframe.design.stages[-1], stance)


def test_squash_and_stroke_at_the_equilibrium_of_a_general_solver():
    from scipy.optimize import root

    table = weighed(copy.deepcopy(PLAIN))
    table["wheels"]["nose"] |= {
        "squash": {"load": "100 kg", "by": "20 mm"},
        "stroke": {"full": "0.3 m", "load": "100 kg", "by": "60 mm"},
    }
    table["wheels"]["main"] |= {"squash": {"load": "250 kg", "by": "30 mm"}}
    found = standing_of(table)

    def residual(unknown):
        pitch, height, tyre_n, strut_n, tyre_m = unknown
        c, s = math.cos(pitch), math.sin(pitch)

        def placed(x, z):  # nose up: x aft, z up
            return x * c + z * s, -x * s + z * c + height

        xn, zn = placed(-1.0, -0.8 + strut_n)
        xm, zm = placed(1.0, -0.8)
        xg, _ = placed(0.7, 0.1)
        nose = 600.0 * (xm - xg) / (xm - xn)
        main = 0.5 * (600.0 - nose)
        return [
            zn - (0.2 - tyre_n),
            zm - (0.2 - tyre_m),
            tyre_n - nose * 0.02 / 100.0,
            strut_n - nose * 0.06 / 100.0,
            tyre_m - main * 0.03 / 250.0,
        ]

    solved = root(residual, [0.0, 1.0, 0.01, 0.01, 0.01], tol=1e-13)
    assert solved.success
    pitch, height, tyre_n, strut_n, tyre_m = solved.x
    assert found.attitude.pitch == pytest.approx(pitch, abs=1e-9)
    assert found.attitude.height == pytest.approx(height, abs=1e-9)
    gives = found.settled.gives
    assert gives["nose"].tyre == pytest.approx(tyre_n, abs=1e-9)
    assert gives["nose"].strut == pytest.approx(strut_n, abs=1e-9)
    assert gives["left main"].tyre == pytest.approx(tyre_m, abs=1e-9)
    assert sum(found.settled.loads.values()) == pytest.approx(600.0)


def test_a_pressed_tyre_is_flat_where_it_stands():
    """The chord of the flat is that of the circle: 2 sqrt(2 R d - d^2); volume less the segment."""
    table = weighed(copy.deepcopy(PLAIN))
    for name in ("nose", "main"):
        table["wheels"][name]["squash"] = {"load": "100 kg", "by": "10 mm"}
    found = standing_of(table)
    wheel = next(part for part in found.parts if part.name == "left main")
    mesh = wheel.trimesh()
    assert mesh.is_watertight
    assert wheel.points[:, 2].min() == pytest.approx(0.0, abs=1e-12)
    sunk = found.settled.gives["left main"].tyre
    low = wheel.points[np.abs(wheel.points[:, 2]) < 1e-9]
    chord = 2.0 * math.sqrt(2.0 * 0.2 * sunk - sunk * sunk)
    assert chord - 1e-9 <= np.ptp(low[:, 0]) < 1.04 * chord  # drawn around the true round
    half = math.acos(1.0 - sunk / 0.2)
    segment = 0.2**2 * (half - math.sin(half) * math.cos(half))
    exact = (math.pi * 0.2**2 - segment) * 0.1
    assert exact < mesh.volume < 1.005 * exact


def test_a_strut_that_is_bottomed_stands_at_its_stroke():
    table = weighed(copy.deepcopy(PLAIN))
    table["wheels"]["main"]["stroke"] = {"full": "0.05 m", "load": "10 kg", "by": "0.05 m"}
    found = standing_of(table)
    assert found.settled.gives["right main"].strut == 0.05
    assert found.attitude.pitch == pytest.approx(math.asin(0.05 / math.hypot(2.0, 0.05)), abs=1e-4)


def test_a_stage_that_weighs_more_stands_lower():
    table = weighed(copy.deepcopy(PLAIN))
    table["wheels"]["nose"]["squash"] = table["wheels"]["main"]["squash"] = {
        "load": "300 kg", "by": "20 mm",
    }  # fmt: skip
    light = standing_of(weighed(copy.deepcopy(table), "100 kg"))
    heavy = standing_of(table)
    assert heavy.attitude.height < light.attitude.height < standing_of(PLAIN).attitude.height


def test_a_leg_turns_about_its_hinge_as_rodrigues_formula_says():
    table = copy.deepcopy(PLAIN)
    ends = [np.array([0.9, 0.5, -0.3]), np.array([1.3, 0.45, -0.25])]
    keys = ("fs", "bl", "wl")
    first, second = ({k: f"{v} m" for k, v in zip(keys, end, strict=True)} for end in ends)
    table["wheels"]["main"] |= {
        "leg": {"top": {"fs": "1 m", "bl": "0.5 m", "wl": "-0.3 m"}, "thickness": "50 mm"},
        "brake": {"bl": "0.92 m", "diameter": "0.2 m", "width": "50 mm"},
        "fairing": {"fs": "0.6 m", "length": "1 m", "width": "0.2 m",
                    "bottom": "-0.9 m", "top": "-0.55 m"},
        "retraction": {"hinge_from": first, "hinge_to": second, "angle": "85 deg"},
    }  # fmt: skip
    table["pads"] = {"jack": {"side": "both", "fs": "1 m", "bl": "0.3 m", "wl": "-0.5 m"}}
    table["stances"]["jacks"] = {
        "on": ["nose", "jack"], "heights": {"jack": "0.5 m"}, "retracted": ["main"],
    }  # fmt: skip
    airframe = build(design_from(table))
    found = {p.name: p for p in stand_on(airframe, airframe.design.stages[0], "jacks").parts}
    standing = stand_on(airframe, airframe.design.stages[0], "jacks")
    k = (ends[1] - ends[0]) / np.linalg.norm(ends[1] - ends[0])
    angle = math.radians(85.0)

    def turned(points):
        v = points - ends[0]
        return (
            ends[0]
            + v * math.cos(angle)
            + np.cross(k, v) * math.sin(angle)
            + np.outer(v @ k, k) * (1.0 - math.cos(angle))
        )

    for name in ("main", "main leg", "main brake", "main fairing"):
        right = airframe.by_name[f"right {name}"]
        expected = standing.to_floor(turned(right.points))
        assert found[f"right {name}"].points == pytest.approx(expected, abs=1e-12)
        mirror = turned(right.points) * [1.0, -1.0, 1.0]
        assert found[f"left {name}"].points == pytest.approx(standing.to_floor(mirror), abs=1e-12)
    assert found["right main"].points[:, 2].mean() > found["nose"].points[:, 2].mean()


def test_the_mass_of_a_retracted_leg_turns_with_it():
    """A quarter turn about a line along x through the hinge: (y, z) goes to (-z, y) from there."""
    table = copy.deepcopy(PLAIN)
    hinge = {"fs": "0 m", "bl": "0.5 m", "wl": "-0.3 m"}
    table["wheels"]["main"]["retraction"] = {
        "hinge_from": hinge, "hinge_to": hinge | {"fs": "1 m"}, "angle": "-90 deg",
    }  # fmt: skip
    table["pads"] = {"jack": {"side": "both", "fs": "1 m", "bl": "0.3 m", "wl": "-0.5 m"}}
    table["stances"]["jacks"] = {"on": ["nose", "jack"], "retracted": ["main"]}
    table["stages"].append({"name": "wheels up", "stance": "jacks"})
    table["masses"] = [
        {"name": "pod", "mass": "300 kg", "fs": "0.5 m", "wl": "0 m", "part": "pod"},
        {"name": "mains", "mass": "40 kg", "fs": "1 m", "wl": "-0.8 m", "part": "main"},
    ]
    airframe = build(design_from(table))
    from planform.airframe.weight.stage_weight import items_on

    down, up = (items_on(airframe, stage)[1] for stage in airframe.design.stages)
    assert (down.fs, down.bl, down.wl) == (1.0, 0.0, -0.8)
    # from the hinge: 0.5 out, 0.5 down; turned by -90 deg about x: (y, z) -> (z, -y)
    assert (up.fs, up.wl) == pytest.approx((1.0, -0.3 - 0.5))
    assert up.bl == pytest.approx(0.0)


def test_without_a_hinge_a_retracted_wheel_is_not_there_as_ever():
    table = copy.deepcopy(PLAIN)
    table["wheels"]["nose"]["fairing"] = {
        "fs": "-1.4 m", "length": "1 m", "width": "0.2 m", "bottom": "-0.9 m", "top": "-0.5 m",
    }  # fmt: skip
    table["pads"] = {"bumper": {"fs": "-1 m", "bl": "0 m", "wl": "-0.7 m"}}
    table["stances"]["low"] = {"on": ["bumper", "main"], "retracted": ["nose"]}
    names = {part.name for part in standing_of(table, "low").parts}
    assert not {"nose", "nose fairing"} & names
    assert pf.standing_measures(standing_of(table, "low"))["pitch"] < 0.0
