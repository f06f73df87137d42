"""Named points of random aircraft: a mirror swaps their sides, a datum moves them, names do not."""

from __future__ import annotations

import numpy as np
import pytest

from planform.airframe.build import build
from planform.design.load import design_from
from planform.rigging.points import named_points
from tests.laws.changed import mirrored, reordered, shifted, swapped
from tests.laws.worlds import World, world

SEEDS = range(8)
MOVED = np.array([1.25, 0.0, 0.5])


def points_of(found: World) -> dict[str, np.ndarray]:
    return {point.name: point.at for point in named_points(build(design_from(found.design)))}


def agree(found: dict[str, np.ndarray], wanted: dict[str, np.ndarray]) -> None:
    assert found.keys() == wanted.keys()
    assert len(found) > 20
    for name, at in wanted.items():
        np.testing.assert_allclose(found[name], at, atol=2e-4, err_msg=name)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_mirror_swaps_sides(seed):
    before = points_of(world(seed))
    wanted = {swapped_sides(name): at * [1.0, -1.0, 1.0] for name, at in before.items()}
    agree(points_of(mirrored(world(seed))), wanted)


def swapped_sides(name: str) -> str:
    return ",".join(swapped(words) for words in name.split(","))


@pytest.mark.parametrize("seed", SEEDS)
def test_a_datum_moves_all_alike(seed):
    before = points_of(world(seed))
    wanted = {name: at + MOVED for name, at in before.items()}
    agree(points_of(shifted(world(seed), 1.25, 0.5)), wanted)


@pytest.mark.parametrize("seed", SEEDS)
def test_the_order_of_the_file_says_nothing(seed):
    agree(points_of(reordered(world(seed), seed)), points_of(world(seed)))
