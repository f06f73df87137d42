"""Doors and canopies against closed forms and a second method.

The moment of a strut by the principle of virtual work (any textbook of statics: the work of a
force is force times its point's way), its length by the law of cosines, the weight's moment of a
lid by hand, the standard gravity of NIST SP 330. The skin by the equation of the superellipse.
"""

from __future__ import annotations

import copy

import numpy as np
import pytest
from scipy.optimize import brentq

import planform as pf
from planform.airframe.build import build
from planform.airframe.opening import openings
from planform.airframe.stance import stand_on
from planform.core.frames import about_line
from planform.core.shape.section_arc import halves_of_section
from planform.core.shape.swing import FINE, least_over_turn
from planform.design.load import design_from
from tests.conftest import PLAIN

GRAVITY = 9.80665


def point(fs, bl, wl):
    return {"fs": f"{fs} m", "bl": f"{bl} m", "wl": f"{wl} m"}


LID = {
    "corners": [point(-0.5, -0.3, 0.5), point(0.5, -0.3, 0.5), point(0.5, 0.3, 0.5),
                point(-0.5, 0.3, 0.5)],
    "hinge_from": point(-0.5, 0.3, 0.5), "hinge_to": point(0.5, 0.3, 0.5),
    "thickness": "0.01 m", "opens": "up", "open_angle": "60 deg",
}  # fmt: skip


def lid(masses=True, **fields):
    table = copy.deepcopy(PLAIN)
    table["panels"] = {"lid": {k: v for k, v in (LID | fields).items() if v is not None}}
    if masses:
        table["masses"] = [
            {"name": "lid", "mass": "8 kg", "fs": "0 m", "wl": "0.5 m", "part": "lid"}
        ]
    return table


def opened(table, stage=None):
    airframe = build(design_from(table))
    return openings(stand_on(airframe, stage or airframe.design.stages[-1]))


def test_the_hand_at_the_edge_of_a_lid_carries_half_its_weight_times_the_cosine():
    found = opened(lid())[0]
    assert found.mass == 8.0
    for row in found.rows:
        assert row.hand == pytest.approx(0.5 * 8.0 * GRAVITY * np.cos(row.angle), abs=0.2)
        edge = 0.6 * np.sin(row.angle)
        assert row.top - found.rows[0].top == pytest.approx(edge, abs=0.011)


STRUT = {"length": "0.52 m", "force": "200 N", "force_shut": "260 N",
         "frame_mount": point(0.1, 0.25, 0.2), "panel_mount": point(0.0, -0.1, 0.45)}  # fmt: skip


def _length(angle, mount=(0.0, -0.1, 0.45), frame=(0.1, 0.25, 0.2), slope=0.0):
    """Between the mounts, the panel turned about a line through (-0.5, 0.3, 0.5)."""
    axis = np.array([1.0, 0.0, slope])
    turn, shift = about_line(np.array([-0.5, 0.3, 0.5]), -axis, angle)
    return float(np.linalg.norm(turn @ np.array(mount) + shift - np.array(frame)))


@pytest.mark.parametrize("slope", [0.0, 0.2])
def test_the_angle_of_a_strut_is_that_of_a_general_solver(slope):
    hinge_to = point(0.5, 0.3, round(0.5 + slope, 3))
    table = lid(open_angle=None, strut=STRUT, hinge_to=hinge_to)
    found = opened(table)[0]
    shut, out = _length(0.0, slope=slope), 0.52
    assert shut < out
    expected = brentq(lambda a: _length(a, slope=slope) - out, 0.0, 2.0)
    assert found.angle == pytest.approx(expected, abs=1e-9)
    assert found.held_by == "as far as its strut lets it"
    for row in found.rows:
        assert row.struts[0] == pytest.approx(_length(row.angle, slope=slope), abs=1e-12)


def test_the_hand_beside_a_strut_is_that_of_virtual_work():
    found = opened(lid(open_angle=None, strut=STRUT))[0]
    shut, step = _length(0.0), 1e-6
    for row in found.rows:
        length = _length(row.angle)
        force = 200.0 + 60.0 * (0.52 - length) / (0.52 - shut)
        lever = (_length(row.angle + step) - _length(row.angle - step)) / (2 * step)
        weight = 8.0 * GRAVITY * 0.3 * np.cos(row.angle)
        assert row.hand == pytest.approx((weight - force * lever) / 0.6, abs=0.3)


def test_two_struts_push_twice_and_the_shorter_ends_the_opening():
    second = STRUT | {"length": "0.5 m"}
    one = opened(lid(open_angle=None, strut=STRUT))[0]
    two = opened(lid(open_angle=None, strut=STRUT, second_strut=STRUT))[0]
    lone = opened(lid())[0].rows[0].hand
    assert two.rows[0].hand - lone == pytest.approx(2.0 * (one.rows[0].hand - lone))
    short = opened(lid(open_angle=None, strut=STRUT, second_strut=second))[0]
    assert short.angle == pytest.approx(brentq(lambda a: _length(a) - 0.5, 0.0, 2.0))
    stopped = opened(lid(open_angle=None, strut=STRUT, stop="10 deg"))[0]
    assert np.degrees(stopped.angle) == pytest.approx(10.0)
    assert stopped.held_by == "as far as its stop lets it"


def test_what_is_not_known_is_named():
    assert opened(lid(masses=False))[0].missing == "no mass item names it"
    bare = {k: v for k, v in STRUT.items() if not k.startswith("force")}
    found = opened(lid(open_angle=None, strut=bare))[0]
    assert found.missing == "a strut has no force"
    assert all(row.hand is None for row in found.rows)


def test_a_skin_panel_lies_on_the_superellipse_and_its_bulge_bounds_it():
    table = copy.deepcopy(PLAIN)
    table["panels"] = {"door": {
        "side": "both", "body": "pod", "frames": [
            {"fs": "-1 m", "lower": "-0.2 m", "upper": "0.3 m"},
            {"fs": "1 m", "lower": "-0.1 m", "upper": "0.35 m"}],
        "hinge_from": point(-1, 0.35, 0.3), "hinge_to": point(1, 0.35, 0.35),
        "opens": "right", "thickness": "0.01 m", "open_angle": "70 deg"}}  # fmt: skip
    parts = {part.name: part for part in build(design_from(table)).parts}
    door, other = parts["right door"], parts["left door"]
    assert door.trimesh().is_watertight
    assert door.trimesh().volume > 0.0
    assert other.points.max(axis=0) == pytest.approx(
        np.array([1.0, -1.0, 1.0]) * [door.points[:, 0].max(), door.points[:, 1].min(),
                                      door.points[:, 2].max()])  # fmt: skip
    rows = door.points.reshape(9, -1, 3)[:, :17]
    for row in rows:
        level = (np.abs(row[:, 1] / 0.4) ** 2.5 + np.abs(row[:, 2] / 0.5) ** 2.5) ** (1 / 2.5)
        assert level.min() >= 1.0 - 1e-9  # on the facets that hold the true skin
        assert level.max() < 1.02
    assert rows[0][0][2] == pytest.approx(-0.2)
    assert rows[-1][-1][2] == pytest.approx(0.35)
    assert 0.0 <= door.bulge < 5e-3
    edge = {part.name: part.hinge for part in parts.values()}["right door"].rim
    assert door.points[list(edge)][:, 2].max() < 0.0  # hinged above, its lower edge is free


def test_a_section_is_parted_at_its_middle():
    part = next(p for p in build(design_from(PLAIN)).parts if p.name == "pod")
    right, left = halves_of_section(part.points[part.faces], 0.3)
    assert right[0] == pytest.approx([0.0, -0.5])
    assert right[-1] == pytest.approx([0.0, 0.5])
    assert right[:, 1].min() == pytest.approx(left[:, 1].min())
    assert right[:, 0].max() == pytest.approx(-left[:, 0].min())
    with pytest.raises(ValueError, match="no skin"):
        halves_of_section(part.points[part.faces], 9.0)


def test_the_least_gap_over_a_turn_is_that_of_a_fine_sweep():
    tip = np.array([0.0, 1.0, 0.0])
    post = np.array([0.0, 0.9, 0.8])

    def gap(angle):
        turn, _ = about_line(np.zeros(3), np.array([1.0, 0.0, 0.0]), angle)
        return float(np.linalg.norm(turn @ tip - post)) - 0.05

    fine = min(gap(a) for a in np.linspace(0.0, 1.5, 20_001))
    found, where = least_over_turn(gap, 1.5, 1.0)
    assert fine - FINE <= found <= fine + 1e-9
    assert gap(where) == pytest.approx(fine, abs=FINE)


def test_an_open_lid_is_judged_under_a_lamp_on_its_whole_swing(room):
    table = lid(open_angle="120 deg")
    table["stages"] = [{"name": "open", "open": ["lid"], "stance": "gear"}]
    standing = pf.stand(build(design_from(table)))
    room["obstacles"] = []
    plain = pf.judge(standing, _room(room))
    swung = next(check for check in plain.checks if check.key == "lid: swing")
    top = max(row.top for row in openings(standing)[0].rows)
    height = 1.0 + 0.5 + 0.6  # floor to hinge, and the lid upright; wheels stand 1 m under WL 0
    assert swung.gap <= float(room["ceiling"]["height"].split()[0]) - height + 2e-3
    assert top < height


def _room(table):
    from planform.design.load import place_from
    from planform.fit.room import build_room

    return build_room(place_from(table))


BAD = [
    ({"corners": None}, "panels.lid", "one of width and toward, corners, frames"),
    ({"width": "1 m", "toward": "left"}, "panels.lid", "one of width and toward, corners, frames"),
    ({"corners": None, "width": "1 m"}, "panels.lid", "width and toward together"),
    ({"corners": LID["corners"][:2]}, "panels.lid.corners", "at least 3 entries"),
    ({"corners": [point(k, 0, 0.5) for k in range(4)]}, "panels.lid.corners", "span an area"),
    (
        {"corners": [LID["corners"][k] for k in (0, 2, 1, 3)]},
        "panels.lid.corners", "sides that do not cross",
    ),
    ({"body": "pod"}, "panels.lid", "body goes with frames"),
    ({"rise": "1 cm"}, "panels.lid", "rise goes with width"),
    ({"stop": "200 deg"}, "panels.lid.stop", "at most 180 deg"),
    ({"stop": "10 deg"}, "panels.lid.open_angle", "at most its stop"),
    ({"second_strut": STRUT}, "panels.lid", "strut first"),
    (
        {"open_angle": None, "strut": STRUT | {"length": "5 m"}},
        "panels.lid.strut.length", "at most",
    ),
    ({"open_angle": None, "strut": STRUT | {"force": "20 kg"}}, "panels.lid.strut.force", "N, lbf"),
    (
        {"open_angle": None, "strut": STRUT | {"force": "300 N"}},
        "panels.lid.strut", "at least its force pushed out",
    ),
]  # fmt: skip


@pytest.mark.parametrize(("fields", "path", "said"), BAD)
def test_what_cannot_be_is_told_in_a_sentence(fields, path, said):
    with pytest.raises(pf.InputError) as refused:
        build(design_from(lid(**fields)))
    told = {problem.path: problem.allowed for problem in refused.value.problems}
    assert list(told) == [path]
    assert said in told[path]


@pytest.mark.parametrize(
    ("frames", "said"),
    [
        ([("-1 m", "-0.9 m", None), ("1 m", "0 m", None)], "which pod has there"),
        ([("-3 m", "0 m", None), ("1 m", "0 m", None)], "no skin at this station"),
        ([("1 m", "0 m", None), ("-1 m", "0 m", None)], "aft of the frame before it"),
        ([("-1 m", "0 m", "0.2 m"), ("1 m", "0 m", None)], "leave all out to reach the top"),
        ([("-1 m", "0.3 m", "0.2 m"), ("1 m", "0 m", "0.1 m")], "an upper edge above"),
    ],
)
def test_frames_that_are_not_on_the_skin_are_told(frames, said):
    frames = [{"fs": fs, "lower": low} | ({"upper": up} if up else {}) for fs, low, up in frames]
    fields = {"side": "both", "body": "pod", "frames": frames, "corners": None}
    with pytest.raises(pf.InputError) as refused:
        build(design_from(lid(**fields)))
    assert said in " ".join(problem.allowed for problem in refused.value.problems)
