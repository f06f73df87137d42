"""Roof shapes against the analytic surface, a hull of their corners and a distance in section."""

from __future__ import annotations

import itertools
import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planform.airframe.build import build
from planform.airframe.stages import usual_stage
from planform.airframe.stance import stand_on
from planform.design.load import load, place_from
from planform.design.place_asked import asked, taken
from planform.design.problems import InputError
from planform.design.roof import height_at
from planform.fit.clearance import clearances
from planform.fit.ground_plan import CEILING_STEP, hanging_steps
from planform.fit.room import Room, build_room
from tests.conftest import DESIGNS

WIDE, DEEP = 10.0, 8.0


def place(ceiling: dict[str, Any], **more: Any) -> dict[str, Any]:
    """A hall with a ceiling."""
    return {
        "format": "planform place 1", "name": "Hall", "units": "m",
        "floor": {"width": f"{WIDE} m", "depth": f"{DEEP} m"}, "ceiling": ceiling,
        "doors": [{"name": "door", "wall": "front", "from_corner": "1 m", "clear_width": "8 m",
                   "clear_height": "2 m"}],
        "spots": [{"name": "bay", "at": ["5 m", "5 m"], "heading": "180 deg"}],
    } | more  # fmt: skip


def hall(ceiling: dict[str, Any], **more: Any) -> Room:
    return build_room(place_from(place(ceiling, **more)))


def points(count: int = 400) -> np.ndarray:
    """Points over the floor, shape (count, 2)."""
    return np.random.default_rng(5).uniform([0.0, 0.0], [WIDE, DEEP], (count, 2))


@pytest.mark.parametrize(
    ("along", "rise", "eaves"),
    [("depth", 5.0, 0.0), ("depth", 1.2, 2.4), ("width", 4.0, 0.5), ("width", 0.3, 2.6)],
)
def test_an_arch_is_under_its_arc_and_as_near_to_it_as_told(
    along: str, rise: float, eaves: float
) -> None:
    """Closed form of a circular segment: R = (c2 + h2) / 2h, half chord c, rise h."""
    arch = {"rise": f"{rise} m", "eaves": f"{eaves} m", "ridge_along": along}
    room = hall({"arch": arch}, doors=[])
    half = 0.5 * (WIDE if along == "depth" else DEEP)
    radius = (half * half + rise * rise) / (2.0 * rise)
    at = points()[:, 0 if along == "depth" else 1]
    arc = eaves + rise - radius + np.sqrt(radius**2 - (at - half) ** 2)
    under = arc - room.ceiling_over(points())
    assert under.min() > -1e-9
    assert 0.0 < room.roof[0].arc <= 0.01
    # square to the arc, as it is steep at its feet: from the middle of its circle
    off = radius - np.hypot(at - half, room.ceiling_over(points()) - (eaves + rise - radius))
    assert off.min() > -1e-9
    assert off.max() <= room.roof[0].arc + 1e-9
    by_radius = {"radius": f"{radius!r} m", "eaves": f"{eaves} m", "ridge_along": along}
    same = hall({"arch": by_radius}, doors=[]).roof[0].height
    assert same == pytest.approx(room.roof[0].height, abs=1e-6)
    assert any("flats under its arc" in told for told in taken(room.place))


@pytest.mark.parametrize("along", ["depth", "width"])
def test_a_hip_roof_is_the_hull_of_its_eaves_and_ridge(along: str) -> None:
    """The hull is that of a general geometry library (SciPy's Qhull)."""
    from scipy.spatial import ConvexHull

    hip = {"eaves": "2.5 m", "ridge": "4 m", "ridge_along": along, "ridge_at": "3 m",
           "near_hip": "2.5 m", "far_hip": "1 m"}  # fmt: skip
    room = hall({"hip": hip})
    ends = [(3.0, 2.5), (3.0, DEEP - 1.0)] if along == "depth" else [(2.5, 3.0), (WIDE - 1.0, 3.0)]
    eaves = [(x, y, 2.5) for x in (0.0, WIDE) for y in (0.0, DEEP)]
    planes = ConvexHull([*eaves, *((x, y, 4.0) for x, y in ends)]).equations
    up = planes[planes[:, 2] > 1e-9]
    at = points()
    tops = -(at @ up[:, :2].T + up[:, 3]) / up[:, 2]
    assert room.ceiling_over(at) == pytest.approx(tops.min(axis=1), abs=1e-9)
    for x, y in at[:20]:
        assert height_at(room.place, x, y) == pytest.approx(
            float(room.ceiling_over(np.array([[x, y]]))[0]), abs=1e-12
        )


def test_a_gable_is_its_profile_and_a_hip_without_hips_is_a_gable() -> None:
    gable = {"eaves": "2.5 m", "ridge": "4 m", "ridge_along": "width", "ridge_at": "3 m"}
    levels = [{"at": at, "height": height}
              for at, height in (("0 m", "2.5 m"), ("3 m", "4 m"), ("8 m", "2.5 m"))]  # fmt: skip
    profile = hall({"along": "depth", "profile": levels})
    assert hall({"gable": gable}).roof == profile.roof
    assert hall({"hip": gable}).roof == profile.roof


@given(
    st.floats(0.6, 5.0), st.floats(0.0, 2.0), st.floats(-1.0, 4.0), st.floats(0.5, 8.5),
    st.floats(0.05, 3.0), st.floats(0.05, 1.0),
)  # fmt: skip
@settings(max_examples=60, deadline=None)
def test_the_distance_to_an_arch_is_that_of_its_section(
    rise: float, eaves: float, low: float, left: float, wide: float, high: float
) -> None:
    """A box's distance to the arch's flats against shapely's in the plane across the ridge."""
    import shapely

    from planform.fit.clearance import to_ceiling

    arch = {"rise": f"{rise:.4f} m", "eaves": f"{eaves:.4f} m"}
    line = hall({"arch": arch}, doors=[]).roof[0]
    right = min(left + wide, WIDE - 0.05)
    corners = np.array(list(itertools.product((left, right), (2.0, 3.0), (low, low + high))))
    faces = np.array(
        [[0, 1, 3], [0, 3, 2], [4, 7, 5], [4, 6, 7], [0, 5, 1], [0, 4, 5], [2, 3, 7], [2, 7, 6],
         [0, 2, 6], [0, 6, 4], [1, 5, 7], [1, 7, 3]]
    )  # fmt: skip
    found = to_ceiling("box", corners, faces, 0.0, line)
    flats = shapely.linestrings(np.column_stack([line.at, line.height]))
    box = shapely.box(left, low, right, low + high)
    apart = float(shapely.distance(box, flats))
    if box.intersects(flats) or low + high > line.over(np.array([left, right])).min():
        assert found.gap <= 1e-9
    else:  # below the eaves' height a plane goes on where the flat has ended: never farther
        assert found.gap <= apart + 1e-9
        if low + high >= eaves:
            assert found.gap == pytest.approx(apart, abs=1e-9)


@pytest.mark.parametrize(
    "ceiling",
    [
        {"arch": {"rise": "5 m"}},
        {"arch": {"radius": "6 m", "eaves": "1 m", "ridge_along": "width"}},
        {"hip": {"eaves": "2 m", "ridge": "3 m", "near_hip": "3 m", "far_hip": "2 m"}},
    ],
)
def test_the_steps_that_a_roof_hangs_in_hold_all_that_is_over_it(ceiling: dict[str, Any]) -> None:
    """And no step stands out of the roof by more than is told, across or upright."""
    room = hall(ceiling, doors=[])
    top = 2.6
    for line in room.roof:
        steps = list(hanging_steps(line, room.floor[:, line.axis], top))
        along = np.linspace(0.001, np.ptp(room.floor[:, line.axis]) - 0.001, 301)
        for at, roof in zip(along, line.over(along), strict=True):
            lows = [level for level, (a, b) in steps if a - 1e-9 <= at <= b + 1e-9]
            least = min(lows, default=math.inf)
            assert least <= roof or roof >= top
            aside = line.over(np.array([at - CEILING_STEP, at + CEILING_STEP])).min()
            assert least >= min(roof - CEILING_STEP, aside) - 1e-9


def test_an_aircraft_stands_as_far_under_a_written_gable_as_under_its_profile() -> None:
    airframe = build(load(DESIGNS / "marram.toml"))
    standing = stand_on(airframe, usual_stage(airframe)[0])
    gable = {"eaves": "3 m", "ridge": "4 m", "ridge_along": "depth"}
    hip = gable | {"near_hip": "2 m", "far_hip": "2 m"}
    arch = {"eaves": "3 m", "rise": "1 m"}
    least = {}
    for name, ceiling in (
        ("gable", {"gable": gable}), ("hip", {"hip": hip}), ("arch", {"arch": arch}),
        ("flat", {"height": "3 m"}),
    ):  # fmt: skip
        room = hall(ceiling)
        near = clearances(standing, room, room.place.spots[0], 5.0)
        least[name] = min(c.gap for c in near if c.kind == "ceiling")
    assert least["flat"] < least["hip"] <= least["gable"] < least["arch"]


REFUSED = [
    ({"gable": {"eaves": "3 m", "ridge": "3 m"}}, "ceiling.gable.ridge: given '3 m'; allowed: abo"),
    ({"gable": {"eaves": "2 m", "ridge": "3 m", "ridge_at": "10 m"}}, "between the left wall and"),
    ({"hip": {"eaves": "2 m", "ridge": "3 m", "near_hip": "5 m", "far_hip": "4 m"}},
     "ceiling.hip.far_hip: given '4 m' beside '5 m'; allowed: both together no more than"),
    ({"hip": {"eaves": "2 m", "ridge": "3 m", "near_hip": "1 mm"}}, "ceiling.hip.near_hip: given"),
    ({"hip": {"eaves": "2 m", "ridge": "3 m", "far_hip": "-1 m"}}, "a length of zero or more"),
    ({"arch": {"rise": "5.1 m"}}, "allowed: at most half the span, 5.000 m"),
    ({"arch": {"radius": "4.9 m"}}, "allowed: at least half the span, 5.000 m"),
    ({"arch": {"radius": "6 m", "rise": "2 m"}}, "given both; allowed: the arch's rise over"),
    ({"arch": {}}, "given neither; allowed: the arch's rise over its eaves, or its radius"),
    ({"arch": {"rise": "2 m"}, "along": "width"}, "says ridge_along"),
    ({"arch": {"rise": "2 m"}, "height": "3 m"}, "ceiling: given both; allowed: one height"),
    ({"gable": {"eaves": "2 m", "ridge": "3 m", "ridge_along": "length"}}, "ridge_along"),
]  # fmt: skip


@pytest.mark.parametrize(("ceiling", "said"), REFUSED)
def test_a_bad_roof_is_told_by_its_field(ceiling: dict[str, Any], said: str) -> None:
    with pytest.raises(InputError) as told:
        hall(ceiling, doors=[])
    assert said in str(told.value)
    assert len(told.value.problems) == 1


def test_a_profile_that_ends_before_the_wall_is_asked_about() -> None:
    levels = [{"at": "1 m", "height": "3 m"}, {"at": "8 m", "height": "4 m"}]
    questions = list(asked(hall({"profile": levels}).place))
    assert len(questions) == 1
    assert questions[0].startswith("ceiling: the profile ends at 1 m, 1.000 m before the wall")
    levels[0]["at"] = "0 m"
    assert not list(asked(hall({"profile": levels}).place))
