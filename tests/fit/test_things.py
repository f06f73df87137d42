"""What stands, hangs and is kept free in a place: volumes by closed forms, all of it held."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
import shapely

from planform.airframe.build import build
from planform.airframe.stages import usual_stage
from planform.airframe.stance import Standing, stand_on
from planform.design.load import load, place_from
from planform.design.outside import LINE_DISTANCE
from planform.design.place_asked import asked, taken
from planform.design.problems import InputError
from planform.fit.clearance import clearances
from planform.fit.cut_off import hangs, shut_in
from planform.fit.ground_plan import Keep
from planform.fit.moves import Pose
from planform.fit.question import box_limit, question_at
from planform.fit.room import Fixed, Room, build_room
from planform.fit.way_out import NONE, WAY, way_out
from tests.conftest import DESIGNS

FOOT = 0.3048
BENCH = {"name": "bench", "kind": "standing", "top": "1 m",
         "outline": [["1 m", "1 m"], ["3 m", "1 m"], ["3 m", "2 m"], ["1 m", "2 m"]]}  # fmt: skip


def place(**more: Any) -> dict[str, Any]:
    """A hall with a wide door."""
    return {
        "format": "planform place 1", "name": "Hall", "units": "m",
        "floor": {"width": "14 m", "depth": "12 m"}, "ceiling": {"height": "4 m"},
        "doors": [{"name": "door", "wall": "front", "from_corner": "1 m", "clear_width": "12 m",
                   "clear_height": "3 m"}],
        "spots": [{"name": "bay", "at": ["7 m", "6 m"], "heading": "180 deg"}],
    } | more  # fmt: skip


def hall(**more: Any) -> Room:
    return build_room(place_from(place(**more)))


def loose(room: Room, name: str = "") -> list[Fixed]:
    """The pieces of what stands, hangs or is kept free, or of one of these."""
    kinds = ("obstacle", "kept off", "kept free")
    return [t for t in room.fixed if t.kind in kinds and name in ("", t.name)]


def told(pieces: list[Fixed]) -> list[tuple[Any, ...]]:
    return [(p.name, p.kind, p.outline.tolist(), p.low, p.high) for p in pieces]


def volume(pieces: list[Fixed]) -> float:
    """By a general mesh library."""
    import trimesh

    return sum(float(trimesh.Trimesh(*p.mesh, process=False).volume) for p in pieces)


def area(pieces: list[Fixed]) -> float:
    """Of their plans together [m2]."""
    return sum(float(shapely.polygons(p.outline).area) for p in pieces)


@pytest.fixture(scope="module")
def marram() -> Standing:
    airframe = build(load(DESIGNS / "marram.toml"))
    return stand_on(airframe, usual_stage(airframe)[0])


def test_a_column_is_held_by_the_outline_round_it() -> None:
    column = {"name": "column", "kind": "standing", "centre": ["5 m", "4 m"],
              "diameter": "0.4 m", "top": "3 m"}  # fmt: skip
    (piece,) = loose(hall(obstacles=[column]))
    ring = shapely.polygons(piece.outline)
    assert shapely.distance(shapely.points(5.0, 4.0), ring.exterior) == pytest.approx(0.2)
    corners = np.hypot(*(piece.outline - [5.0, 4.0]).T)
    assert corners.max() <= 0.2 * 1.009
    # a regular outline round a circle: area n r2 tan(pi/n)
    assert volume([piece]) == pytest.approx(3.0 * 24 * 0.04 * math.tan(math.pi / 24))


def test_a_round_duct_is_held_by_its_slices() -> None:
    duct = {"name": "duct", "kind": "hanging", "line": [["1 m", "2 m"], ["9 m", "2 m"]],
            "diameter": "0.5 m", "bottom": "2.5 m"}  # fmt: skip
    pieces = loose(hall(obstacles=[duct]))
    angles = np.linspace(0.0, 2.0 * np.pi, 721)
    for across, up in zip(0.25 * np.sin(angles), 2.75 + 0.25 * np.cos(angles), strict=True):
        inside = [
            p for p in pieces
            if p.low - 1e-9 <= up <= p.high + 1e-9
            and p.outline[:, 1].min() - 1e-9 <= 2.0 + across <= p.outline[:, 1].max() + 1e-9
        ]  # fmt: skip
        assert inside
    out = [math.hypot(p.outline[0, 1] - 2.0, z - 2.75) for p in pieces for z in (p.low, p.high)]
    assert max(out) < 0.25 * 1.25
    assert min(p.low for p in pieces) == pytest.approx(2.5)
    assert max(p.high for p in pieces) == pytest.approx(3.0)
    assert 8.0 * math.pi * 0.25**2 < volume(pieces) < 1.35 * 8.0 * math.pi * 0.25**2


@pytest.mark.parametrize("toward", ["front", "back", "left", "right"])
def test_stairs_are_held_by_their_steps(toward: str) -> None:
    stairs = BENCH | {"top": "0.2 m", "incline": {"toward": toward, "top": "1 m"}}
    pieces = loose(hall(obstacles=[stairs]))
    at = np.random.default_rng(2).uniform([1.0, 1.0], [3.0, 2.0], (200, 2))
    share = {"front": 2.0 - at[:, 1], "back": at[:, 1] - 1.0,
             "left": (3.0 - at[:, 0]) / 2.0, "right": (at[:, 0] - 1.0) / 2.0}[toward]  # fmt: skip
    for (x, y), top in zip(at, 0.2 + 0.8 * share, strict=True):
        here = shapely.points(x, y)
        over = max(p.high for p in pieces if shapely.polygons(p.outline).intersects(here))
        assert top - 1e-9 <= over <= top + 0.05 + 1e-9
    assert shapely.union_all([shapely.polygons(p.outline) for p in pieces]).area == pytest.approx(2)
    # a wedge on a slab: area times the mean height, and half a step over it
    assert volume(pieces) == pytest.approx(2.0 * 0.6 + 2.0 * 0.025, abs=1e-6)


def test_a_row_of_one_is_the_single_thing_and_a_row_ends_at_the_wall() -> None:
    single = told(loose(hall(obstacles=[BENCH])))
    row = BENCH | {"rows": [{"step": ["0 m", "2.5 m"], "count": 1}]}
    assert told(loose(hall(obstacles=[row]))) == single
    ended = loose(hall(obstacles=[BENCH | {"rows": [{"step": ["0 m", "2.5 m"]}]}]))
    assert [t.name for t in ended] == [f"bench {k}" for k in (1, 2, 3, 4, 5)]
    assert ended[4].outline[:, 1].mean() == pytest.approx(1.5 + 4 * 2.5)  # the next is at 14 m
    grid = BENCH | {"rows": [{"step": ["3 m", "0 m"], "count": 3},
                             {"step": ["0 m", "2 m"], "count": 2}]}  # fmt: skip
    assert len(loose(hall(obstacles=[grid]))) == 6


def test_a_lamp_hangs_by_its_drop_under_the_lowest_ceiling_over_it() -> None:
    gable = {"gable": {"eaves": "3 m", "ridge": "4.4 m"}}
    lamp = {"name": "lamp", "kind": "hanging", "drop": "0.3 m",
            "outline": [["2 m", "1 m"], ["3 m", "1 m"], ["3 m", "2 m"], ["2 m", "2 m"]],
            "rows": [{"step": ["4 m", "0 m"], "count": 2}]}  # fmt: skip
    first, second = loose(hall(ceiling=gable, obstacles=[lamp]))
    assert first.low == pytest.approx(3.0 + 2.0 * 0.2 - 0.3)  # 1.4 m in 7 m: 1 in 5
    assert second.low == pytest.approx(3.0 + 6.0 * 0.2 - 0.3)


def test_what_hangs_by_its_drop_over_a_valley_hangs_as_low_as_the_valley() -> None:
    valley = {"along": "width", "profile": [
        {"at": "0 m", "height": "5 m"}, {"at": "7 m", "height": "3 m"},
        {"at": "14 m", "height": "5 m"}]}  # fmt: skip
    tray = {"name": "tray", "kind": "hanging", "drop": "0.3 m",
            "centre": ["7 m", "1.5 m"], "diameter": "3 m"}  # fmt: skip
    (one,) = loose(hall(ceiling=valley, obstacles=[tray]))
    assert one.low == pytest.approx(3.0 - 0.3)


def test_a_rib_along_a_line_goes_up_and_down_with_the_ceiling() -> None:
    """Against the true arc: never above it less its drop, and 60 mm below it at most."""
    arch = {"arch": {"eaves": "0.5 m", "rise": "2.8 m"}}
    rib = {"name": "rib", "kind": "hanging", "drop": "0.15 m", "width": "80 mm",
           "line": [["0 m", "2 m"], ["14 m", "2 m"]],
           "rows": [{"step": ["0 m", "3 m"], "count": 2}]}  # fmt: skip
    pieces = loose(hall(ceiling=arch, obstacles=[rib], doors=[]))
    assert {p.name for p in pieces} == {"rib 1", "rib 2"}
    assert area(pieces) == pytest.approx(2 * 14.0 * 0.08)
    radius = (7.0**2 / 2.8 + 2.8) / 2.0
    for piece in pieces:
        ends = piece.outline[:, 0]
        under = [0.5 + math.sqrt(radius**2 - (x - 7.0) ** 2) - (radius - 2.8) - 0.15 for x in ends]
        assert piece.low < max(1e-3, min(under)) + 1e-9
        assert max(under) - piece.low < 5.6 / 24 * 2 + 0.02


def test_a_rib_from_the_ground_is_right_and_one_deeper_than_the_roof_is_not() -> None:
    arch = {"arch": {"rise": "2.8 m"}}
    rib = {"name": "rib", "kind": "hanging", "drop": "0.15 m", "width": "80 mm",
           "line": [["0 m", "2 m"], ["14 m", "2 m"]]}  # fmt: skip
    place_from(place(ceiling=arch, obstacles=[rib], doors=[]))
    with pytest.raises(InputError, match=r"drop: given '3 m'; allowed: less than the ceiling"):
        place_from(place(ceiling=arch, obstacles=[rib | {"drop": "3 m"}], doors=[]))


def test_what_follows_a_sloped_ceiling_is_told() -> None:
    gable = {"gable": {"eaves": "3 m", "ridge": "4.4 m"}}
    rib = {"name": "rib", "kind": "hanging", "drop": "0.15 m", "width": "80 mm",
           "line": [["0 m", "2 m"], ["14 m", "2 m"]]}  # fmt: skip
    lines = list(taken(place_from(place(ceiling=gable, obstacles=[rib]))))
    assert any(line.startswith("rib: it follows the ceiling over it") for line in lines)
    assert not [ln for ln in taken(place_from(place(obstacles=[rib]))) if "follows" in ln]
    across = rib | {"line": [["3 m", "0 m"], ["3 m", "12 m"]]}
    assert not [ln for ln in taken(place_from(place(ceiling=gable, obstacles=[across])))
                if "follows" in ln]  # fmt: skip


def test_how_far_out_what_stands_outside_counts_is_told() -> None:
    post = {"name": "gate post", "kind": "standing", "centre": ["3 m", "-20 m"],
            "diameter": "0.3 m", "top": "2 m"}  # fmt: skip
    lines = list(taken(place_from(place(outside={"things": [post]}))))
    assert any("(gate post) counts until the whole aircraft is outside" in ln for ln in lines)
    aprons = {"aprons": [{"door": "door", "depth": "9 m", "width": "14 m"}]}
    assert not [ln for ln in taken(place_from(place(outside=aprons))) if "stands outside" in ln]


def test_a_rib_under_a_level_ceiling_is_one_piece() -> None:
    rib = {"name": "rib", "kind": "hanging", "drop": "0.15 m", "width": "80 mm",
           "line": [["0 m", "2 m"], ["14 m", "2 m"]]}  # fmt: skip
    (one,) = loose(hall(obstacles=[rib]))
    assert one.outline[:, 0].min() == 0.0


def test_a_shelf_is_free_beneath_but_for_its_legs() -> None:
    shelf = BENCH | {"bottom": "0.7 m", "top": "0.8 m", "legs": "5 cm"}
    slab, *legs = loose(hall(obstacles=[shelf]))
    assert (slab.low, slab.high) == (0.7, 0.8)
    assert len(legs) == 4
    assert volume(legs) == pytest.approx(4 * 0.05**2 * 0.7)


def test_a_cupboard_door_sweeps_a_sector_away_from_the_cupboard() -> None:
    swing = {"hinge": ["1 m", "2 m"], "shut": ["1.6 m", "2 m"], "opens": "120 deg"}
    pieces = [t for t in loose(hall(obstacles=[BENCH | {"swings": [swing]}])) if t.name != "bench"]
    whole = shapely.union_all([shapely.polygons(p.outline) for p in pieces])
    sector = 0.5 * 0.6**2 * math.radians(120.0)
    assert sector < whole.area < 1.01 * sector
    assert whole.bounds[1] == pytest.approx(2.0)  # the cupboard is on the other side
    assert {(p.kind, p.name) for p in pieces} == {("kept free", "door of bench")}


def test_a_car_is_its_box_and_its_lower_bonnet() -> None:
    car = {"name": "van", "at": ["5 m", "5 m"], "heading": "90 deg", "length": "4 m",
           "width": "1.8 m", "height": "1.9 m",
           "bonnet": {"length": "1 m", "height": "1.1 m"}}  # fmt: skip
    box, bonnet = loose(hall(cars=[car]))
    assert volume([box, bonnet]) == pytest.approx(1.8 * (3.0 * 1.9 + 1.1))
    assert bonnet.outline[:, 0].min() == pytest.approx(6.0)  # it faces along X
    assert (bonnet.high, box.high) == (1.1, 1.9)


def test_a_hook_hangs_at_its_place_or_anywhere_along_the_rail() -> None:
    hook = {"bottom": "2 m", "length": "0.4 m", "width": "0.3 m"}
    hoist = {"name": "hoist", "line": [["2 m", "9 m"], ["8 m", "9 m"]], "width": "0.1 m",
             "bottom": "3 m"}  # fmt: skip
    everywhere = hall(hoists=[hoist | {"hook": hook}])
    there = loose(everywhere, "hook of hoist")[0].outline[:, 0]
    assert (there.min(), there.max()) == pytest.approx((2.0, 8.0))
    assert any("anywhere along its rail" in question for question in asked(everywhere.place))
    parked = loose(hall(hoists=[hoist | {"hook": hook | {"at": "1 m"}}]), "hook of hoist")[0]
    assert parked.outline[:, 0].tolist() == pytest.approx([2.8, 3.2, 3.2, 2.8])


def test_what_is_kept_free_counts_parked_and_not_on_the_way(marram: Standing) -> None:
    """29 CFR 1910.36(g), read: 28 in wide, 7 ft 6 in high."""
    zone = {"name": "walkway", "line": [["0.5 m", "1 m"], ["13.5 m", "1 m"]],
            "guide": "29 CFR 1910.36(g)"}  # fmt: skip
    room = hall(kept_free=[zone])
    (piece,) = loose(room)
    assert piece.high == pytest.approx(7.5 * FOOT)
    assert np.ptp(piece.outline[:, 1]) == pytest.approx(28 * FOOT / 12)
    assert any("1910.36(g) (read)" in words for words in taken(room.place))
    near = clearances(marram, room, room.place.spots[0], 20.0)
    assert any(c.thing == "walkway" for c in near)
    pose = Pose(7.0, 6.0, math.pi)
    plans = [question_at(marram, r, pose, Keep.nothing()).plan for r in (room, hall())]
    assert [t.name for _, t in plans[0].things] == [t.name for _, t in plans[1].things]


def test_a_fence_that_leaves_no_room_outside_shuts_it_in(marram: Standing) -> None:
    """And one further off does not; the quick proof by a highest point does not count a fence."""
    pose = Pose(7.0, 6.0, math.pi)
    line = [["-4 m", "0 m"], ["-4 m", "{} m"], ["18 m", "{} m"], ["18 m", "0 m"]]
    for off, found in ((-3.0, NONE), (-12.0, WAY)):
        ring = [[x, y.format(off)] for x, y in line]
        fence = {"name": "fence", "line": ring, "height": "6 m", "thickness": "0.1 m"}
        room = hall(outside={"fences": [fence]}, ceiling={"height": "8 m"})
        question = question_at(marram, room, pose, Keep.nothing())
        assert way_out(question).answer == found
        assert shut_in(marram, room, pose, Keep.nothing()) is None
        assert not hangs(marram, hall())


def test_wheels_stay_on_the_apron(marram: Standing) -> None:
    """Deep enough for the whole aircraft it lets it out, and a wing may reach over its edge."""
    pose = Pose(7.0, 6.0, math.pi)
    answers = []
    for deep in ("2 m", "9 m"):
        apron = {"door": "door", "depth": deep, "width": "6 m"}
        room = hall(outside={"aprons": [apron]})
        question = question_at(marram, room, pose, Keep.nothing())
        answers.append(way_out(question, 0.0, box_limit(5_000)).answer)
        edges = loose(room)
        assert {t.name for t in edges} == {"edge of the apron at door"}
        assert max(t.high for t in edges) < 0.05
    assert answers[0] != WAY  # the proof that there is none takes long
    assert answers[1] == WAY


def test_a_power_line_keeps_its_distance_by_its_source() -> None:
    """29 CFR 1926.1408 Table A, from memory: 10 ft up to 50 kV, 45 ft up to 1000 kV."""
    assert LINE_DISTANCE["up to 50 kV"] == pytest.approx(10 * FOOT)
    assert LINE_DISTANCE["up to 1000 kV"] == pytest.approx(45 * FOOT)
    line = {"name": "wire", "line": [["-5 m", "-6 m"], ["20 m", "-6 m"]], "height": "7 m"}
    room = hall(outside={"power_lines": [line | {"voltage": "up to 50 kV"}]})
    (piece,) = loose(room)
    kept = 10 * FOOT
    assert piece.kind == "kept off"
    assert piece.low == pytest.approx(7.0 - kept)
    assert piece.outline.min(axis=0) == pytest.approx([-5.0 - kept, -6.0 - kept])
    assert piece.outline.max(axis=0) == pytest.approx([20.0 + kept, -6.0 + kept])
    assert any("from memory" in words for words in taken(room.place))
    given = hall(outside={"power_lines": [line | {"distance": "2 m"}]})
    assert loose(given)[0].low == pytest.approx(5.0)
    assert any("utility" in question for question in asked(given.place))


REFUSED: list[tuple[dict[str, Any], str]] = [
    ({"obstacles": [BENCH | {"centre": ["1 m", "1 m"]}]},
     "obstacles[1]: given outline and centre; allowed: one plan"),
    ({"obstacles": [{"name": "x", "kind": "standing", "top": "1 m"}]}, "given no outline"),
    ({"obstacles": [BENCH | {"width": "1 m"}]}, "no width and no diameter beside an outline"),
    ({"obstacles": [{"name": "x", "kind": "standing", "top": "1 m", "centre": ["1 m", "1 m"]}]},
     "obstacles[1].diameter: given nothing; allowed: a diameter beside a centre"),
    ({"obstacles": [{"name": "x", "kind": "hanging", "bottom": "1 m", "width": "1 m",
                     "line": [["1 m", "1 m"], ["1 m", "1 m"]]}]}, "points 1 and 2 at one place"),
    ({"obstacles": [BENCH | {"drop": "1 m"}]}, "obstacles[1].drop: given '1 m'; allowed: on a"),
    ({"obstacles": [BENCH | {"legs": "1 cm"}]}, "obstacles[1].legs: given '1 cm'"),
    ({"obstacles": [BENCH | {"incline": {"toward": "back"}}]}, "neither bottom nor top"),
    ({"obstacles": [BENCH | {"incline": {"toward": "back", "bottom": "2 m"}}]},
     "obstacles[1].incline.bottom: given '2 m'; allowed: a top (1 m) above the bottom (2 m)"),
    ({"obstacles": [BENCH | {"rows": [{"step": ["0 m", "0 m"]}]}]}, "rows[1].step"),
    ({"obstacles": [BENCH | {"rows": [{"step": ["1 m", "0 m"], "count": 0}]}]}, "count"),
    ({"obstacles": [BENCH | {"swings": [{"hinge": ["1 m", "1 m"], "shut": ["1 m", "1 m"]}]}]},
     "obstacles[1].swings[1].shut"),
    ({"obstacles": [BENCH | {"movable": "perhaps"}]}, "obstacles[1].movable"),
    ({"cars": [{"name": "c", "at": ["1 m", "1 m"], "heading": "0 deg", "length": "3 m",
                "width": "1 m", "height": "1 m", "bonnet": {"length": "1 m", "height": "2 m"}}]},
     "cars[1].bonnet.height: given '2 m'; allowed: less than the car's own (1 m)"),
    ({"hoists": [{"name": "h", "line": [["1 m", "1 m"], ["4 m", "1 m"]], "width": "1 dm",
                  "bottom": "2 m", "hook": {"bottom": "2.5 m", "length": "1 m", "width": "1 m"}}]},
     "hoists[1]"),
    ({"kept_free": [{"name": "k", "line": [["1 m", "1 m"], ["4 m", "1 m"]], "width": "1 m"}]},
     "kept_free[1].top: given nothing; allowed: the height up to which it stays free"),
    ({"outside": {"aprons": [{"door": "dor", "depth": "1 m", "width": "1 m"}]}},
     "outside.aprons[1].door"),
    ({"outside": {"fences": [{"name": "f", "line": [["1 m", "1 m"], ["1 m", "-1 m"]],
                              "height": "1 m", "thickness": "5 cm"}]}},
     "outside.fences[1].line[1]: given '1 m', '1 m'; allowed: a point off the floor"),
    ({"outside": {"power_lines": [{"name": "p", "line": [["1 m", "-1 m"], ["4 m", "-1 m"]],
                                   "height": "7 m"}]}}, "as its utility says; or its voltage"),
]  # fmt: skip


@pytest.mark.parametrize(("more", "said"), REFUSED)
def test_a_bad_thing_is_told_by_its_field(more: dict[str, Any], said: str) -> None:
    with pytest.raises(InputError) as raised:
        hall(**more)
    assert said in str(raised.value)
    assert len(raised.value.problems) == 1


@pytest.mark.parametrize(
    ("movable", "ways"),
    [(None, 5), ("no", 0), ("away", 1), ("anywhere", 5), ("along the width", 2)],
)
def test_changes_move_a_thing_as_it_may_be_moved(movable: str | None, ways: int) -> None:
    from planform.study.change_cases import FREES, first_case
    from planform.study.change_things import obstacles

    bench = BENCH | ({} if movable is None else {"movable": movable})
    case = first_case(
        load(DESIGNS / "marram.toml"), hall(obstacles=[bench]).place, None, None, None
    )
    found = list(obstacles(case, lambda case, what: FREES))
    assert len(found) == ways
    assert all(bool(family.cautions) == (movable is None) for family in found)
    for family in found:  # what is moved is built: another room, or one without it
        assert told(loose(family.make(family.sizes[-1]).room)) != told(loose(case.room))
