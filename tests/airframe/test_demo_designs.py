"""The demo designs: every part closed, and the two raw scenarios' own figures come out again.

The figures of Quillwort and Samphire were worked out apart from this program by whoever invented
the aircraft; they are invented, so they check the arithmetic and not the world.
"""

from __future__ import annotations

import numpy as np
import pytest

import planform as pf
from planform.core.mass.sums import nose_load, total
from tests.conftest import DESIGNS

IN = 0.0254


@pytest.mark.parametrize("name", ["marram", "quillwort", "samphire"])
def test_every_part_is_one_closed_solid(name):
    airframe = pf.build(pf.load(DESIGNS / f"{name}.toml"))
    for part in airframe.parts:
        mesh = part.trimesh()
        assert mesh.is_watertight, part.name
        assert mesh.is_winding_consistent, part.name
        assert mesh.volume > 0.0, part.name
        assert mesh.body_count == 1, part.name


@pytest.mark.parametrize("name", ["boatshed", "garden-shed", "barn", "creamery", "long-hall"])
def test_demo_places_load_and_build(name):
    assert pf.build_room(pf.load_place(DESIGNS / f"{name}.toml")).fixed


def test_quillwort_planform():
    found = pf.design_measures(pf.build(pf.load(DESIGNS / "quillwort.toml")))
    assert found["wing.area"] == pytest.approx(6.561, abs=0.0006)
    assert found["wing.aspect_ratio"] == pytest.approx(7.989, abs=0.0006)
    assert found["wing.mac"] == pytest.approx(0.9397, abs=0.00006)
    assert found["wing.lemac_fs"] == pytest.approx(2.6359, abs=0.00006)
    assert found["span_with_winglets"] == pytest.approx(7.706, abs=0.0006)


def test_quillwort_level_and_kneeling():
    airframe = pf.build(pf.load(DESIGNS / "quillwort.toml"))
    complete = "complete, kneeling"
    level = pf.standing_measures(pf.stand(airframe, complete, "gear"))
    kneeling = pf.stand(airframe, complete)
    assert level["length"] == pytest.approx(4.341, abs=0.001)
    # the scenario's tip is the winglet's leading-edge line; its thickness adds under 4 mm
    assert level["tip_height"] == pytest.approx(1.846, abs=0.004)
    # the scenario turns about the tyre's lowest point; a rolling tyre adds 0.2 deg
    assert np.degrees(kneeling.attitude.pitch) == pytest.approx(-15.2, abs=0.25)
    assert pf.standing_measures(kneeling)["tip_height"] == pytest.approx(2.235, abs=0.012)


def test_samphire_planform():
    found = pf.design_measures(pf.build(pf.load(DESIGNS / "samphire.toml")))
    assert found["wing.area"] / 0.09290304 == pytest.approx(130.01, abs=0.006)
    assert found["wing.span"] / IN == pytest.approx(387.41, abs=0.02)
    assert found["wing.aspect_ratio"] == pytest.approx(8.017, abs=0.001)
    assert found["wing.mac"] / IN == pytest.approx(49.224, abs=0.001)
    assert found["wing.lemac_fs"] / IN == pytest.approx(-0.688, abs=0.001)


def test_samphire_fin_height():
    airframe = pf.build(pf.load(DESIGNS / "samphire.toml"))
    standing = pf.stand_all(airframe)[-1]
    assert pf.standing_measures(standing)["height"] / IN == pytest.approx(98.0, abs=0.05)


def _empty(name):
    design = pf.load(DESIGNS / f"{name}.toml")
    mass = np.array([float(m.mass) for m in design.masses])
    where = np.array([[float(m.fs), float(m.bl), float(m.wl)] for m in design.masses])
    whole, centre = total(mass, where)
    nose = float(design.wheels["nose"].fs)
    main = float(design.wheels["main"].fs)
    return whole, centre[0], nose_load(whole, centre[0], nose, main)


def test_quillwort_empty_mass():
    whole, centre, nose = _empty("quillwort")
    assert whole == pytest.approx(396.0, abs=0.05)
    assert centre == pytest.approx(2.5607, abs=0.00006)
    assert nose == pytest.approx(10.2, abs=0.06)


def test_samphire_empty_mass():
    whole, centre, nose = _empty("samphire")
    assert whole / 0.45359237 == pytest.approx(777.0, abs=0.05)
    assert centre / IN == pytest.approx(15.04, abs=0.006)
    assert nose / 0.45359237 == pytest.approx(44.1, abs=0.06)


def test_marram_stands_on_its_nose_wheel_when_empty():
    whole, _, nose = _empty("marram")
    assert 0.02 * whole < nose < 0.2 * whole
