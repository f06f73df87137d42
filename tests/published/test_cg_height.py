"""The height of the CG from two attitudes, by the axle-lift formula of the trade.

Formula (both read in stored pages): R. Gray, "Finding the height of centre of gravity by measuring
weight change when tilting the vehicle" (1997), step 7: height over the axles = (change of load at
one end / weight) x axle distance x cot(angle); and a university exercise on axle weighing, its eq.
(2): h - r = (b - L Rf1/W) cot(angle). ISO 10392 has the same method, from memory.
The load cells' case (four points) is plain statics: sum and first moment.
"""

from __future__ import annotations

import copy
from math import cos, radians, sin, tan

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

import planform as pf
from planform.airframe.build import build
from planform.airframe.weight.tilting import crosswise
from planform.airframe.weight.weighing import weigh
from planform.balance.answer import balance
from planform.balance.questions import balance_questions
from planform.core.frames import body2floor
from planform.core.mass.support import reactions
from planform.design.load import design_from
from planform.study.spreads_of_balance import balance_findings
from tests.conftest import PLAIN

HEAD = {"format": "planform design 1", "name": "Knot", "units": "mm", "datum": "the bulkhead"}
AXLE, MAIN, NOSE, WIDE = 0.2, 3.0, 0.5, 1.1


def scales(loads: list[float]) -> list[dict[str, str]]:
    where = [("nose", NOSE, 0.0), ("left", MAIN, -WIDE), ("right", MAIN, WIDE)]
    return [
        {"at": at, "reading": f"{load!r} kg", "tare": "0 kg", "arm": f"{x} m", "bl": f"{y} m",
         "wl": f"{AXLE} m"}
        for (at, x, y), load in zip(where, loads, strict=True)
    ]  # fmt: skip


def weighed(level: float, loads: list[float], again: list[float], first: float = 0.0):
    weighing = {
        "scales": scales(loads),
        "level": f"{first} deg",
        "tilted": {"level": f"{level} deg", "scales": scales(again)},
    }
    return HEAD | {"balance": {"weighing": weighing}}


def by_hand(mass: float, cg: tuple[float, float, float], level: float, lean: float = 0.0):
    """What three wheels carry as it stands, by moments about the floor's axes."""
    turn = body2floor(radians(level), radians(lean))
    wheels = np.array([[NOSE, 0.0, AXLE], [MAIN, -WIDE, AXLE], [MAIN, WIDE, AXLE]]) @ turn.T
    centre = turn @ np.array(cg)
    system = np.vstack([np.ones(3), wheels[:, 0], wheels[:, 1]])
    return [float(v) for v in np.linalg.solve(system, mass * np.array([1.0, *centre[:2]]))]


def test_the_published_formula_gives_the_same_height():
    mass, level, wheelbase = 600.0, 8.0, MAIN - NOSE
    nose, lifted = 60.0, 60.0 - 18.0
    table = weighed(
        level, [nose, 270.0, 270.0], [lifted, 0.5 * (mass - lifted), 0.5 * (mass - lifted)]
    )
    height = (nose - lifted) / mass * wheelbase / tan(radians(level))  # over the axles
    found = weigh(design_from(table))
    assert found.cg_wl == pytest.approx(AXLE + height)
    share = lifted / mass  # the exercise's way: nose lifted by H = L sin(angle)
    ahead = nose / mass * wheelbase
    assert found.cg_wl - AXLE == pytest.approx((ahead - wheelbase * share) / tan(radians(level)))
    assert cos(radians(level)) / sin(radians(level)) == pytest.approx(1 / tan(radians(level)))


def span(low: float, high: float):
    """Numbers as a person writes them: three decimals."""
    return st.integers(round(low * 1e3), round(high * 1e3)).map(lambda n: n / 1e3)


@given(
    span(200.0, 900.0), span(1.5, 2.7), span(-0.2, 0.2), span(-0.3, 1.2),
    span(-2.0, 2.0), span(4.0, 14.0), st.sampled_from([-1.0, 1.0]), st.booleans(),
)  # fmt: skip
def test_two_crooked_attitudes_give_back_the_whole_cg(mass, fs, bl, wl, first, apart, way, lean):
    cg = (fs, bl, wl)
    second = first + way * apart
    table = weighed(second, by_hand(mass, cg, first), by_hand(mass, cg, second), first)
    if lean:
        weighing = table["balance"]["weighing"]
        weighing |= {"level": "0 deg", "lean": f"{first!r} deg"}
        weighing["scales"] = scales(by_hand(mass, cg, 0.0, first))
        again = scales(by_hand(mass, cg, 0.0, second))
        weighing["tilted"] = {"level": "0 deg", "lean": f"{second!r} deg", "scales": again}
    if "-" in str([s["reading"] for s in table["balance"]["weighing"]["scales"]]):
        return  # it would not stand on these wheels
    if "-" in str([s["reading"] for s in table["balance"]["weighing"]["tilted"]["scales"]]):
        return
    found = weigh(design_from(table))
    assert (found.empty.fs, found.empty.bl) == pytest.approx((fs, bl), abs=1e-7)
    assert found.cg_wl == pytest.approx(wl, abs=1e-7)
    assert found.tilted.across is lean


def test_the_height_is_withheld_where_the_attitudes_are_near():
    loads = [60.0, 270.0, 270.0]
    found = weigh(design_from(weighed(2.9, loads, [55.0, 272.5, 272.5])))
    assert found.cg_wl is None
    assert (
        found.tilted.words
        == "withheld: two attitudes only 2.90 deg of level apart, at least 3 needed"
    )
    crooked = weighed(3.5, loads, loads, first=1.0)
    with pytest.raises(pf.InputError, match="needs the height of the CG"):
        design_from(crooked)
    assert weigh(design_from(weighed(3.1, loads, [55.0, 272.5, 272.5]))).cg_wl is not None


def test_its_tolerance_is_that_of_the_formula():
    table = weighed(8.0, [60.0, 270.0, 270.0], [42.0, 279.0, 279.0])
    tilted = table["balance"]["weighing"]["tilted"]
    tilted["level"] = "8 deg ± 0.2 deg"
    tilted["scales"][0]["reading"] = "42 kg ± 1 kg"
    found = balance_findings((), design_from(table))
    spread = dict(found.spread("record.cg_wl").by_input)
    turned = 0.075 * (1 / tan(radians(7.8)) - 1 / tan(radians(8.0)))
    assert spread["balance.weighing.tilted.level"] == pytest.approx(turned, rel=1e-6)
    low = (0.25 - 2.5 * 41 / 599) / tan(radians(8.0)) - 0.075 / tan(radians(8.0))
    assert spread["balance.weighing.tilted.scales[1].reading"] == pytest.approx(low, rel=1e-2)


def asked(table):
    return balance_questions(balance(build(design_from(table)), ()))


@pytest.mark.parametrize(
    ("change", "path", "words"),
    [
        (lambda w: w["tilted"]["scales"].pop(), "balance.weighing.tilted.scales", "right too"),
        (
            lambda w: w["tilted"]["scales"][0].update(at="nse"),
            "balance.weighing.tilted.scales[1].at",
            "did you mean 'nose'?",
        ),
        (
            lambda w: w["tilted"]["scales"][1].update(at="nose"),
            "balance.weighing.tilted.scales[2].at",
            "two scales",
        ),
        (lambda w: w["tilted"].update(level="40 deg"), "balance.weighing.tilted.level", "28 deg"),
        (lambda w: w["tilted"].pop("level"), "balance.weighing.tilted.level", "is needed"),
        (lambda w: w.update(cg_wl="0.5 m"), "balance.weighing.cg_wl", "one of the two"),
        (
            lambda w: w["scales"][0].pop("wl"),
            "balance.weighing.scales[1].wl",
            "the waterline of each point",
        ),
    ],
)
def test_a_second_attitude_that_cannot_be_is_stopped(change, path, words):
    table = weighed(8.0, [60.0, 270.0, 270.0], [42.0, 279.0, 279.0])
    change(table["balance"]["weighing"])
    with pytest.raises(pf.InputError) as caught:
        design_from(table)
    found = {p.path: str(p) for p in caught.value.problems}
    assert words in found[path]


def test_two_attitudes_that_weigh_differently_are_asked_about():
    table = weighed(8.0, [60.0, 270.0, 270.0], [42.0, 279.0, 285.0])
    assert any("it is the same aircraft" in q for q in asked(table))


def test_a_height_far_from_the_mass_items_is_asked_about():
    table = PLAIN | weighed(8.0, [60.0, 270.0, 270.0], [20.0, 290.0, 290.0])
    table["masses"] = [{"name": "all", "mass": "600 kg", "fs": "2.75 m", "wl": "0.5 m"}]
    assert any("by the mass items WL 500 mm" in q for q in asked(table))


CELLS = {"a": (0.5, -0.6), "b": (0.5, 0.6), "c": (3.0, -0.9), "d": (3.0, 0.9)}


def four(loads: list[float]) -> dict[str, object]:
    cells = [
        {"at": name, "reading": f"{load!r} kg", "tare": "0 kg", "arm": f"{x} m", "bl": f"{y} m"}
        for (name, (x, y)), load in zip(CELLS.items(), loads, strict=True)
    ]
    return HEAD | {"balance": {"weighing": {"scales": cells}}}


@given(span(-40.0, 40.0), span(1.2, 2.4), span(-0.2, 0.2))
def test_a_shim_under_one_of_four_cells_changes_neither_sum_nor_cg(shim, fs, bl):
    plan = np.array(list(CELLS.values()))
    even = reactions(plan, 600.0, np.array([fs, bl]))
    idle = np.array([0.9, -0.9, -0.6, 0.6])  # neither sum nor moment: 0.9 x 1.2 = 0.6 x 1.8
    assert (abs(idle.sum()), *abs(idle @ plan)) == pytest.approx((0.0, 0.0, 0.0))
    loads = even + shim * idle
    if loads.min() <= 0.0:
        return
    found = weigh(design_from(four([float(v) for v in loads])))
    assert (found.empty.mass, found.empty.fs, found.empty.bl) == pytest.approx((600.0, fs, bl))
    assert crosswise(found.scales) == pytest.approx(tuple(shim * idle), abs=1e-9)
    assert found.twist == pytest.approx(0.9 * abs(shim), abs=1e-9)


def test_a_cell_that_carries_next_to_nothing_is_asked_about():
    assert any("does the aircraft rock" in q for q in asked(four([4.0, 116.0, 240.0, 240.0])))
    assert not any("rock" in q for q in asked(four([60.0, 60.0, 240.0, 240.0])))


def test_three_scales_share_nothing():
    found = weigh(design_from(weighed(8.0, [60.0, 270.0, 270.0], [42.0, 279.0, 279.0])))
    assert found.twist is None
    assert crosswise(found.scales) == (0.0, 0.0, 0.0)


def test_a_mistyped_scale_is_told_once():
    """The second attitude names the real points; they are not held against the mistyped one."""
    table = copy.deepcopy(PLAIN)
    wheels = ("nose", "left main", "right main")
    scales = [{"at": at, "reading": "100 kg"} for at in wheels]
    tilted = {"level": "8 deg", "scales": scales}
    wrong = [scales[0], scales[1] | {"at": "left man"}, scales[2]]
    table["balance"] = {"weighing": {"scales": wrong, "tilted": tilted}}
    with pytest.raises(pf.InputError) as told:
        design_from(table)
    assert [p.path for p in told.value.problems] == ["balance.weighing.scales[2].at"]
