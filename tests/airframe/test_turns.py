"""What is turned about a hinge, and what turns along with it."""

from __future__ import annotations

import copy
from dataclasses import replace

import numpy as np
import pytest

import planform as pf
from planform.airframe.hinge import Hinge
from planform.airframe.part import Part
from planform.airframe.turns import turn_of, turned
from planform.core.shape import loft
from planform.design.load import design_from
from planform.design.notation import read
from tests.conftest import DESIGNS
from tests.laws.worlds import world

BOX = loft.cylinder(np.array([0.0, 1.0, 0.0]), np.array([0.0, 2.0, 0.0]), 0.1)


def _part(name: str, hosts: tuple[str, ...], at: float | None) -> Part:
    """A rod whose hinge runs aft at a butt line."""
    hinge = None
    if at is not None:
        hinge = Hinge(np.array([0.0, at, 0.0]), np.array([1.0, 0.0, 0.0]), -2.0, 2.0, 1.0)
    return Part(name, name, "wing", *BOX, hosts=hosts, hinge=hinge)


def test_what_stands_on_a_turned_part_turns_along_after_its_own_turn():
    panel, flap = _part("panel", (), 1.0), _part("flap", ("panel", "panel"), 2.0)
    light = _part("light", ("panel", "panel", "flap", "flap"), None)
    by_name = {p.name: p for p in (panel, flap, light)}
    turns = {"panel": np.pi / 2, "flap": -np.pi / 2}
    turn, shift = turn_of(light, by_name, turns)
    # by hand: the flap's end, 1 m outboard of its hinge, hangs 1 m straight down; the panel then
    # stands up about BL 1, its outboard end over its hinge, and the flap points outboard
    assert turn @ [0.0, 3.0, 0.0] + shift == pytest.approx([0.0, 2.0, 1.0])
    moved = turned([panel, light], turns, by_name)
    assert moved[0].points[:, 2].max() == pytest.approx(1.0)
    assert turned([panel], {"panel": 0.0}, by_name) == [panel]


def test_a_hinge_mirrored_turns_the_mirror_image():
    hinge = Hinge(np.array([1.0, 2.0, 0.5]), np.array([1.0, 0.2, -0.3]), 0.0, 1.0, 1.0)
    flip = np.diag([1.0, -1.0, 1.0])
    point = np.array([0.3, 4.0, 1.0])
    turn, shift = hinge.at(0.7)
    other, along = hinge.mirrored().at(0.7)
    assert other @ (flip @ point) + along == pytest.approx(flip @ (turn @ point + shift))


def test_a_stance_holds_the_canopy_ajar_wherever_the_stage_has_it():
    design = pf.load(DESIGNS / "marram.toml")
    full = pf.stand(pf.build(design), "engine hung, canopy up")
    shut = pf.stand(pf.build(design), "hull on its wheels")
    stop = full.turns["canopy"]
    assert not shut.turns

    def ajar(angle: float):
        stance = design.stances["gear"].model_copy(
            update={"turned": {"canopy": read(f"{angle} rad", "angle")}}
        )
        stances = {**design.stances, "gear": stance}
        moved = pf.build(design.model_copy(update={"stances": stances}))
        return pf.stand(moved, "hull on its wheels")

    top = {a: pf.standing_measures(ajar(a))["canopy.free_edge"] for a in (0.3, 0.6, stop)}
    assert top[0.3] < top[0.6]
    assert pf.standing_measures(ajar(0.3))["canopy.open_angle"] == pytest.approx(0.3)
    same = pf.stand(replace(full.airframe, design=ajar(stop).airframe.design), full.stage, "gear")
    assert same.turns["canopy"] == pytest.approx(stop)


PROPELLER = {"disc_fs": "3.3 m", "wl": "0.1 m", "diameter": "1 m", "depth": "0.1 m"}


@pytest.mark.parametrize(
    ("fields", "path", "allowed"),
    [
        ({"chord": "0.1 m"}, "propeller", "together with blades"),
        ({"parked_angle": "10 deg"}, "propeller", "together with blades"),
        ({"blades": 3}, "propeller", "with their chord"),
        ({"blades": 1, "chord": "0.1 m"}, "propeller.blades", "2"),
        ({"blades": 9, "chord": "0.1 m"}, "propeller.blades", "8"),
        ({"blades": "2", "chord": "0.1 m"}, "propeller.blades", "integer"),
        ({"blades": 6, "chord": "0.6 m"}, "propeller.chord", "grow into one another"),
        (
            {"blades": 2, "chord": "0.1 m", "hub_diameter": "0.6 m"},
            "propeller.hub_diameter",
            "half",
        ),
        ({"blades": 2, "chord": "-0.1 m"}, "propeller.chord", "above zero"),
        ({"blades": 2, "chord": "0.1 m", "tip_chord": "2 kg"}, "propeller.tip_chord", "length"),
        ({"blades": 2, "chord": "0.1 m", "parked_angle": 20}, "propeller.parked_angle", "deg"),
    ],
)
def test_blades_that_cannot_be_are_told_in_one_sentence(fields, path, allowed):
    tables = copy.deepcopy(world(0).design)
    tables.pop("propeller", None)
    for stance in tables["stances"].values():
        stance.pop("turned", None)
    for stage in tables["stages"]:
        stage["without"] = [n for n in stage.get("without", []) if n != "propeller"]
    with pytest.raises(pf.InputError) as told:
        design_from(tables | {"propeller": PROPELLER | fields})
    assert [p.path for p in told.value.problems] == [path]
    assert allowed in told.value.problems[0].allowed


@pytest.mark.parametrize(
    ("turned", "allowed"),
    [
        ({"hatsch": "20 deg"}, "did you mean 'hatch'?"),
        ({"hatch": "-20 deg"}, "allowed: 0 deg to 180 deg"),
        ({"wing": "20 deg"}, "no such name"),
        ({"hatch": "20 in"}, "angle"),
    ],
)
def test_what_cannot_turn_so_is_told_in_one_sentence(turned, allowed):
    tables = next(w.design for w in map(world, range(50)) if "panels" in w.design)
    tables["stances"]["gear"]["turned"] = turned
    with pytest.raises(pf.InputError) as told:
        design_from(tables)
    assert len(told.value.problems) == 1
    assert allowed in told.value.problems[0].allowed
