"""A part carried out by hand: what was built decides."""

from __future__ import annotations

import re
from types import SimpleNamespace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

import planform as pf
from planform.airframe.part import Part
from planform.core.shape.prism import prism
from planform.design.load import design_from, place_from
from planform.fit.carrying import (
    NOT_FOUND,
    PASSES,
    TIGHT,
    in_one,
    joined_names,
    one_piece,
    piece_named,
    through_doors,
)
from planform.study.hauling import pieces_of

BLOCK = prism(np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]]), 0.0, 1.0)


def block(length, width, height, turn=None):
    """A block lying along the second axis, turned any way."""
    half = 0.5 * np.array([length, width])
    corners = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) * half
    points, faces = prism(corners, 0.0, height)
    points = points if turn is None else points @ turn.T
    return in_one((Part("block", "block", "wing", points, faces),), "m")


def test_a_block_in_any_attitude_needs_its_end():
    rng = np.random.default_rng(3)
    turn, _ = np.linalg.qr(rng.normal(size=(3, 3)))
    for one in (block(3.0, 0.5, 0.2), block(3.0, 0.5, 0.2, turn)):
        best = one.ways[0]
        assert best.rectangle == pytest.approx((0.5, 0.2), abs=2e-3)
        assert best.length == pytest.approx(3.0, abs=2e-3)


def test_a_margin_stands_outside_on_every_side(plain):
    airframe = pf.build(design_from(plain))
    one = one_piece(airframe, ["left wing"])
    assert one.margin > 0.0
    way = one.ways[1]
    flat = one.hull[:, 1:]
    assert sorted(way.rectangle) == pytest.approx(
        sorted(np.ptp(flat, axis=0) + 2.0 * one.margin), rel=0.05
    )
    assert way.length == pytest.approx(np.ptp(one.hull[:, 0]) + 2.0 * one.margin)


def test_joined_parts_need_at_least_what_each_needs(plain):
    airframe = pf.build(design_from(plain))
    both = one_piece(airframe, ["left wing", "left winglet"])
    alone = one_piece(airframe, ["left wing"])
    assert both.title == "left wing and left winglet"
    assert both.ways[0].area > alone.ways[0].area


@pytest.mark.parametrize(
    ("size", "answer", "left"),
    [
        (("0.8 m", "0.6 m"), PASSES, 0.15),  # lying flat
        (("0.62 m", "0.6 m"), TIGHT, 0.10),  # on its edge
        (("0.45 m", "0.45 m"), NOT_FOUND, None),
    ],
)
def test_a_door_is_asked_with_and_without_what_is_wanted(room, size, answer, left):
    room["doors"][0] |= {"clear_width": size[0], "clear_height": size[1]}
    (door,) = through_doors(block(3.0, 0.5, 0.4), place_from(room))
    assert door.answer == answer
    if left is None:
        assert door.spare < 0.0
        assert door.ranges == ()
    else:
        assert door.spare == pytest.approx(left)


def test_a_threshold_takes_height(room):
    room["doors"][0] |= {"clear_height": "1 m", "threshold": "0.2 m"}
    (door,) = through_doors(block(3.0, 0.5, 0.4), place_from(room))
    assert door.height == pytest.approx(0.8)


def test_unknown_parts_are_told_with_the_names_there_are(plain):
    airframe = pf.build(design_from(plain))
    for names, told in (((), "allowed: wing"), (("wyng",), "did you mean 'wing'")):
        with pytest.raises(pf.InputError, match=told):
            one_piece(airframe, names)


NAMED = ("fin", "fin+flap", "flap + tab", "tab")


@given(
    chosen=st.lists(st.sampled_from(NAMED), min_size=1, unique=True),
    link=st.sampled_from(["+", " + ", "  +"]),
)
def test_a_piece_is_read_as_it_is_written(chosen, link):
    """Names joined by +, also names that hold one: every + joins, or belongs to a name."""
    airframe = SimpleNamespace(parts=tuple(Part(n, n, "wing", *BLOCK) for n in NAMED))
    text = link.join(chosen)
    read = joined_names(airframe, text)
    assert len(read) <= len(chosen)
    assert set(read) <= set(NAMED)
    assert [bit for name in read for bit in re.split(r" *\+ *", name)] == re.split(r" *\+ *", text)


def test_what_cannot_be_read_is_told_name_by_name(plain):
    airframe = pf.build(design_from(plain))
    with pytest.raises(pf.InputError, match="did you mean 'left wing'"):
        piece_named(airframe, "left wyng + left winglet")
    joined = piece_named(airframe, "left wing + left winglet")
    assert joined.title == "left wing and left winglet"
    assert [p.carried.title for p in pieces_of(airframe, ["left wing + left winglet"])] == [
        joined.title
    ]


def wedge(seed, turn=None):
    """A convex part without any flat ends: the hull of a few points, turned any way."""
    import trimesh

    points = np.random.default_rng(seed).normal(size=(10, 3)) * [1.5, 0.6, 0.2]
    hull = trimesh.convex.convex_hull(points if turn is None else points @ turn.T)
    corners, faces = np.asarray(hull.vertices), np.asarray(hull.faces)
    return in_one((Part("wedge", "wedge", "wing", corners, faces),), "m")


def gridded(one, count=40):
    """Widths and heights over a grid of directions and rolls, by plain numpy."""
    k = np.arange(count * count) + 0.5
    z, around = k / len(k), np.pi * (1.0 + 5.0**0.5) * k
    flat = np.sqrt(1.0 - z * z)
    way = np.column_stack([flat * np.cos(around), flat * np.sin(around), z])
    level = np.cross(way, [0.3, 0.5, 0.81])
    level /= np.linalg.norm(level, axis=1)[:, None]
    up = np.cross(way, level)
    rolls = (np.arange(2 * count) * (np.pi / (2 * count)))[:, None, None]
    turned = np.cos(rolls) * level + np.sin(rolls) * up
    wide = np.ptp(turned.reshape(-1, 3) @ one.hull.T, axis=-1).reshape(2 * count, -1)
    return wide, np.roll(wide, -count, axis=0)  # a quarter turn on is the height


@pytest.mark.parametrize("seed", range(4))
def test_an_opening_that_a_grid_of_directions_and_rolls_passes_is_passed(room, seed):
    """The second method looks at 1,600 directions and some 80 rolls of each."""
    one = wedge(seed)
    wide, high = gridded(one)
    assert one.ways[0].area <= (wide * high).min() * (1.0 + 1e-9)
    for shape in (1.0, 1.6, 3.0):
        width = float(np.maximum(wide, shape * high).min()) + 1e-6
        room["doors"][0] |= {
            "clear_width": f"{1000.0 * width:.4f} mm",
            "clear_height": f"{1000.0 * width / shape:.4f} mm",
        }
        room["clearances"] |= {"door_sides": "0 mm", "door_head": "0 mm"}
        (door,) = through_doors(one, place_from(room))
        assert door.answer == PASSES


@pytest.mark.parametrize("seed", range(3))
def test_a_part_mirrored_or_turned_needs_the_same_opening(seed):
    turn, _ = np.linalg.qr(np.random.default_rng(seed + 10).normal(size=(3, 3)))
    needed = [wedge(seed, t).ways[0].rectangle for t in (None, np.diag([1.0, -1.0, 1.0]), turn)]
    assert needed[1] == pytest.approx(needed[0], abs=1e-4)
    assert needed[2] == pytest.approx(needed[0], abs=1e-4)
