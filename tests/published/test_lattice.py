"""The vortex lattice against theory and published benchmarks, all at the default settings.

T1, T2 two-dimensional thin-section theory (quarter and three-quarter chord rule; literature,
from memory). T7, T8 square and circular wing (literature values, from memory, and an independent
prototype's limits). T3, T9, T10 elliptic, rectangular and delta wings (the prototype's limits).
B1 to B3 the 45 degree swept wing of ARC R&M 2882 with the textbook's coarse lattice (from memory)
and converged (prototype); B4 the "Warren 12" planform (published 2.743 and -3.10, from memory;
converged 2.750 and -3.108, prototype). Worked examples A and B: invented planforms, worked out by
the prototype with two panel spacings that agree. Munk's stagger theorem: NACA Report 121 (1921).
"""

from __future__ import annotations

import numpy as np
import pytest

import planform as pf
from planform.aero.flow import solve
from planform.aero.lifting import Lifting, lifting_surfaces
from planform.core.flow.farfield import span_efficiency
from planform.core.flow.lattice import Chain, _block, equal, influence, weights
from planform.core.flow.strips import ROWS, STRIPS, StripLine, strip_up
from planform.design.load import design_from


def surface(name, points, chords, role="wing", camber=(0.0, 0.0)):
    line = StripLine(name, np.array(points, float), np.array(chords, float))
    return Lifting(line, role, np.zeros(len(chords)), (camber,) * len(chords))


def wing(points, chords, area):
    return solve([surface("wing", points, chords)], area, 1.0)


@pytest.mark.parametrize("rows", [1, 2, 4, 8])
def test_t1_flat_plate_is_exact_for_any_number_of_panels(rows):
    chain = Chain("plate", np.array([[0, 0, 0], [0, 1e4, 0]]), np.ones(2), np.array([0.5]), rows)
    gamma = np.linalg.solve(influence((chain,)), -np.ones(chain.panels))
    w = weights((chain,))
    assert 2.0 * (w.lift @ gamma) / 1e4 == pytest.approx(
        2.0 * np.pi, rel=1e-4
    )  # 20,000 chords of span
    assert 2.0 * (w.pitch @ gamma) / 1e4 == pytest.approx(
        -0.5 * np.pi, rel=1e-4
    )  # 20,000 chords of span


@pytest.mark.parametrize("rows", [2, 4, 8, 16])
def test_t2_parabolic_camber_lift_is_exact_and_moment_low_by_one_over_n_squared(rows):
    rise = 0.04
    plate = surface("plate", [[0, 0, 0], [0, 1e4, 0]], [1, 1], camber=(rise, 0.5))
    chain = Chain("plate", plate.line.edge, np.ones(2), np.array([0.5]), rows)
    gamma = np.linalg.solve(influence((chain,)), -plate.setting(chain).ravel())
    w = weights((chain,))
    lift = 2.0 * (w.lift @ gamma) / 1e4
    quarter = 2.0 * ((w.pitch + 0.25 * w.lift) @ gamma) / 1e4
    assert lift == pytest.approx(4.0 * np.pi * rise, rel=1e-4)  # 20,000 chords of span
    assert quarter == pytest.approx(
        -np.pi * rise * (1.0 - 1.0 / rows**2), rel=1e-4
    )  # 20,000 chords of span


def test_t2_lift_and_moment_at_no_angle_of_a_cambered_wing_of_great_span():
    rise, span = 0.04, 4e4
    plate = surface("plate", [[0, 0, 0], [0, span / 2, 0]], [1, 1], camber=(rise, 0.5))
    flow = solve([plate], span, 1.0)
    assert flow.lift_at_zero == pytest.approx(4.0 * np.pi * rise, rel=1e-3)
    moment = -np.pi * rise * (1.0 - 1.0 / ROWS**2)  # of N rows, as above
    assert flow.moment_at_zero == pytest.approx(moment, rel=1e-3)


def test_t7_square_wing():
    flow = wing([[0, 0, 0], [0, 0.5, 0]], [1, 1], 1.0)
    assert flow.lift_slope == pytest.approx(1.4602, rel=0.003)


@pytest.mark.parametrize(
    ("ratio", "slope", "centre", "e"),
    [
        (2, 2.4744, 0.2094, 0.9993),
        (4, 3.6120, 0.2319, 0.9938),
        (6, 4.2146, 0.2388, 0.9839),
        (8, 4.5861, 0.2420, 0.9720),
        (20, 5.4335, 0.2471, 0.9046),
    ],
)
def test_t9_rectangular_wings(ratio, slope, centre, e):
    flow = wing([[0, 0, 0], [0, 0.5 * ratio, 0]], [1, 1], float(ratio))
    assert flow.lift_slope == pytest.approx(slope, rel=0.002)
    assert flow.neutral_point == pytest.approx(centre, abs=0.0015)
    assert flow.efficiency == pytest.approx(e, rel=0.003)


def test_t8_circular_wing():
    theta, middle = np.linspace(0.0, 0.5 * np.pi, STRIPS + 1), 0.25 * np.pi / STRIPS
    edge = np.column_stack([1.0 - np.cos(theta), np.sin(theta), 0 * theta])
    at = np.sin(theta[:-1] + middle)
    share = (at - edge[:-1, 1]) / np.diff(edge[:, 1])
    chain = Chain("disc", edge, 2.0 * np.cos(theta), share, ROWS)
    gamma = np.linalg.solve(influence((chain,)), -np.ones(chain.panels))
    w = weights((chain,))
    assert 4.0 * (w.lift @ gamma) / np.pi == pytest.approx(1.790, rel=0.004)
    assert -(w.pitch @ gamma) / (w.lift @ gamma) / 2.0 == pytest.approx(0.240, abs=0.003)


@pytest.mark.parametrize(("ratio", "slope"), [(4, 3.737), (6, 4.397), (8, 4.796), (12, 5.250)])
def test_t3_elliptic_wings_quarter_chord_line_straight(ratio, slope):
    theta = np.linspace(0.0, 0.5 * np.pi, STRIPS + 1)
    half = 0.5 * ratio * 0.25 * np.pi  # mean chord one at the root chord of one: b = AR pi/4
    chord = np.cos(theta)
    edge = np.column_stack([-0.25 * chord, half * np.sin(theta), 0 * theta])
    at = half * np.sin(theta[:-1] + 0.25 * np.pi / STRIPS)
    chain = Chain("ellipse", edge, chord, (at - edge[:-1, 1]) / np.diff(edge[:, 1]), ROWS)
    gamma = np.linalg.solve(influence((chain,)), -np.ones(chain.panels))
    area = 0.5 * np.pi * half
    assert 4.0 * (weights((chain,)).lift @ gamma) / area == pytest.approx(slope, rel=0.003)


def test_t10_delta_wing():
    # aspect ratio 2: root chord 2, half span 1; the tip is a sliver, as a built one would be
    flow = wing([[0, 0, 0], [1.998, 0.999, 0]], [2.0, 0.002], 2.0)
    assert flow.lift_slope == pytest.approx(2.200, rel=0.004)
    assert flow.neutral_point == pytest.approx(1.181, abs=0.01)


def test_b1_the_textbooks_coarse_lattice_is_reproduced():
    edges, share = equal(0.0, 2.5, 4)
    edge = np.column_stack([edges, edges, 0 * edges])
    chain = Chain("swept", edge, np.ones(5), share, 1)
    gamma = np.linalg.solve(influence((chain,)), -np.ones(4))
    assert 4.0 * (weights((chain,)).lift @ gamma) / 5.0 == pytest.approx(3.444, abs=0.0005)


def test_b2_swept_wing_converged():
    flow = wing([[0, 0, 0], [2.5, 2.5, 0]], [1, 1], 5.0)
    assert flow.lift_slope == pytest.approx(3.185, rel=0.003)
    assert flow.neutral_point == pytest.approx(1.4258, abs=0.004)
    assert flow.efficiency == pytest.approx(0.903, abs=0.006)


@pytest.mark.parametrize(
    ("degrees", "limit"), [(2.1, 0.117), (4.2, 0.233), (6.3, 0.347), (8.4, 0.460), (10.5, 0.571)]
)
def test_b3_swept_wing_at_the_tunnels_incidences(degrees, limit):
    flow = wing([[0, 0, 0], [2.5, 2.5, 0]], [1, 1], 5.0)
    alpha = np.radians(degrees)
    assert flow.lift_slope * np.sin(alpha) * np.cos(alpha) == pytest.approx(limit, abs=0.002)


def test_b4_warren_12():
    half = np.sqrt(2.0)
    apex = half * np.tan(np.radians(53.54))
    flow = wing([[0, 0, 0], [apex, half, 0]], [1.5, 0.5], 2.0 * half)
    assert flow.lift_slope == pytest.approx(2.750, rel=0.005)
    assert -flow.lift_slope * flow.neutral_point == pytest.approx(-3.108, rel=0.01)
    assert flow.efficiency == pytest.approx(0.9914, rel=0.003)


# --- worked example A --------------------------------------------------------------------------

AREA, MAC = 6.0200, 0.89247
CANARD = surface("canard", [[0.6, 0, 0.2], [0.7, 1.7, 0.2]], [0.42, 0.34], "foreplane")
WING = surface("wing", [[2.6, 0, 0], [3.1, 1.0, 0], [4.2, 3.6, 0]], [1.3, 0.95, 0.5])


def section(fs, bl, wl, chord):
    return {"fs": f"{fs} m", "bl": f"{bl} m", "wl": f"{wl} m", "chord": f"{chord} m"}


def example_a(cant, toe=0.0):
    """The example as a design file, so that the built surfaces are what is solved."""
    table = {
        "format": "planform design 1",
        "name": "Example A",
        "units": "m",
        "datum": "as in the example",
        "lifting": {
            "wing": {
                "role": "wing",
                "cuts": [
                    section(2.6, 0, 0, 1.3),
                    section(3.1, 1, 0, 0.95),
                    section(4.2, 3.6, 0, 0.5),
                ],
            },
            "canard": {
                "role": "foreplane",
                "cuts": [section(0.6, 0, 0.2, 0.42), section(0.7, 1.7, 0.2, 0.34)],
            },
        },
        "pads": {
            "aft": {"side": "both", "fs": "3 m", "bl": "1 m", "wl": "-1 m"},
            "front": {"fs": "1 m", "bl": "0 m", "wl": "-1 m"},
        },
        "stances": {"pads": {"on": ["aft", "front"]}},
        "stages": [{"name": "complete", "stance": "pads"}],
    }
    if cant is not None:
        table["winglets"] = {
            "winglet": {
                "on": "wing",
                "length": "1 m",
                "cant": f"{cant} deg",
                "toe": f"{toe} deg",
                "sweep_le_panel": "35 deg",
                "tip_chord": "0.28 m",
            }
        }
    return pf.build(design_from(table))


def test_example_a_reference():
    found = pf.design_measures(example_a(None))
    assert found["wing.area"] == pytest.approx(6.0200, abs=0.00005)
    assert found["wing.mac"] == pytest.approx(0.89247, abs=0.000005)
    assert found["wing.lemac_fs"] == pytest.approx(3.31052, abs=0.000005)


def test_example_a_wing_alone():
    flow = solve([WING], AREA, MAC)
    assert flow.lift_slope == pytest.approx(4.639, rel=0.003)
    assert flow.neutral_point == pytest.approx(3.5483, abs=0.005 * MAC)
    assert flow.efficiency == pytest.approx(0.9888, rel=0.003)
    assert flow.bending_of_slope == pytest.approx(0.7813, rel=0.01)


@pytest.mark.parametrize(
    ("cant", "slope", "point", "e", "bending", "share"),
    [
        (None, 5.269, 3.0094, 0.939, 0.6701, 0.2060),
        (0, 5.450, 3.0465, 1.139, 0.7078, 0.1994),
        (15, 5.591, 3.0807, 1.059, 0.7359, 0.1946),
        (45, 5.949, 3.1639, 0.954, 0.8003, 0.1832),
        (90, 6.260, 3.2305, 0.900, 0.8502, 0.1744),
    ],
)
def test_example_a_unit_incidence(cant, slope, point, e, bending, share):
    flow = solve(lifting_surfaces(example_a(cant)), AREA, MAC)
    assert flow.lift_slope == pytest.approx(slope, rel=0.003)
    assert flow.neutral_point == pytest.approx(point, abs=0.005 * MAC)
    assert flow.efficiency == pytest.approx(e, rel=0.005)
    assert flow.bending_of_slope == pytest.approx(bending, rel=0.01)
    assert flow.share_of_slope["canard"] == pytest.approx(share, abs=0.0005)


@pytest.mark.parametrize(
    ("cant", "toe", "span", "alpha", "delta", "drag", "bending"),
    [
        (None, 0, 7.200, 5.29, 1.34, 0.010143, 0.6475),
        (0, 0, 7.200, 5.06, 1.78, 0.008577, 0.6768),
        (15, 0, 7.718, 4.89, 2.18, 0.008182, 0.6970),
        (30, 0, 8.200, 4.69, 2.66, 0.007870, 0.7195),
        (45, 0, 8.614, 4.49, 3.14, 0.007645, 0.7410),
        (60, 0, 8.932, 4.33, 3.53, 0.007499, 0.7584),
        (90, 0, 9.200, 4.19, 3.88, 0.007386, 0.7736),
        (15, 2, 7.718, 4.77, 2.44, 0.008085, 0.7139),
        (15, -2, 7.718, 5.01, 1.92, 0.008576, 0.6800),
    ],
)
def test_example_a_trimmed(cant, toe, span, alpha, delta, drag, bending):
    flow = solve(lifting_surfaces(example_a(cant, toe)), AREA, MAC)
    found = flow.trim(0.5, 2.90)
    assert flow.span == pytest.approx(span, abs=0.0005)
    assert np.degrees(found.nose_up_angle) == pytest.approx(alpha, abs=0.03)
    assert np.degrees(found.turned_by) == pytest.approx(delta, abs=0.03)
    assert found.drag == pytest.approx(drag, rel=0.01)
    assert found.bending == pytest.approx(bending, rel=0.01)


def test_example_a_a_radian_of_canard_incidence():
    # given with it: +1.015 on the canard, -0.420 on the wing; the latter converges to -0.4260 here
    flow = solve([CANARD, WING], AREA, MAC)
    w = weights(flow.chains)
    gamma = flow.unit[:, 2] * w.lift * 4.0 / AREA
    panels = flow.chains[0].panels
    assert gamma[:panels].sum() == pytest.approx(1.015, abs=0.005)
    assert gamma[panels:].sum() == pytest.approx(-0.420, rel=0.015)


@pytest.mark.parametrize(
    ("gap", "slope", "point"),
    [
        (0.0, 5.194, 1.8589),
        (0.05, 5.206, 1.8587),
        (0.10, 5.219, 1.8587),
        (0.20, 5.243, 1.8589),
        (0.40, 5.287, 1.8603),
    ],
)
def test_example_b_canard_wake_in_the_plane_of_the_wing(gap, slope, point):
    canard = surface("canard", [[0, 0, gap], [0.02, 0.6, gap]], [0.2, 0.2], "foreplane")
    main = surface("wing", [[2, 0, 0], [2.12, 0.6, 0], [2.3, 1.5, 0]], [0.45, 0.4, 0.3])
    flow = solve([canard, main], 1.14, 0.38)
    assert flow.lift_slope == pytest.approx(slope, rel=0.003)
    assert flow.neutral_point == pytest.approx(point, abs=0.002)
    shared = flow.chains[0].edge[:, 1]
    assert np.abs(flow.chains[1].edge[: len(shared), 1] - shared).max() < 1e-12


def test_the_best_loading_is_no_worse_than_the_trimmed_one_and_meets_its_conditions():
    flow = solve([CANARD, WING], AREA, MAC)
    found = flow.trim(0.5, 2.9)
    free, _ = flow.least_drag(0.5)
    held, _ = flow.least_drag(0.5, bending=found.bending, share=("canard", found.share["canard"]))
    less_bent, _ = flow.least_drag(0.5, bending=0.9 * found.bending)
    assert free < held <= found.drag * (1.0 + 1e-9)
    assert less_bent > free


def elliptic(name, half, x, z):
    edges = half * np.sin(np.linspace(0, np.pi / 2, 61))
    middle = half * np.sin(np.linspace(0, np.pi / 2, 61)[:-1] + np.pi / 240)
    share = (middle - edges[:-1]) / np.diff(edges)
    # the control point, three quarters along a chord of one, is put on the vortex line at x
    edge = np.column_stack([0 * edges + x - 0.75, edges, 0 * edges + z])
    return Chain(name, edge, np.ones(61), share, 1)


def near_drag(stagger):
    """Drag of each of two elliptic lines by the wash at their vortices, and by the far field."""
    gap, lifts = 0.1, (0.75, 0.25)
    halves, spots = (0.5, 0.25), (0.0, stagger)
    parts = []
    for i in (0, 1):
        control = elliptic("a", halves[i], spots[i], gap * i)
        y = control.middle()[:, 1]
        gamma_i = lifts[i] * np.sqrt(1 - (y / halves[i]) ** 2) / halves[i]
        wash = np.zeros(len(y))
        for j in (0, 1):
            vortex = elliptic("b", halves[j], spots[j] + 0.5, gap * j)  # its vortex at the spot
            yj = vortex.middle()[:, 1]
            gamma_j = lifts[j] * np.sqrt(1 - (yj / halves[j]) ** 2) / halves[j]
            if i == j:
                far = elliptic("b", halves[j], spots[j] - 1e6, gap * j)
                wash += 0.5 * _block(control, far, (1.0, -1.0)).reshape(60, 60) @ gamma_j
            else:
                wash += _block(control, vortex, (1.0, -1.0)).reshape(60, 60) @ gamma_j
        parts.append(-(gamma_i * wash) @ np.diff(control.edge[:, 1]))
    return np.array(parts)


def test_munks_stagger_theorem():
    found = {s: near_drag(s) for s in (0.0, 0.25, 0.5, 1.0, 2.0, -0.5)}
    whole = [parts.sum() for parts in found.values()]
    assert np.ptp(whole) < 2e-6 * np.mean(whole)
    small = [parts[1] / parts.sum() for parts in found.values()]
    assert max(small) - min(small) > 0.1


def test_default_settings_are_those_checked_here():
    assert (STRIPS, ROWS) == (40, 6)


def test_efficiency_of_an_elliptic_wing_is_one():
    # Prandtl: CDi = CL^2 / (pi AR)
    assert span_efficiency(1.0, 2.0 / (np.pi * 4.0), 2.0) == pytest.approx(1.0)
    line = StripLine("wing", np.array([[0.0, 0, 0], [0, 1.0, 0]]), np.array([1.0, 1.0]))
    (chain,) = strip_up([line])
    assert chain.strips == STRIPS
