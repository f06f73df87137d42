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


SQUASH = {"load": "300 kg", "by": "20 mm"}
HINGE = {"fs": "1 m", "bl": "0.5 m", "wl": "-0.3 m"}
UP = {"hinge_from": HINGE, "hinge_to": HINGE | {"fs": "2 m"}, "angle": "80 deg"}


@pytest.mark.parametrize(
    ("fields", "path", "told"),
    [
        ({"squash": SQUASH | {"by": "0.2 m"}}, "squash.by", "half the diameter"),
        ({"squash": SQUASH | {"load": "0 kg"}}, "squash.load", "above zero"),
        ({"squash": SQUASH | {"load": "20 mm"}}, "squash.load", "a mass with its unit"),
        ({"squash": {"load": "300 kg"}}, "squash.by", "needed"),
        ({"stroke": {"full": "0.1 m", "load": "9 kg"}}, "stroke", "load and by together"),
        ({"stroke": {"full": "0.1 m", **SQUASH, "by": "0.2 m"}}, "stroke.by", "the full stroke"),
        ({"retraction": UP | {"angle": "0 deg"}}, "retraction.angle", "not zero"),
        ({"retraction": UP | {"angle": "190 deg"}}, "retraction.angle", "up to 180 deg"),
        ({"retraction": UP | {"hinge_to": HINGE}}, "retraction.hinge_to", "away from hinge_from"),
        ({"retraction": {"angle": "80 deg"}}, "retraction.hinge_from", "needed"),
    ],
)
def test_springs_and_hinges_that_cannot_be_are_told(fields, path, told):
    assert told in problems(with_main(**fields))[f"wheels.main.{path}"]


@pytest.mark.parametrize(("by", "good"), [("0.1 m", True), ("0.12 m", False), ("-5 mm", False)])
def test_a_stance_compresses_a_strut_within_its_stroke(by, good):
    table = with_main(stroke={"full": "0.1 m"})
    table["stances"]["gear"]["compressed"] = {"left main": by}
    if good:
        assert design_from(table)
    else:
        assert "full stroke (0.1 m)" in problems(table)["stances.gear.compressed.left main"]


def test_a_wheel_that_it_stands_on_is_not_retracted_either_side_or_part_of_the_way():
    for field, value in (("retracted", ["left main"]), ("turned", {"left main": "40 deg"})):
        table = with_main(retraction=UP)
        table["stances"]["gear"][field] = value
        assert "also stands on" in problems(table)[f"stances.gear.{field}"]


@pytest.mark.parametrize("bad", ["x", None, {"hinge_from": HINGE, "hinge_to": HINGE, "angle": 3}])
def test_a_hinge_that_cannot_be_read_is_told_once(bad):
    table = with_main(retraction=bad)
    table["stances"]["gear"]["turned"] = {"main": "3 deg"}
    with pytest.raises(InputError):
        design_from(table)


def test_where_no_weight_is_known_tyres_stand_unloaded_and_it_is_told():
    standing = pf.stand(build(design_from(with_main(squash=SQUASH))))
    assert standing.attitude.height == pytest.approx(1.0)
    (line,) = standing.remarks
    assert "unloaded, as no weight" in line


def test_an_aircraft_that_sits_on_its_tail_has_its_tyres_unloaded():
    table = with_main(squash=SQUASH)
    table["masses"] = [{"name": "all", "mass": "300 kg", "fs": "1.5 m", "wl": "0 m"}]
    (line,) = pf.stand(build(design_from(table))).remarks
    assert "does not stay on what it stands on" in line


def test_a_tolerance_of_a_mass_moves_the_height_where_tyres_give():
    table = with_main(squash=SQUASH)
    table["wheels"]["nose"]["squash"] = SQUASH
    table["masses"] = [{"name": "all", "mass": "600 kg ± 30 kg", "fs": "0.7 m", "wl": "0 m"}]
    from planform.study.spreads_of_measures import measure_spreads

    found = measure_spreads((pf.stand(build(design_from(table))),)).standings[0]["height"]
    ((name, _),) = found.by_input
    assert "masses[1].mass" in name
    del table["wheels"]["nose"]["squash"], table["wheels"]["main"]["squash"]
    bare = measure_spreads((pf.stand(build(design_from(table))),)).standings[0]
    assert not bare.get("height") or not bare["height"].worst


def test_a_compressed_strut_moves_fairing_brake_and_the_lower_end_of_its_leg():
    leg = {"top": {"fs": "1 m", "bl": "0.6 m", "wl": "-0.2 m"}, "thickness": "50 mm"}
    table = with_main(fairing=FAIRING, brake=BRAKE, leg=leg)
    table["stances"]["low"] = {"on": ["nose", "main"], "compressed": {"main": "60 mm"}}
    airframe = build(design_from(table))
    full, low = (stand_on(airframe, airframe.design.stages[0], s) for s in ("gear", "low"))
    for name in ("left main", "left main fairing", "left main brake"):
        before, after = (
            next(p for p in s.parts if p.name == name).points @ s.turn - s.shift @ s.turn
            for s in (full, low)
        )
        assert after - before == pytest.approx(np.tile([0.0, 0.0, 0.06], (len(before), 1)))
    before, after = (
        next(p for p in s.parts if p.name == "left main leg").points @ s.turn - s.shift @ s.turn
        for s in (full, low)
    )
    assert after[:12] - before[:12] == pytest.approx(np.tile([0.0, 0.0, 0.06], (12, 1)))
    assert after[12:] == pytest.approx(before[12:])
