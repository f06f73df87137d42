"""What parts truly are: splines, rounds of bodies, cylinders, and how they move with a part."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import trimesh
from hypothesis import given
from hypothesis import strategies as st

from planform.airframe.build import build
from planform.airframe.true_shapes import NEAR, TrueShell, motion_of, round_of, shells, true_parts
from planform.core.shape import hulls, rounds
from planform.core.shape.splines import basis, through
from planform.design.load import load
from tests.conftest import DESIGNS


@pytest.fixture(scope="module")
def marram():
    return build(load(DESIGNS / "marram.toml"))


@given(st.lists(st.floats(0.05, 2.0), min_size=3, max_size=12))
def test_a_cubic_comes_back_from_its_points(steps):
    at = np.concatenate([[0.0], np.cumsum(steps)]) / sum(steps)
    where = np.linspace(0.0, 1.0, 41)

    def cubic(x):
        return np.stack([1.0 - 2.0 * x + 3.0 * x**3, x**2 - x**3], axis=1)

    spline = through(cubic(at), at)
    assert spline.at(where) == pytest.approx(cubic(where), abs=1e-9)
    assert len(spline.knots) == len(spline.poles) + spline.degree + 1
    weights = basis(spline.knots, 3, where)
    assert weights.min() >= 0.0
    assert weights.sum(axis=1) == pytest.approx(1.0)


def test_two_points_are_joined_straight():
    spline = through(np.array([[0.0, 1.0], [2.0, 5.0]]), np.array([0.0, 1.0]))
    assert spline.degree == 1
    assert spline.at(np.array([0.0, 0.5, 1.0])) == pytest.approx(np.array([[0, 1], [1, 3], [2, 5]]))


sizes = st.floats(0.05, 2.0)


@given(st.lists(st.tuples(sizes, sizes, st.floats(1.5, 12.0)), min_size=2, max_size=4))
def test_rounds_lie_on_their_superellipse_and_share_their_normals(rows):
    """|y/a|^n + |z/b|^n = 1; and each point reaches as far along the common normal as any does."""
    table = np.zeros((len(rows), 8))
    table[:, 0] = np.arange(len(rows))
    table[:, 1], table[:, 3], table[:, 4] = np.array(rows).T
    _, points = rounds.quarters(table, 33)
    usual, most = np.exp(np.log(table[:, 1] / (0.5 * table[:, 3])).mean()), table[:, 4].max()
    angle = 0.25 * np.pi * (1.0 - np.cos(np.linspace(0.0, np.pi, 33)))
    normal = np.stack([np.cos(angle) ** (most - 1.0), usual * np.sin(angle) ** (most - 1.0)], 1)
    normal /= np.linalg.norm(normal, axis=1)[:, None]
    for row, section in zip(table, points.transpose(1, 0, 2, 3), strict=True):
        y, z = section[..., 1], section[..., 2] - 0.5 * row[3]
        on = np.abs(y / row[1]) ** row[4] + np.abs(z / (0.5 * row[3])) ** row[4]
        assert on == pytest.approx(1.0, abs=1e-9)
        reach = y[0] * normal[:, 0] + z[0] * normal[:, 1]
        assert reach == pytest.approx(hulls.supports(row, normal), rel=1e-6)
        for one, after in zip(section, np.roll(section, -1, axis=0), strict=True):
            assert one[-1] == pytest.approx(after[0], abs=1e-12)


def test_skins_close_around_and_lie_as_near_the_facets_as_their_bulge(marram):
    found = shells(marram)
    assert {"right wing", "left winglet", "right rudder", "hull", "spinner"} <= found.keys()
    for name, shell in found.items():
        part = marram.by_name[name]
        if shell.without or shell.within or part.role not in ("wing", "foreplane"):
            continue
        points = np.concatenate([s.points.reshape(-1, 3) for band in shell.bands for s in band])
        _, off, _ = trimesh.proximity.closest_point_naive(part.trimesh(), points[::7])
        assert off.max() < part.bulge + NEAR, name
        for band in shell.bands:
            for one, after in zip(band, (*band[1:], band[0]), strict=True):
                assert one.points[:, -1] == pytest.approx(after.points[:, 0], abs=1e-12)


def test_a_control_is_what_is_cut_out_of_its_host(marram):
    found = shells(marram)
    assert found["right winglet"].without == (found["right rudder"].within,)
    assert found["right winglet"].bands == found["right rudder"].bands
    middle = marram.by_name["right rudder"].points.mean(axis=0)
    assert all(plane.over(middle[None])[0] > 0.0 for plane in found["right rudder"].within)


def test_wheels_are_cylinders_of_their_own_size(marram):
    wheel = marram.design.wheels["main"]
    found = round_of(marram.by_name["left main"])
    assert found.radius == pytest.approx(0.5 * float(wheel.diameter))
    assert abs(found.end[1] - found.start[1]) == pytest.approx(float(wheel.width))
    assert 0.5 * (found.start + found.end) == pytest.approx(
        np.array([float(wheel.fs), -float(wheel.bl), float(wheel.wl)])
    )


@pytest.mark.parametrize("bend", ["scaled", "sheared", "cut"])
def test_what_is_bent_is_no_cylinder(marram, bend):
    part = marram.by_name["nose"]
    points = part.points.copy()
    if bend == "scaled":
        points = points * [1.0, 1.0, 1.1]
    elif bend == "sheared":
        points[: len(points) // 2] += [0.01, 0.0, 0.0]
    else:
        points[3] += [0.0, 0.0, 1e-3]
    assert round_of(replace(part, points=points)) is None


def test_what_a_part_is_goes_with_it_and_not_where_it_is_bent(marram):
    part = marram.by_name["right wing"]
    c, s = np.cos(0.3), np.sin(0.3)
    turn, shift = np.array([[c, -s, 0.0], [s, c, 0.0], [0.0, 0.0, 1.0]]), np.array([1.0, 2.0, 3.0])
    moved = replace(part, points=part.points @ turn.T + shift)
    found, seen = motion_of(part.points, moved.points)
    assert found == pytest.approx(turn, abs=1e-9)
    assert seen == pytest.approx(shift, abs=1e-9)
    (shell,) = true_parts(marram, [moved])
    (before,) = true_parts(marram, [part])
    assert isinstance(shell, TrueShell)
    first, second = (one.bands[0][0].points for one in (before, shell))
    assert second == pytest.approx(first @ turn.T + shift, abs=1e-9)
    assert true_parts(marram, [replace(part, points=part.points * [1.0, 1.0, 1.001])]) == (None,)
    mirror = replace(part, points=part.points * [1.0, -1.0, 1.0])
    assert true_parts(marram, [mirror]) == (None,)
