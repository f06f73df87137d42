"""Sides that differ, in trim: against the half model, against each other's mirror, by hand."""

import copy
import math
import tomllib
from pathlib import Path

import numpy as np
import pytest

from planform.aero.answer import reference_wing
from planform.aero.flow import solve
from planform.aero.lifting import lifting_sides, lifting_surfaces
from planform.aero.skewed import skewed
from planform.airframe.build import build
from planform.core.flow.lattice import Chain, influence, weights
from planform.core.flow.strips import strip_up
from planform.design.load import design_from

MARRAM = Path("designs/marram.toml")
CG = 4.25


def marram(*rows):
    table = tomllib.loads(MARRAM.read_text(encoding="utf-8"))
    return build(design_from({**table, "as_built": list(rows)}))


def test_sides_alike_do_nothing():
    got = skewed(marram(), 0.4, CG)
    assert got.lift_aside.value == pytest.approx(0.0, abs=1e-9)
    assert got.yaw_arm.value == pytest.approx(0.0, abs=1e-9)
    assert got.set_apart.value == pytest.approx(0.0, abs=1e-9)
    assert got.on == "outer panel"


def test_the_other_side_is_the_mirror_image():
    left, right = (
        skewed(marram({"of": "outer panel", "side": side, "incidence": "0.5 deg"}), 0.4, CG)
        for side in ("left", "right")
    )
    assert left.lift_aside.value == pytest.approx(-right.lift_aside.value, rel=1e-6)
    assert right.lift_aside.value > 0.01
    assert left.yaw_arm.value == pytest.approx(-right.yaw_arm.value, rel=1e-6)


def test_what_would_take_it_out_is_what_put_it_in():
    got = skewed(marram({"of": "outer panel", "side": "right", "incidence": "0.5 deg"}), 0.4, CG)
    assert math.degrees(got.set_apart.value) == pytest.approx(-0.5, abs=0.03)


def test_it_is_linear_and_sweep_and_dihedral_count():
    one, two = (
        skewed(marram({"of": "outer panel", "side": "left", "sweep": f"{deg} deg"}), 0.4, CG)
        for deg in (0.25, 0.5)
    )
    assert two.lift_aside.value == pytest.approx(2.0 * one.lift_aside.value, rel=0.05)
    assert abs(one.lift_aside.value) > 1e-4


@pytest.mark.parametrize(
    "row",
    [
        {"of": "outer panel", "side": "left", "sweep": "1 deg"},
        {"of": "outer panel", "side": "right", "incidence": "1 deg"},
        {"of": "winglet", "side": "left", "cant": "2 deg"},
    ],
)
def test_the_mean_has_the_neutral_point_of_both_within_squares(row):
    """What is off on one side counts half: half as much on both sides is the same aircraft."""
    built = marram(row)
    kind = next(key for key in row if key not in ("of", "side"))
    half = f"{float(row[kind].split()[0]) / 2.0} deg"
    both = marram(*({"of": row["of"], "side": side, kind: half} for side in ("left", "right")))
    found = []
    for airframe in (built, both):
        area, chord, _ = reference_wing(both)
        flow = solve(lifting_surfaces(airframe), area, chord, 20, 3)
        found.append((flow.neutral_point, flow.lift_slope, flow.moment_at_zero))
    assert found[0] == pytest.approx(found[1], abs=3e-4)


def test_the_mean_against_a_lattice_of_both_sides():
    """Off by squares: some 0.01 % and 0.3 mm for two degrees of sweep on one side."""
    airframe = marram({"of": "outer panel", "side": "left", "sweep": "2 deg"})
    area, chord, _ = reference_wing(airframe)
    mean = solve(lifting_surfaces(airframe), area, chord, 20, 4)
    chains, asked = [], []
    for surfaces, hand in zip(lifting_sides(airframe), (1.0, -1.0), strict=True):
        for one in strip_up([s.line for s in surfaces], 20, 4):
            turned = one.chord[::-1], 1.0 - one.share[::-1]
            edge = one.edge[::-1] * np.array([1.0, -1.0, 1.0])
            chain = one if hand > 0.0 else Chain(one.name, edge, *turned, one.rows)
            chains.append(chain)
            asked.append(np.tile(np.cos(chain.angle()), chain.rows))
    found = np.linalg.solve(influence(tuple(chains), mirrored=False), -np.concatenate(asked))
    w = weights(tuple(chains))
    assert mean.lift_slope == pytest.approx(2.0 * float(w.lift @ found) / area, rel=2e-4)
    point = -float(w.pitch @ found) / float(w.lift @ found)
    assert mean.neutral_point == pytest.approx(point, abs=5e-4)


def _table(**how):
    """A flat elliptic wing of aspect ratio 20 and span 20 m, its sides set otherwise by one."""
    turn = np.linspace(0.5 * np.pi, 0.1, 40)
    cuts = [
        {
            "fs": f"{5.0 - 0.25 * 4.0 / np.pi * np.sin(t):.9f} m",
            "bl": f"{10.0 * np.cos(t) if k else 0.0:.9f} m",
            "wl": "1 m",
            "chord": f"{4.0 / np.pi * np.sin(t):.9f} m",
            "incidence": how["incidence"],
        }
        for k, t in enumerate(turn)
    ]
    wing = {"role": "wing", "profile": "NACA 0010", "cuts": cuts}
    return {
        "format": "planform design 1", "name": "Ellipse", "units": "m", "datum": "nose",
        "lifting": {"wing": wing},
        "pads": {"front": {"fs": "4.8 m", "bl": "1 m", "wl": "0.9 m", "side": "both"},
                 "aft": {"fs": "5.3 m", "bl": "0 m", "wl": "0.9 m"}},
        "stances": {"pads": {"on": ["front", "aft"]}},
        "stages": [{"name": "whole", "stance": "pads"}],
    }  # fmt: skip


def test_an_elliptic_wing_set_unevenly_rolls_as_the_lifting_line_says():
    """Glauert, The Elements of Aerofoil and Airscrew Theory (1926), chapter XI, from memory.

    With incidence d/2 up on the right and down on the left, the circulation's second term is
    A2 = (4 d / 3 pi) m / (1 + 2 m), m = 2 / aspect ratio; the moment coefficient on area and span
    is pi (aspect ratio) A2 / 4. A lattice and the lifting line agree to some per cent.
    """
    d, lift = math.radians(1.0), 0.5
    table = _table(incidence={"left": "1.5 deg", "right": "2.5 deg"})
    airframe = build(design_from(table))
    area = reference_wing(airframe)[0]
    assert area == pytest.approx(20.0, rel=0.01)
    got = skewed(airframe, lift, 5.0)
    m = 2.0 / 20.0
    moment = 0.25 * math.pi * 20.0 * (4.0 * d / (3.0 * math.pi)) * m / (1.0 + 2.0 * m)
    assert got.lift_aside.value / 20.0 * lift == pytest.approx(moment, rel=0.05)
    assert got.set_apart.value == pytest.approx(-d, rel=1e-6)
    assert got.yaw_arm.value == pytest.approx(0.0, abs=1e-9)  # flat: no side force


def _raised(item, by, key=""):
    """The tables with every waterline higher [m], what was built otherwise apart."""
    if isinstance(item, dict):
        return {k: v if k == "as_built" else _raised(v, by, k) for k, v in item.items()}
    if isinstance(item, list):
        return [_raised(v, by, key) for v in item]
    if key in ("wl", "top", "bottom"):
        feet, inches = 0.0, item.removeprefix("WL ").removesuffix(" in").split(" ± ")[0]
        for part in inches.split():
            top, _, under = part.partition("/")
            value = float(top) / float(under or 1.0)
            feet += -value if inches.startswith("-") and not part.startswith("-") else value
        return f"{feet + by / 0.0254:.9f} in"
    return item


def test_from_another_datum_it_is_the_same():
    table = tomllib.loads(MARRAM.read_text(encoding="utf-8"))
    for one in ("balance", "masses", "controls"):
        table.pop(one, None)
    table = {k: copy.deepcopy(table[k]) for k in (
        "format", "name", "units", "datum", "lifting", "winglets", "bodies", "wheels")}  # fmt: skip
    table |= {"stances": {"gear": {"on": ["nose", "main"]}},
              "stages": [{"name": "complete", "stance": "gear"}],
              "as_built": [{"of": "winglet", "side": "left", "toe": "1 deg"},
                           {"of": "foreplane", "skew": "1 deg"}]}  # fmt: skip
    here, there = (skewed(build(design_from(one)), 0.3, CG) for one in (table, _raised(table, 5.0)))
    assert here.lift_aside.value == pytest.approx(there.lift_aside.value, rel=1e-6)
    assert here.yaw_arm.value == pytest.approx(there.yaw_arm.value, rel=1e-6)
    assert abs(here.lift_aside.value) > 0.01


def test_a_fin_beside_the_centre_line_still_carries_nothing():
    table = tomllib.loads(MARRAM.read_text(encoding="utf-8"))
    cuts = [{"fs": "FS 200 in", "bl": "BL 0 in", "wl": "WL 60 in", "chord": "30 in"},
            {"bl": "BL 0 in", "wl": "WL 90 in", "fs": "FS 215 in", "chord": "18 in"}]  # fmt: skip
    fin = {"role": "fin", "side": "centre", "profile": "NACA 0010", "cuts": cuts}
    table["lifting"]["fin"] = fin
    row = {"of": "fin", "dihedral": "1 deg", "incidence": "1 deg"}
    airframe = build(design_from({**table, "as_built": [row]}))
    assert abs(airframe.halves_in("fin")[0].leading_edge[-1, 1]) > 1e-3
    assert {s.name for s in lifting_surfaces(airframe)} == {"wing", "foreplane", "winglet"}
