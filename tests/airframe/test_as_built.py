"""An aircraft as built: each difference from the drawing against figures worked by hand."""

import math
import re
import tomllib
from pathlib import Path

import numpy as np
import pytest

from planform.airframe.build import build, drawn
from planform.airframe.deviated import moved_by
from planform.airframe.freedoms import displaced, freedoms
from planform.airframe.measure import standing_measures
from planform.airframe.stages import stand
from planform.airframe.true_shapes import TrueShell, true_parts
from planform.design.as_built_checks import may_differ
from planform.design.load import design_from
from planform.design.problems import InputError

DEMO = Path("designs/marram.toml")


def marram(*rows):
    table = tomllib.loads(DEMO.read_text(encoding="utf-8"))
    return design_from({**table, "as_built": list(rows)})


@pytest.fixture(scope="module")
def plain():
    return build(marram())


def tip(points):
    return int(np.argmax(np.abs(points[:, 1])))


def test_nothing_built_otherwise_is_the_same_airframe(plain):
    assert plain.moved is None
    assert drawn(plain.design) is plain.design


@pytest.mark.parametrize(
    ("row", "part", "axis", "by"),
    [
        ({"of": "outer panel", "side": "left", "sweep": "0.25 deg"}, "left outer panel", 0, 1.0),
        ({"of": "outer panel", "side": "left", "dihedral": "0.25 deg"}, "left outer panel", 2, 1.0),
        (
            {"of": "outer panel", "side": "right", "sweep": "-0.25 deg"},
            "right outer panel",
            0,
            -1.0,
        ),
    ],
)
def test_a_panel_swung_at_its_root(plain, row, part, axis, by):
    built = build(marram(row))
    k = tip(plain.by_name[part].points)
    moved = built.by_name[part].points[k] - plain.by_name[part].points[k]
    span = (174.0 - 66.0) * 0.0254
    assert moved[axis] == pytest.approx(by * span * math.sin(math.radians(0.25)), abs=2e-4)
    other = "right outer panel" if part.startswith("left") else "left outer panel"
    assert built.by_name[other] is not None
    np.testing.assert_array_equal(built.by_name[other].points, plain.by_name[other].points)
    winglet = part.replace("outer panel", "winglet")
    lengths = [
        np.linalg.norm(np.diff(a.by_name[winglet].points, axis=0), axis=1) for a in (plain, built)
    ]
    np.testing.assert_allclose(lengths[0], lengths[1], atol=1e-9)  # it goes along, unchanged


def test_a_foreplane_tilted_skewed_and_set(plain):
    arm = 78.0 * 0.0254
    for row, axis in (({"tilt": "0.2 deg"}, 2), ({"skew": "0.3 deg"}, 0)):
        built = build(marram({"of": "foreplane", **row}))
        apart = []
        for side in ("right", "left"):
            points = plain.by_name[f"{side} foreplane"].points
            k = tip(points)
            apart.append(built.by_name[f"{side} foreplane"].points[k][axis] - points[k][axis])
        angle = math.radians(float(next(iter(row.values())).split()[0]))
        assert apart[0] - apart[1] == pytest.approx(2.0 * arm * math.sin(angle), abs=1e-6)
        assert apart[0] > 0.0
    built = build(marram({"of": "foreplane", "incidence": "0.5 deg", "wl": "1/4 in"}))
    points = plain.by_name["right foreplane"].points
    k = int(np.argmax(points[:, 0] - np.abs(points[:, 1])))  # the trailing edge at the root
    fall = built.by_name["right foreplane"].points[k][2] - points[k][2]
    chord = 16.0 * 0.0254
    assert fall == pytest.approx(0.25 * 0.0254 - chord * math.sin(math.radians(0.5)), abs=1e-5)


def test_a_winglet_leaned_and_toed(plain):
    length = 60.0 * 0.0254
    for side, hand in (("left", -1.0), ("right", 1.0)):
        row = {"of": "winglet", "side": side, "cant": "1 deg"}
        part = f"{side} winglet"
        points, there = plain.by_name[part].points, build(marram(row)).by_name[part].points
        k = int(np.argmax(points[:, 2]))
        out = length * (math.sin(math.radians(13.0)) - math.sin(math.radians(12.0)))
        assert hand * (there[k] - points[k])[1] == pytest.approx(out, abs=1e-4)
        toed = build(marram({"of": "winglet", "side": side, "toe": "1 deg"})).by_name[part].points
        aft = int(np.argmax(points[:, 0]))
        assert hand * (toed[aft] - points[aft])[1] > 0.002  # the trailing edge goes outboard


def test_the_hull_bent_and_twisted(plain):
    built = build(marram({"of": "hull", "bend_sideways": "1 in", "hull_twist": "1 deg"}))
    nose = int(np.argmin(plain.by_name["hull"].points[:, 0]))
    off = built.by_name["hull"].points[nose] - plain.by_name["hull"].points[nose]
    assert off[1] == pytest.approx(0.0254, abs=2e-3)
    aft = plain.by_name["hull"].points[:, 0] > 3.82
    np.testing.assert_array_equal(
        built.by_name["hull"].points[aft], plain.by_name["hull"].points[aft]
    )
    for side, hand in (("right", 1.0), ("left", -1.0)):
        points = plain.by_name[f"{side} foreplane"].points
        off = (built.by_name[f"{side} foreplane"].points - points)[tip(points)]
        assert hand * off[0] > 0.01  # a nose to the right: right tip aft
        assert hand * off[2] > 0.01  # its right side up: right tip up
    np.testing.assert_array_equal(
        built.by_name["right wing"].points, plain.by_name["right wing"].points
    )


def test_longer_deeper_and_twisted(plain):
    row = {
        "of": "outer panel",
        "side": "right",
        "span": "1 in",
        "chord": "1/2 in",
        "twist": "1 deg",
    }
    built = build(marram(row))
    one, other = plain.halves_in("wing")[0], built.halves_in("wing")[0]
    assert other.chord[-1] - one.chord[-1] == pytest.approx(0.0127, abs=1e-4)
    assert other.leading_edge[-1, 1] - one.leading_edge[-1, 1] == pytest.approx(0.0254, abs=1e-4)
    assert math.degrees(other.incidence[-1] - one.incidence[-1]) == pytest.approx(1.0, abs=0.03)
    np.testing.assert_allclose(other.incidence[:-2], one.incidence[:-2], atol=1e-12)


def test_there_and_back(plain):
    found = freedoms(plain)
    dice = np.random.default_rng(5)
    for one in found:
        name = sorted(one.parts)[0]
        points = plain.by_name[name].points
        by = float(dice.uniform(-0.02, 0.02))
        there = one.displaced(points, by)
        np.testing.assert_allclose(one.displaced(there, -by), points, atol=1.5e-3)
        assert displaced([one], [0.0], [name] * len(points), points) == pytest.approx(points)


def test_a_turn_keeps_volumes(plain):
    turns = [f for f in freedoms(plain) if f.kind in ("sweep", "dihedral", "cant", "toe", "tilt")]
    built = moved_by(plain, turns, [0.01] * len(turns))
    for part in built.parts:
        volume = part.trimesh().volume
        assert volume == pytest.approx(plain.by_name[part.name].trimesh().volume, rel=1e-9)


def test_what_may_differ_is_what_can(plain):
    can = {(f.of, f.side, f.kind) for f in freedoms(plain)}
    may = {
        (of, side, kind)
        for of, sides in may_differ(plain.design).items()
        for side, kinds in sides.items()
        for kind in kinds
    }
    assert {one for one in may if one[0] not in plain.design.pads} == can


def test_what_was_turned_keeps_its_true_curves_and_what_was_bent_its_facets(plain):
    built = build(
        marram(
            {"of": "outer panel", "side": "left", "dihedral": "1 deg"},
            {"of": "hull", "bend_up": "1 in"},
        )
    )
    known = dict(zip(built.names, true_parts(built, built.parts), strict=True))
    before = dict(zip(plain.names, true_parts(plain, plain.parts), strict=True))
    one, other = before["left outer panel"], known["left outer panel"]
    assert isinstance(one, TrueShell)
    assert isinstance(other, TrueShell)
    points = built.by_name["left outer panel"].points
    corners = np.concatenate([skin.points.reshape(-1, 3) for skin in other.bands[0]])
    far = np.linalg.norm(points[:, None] - corners, axis=2).min(axis=1)
    drawn_corners = np.concatenate([skin.points.reshape(-1, 3) for skin in one.bands[0]])
    was = np.linalg.norm(
        plain.by_name["left outer panel"].points[:, None] - drawn_corners, axis=2
    ).min(axis=1)
    np.testing.assert_allclose(far, was, atol=1e-8)
    assert known["hull"] is None
    assert before["hull"] is not None


def test_tip_heights_and_what_it_stands_on():
    plain, built = (
        standing_measures(stand(build(design)))
        for design in (
            marram(),
            marram({"of": "outer panel", "side": "left", "dihedral": "0.5 deg"}),
        )
    )
    rise = (174.0 - 66.0) * 0.0254 * math.sin(math.radians(0.5))
    assert built["tip_height"] - plain["tip_height"] == pytest.approx(rise, abs=3e-3)


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ({"of": "outer pannel", "side": "left", "sweep": "1 deg"}, "did you mean 'outer panel'"),
        ({"of": "outer panel", "sweep": "1 deg"}, 'with side = "left" or "right"'),
        ({"of": "outer panel", "side": "left", "toe": "1 deg"}, "as_built[1].toe"),
        ({"of": "outer panel", "side": "left"}, "no difference"),
        ({"of": "outer panel", "side": "left", "sweep": "9 deg"}, "up to 5 deg either way"),
        ({"of": "outer panel", "side": "left", "span": "9 in"}, "up to 150 mm"),
        ({"of": "hull", "side": "left", "bend_up": "1 in"}, "without a side"),
        ({"of": "outer panel", "side": "middle", "sweep": "1 deg"}, "as_built[1].side"),
    ],
)
def test_what_cannot_be(row, words):
    with pytest.raises(InputError, match=re.escape(words)):
        marram(row)


def test_twice_the_same():
    row = {"of": "outer panel", "side": "left", "sweep": "1 deg"}
    with pytest.raises(InputError, match="a second time; allowed: once"):
        marram(row, row)
