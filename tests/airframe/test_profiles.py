"""Profiles by their own coordinates: read in any order, told, bounded, built, and refused."""

from __future__ import annotations

import copy

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import planform as pf
from planform.core.shape import profiles
from planform.core.shape.coordinates import BadCoordinates, contour
from planform.core.shape.drawn import Drawn, told
from planform.core.shape.sections import camber_line, naca4
from planform.design.load import changed, design_from, load
from planform.design.problems import InputError
from tests.conftest import PLAIN
from tests.fuzz.changes import written


def run(camber=0.02, position=0.4, thickness=0.12, n=31, *, closed=True):
    """A four-digit section as one run from the trailing edge over the top and back."""
    upper, lower = naca4(camber, position, thickness, n=n, closed=closed)
    return np.vstack([upper[::-1], lower[1:]])


def columns(points, heading=""):
    return heading + "\n".join(f"{x:.8f} {y:.8f}" for x, y in points)


def two_runs(points, *, counts=False, gap=True):
    nose = int(points[:, 0].argmin())
    over, under = points[: nose + 1][::-1], points[nose:]
    first = f"{len(over)}. {len(under)}.\n" if counts else ""
    return f"Root\n{first}\n" + columns(over) + ("\n\n" if gap else "\n") + columns(under)


POINTS = run(0.0, 0.0)


@pytest.mark.parametrize(
    "text",
    [
        columns(POINTS),
        columns(POINTS, "Root, as cut\n\n"),
        columns(POINTS[::-1]),
        columns(100.0 * POINTS),
        columns(POINTS).replace(" ", ", "),
        columns(POINTS).replace(" ", "\t") + "\n\n# the end\n",
        two_runs(POINTS),
        two_runs(POINTS, counts=True),
        two_runs(POINTS, gap=False),
    ],
)
def test_every_order_and_scale_gives_the_same_section(text):
    assert contour(text) == pytest.approx(POINTS, abs=1e-7)


def test_below_first_in_two_runs_is_turned_too():
    points = run()
    nose = int(points[:, 0].argmin())
    text = columns(points[nose:]) + "\n\n" + columns(points[: nose + 1][::-1])
    assert contour(text) == pytest.approx(contour(columns(points)), abs=1e-12)


@settings(max_examples=25, deadline=None)
@given(
    camber=st.sampled_from([0.0, 0.02, 0.04]),
    thickness=st.floats(0.06, 0.21),
    n=st.integers(9, 80),
    closed=st.booleans(),
)
def test_the_bulge_bounds_the_spline_and_is_close_to_what_is_reached(camber, thickness, n, closed):
    """Against the curve at 20,000 places (shapely, distance from the facets' polygon)."""
    import shapely

    drawn = Drawn(contour(columns(run(camber, 0.4, thickness, n, closed=closed))))
    ring = profiles.ring(drawn, closed=drawn.closed)
    t = np.linspace(0.0, 1.0, 20_000 // len(drawn.cubics))[:, None]
    b = drawn.cubics[:, None]
    fine = (
        (1 - t) ** 3 * b[..., 0, :]
        + 3 * t * (1 - t) ** 2 * b[..., 1, :]
        + 3 * t * t * (1 - t) * b[..., 2, :]
        + t**3 * b[..., 3, :]
    ).reshape(-1, 2)
    polygon, fine = shapely.polygons(ring), shapely.points(fine)
    bound = profiles.bulge(drawn)
    assert shapely.distance(polygon, fine).max() <= bound
    assert bound <= 1.06 * shapely.distance(polygon.exterior, fine).max()


def test_the_spline_is_the_general_solvers():
    """Its Bezier points against scipy's natural cubic spline over the same parameter."""
    from scipy.interpolate import CubicSpline

    points = contour(columns(run(0.04, 0.4, 0.15, 23)))
    step = np.sqrt(np.linalg.norm(np.diff(points, axis=0), axis=1))
    s = np.concatenate([[0.0], np.cumsum(step)])
    other = CubicSpline(s, points, bc_type="natural")
    cubics = Drawn(points).cubics
    middle = (cubics * np.array([1, 3, 3, 1])[None, :, None]).sum(axis=1) / 8.0
    assert middle == pytest.approx(other(0.5 * (s[1:] + s[:-1])), abs=1e-12)


def _wing(profile, table=None, **surface):
    table = table or copy.deepcopy(PLAIN)
    table["profiles"] = {"own": {"coordinates": profile}}
    table["lifting"]["wing"] |= {"profile": "own", **surface}
    return table


def test_a_wing_by_coordinates_is_the_wing_by_its_digits():
    """Volume, skin and lattice of NACA 2412 by points against the same by its formula."""
    plain = copy.deepcopy(PLAIN)
    plain["lifting"]["wing"]["profile"] = "NACA 2412"
    one = pf.build(design_from(plain))
    two = pf.build(design_from(_wing(columns(run(n=101)))))
    for a, b in zip(one.parts, two.parts, strict=True):
        x, y = a.trimesh(), b.trimesh()
        assert y.is_watertight
        assert y.volume == pytest.approx(x.volume, rel=2e-3)
        assert y.area == pytest.approx(x.area, rel=2e-3)
    from planform.aero.lifting import lifting_surfaces

    x = (np.arange(8) + 0.75) / 8.0
    (section,) = {lifting_surfaces(two)[0].profiles[0]}
    assert profiles.camber_slope(section, x) == pytest.approx(
        camber_line(x, 0.02, 0.4)[1], abs=2e-4
    )


def test_profiles_of_other_counts_and_by_digits_are_blended_from_cut_to_cut():
    """Half way between two cuts a section's corners are midway between those of the cuts."""
    from planform.airframe.sections import section_at

    table = _wing(columns(run(n=40)))
    table["profiles"]["tip"] = {"coordinates": columns(run(0.0, 0.0, 0.09, 17))}
    cuts = table["lifting"]["wing"]["cuts"]
    cuts[1] = {"bl": "4 m", "sweep_le_plan": "0 deg", "chord": "2 m", "profile": "tip"}
    cuts.append({"bl": "6 m", "sweep_le_plan": "0 deg", "chord": "2 m", "profile": "NACA 0015"})
    airframe = pf.build(design_from(table))
    assert all(part.trimesh().is_watertight for part in airframe.parts)
    half = next(h for h in airframe.halves if h.role == "wing")
    thick = []
    for along in (0.0, 2.0, 4.0, 5.0, 6.0):
        upper, lower = section_at(half, along).skin(np.array([0.3]))
        thick.append(float((upper - lower)[0, 2]) / 2.0)
    assert thick[0] == pytest.approx(0.12, abs=1e-3)
    assert thick[1] == pytest.approx(0.5 * (thick[0] + thick[2]), abs=1e-3)
    assert thick[2:] == pytest.approx([0.09, 0.12, 0.15], abs=1e-3)


def test_the_file_stands_in_the_folder_of_the_design_and_its_text_goes_along(tmp_path):

    (tmp_path / "sections").mkdir()
    text = columns(run(), "Root\r\n").replace("\n", "\r\n")
    (tmp_path / "sections" / "root.txt").write_bytes(b"\xef\xbb\xbf" + text.encode())
    table = copy.deepcopy(PLAIN)
    table["profiles"] = {"own": {"file": "sections/root.txt"}}
    table["lifting"]["wing"]["profile"] = "own"
    (tmp_path / "d.toml").write_text(written(table))
    design = load(tmp_path / "d.toml")
    other = changed(design, "lifting.wing.cuts[2].chord", "1.1 m")
    assert other.profiles == design.profiles
    from planform.airframe.measure import design_measures

    found = design_measures(pf.build(design))
    assert found["profile.own.thickness"] == pytest.approx(0.12, abs=1e-4)
    for wrong, words in (
        ("../root.txt", "in the folder of the design file or below"),
        (str(tmp_path / "sections" / "root.txt"), "in the folder of the design file or below"),
        ("sections/none.txt", "no such file"),
        ("sections", "a folder"),
        ("d.toml", "at least 12 points"),
    ):
        table["profiles"]["own"]["file"] = wrong
        (tmp_path / "d.toml").write_text(written(table))
        with pytest.raises(InputError, match=words) as error:
            load(tmp_path / "d.toml")
        assert [p.path for p in error.value.problems] == ["profiles.own.file"]


def _line(text, k, new):
    lines = text.split("\n")
    lines[k - 1] = new
    return "\n".join(lines)


GOOD = columns(run(0.0, 0.0, 0.12, 12))


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        (_line(GOOD, 5, "0.8 abc"), 5, "two numbers a line"),
        (_line(GOOD, 5, "0.8"), 5, "two numbers a line"),
        (_line(GOOD, 5, "0.8 0.1 0.2"), 5, "two numbers a line"),
        (_line(GOOD, 5, "nan 0.1"), 5, "two numbers a line"),
        (_line(GOOD, 5, "1e999 0.1"), 5, "two numbers a line"),
        ("", 0, "at least 12 points"),
        ("\n".join(GOOD.split("\n")[:7]), 0, "at least 12 points"),
        ("\n".join(["0.5 0.1"] * 1001), 0, "at most 1000 points"),
        (_line(GOOD, 6, GOOD.split("\n")[4]), 6, "the same point as line 5"),
        (_line(GOOD, 5, "0.3 0.05"), 6, "x turns back"),
        (_line(GOOD, 19, "0.7 0.09"), 19, "cross or touch"),
        (columns(run(0.0, 0.0, 0.12, 12) * 1200.0), 0, "divide both columns"),
        (columns(run(0.0, 0.0, 0.12, 12) * [1.0, 100.0]), 0, "one scale"),
        (columns(run(0.0, 0.0, 0.12, 15)[3:]), 1, "begins and ends at the trailing edge"),
        (columns(run(0.0, 0.0, 0.12, 15)[:-3]), 26, "begins and ends at the trailing edge"),
        (columns(naca4(0.0, 0.0, 0.12, n=15)[0]), 1, "round the leading edge"),
        ("\n\n".join([two_runs(run(n=12)), columns(naca4(0, 0, 0.1, n=12)[0])]), 29, "runs"),
    ],
)
def test_each_defect_is_told_with_its_line(text, line, words):
    with pytest.raises(BadCoordinates, match=words) as error:
        contour(text)
    assert error.value.line == line
    table = _wing(text)
    if text:
        with pytest.raises(InputError, match=words) as told_of:
            design_from(table)
        (problem,) = told_of.value.problems
        assert problem.path == "profiles.own.coordinates"
        assert f"line {line}" in problem.given or not line


def test_what_a_surface_may_not_be_with_a_profile_is_told():
    for table, words in (
        (_wing(columns(run(closed=False))), "closed_trailing_edge = false here"),
        (_wing(columns(run()), closed_trailing_edge=False), "leave closed_trailing_edge out"),
        (_wing(columns(run())) | {"profiles": {"own": {}}}, "one of the two"),
        (_wing(columns(run())) | {"profiles": {"own": {"file": "a.txt"}}}, "has no folder"),
        (_wing(columns(run())) | {"profiles": {"owl": {"coordinates": columns(run())}}}, "'owl'"),
        (_wing(columns(run())) | {"profiles": {"naca 1": {"coordinates": columns(run())}}}, "own"),
    ):
        with pytest.raises(InputError, match=words):
            design_from(table)
    open_one = pf.build(design_from(_wing(columns(run(closed=False)), closed_trailing_edge=False)))
    assert all(part.trimesh().is_watertight for part in open_one.parts)


def test_figures_do_not_depend_on_how_the_points_are_written():
    one, two = (told(Drawn(contour(columns(p)))) for p in (POINTS, 100.0 * POINTS[::-1]))
    assert two.thickness == pytest.approx(one.thickness, abs=1e-8)
    assert two.nose_radius == pytest.approx(one.nose_radius, abs=1e-6)
