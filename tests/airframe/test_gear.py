"""What belongs to wheels: where it stands, how large it is, when it is on, what is refused."""

from __future__ import annotations

import copy
import math

import numpy as np
import pytest

import planform as pf
from planform.airframe.build import build
from planform.airframe.stance import stand_on
from planform.design.load import design_from
from planform.design.problems import InputError
from tests.conftest import PLAIN

FAIRING = {"fs": "0.6 m", "length": "1 m", "width": "0.2 m", "bottom": "-0.9 m", "top": "-0.5 m"}
BRAKE = {"bl": "0.9 m", "diameter": "0.24 m", "width": "0.06 m"}


def with_main(plain=PLAIN, **fields):
    table = copy.deepcopy(plain)
    table["wheels"]["main"] |= copy.deepcopy(fields)
    return table


def built(table):
    return {part.name: part for part in build(design_from(table)).parts}


def problems(table):
    with pytest.raises(InputError) as caught:
        design_from(table)
    return {problem.path: problem.allowed for problem in caught.value.problems}


def test_a_fairing_is_a_closed_solid_of_its_size_on_either_side():
    parts = built(with_main(fairing=FAIRING))
    right, left = parts["right main fairing"], parts["left main fairing"]
    assert right.trimesh().is_watertight
    assert np.ptp(right.points, axis=0) == pytest.approx([1.0, 0.2, 0.4], abs=1e-9)
    assert right.points.min(axis=0) == pytest.approx([0.6, 0.9, -0.9], abs=1e-9)
    assert left.points == pytest.approx(right.points * [1, -1, 1])
    assert left.trimesh().volume == pytest.approx(right.trimesh().volume)


def test_a_fairing_holds_its_true_shape():
    """Volume between the superellipse's closed form and 4 % more (gamma function, any handbook).

    Area of a superellipse of half axes a, b and exponent n: 4 a b G(1 + 1/n)^2 / G(1 + 2/n). A
    stretch between sections of one shape has the volume of a frustum.
    """
    n = 3.0
    area = 4.0 * 0.1 * 0.2 * math.gamma(1 + 1 / n) ** 2 / math.gamma(1 + 2 / n)
    stretches = ((0.15, 0.6, 1.0), (0.4, 1.0, 1.0), (0.45, 1.0, 0.2))
    true = sum(h * area / 3.0 * (a * a + a * b + b * b) for h, a, b in stretches)
    drawn = built(with_main(fairing=FAIRING))["right main fairing"].trimesh().volume
    assert true < drawn < 1.04 * true


def test_a_brake_stands_round_the_axle_and_is_weighed_with_its_wheel():
    table = with_main(brake=BRAKE)
    brake = built(table)["left main brake"]
    assert brake.trimesh().is_watertight
    assert brake.points.mean(axis=0) == pytest.approx([1.0, -0.9, -0.8], abs=1e-9)
    exact = math.pi * 0.12**2 * 0.06
    assert exact < brake.trimesh().volume < 1.01 * exact  # drawn around the true round
    airframe = build(design_from(table))
    from planform.airframe.weight.stage_weight import weightless

    assert "left main brake" not in weightless(airframe, airframe.design.stages[-1])


def test_a_fairing_goes_on_and_off_by_its_name_and_with_its_wheel():
    table = with_main(fairing=FAIRING, brake=BRAKE)
    table["stages"] += [
        {"name": "no fairings", "without": ["main fairing"], "stance": "gear"},
        {"name": "no left fairing", "without": ["left main fairing"], "stance": "gear"},
        {"name": "no left wheel", "without": ["left main"], "stance": "gear"},
    ]
    airframe = build(design_from(table))
    on = {s.name: {p.name for p in stand_on(airframe, s).parts} for s in airframe.design.stages}
    assert {"left main fairing", "right main fairing"} <= on["complete"]
    assert not {n for n in on["no fairings"] if "fairing" in n}
    assert "left main brake" in on["no fairings"]
    assert on["complete"] - on["no left fairing"] == {"left main fairing"}
    off = {"left main", "left main fairing", "left main brake"}
    assert on["complete"] - on["no left wheel"] == off


def test_a_fairing_counts_in_the_lowest_point_but_the_wheels():
    low = FAIRING | {"bottom": "-0.95 m"}
    bare, faired = (
        pf.standing_measures(pf.stand(build(design_from(with_main(**fields)))))["lowest_point"]
        for fields in ({}, {"fairing": low})
    )
    assert faired == pytest.approx(0.05, abs=1e-9)  # 1 m from the axis down to the floor
    assert faired < bare


@pytest.mark.parametrize(
    ("fields", "path", "told"),
    [
        ({"fairing": FAIRING | {"top": "-1 m"}}, "fairing.top", "above its bottom"),
        ({"fairing": FAIRING | {"fs": "1.2 m"}}, "fairing.fs", "begins ahead of the axle"),
        ({"fairing": FAIRING | {"bottom": "-1.1 m"}}, "fairing.bottom", "the tyre's lowest"),
        ({"fairing": FAIRING | {"length": "0 m"}}, "fairing.length", "above zero"),
        ({"fairing": FAIRING | {"width": "3"}}, "fairing.width", "unit"),
        ({"fairing": {"fs": "0.6 m"}}, "fairing.length", "needed"),
        ({"brake": BRAKE | {"diameter": "0.5 m"}}, "brake.diameter", "or it drags"),
        ({"brake": BRAKE | {"bl": "0.2 m"}}, "brake.bl", "beside its wheel"),
        ({"brake": BRAKE | {"colour": "red"}}, "brake.colour", "no such field"),
    ],
)
def test_what_cannot_be_is_told(fields, path, told):
    assert told in problems(with_main(**fields))[f"wheels.main.{path}"]
