"""Named points: names a builder would say, where they are, and whose they are."""

from pathlib import Path

import numpy as np
import pytest

from planform.airframe.build import build
from planform.design.load import design_from, load
from planform.design.problems import InputError
from planform.rigging.points import find_point, named_points, point_named
from planform.study.sound import refusals
from tests.laws.worlds import world

IN = 0.0254
MARRAM = Path("designs/marram.toml")


@pytest.fixture(scope="module")
def marram():
    return build(load(MARRAM))


@pytest.mark.parametrize(
    ("name", "at", "part"),
    [
        ("left foreplane tip, leading edge", (60.724, -78.0, 34.0), "left foreplane"),
        ("foreplane root, leading edge", (58.0, 0.0, 34.0), "right foreplane"),
        ("nose tip", (40.0, 0.0, 25.0), "hull"),
        ("right main axle", (183.0, 36.0, -9.25), "right main"),
        ("spinner tip", (280.0, 0.0, 31.0), "spinner"),
        ("left cradle front pad", (112.0, -12.0, 1.0), "hull"),
    ],
)
def test_where_a_point_is(marram, name, at, part):
    point = point_named(named_points(marram), name, "readings", "point")
    assert point.at / IN == pytest.approx(at, abs=0.01)
    assert point.part == part


def test_every_name_is_there_once_and_mirrored(marram):
    points = {point.name: point for point in named_points(marram)}
    assert len(points) == len(named_points(marram)) > 90
    for name, point in points.items():
        assert point.part in marram.names
        if point.side:
            other = points[point.mirrored_name]
            np.testing.assert_allclose(other.at, point.at * [1.0, -1.0, 1.0], atol=1e-9)
        else:
            assert abs(point.at[1]) < 1e-9 or "hinge" in name, name


@pytest.mark.parametrize("seed", range(12))
def test_random_aircraft_have_unique_names_on_their_parts(seed):
    airframe = build(design_from(world(seed).design))
    points = named_points(airframe)
    assert len({point.name for point in points}) == len(points)
    low = np.min([part.points.min(axis=0) for part in airframe.parts], axis=0) - 0.3
    high = np.max([part.points.max(axis=0) for part in airframe.parts], axis=0) + 0.3
    for point in points:
        assert (point.at >= low).all()
        assert (point.at <= high).all()


def test_names_are_found_as_builders_write_them(marram):
    points = named_points(marram)
    wanted = "left foreplane tip, leading edge"
    for given in (
        "Left foreplane tip LE",
        "foreplane tip left, leading-edge",
        "l foreplane tip le",
    ):
        found = find_point(points, given)
        assert found is not None
        assert found.name == wanted
    with pytest.raises(InputError, match="nearest names: “left foreplane tip, leading edge”"):
        point_named(points, "left foreplane tpi, leading edge", "r.csv", "line 4, point")
    with pytest.raises(InputError, match="no such"):
        point_named(points, "zzz", "r.csv", "line 4, point")


@pytest.mark.parametrize("design", ["marram", "quillwort", "samphire"])
def test_every_name_finds_its_own_point(design):
    points = named_points(build(load(Path(f"designs/{design}.toml"))))
    for point in points:
        assert find_point(points, point.name.upper()) is point
        if not point.side:
            assert abs(point.at[1]) < 1e-9 or "hinge" in point.name
    if design == "samphire":
        assert find_point(points, "cut 1 left side, right boom") is None  # of either boom


def test_only_what_is_on_at_a_stage(marram):
    stage = marram.design.stages[0]
    names = {point.part for point in named_points(marram, stage)}
    assert "left centre spar" in names
    assert "hull" not in names


def own(**points):
    import tomllib

    table = tomllib.loads(MARRAM.read_text(encoding="utf-8"))
    return design_from({**table, "points": points})


def test_points_of_a_builders_own():
    design = own(
        dowel={"fs": "FS 62 in", "bl": "BL 4 in", "wl": "WL 33 in", "side": "both", "on": "hull"},
        line={
            "fs": "FS 100 in",
            "bl": "BL 0 in",
            "wl": "WL 46 in",
            "to": {"fs": "FS 160 in", "bl": "BL 0 in", "wl": "WL 50 in"},
        },
        target={"on": "outer panel", "side": "left", "bl": "BL 120 in", "chord_fraction": "25 %",
                "face": "upper"},
    )  # fmt: skip
    points = {point.name: point for point in named_points(build(design))}
    assert points["left dowel"].at / IN == pytest.approx((62.0, -4.0, 33.0))
    assert points["line, other end"].at / IN == pytest.approx((160.0, 0.0, 50.0))
    assert points["left target"].part == "left outer panel"
    assert points["left target"].at[1] / IN == pytest.approx(-120.0, abs=0.2)


@pytest.mark.parametrize(
    ("point", "words"),
    [
        ({"fs": "FS 62 in"}, "the three of them"),
        ({"chord_fraction": "25 %"}, "with on, and bl or along"),
        ({"fs": "1 in", "bl": "0 in", "wl": "0 in", "on": "hul"}, "did you mean 'hull'"),
        ({"on": "hull", "bl": "1 in", "chord_fraction": "25 %"}, "points.mark.on"),
        ({"fs": "1 in", "bl": "-2 in", "wl": "0 in", "side": "both"}, "zero or more, outboard"),
    ],
)
def test_points_that_cannot_be(point, words):
    with pytest.raises(InputError) as refused:
        own(mark=point)
    assert words in str(refused.value)


@pytest.mark.parametrize(
    ("points", "words"),
    [
        ({"Nose, tip": {"fs": "62 in", "bl": "0 in", "wl": "30 in"}}, "that no other point has"),
        (
            {name: {"fs": "62 in", "bl": "0 in", "wl": "30 in"} for name in ("a-b", "A b")},
            "that no other point has",
        ),
        (
            {"a": {"on": "outer panel", "side": "left", "bl": "900 in", "chord_fraction": "25 %"}},
            "points.a.bl: given '900 in'; allowed: BL",
        ),
        (
            {"a": {"on": "outer panel", "side": "both", "along": "90 m", "chord_fraction": "2 %"}},
            "points.a.along: given '90 m'; allowed: 0 to",
        ),
    ],
)
def test_points_that_the_built_aircraft_refuses(points, words):
    design = own(**points)
    with pytest.raises(InputError) as refused:
        named_points(build(design))
    assert words in str(refused.value)
    assert [str(problem) for problem in refusals(design)] == [
        str(problem) for problem in refused.value.problems
    ]


def test_as_built_they_have_moved_with_their_parts(marram):
    import tomllib

    table = tomllib.loads(MARRAM.read_text(encoding="utf-8"))
    row = {"of": "outer panel", "side": "left", "sweep": "1 deg"}
    built = {p.name: p for p in named_points(build(design_from({**table, "as_built": [row]})))}
    plain = {p.name: p for p in named_points(marram)}
    assert list(built) == list(plain)
    for name, point in built.items():
        off = point.at - plain[name].at
        moved = point.part in ("left outer panel", "left winglet", "left rudder") or (
            point.part in ("left outer spar", "left winglet spar")
        )
        if not moved and point.sort != "pad":
            assert abs(off).max() < 1e-12, name
    tip = built["left outer panel tip, leading edge"].at - plain[
        "left outer panel tip, leading edge"].at  # fmt: skip
    assert tip[0] / IN == pytest.approx(108.0 * np.sin(np.radians(1.0)), abs=0.05)
