"""Bodies smooth through their cuts, with flat sides, keels and a bulge on top; their bounds."""

from __future__ import annotations

import copy

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.special import gamma

import planform as pf
from planform.airframe.curves import curve_lines
from planform.core.shape import hulls
from planform.core.shape.hulls import Columns
from planform.design.load import design_from
from planform.design.problems import InputError
from tests.conftest import PLAIN

CUTS = [
    {"fs": "0 m", "half_width": "0.05 m", "bottom": "0.2 m", "top": "0.3 m", "boxiness": 2.0},
    {"fs": "0.9 m", "half_width": "0.5 m", "bottom": "-0.1 m", "top": "0.8 m", "boxiness": 2.6},
    {"fs": "2.1 m", "half_width": "0.5 m", "bottom": "-0.1 m", "top": "0.9 m", "boxiness": 2.6},
    {"fs": "4 m", "half_width": "0.1 m", "bottom": "0.3 m", "top": "0.5 m", "boxiness": 2.2},
]


def table(cuts=CUTS, **more):
    out = copy.deepcopy(PLAIN)
    out["bodies"] = {"hull": {"cuts": copy.deepcopy(cuts), **more}}
    return out


def parts(given_table):
    return {part.name: part for part in pf.build(design_from(given_table)).parts}


def volume(mesh):
    import trimesh

    solid = trimesh.Trimesh(*mesh, process=False)
    assert solid.is_watertight
    return solid.volume


def straight(length=3.0, **columns):
    base = {"half_width": 0.6, "bottom": -0.5, "top": 0.9, "boxiness": 2.5} | columns
    return Columns(np.array([0.0, length]), **{k: np.full(2, v) for k, v in base.items()})


columns_drawn = st.lists(
    st.tuples(
        st.floats(0.2, 1.5),  # step
        st.floats(0.05, 0.9),  # half width
        st.floats(-0.6, -0.1),  # bottom
        st.floats(0.1, 0.9),  # top
        st.floats(1.5, 6.0),  # boxiness
        st.floats(0.0, 0.05),  # flat sides
        st.floats(0.0, 0.1),  # keel
        st.floats(0.0, 0.08),  # flat bottom
    ).map(lambda row: tuple(round(one, 6) for one in row)),
    min_size=2,
    max_size=6,
)


@settings(max_examples=40, deadline=None)
@given(columns_drawn)
def test_slopes_are_scipys_monotone_ones_and_never_overshoot(rows):
    """Against scipy's PchipInterpolator, on every column; and between neighbouring cuts only."""
    from scipy.interpolate import PchipInterpolator

    given_rows = np.array(rows)
    given_rows[:, 0] = np.cumsum(given_rows[:, 0])
    columns = Columns(*given_rows.T)
    fine = columns.smoothed().table()
    if len(rows) > 2:
        other = PchipInterpolator(given_rows[:, 0], given_rows[:, 1:])(fine[:, 0])
        assert fine[:, 1:] == pytest.approx(other, abs=1e-12)
    for k in range(len(rows) - 1):
        piece = fine[k * hulls.STEPS : (k + 1) * hulls.STEPS + 1, 1:]
        ends = np.sort(given_rows[k : k + 2, 1:], axis=0)
        assert (piece >= ends[0] - 1e-12).all()
        assert (piece <= ends[1] + 1e-12).all()


@settings(max_examples=30, deadline=None)
@given(columns_drawn)
def test_the_bound_of_a_smooth_body_holds_the_true_shape(rows):
    """Points of the true sections at stations between the rings, off the facets of the solid."""
    import shapely

    given_rows = np.array(rows)
    given_rows[:, 0] = np.cumsum(given_rows[:, 0])
    columns = Columns(*given_rows.T)
    bound = hulls.smooth_bulge(columns)
    normal = hulls.directions(columns.smoothed())
    fine = columns.smoothed().table()
    slopes = hulls.monotone_slopes(given_rows[:, 0], given_rows[:, 1:])
    for k in range(len(rows) - 1):
        for share in (0.03, 0.31, 0.47, 0.97):
            step = given_rows[k + 1, 0] - given_rows[k, 0]
            value = hulls._cubic(
                np.array([[share]]), step, given_rows[k : k + 2, 1:], slopes[k : k + 2]
            )
            true = np.concatenate([[given_rows[k, 0] + share * step], value[0]])
            at = share * hulls.STEPS
            j = k * hulls.STEPS + int(at)
            ring = (1 - at % 1) * _corners(fine[j], normal) + at % 1 * _corners(fine[j + 1], normal)
            polygon = shapely.polygons(ring)
            assert shapely.distance(polygon, shapely.points(_section(true))).max() <= bound + 1e-12


def _corners(row, normal):
    ring = hulls._ring(hulls.supports(row, normal), normal)
    return ring + np.array([0.0, 0.5 * (row[2] + row[3] + row[6])])


def _section(row, count=2000):
    """Points on the boundary of a section by its own formula: round, flats and keel."""
    _, a, bottom, top, n, flat, keel, width = row
    b = 0.5 * (top - bottom - keel - flat)
    t = np.linspace(0.0, 2.0 * np.pi, count)
    c, s = np.cos(t), np.sin(t)
    y = a * np.sign(c) * np.abs(c) ** (2.0 / n)
    z = b * np.sign(s) * np.abs(s) ** (2.0 / n) + 0.5 * flat * np.sign(s)
    middle = 0.5 * (top + bottom + keel)
    foot = [[-0.5 * width, bottom], [0.5 * width, bottom]]
    return np.concatenate([np.stack([y, z + middle], axis=1), foot])


@given(
    a=st.floats(0.2, 1.0), b=st.floats(0.2, 1.0), n=st.floats(1.6, 8.0), flat=st.floats(0.0, 0.5)
)
def test_flat_sides_add_a_rectangle(a, b, n, flat):
    """Area 4 a b G(1+1/n)^2 / G(1+2/n) + 2 a f (closed forms, general mathematics)."""
    columns = straight(1.0, half_width=a, bottom=-b, top=b + flat, boxiness=n, flat_sides=flat)
    true = 4.0 * a * b * gamma(1.0 + 1.0 / n) ** 2 / gamma(1.0 + 2.0 / n) + 2.0 * a * flat
    found = volume(hulls.body(columns, 0.0))
    assert true <= found * (1.0 + 1e-12)
    assert found == pytest.approx(true, rel=0.013)


@pytest.mark.parametrize("keel", [0.05, 0.3, 1.0])
def test_a_keel_adds_what_two_tangents_hold(keel):
    """Round of radius r and a point at r + k: sqrt(d^2 - r^2) r - r^2 acos(r / d), d = r + k."""
    r = 0.5
    columns = straight(1.0, half_width=r, bottom=-r - keel, top=r, boxiness=2.0, keel=keel)
    d = r + keel
    true = np.pi * r * r + r * np.sqrt(d * d - r * r) - r * r * np.arccos(r / d)
    mesh = hulls.body(columns, 0.0)
    assert true <= volume(mesh) * (1.0 + 1e-12)
    assert volume(mesh) == pytest.approx(true, rel=0.012 if keel < 0.5 else 0.03)
    assert mesh[0][:, 2].min() == pytest.approx(-r - keel, abs=1e-9)
    low = mesh[0][mesh[0][:, 2] < -r - keel + 1e-6]
    assert len(low) == 2  # one edge: no slivers are left of it
    assert np.abs(low[:, 1]).max() < 1e-9


def test_a_flat_bottom_is_as_wide_as_written():
    columns = straight(bottom=-0.5, top=0.5, boxiness=2.0, flat_bottom=0.4)
    points, _ = hulls.body(columns, 0.1)
    low = points[points[:, 2] < -0.5 + 1e-9]
    assert np.ptp(low[:, 1]) == pytest.approx(0.4, abs=1e-9)
    assert volume(hulls.body(columns, 0.1)) > 0.0


def test_what_is_not_written_changes_nothing():
    """Zero flats, keel and a straight body are the body without them, to the bit."""
    plain = parts(table())["hull"]
    zeros = [cut | dict.fromkeys(("flat_sides", "keel", "flat_bottom"), "0 m") for cut in CUTS]
    other = parts(table(zeros, smooth=False))["hull"]
    assert (plain.points == other.points).all()
    assert plain.bulge == other.bulge == 0.0


def test_a_smooth_body_keeps_its_cuts_and_its_extremes():
    straight_one, smooth = parts(table())["hull"], parts(table(smooth=True))["hull"]
    assert smooth.trimesh().is_watertight
    assert smooth.points.min(axis=0) == pytest.approx(straight_one.points.min(axis=0), abs=1e-9)
    assert smooth.points.max(axis=0) == pytest.approx(straight_one.points.max(axis=0), abs=1e-9)
    assert 0.0 < smooth.bulge < 0.004
    assert smooth.trimesh().volume > straight_one.trimesh().volume
    (line,) = curve_lines(pf.build(design_from(table(smooth=True))))
    assert "the hull is smooth through its cuts" in line
    assert f"{np.ceil(1e4 * smooth.bulge) / 10.0:g} mm" in line


def test_the_bound_of_a_smooth_body_is_taken_off_its_clearances(room):
    """The ceiling over a tall smooth body: its height less the room's, less the body's bound."""
    from planform.design.load import place_from
    from planform.fit.straight import judge_straight

    tall = [cut | {"top": "2.4 m"} if k == 1 else cut for k, cut in enumerate(CUTS)]
    found = {}
    for smooth in (False, True):
        (standing, *_) = pf.stand_all(pf.build(design_from(table(tall, smooth=smooth))))
        hull = next(part for part in standing.parts if part.name == "hull")
        answer = judge_straight(standing, pf.build_room(place_from(room)))
        (gap,) = [c.gap for c in answer.checks if c.key == "ceiling"]
        found[smooth] = gap
        assert gap == pytest.approx(3.0 - hull.points[:, 2].max() - hull.bulge, abs=1e-6)
    assert found[True] < found[False] - 1e-3


def test_a_canopy_bulge_is_a_part_that_comes_off_with_its_body():
    bulge = {"cuts": [cut | {"bottom": "0.4 m", "top": "1.2 m"} for cut in CUTS[1:3]]}
    with_one = table(canopy_bulge=bulge)
    found = parts(with_one)
    part = found["hull canopy bulge"]
    assert part.hosts == ("hull", "hull")
    assert part.trimesh().is_watertight
    assert part.points[:, 2].max() == pytest.approx(1.2)
    with_one["stages"].append({"name": "open", "without": ["hull"], "stance": "gear"})
    with_one["stages"].append({"name": "low", "without": ["hull canopy bulge"], "stance": "gear"})
    standings = pf.stand_all(pf.build(design_from(with_one)))
    names = [{p.name for p in one.parts} for one in standings]
    assert "hull canopy bulge" in names[0]
    assert not {"hull", "hull canopy bulge"} & names[-2]
    assert "hull" in names[-1]
    assert "hull canopy bulge" not in names[-1]


CANOPY = {
    "frames": [{"fs": "1 m", "lower": "0.9 m"}, {"fs": "2 m", "lower": "0.9 m"}],
    "hinge_from": {"fs": "1 m", "bl": "0.45 m", "wl": "0.9 m"},
    "hinge_to": {"fs": "2 m", "bl": "0.45 m", "wl": "0.9 m"},
    "thickness": "10 mm",
    "open_angle": "70 deg",
}


def test_a_canopy_may_be_cut_from_a_canopy_bulge():
    """Its top is the bulge's, 1.2 m, and not the hull's, 0.9 m; it comes off with either."""
    bulge = {"cuts": [cut | {"bottom": "0.4 m", "top": "1.2 m"} for cut in CUTS[1:3]]}
    with_one = table(canopy_bulge=bulge)
    with_one["panels"] = {"canopy": CANOPY | {"body": "hull canopy bulge"}}
    part = parts(with_one)["canopy"]
    assert part.points[:, 2].max() == pytest.approx(1.2, abs=1e-3)
    assert part.hosts == ("hull", "hull canopy bulge")
    del with_one["bodies"]["hull"]["canopy_bulge"]
    with pytest.raises(pf.InputError, match=r"panels\.canopy\.body.*no such name"):
        design_from(with_one)


def test_a_strut_of_a_panel_cut_from_a_skin_is_told_by_its_length():
    places = (0.4, 0.6), (0.3, 0.9)
    mounts = [{"fs": "1 m", "bl": f"{bl} m", "wl": f"{wl} m"} for bl, wl in places]
    strut = {"length": "0.35 m", "frame_mount": mounts[0], "panel_mount": mounts[1]}
    panel = {key: one for key, one in CANOPY.items() if key != "open_angle"}
    panel |= {"frames": [{"fs": fs, "lower": "0.7 m"} for fs in ("1 m", "2 m")]}
    given_table = table() | {"panels": {"canopy": panel | {"strut": strut}}}
    given_table["panels"]["canopy"]["second_strut"] = strut | {"length": "0.1 m"}
    with pytest.raises(pf.InputError) as told:
        pf.build(design_from(given_table))
    (problem,) = told.value.problems
    assert problem.path == "panels.canopy.second_strut.length"
    assert problem.given == "'0.1 m'"
    assert "longer than its mounts are apart" in problem.allowed


@pytest.mark.parametrize(
    ("cut", "field", "words"),
    [
        ({"flat_sides": "-1 mm"}, "flat_sides", "zero or more"),
        ({"flat_sides": "0.95 m"}, "", "some round is left"),
        ({"flat_sides": "0.5 m", "keel": "0.5 m"}, "", "some round is left"),
        ({"keel": "2 deg"}, "keel", "length"),
        ({"flat_bottom": "1.1 m"}, "", "twice the half width"),
        ({"flat_bottum": "1 m"}, "flat_bottum", "did you mean flat_bottom"),
    ],
)
def test_bad_cuts_are_told(cut, field, words):
    bad = table([CUTS[0], CUTS[1] | cut, *CUTS[2:]])
    with pytest.raises(InputError) as error:
        design_from(bad)
    (problem,) = error.value.problems
    assert words in problem.allowed
    assert problem.path == f"bodies.hull.cuts[2]{f'.{field}' if field else ''}"


def test_bad_bulges_are_told():
    for bulge, words in (
        ({"cuts": [CUTS[1], CUTS[0]]}, "aft of the cut before"),
        ({"cuts": [CUTS[1], CUTS[3] | {"fs": "9 m"}]}, "within the body, 0 m to 4 m"),
        ({"cuts": [CUTS[1]]}, "at least 2"),
        ({"cuts": CUTS[1:3], "smooth": "maybe"}, "true or false"),
    ):
        with pytest.raises(InputError, match=words):
            design_from(table(canopy_bulge=bulge))
    with pytest.raises(InputError, match="true or false"):
        design_from(table(smooth="very"))
