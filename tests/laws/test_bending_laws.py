"""Root bending is taken about the wing's own root, wherever the file puts its datum."""

from __future__ import annotations

import copy

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planform.aero.flow import Flow, solve
from planform.aero.lifting import Lifting, lifting_surfaces
from planform.airframe.build import build
from planform.core.flow.farfield import bending_row
from planform.core.flow.strips import StripLine
from planform.design.load import design_from
from tests.conftest import PLAIN

STRIPS, ROWS = 12, 2


def flow_of(surfaces: list[Lifting]) -> Flow:
    return solve(surfaces, 10.0, 1.0, STRIPS, ROWS)


def surface(name, edge, chord, role="wing", host=""):
    count = len(chord)
    line = StripLine(name, np.array(edge, float), np.array(chord, float))
    return Lifting(line, role, np.zeros(count), ((0.0, 0.0),) * count, host)


def aircraft(root_bl, sweep, rise, cant, shift):
    """A wing from a root at a butt line, a winglet on it, a foreplane with a winglet on that."""
    tip = np.array([sweep, 4.0, rise])
    lean = np.array([0.2, np.sin(cant), np.cos(cant)])
    fore, end = np.array([-3.0, 0.0, 0.4]), np.array([-2.9, 1.5, 0.4])
    parts = [
        surface("wing", [[0, root_bl, 0], tip], [1.4, 0.8]),
        surface("winglet", [tip, tip + lean], [0.7, 0.4], "winglet", "wing"),
        surface("foreplane", [fore, end], [0.5, 0.4], "foreplane"),
        surface("finlet", [end, end + lean], [0.4, 0.3], "winglet", "foreplane"),
    ]
    move = np.array([shift[0], 0.0, shift[1]])
    return [surface(p.name, p.line.edge + move, p.line.chord, p.role, p.host_role) for p in parts]


@settings(max_examples=8)
@given(
    root_bl=st.sampled_from([0.0, 0.5]),
    sweep=st.floats(-0.5, 2.0),
    rise=st.floats(-0.3, 0.6),
    cant=st.floats(-0.5, 1.2),
    fs=st.floats(-9.0, 9.0),
    wl=st.floats(-9.0, 9.0),
)
def test_no_datum_changes_bending_or_the_least_drag_under_it(root_bl, sweep, rise, cant, fs, wl):
    here = flow_of(aircraft(root_bl, sweep, rise, cant, (0.0, 0.0)))
    there = flow_of(aircraft(root_bl, sweep, rise, cant, (fs, wl)))
    assert there.root[1] - here.root[1] == pytest.approx(wl, abs=1e-9)
    assert there.bending_of_slope == pytest.approx(here.bending_of_slope, rel=1e-7)
    a, b = here.trim(0.5, 0.1), there.trim(0.5, 0.1 + fs)
    assert b.bending == pytest.approx(a.bending, rel=1e-6)
    held = 0.9 * a.bending
    assert there.least_drag(0.5, held)[0] == pytest.approx(here.least_drag(0.5, held)[0], rel=1e-6)


@settings(max_examples=5)
@given(wl=st.floats(-3.0, 3.0), root_bl=st.floats(0.0, 1.0), cant=st.floats(0.0, 1.0))
def test_bending_of_a_known_loading_by_hand(wl, root_bl, cant):
    """Even circulation g: lift g a strip width, side force g a strip height, arms from the root."""
    g, lean = 0.7, np.array([0.0, np.sin(cant), np.cos(cant)])
    tip = np.array([0.3, 4.0, wl + 0.2])
    parts = [
        surface("wing", [[0, root_bl, wl], tip], [1.4, 0.8]),
        surface("winglet", [tip, tip + lean], [0.7, 0.4], "winglet", "wing"),
    ]
    flow = flow_of(parts)
    half, rise = 4.0 - root_bl, 0.2
    wing = g * (half * half + rise * rise) / 2.0  # lift at half the span, side force at half rise
    winglet = g * (lean[1] * (half + lean[1] / 2.0) + lean[2] * (rise + lean[2] / 2.0))
    by_hand = wing + winglet
    strips = sum(chain.strips for chain in flow.chains)
    assert bending_row(flow.chains, flow.root) @ np.full(strips, g) == pytest.approx(
        by_hand, rel=1e-9
    )


def test_a_winglet_on_the_foreplane_does_not_bend_the_wing():
    parts = aircraft(0.0, 0.5, 0.1, 0.3, (0.0, 0.0))
    assert [p.name for p in parts if p.loads_the_wing] == ["wing", "winglet"]
    table = copy.deepcopy(PLAIN)
    table["lifting"]["foreplane"] = {
        "role": "foreplane",
        "cuts": [
            {"fs": "-3 m", "bl": "0 m", "wl": "0.4 m", "chord": "0.5 m"},
            {"bl": "1.5 m", "sweep_le_plan": "0 deg", "chord": "0.4 m"},
        ],
    }
    table["winglets"]["finlet"] = {**table["winglets"]["winglet"], "on": "foreplane"}
    table["winglets"]["finlet"] |= {"root_chord": "0.4 m", "tip_chord": "0.3 m"}
    found = lifting_surfaces(build(design_from(table)))
    assert {s.name for s in found if s.loads_the_wing} == {"wing", "winglet"}
