"""A part carried out by hand: what was built decides."""

from __future__ import annotations

import numpy as np
import pytest

import planform as pf
from planform.airframe.build import Part
from planform.core.prism import prism
from planform.design.load import design_from, place_from
from planform.fit.carrying import (
    NOT_FOUND,
    PASSES,
    TIGHT,
    carried,
    in_one,
    through_doors,
)


def block(length, width, height, turn=None):
    """A block lying along the second axis, turned any way."""
    half = 0.5 * np.array([length, width])
    corners = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) * half
    points, faces = prism(corners, 0.0, height)
    points = points if turn is None else points @ turn.T
    return in_one((Part("block", "block", "wing", points, faces),))


def test_a_block_in_any_attitude_needs_its_end():
    rng = np.random.default_rng(3)
    turn, _ = np.linalg.qr(rng.normal(size=(3, 3)))
    for one in (block(3.0, 0.5, 0.2), block(3.0, 0.5, 0.2, turn)):
        best = one.ways[0]
        assert best.rectangle == pytest.approx((0.5, 0.2), abs=2e-3)
        assert best.length == pytest.approx(3.0, abs=2e-3)


def test_a_margin_stands_outside_on_every_side(plain):
    airframe = pf.build(design_from(plain))
    one = carried(airframe, ["left wing"])
    assert one.margin > 0.0
    way = one.ways[1]
    flat = one.hull[:, 1:]
    assert sorted(way.rectangle) == pytest.approx(
        sorted(np.ptp(flat, axis=0) + 2.0 * one.margin), rel=0.05
    )
    assert way.length == pytest.approx(np.ptp(one.hull[:, 0]) + 2.0 * one.margin)


def test_joined_parts_need_at_least_what_each_needs(plain):
    airframe = pf.build(design_from(plain))
    both = carried(airframe, ["left wing", "left winglet"])
    alone = carried(airframe, ["left wing"])
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
            carried(airframe, names)
