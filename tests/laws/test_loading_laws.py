"""Laws of loading: curves of limits, joint and lateral limits, the burn in steps.

Second methods: SciPy's monotone cubics, its linear programs, and every corner by brute force.
"""

from __future__ import annotations

from itertools import combinations, pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import PchipInterpolator
from scipy.optimize import linprog

from planform.airframe.build import build
from planform.balance.adverse import _filling, adverse
from planform.balance.answer import balance
from planform.balance.loader import Loader
from planform.balance.loading import load_case
from planform.core.mass.limits import Limit, crossing, least_margin
from planform.core.mass.loading import Envelope, least_step, room_left
from planform.design.load import design_from

HEAD = {"format": "planform design 1", "name": "Ruff", "units": "mm", "datum": "the bulkhead"}
RULES = ("station", "moment", "smooth")


def whole(seed: int) -> Loader:
    """An aircraft with places, joint limits and limits to every side, some of them missing."""
    dice = np.random.default_rng(seed)

    def some(low: float, high: float) -> float:
        return round(float(dice.uniform(low, high)), 2)

    places = {}
    for k in range(int(dice.integers(2, 6))):
        kind = str(dice.choice(["seat", "baggage", "fuel", "ballast"]))
        top = float(dice.choice([30.0, 80.0, 120.0]))
        places[f"p{k}"] = {
            "kind": kind,
            "fs": f"{some(-2, 2)} m",
            "bl": f"{some(-1, 1)} m",
            "limit": f"{top} kg",
            "least": f"{top * dice.choice([0, 0, 0.3])} kg",
        }
        if kind == "fuel":
            places[f"p{k}"] |= {"fluid": "avgas"}
    joints = {}
    for k in range(int(dice.integers(0, 3))):
        own = [str(n) for n in dice.choice(list(places), 2, replace=False)]
        joints[f"j{k}"] = {"places": own, "limit": f"{some(80, 160)} kg"}
    limits = {"forward": [{"mass": "300 kg", "fs": "-0.2 m"}, {"mass": "450 kg", "fs": "-0.15 m"},
                          {"mass": "600 kg", "fs": "0.05 m"}],
              "aft": [{"mass": "350 kg", "fs": "0.5 m"}, {"mass": "620 kg", "fs": "0.4 m"}],
              "between": str(dice.choice(RULES)), "max_mass": f"{some(450, 700)} kg"}  # fmt: skip
    if dice.random() < 0.6:
        limits |= {"max_zero_fuel_mass": f"{some(380, 440)} kg"}
    if dice.random() < 0.6:
        limits |= {"left": f"{some(-0.2, -0.02)} m", "right": f"{some(0.02, 0.2)} m"}
    if dice.random() < 0.4:
        limits |= {"lateral_moment": f"{some(10, 60)} kg m"}
    empty = {"mass": "300 kg", "fs": "0.1 m", "bl": "0.01 m"}
    table = HEAD | {
        "balance": {"empty": empty, "places": places, "joint_limits": joints, "limits": limits}
    }
    found = balance(build(design_from(table)), ()).loader
    assert found is not None
    return found


def corners(loader: Loader, rows: np.ndarray, most: np.ndarray) -> np.ndarray:
    """Every corner of a region by brute force: each choice of as many rows as unknowns."""
    n = rows.shape[1]
    full, ends = np.vstack([rows, -np.eye(n)]), np.concatenate([most, np.zeros(n)])
    out = []
    for pick in combinations(range(len(full)), n):
        square = full[list(pick)]
        if abs(np.linalg.det(square)) > 1e-9:
            x = np.linalg.solve(square, ends[list(pick)])
            if (full @ x <= ends + 1e-7).all():
                out.append(x)
    return np.array(out)


def allowed(loader: Loader, *, ballast: bool, sideways: bool) -> tuple[np.ndarray, np.ndarray]:
    """What may be in the places, written down anew: rows and bounds of what is over the least."""
    names, envelope = list(loader.places), loader.envelope
    least = np.array([loader.least(n) for n in names])
    places = list(loader.places.values())
    top = [float(p.limit) if ballast or p.kind != "ballast" else low
           for p, low in zip(places, least, strict=True)]  # fmt: skip
    rows, ends = [*np.eye(len(names))], list(np.maximum(np.array(top) - least, 0.0))
    for joint in loader.joints.values():
        row = np.array([float(n in joint.places) for n in names])
        rows.append(row)
        ends.append(max(0.0, float(joint.limit) - row @ least))
    now = loader.record.now
    rows.append(np.ones(len(names)))
    ends.append(max(0.0, envelope.max_mass - now.mass - least.sum()))
    dry = np.array([float(p.kind != "fuel") for p in places])
    if envelope.max_zero_fuel_mass is not None:
        rows.append(dry)
        ends.append(max(0.0, envelope.max_zero_fuel_mass - now.mass - dry @ least))
    bl = np.array([float(p.bl) for p in places])
    mass, side = now.mass + least.sum(), now.mass * now.bl + bl @ least
    for sign, edge in ((-1.0, envelope.left), (1.0, envelope.right)):
        if sideways and edge is not None:
            rows.append(sign * (bl - edge))
            ends.append(sign * (edge * mass - side))
        if sideways and envelope.lateral_moment is not None:
            rows.append(sign * bl)
            ends.append(envelope.lateral_moment - sign * side)
    return np.array(rows), np.array(ends)


@given(st.integers(0, 2**32 - 1))
def test_adverse_loadings_are_the_worst_of_all_corners(seed):
    loader = whole(seed)
    names = list(loader.places)
    least = np.array([loader.least(n) for n in names])
    for one in adverse(loader):
        along = one.side in ("forward", "aft")
        rows, ends = allowed(loader, ballast=one.ballast, sideways=along)
        points = corners(loader, rows, ends)
        if along and not len(points):
            rows, ends = allowed(loader, ballast=one.ballast, sideways=False)
            points = corners(loader, rows, ends)
        states = [loader.state(dict(zip(names, least + x, strict=True))) for x in points]
        if along:
            limit = getattr(loader.envelope, one.side)
            sign = 1.0 if one.side == "forward" else -1.0
            pairs = [least_margin(limit, sign, a, b)[0] for a, b in combinations(states, 2)]
            worst = min([*pairs, *(sign * (s[1] / s[0] - limit.at(s[0])) for s in states)])
        elif one.kind == "moment":
            sign = 1.0 if one.side.startswith("left") else -1.0
            worst = min(loader.envelope.lateral_moment + sign * s[2] for s in states)
        else:
            sign, edge = (1.0, loader.envelope.left) if one.side == "left" else (
                -1.0, loader.envelope.right)  # fmt: skip
            worst = min(sign * (s[2] / s[0] - edge) for s in states)
        assert one.margin == pytest.approx(worst, abs=1e-7)
        held = {line.name: line.mass for line in one.lines[1:]}
        assert not loader.over(held)


@given(st.integers(0, 2**32 - 1))
def test_where_the_plain_search_serves_the_general_one_gives_the_same(seed):
    loader = whole(seed)
    bare = Envelope(loader.envelope.forward, loader.envelope.aft, loader.envelope.max_mass)
    plain = Loader(loader.record, loader.places, bare)
    filling = _filling(plain, ballast=True)
    assert filling.simple
    general = filling.corners(1, ("max_mass",))
    for limit, sign in ((bare.forward, 1.0), (bare.aft, -1.0)):
        one, two = (
            min(least_margin(limit, sign, a, b)[0] for a, b in pairwise(states))
            for states in (
                [s for s, _ in filling.filled(sign)] * 2,
                [s[:2] for s, _ in [*general, general[0]]] * 2,
            )
        )
        assert one >= two - 1e-9
        filled = filling.filled(sign)
        assert filled[-1][0][0] == pytest.approx(max(s[0] for s, _ in general))


@given(st.integers(0, 2**32 - 1))
def test_the_most_that_joint_limits_allow_is_that_of_a_linear_program(seed):
    loader = whole(seed)
    rows, ends = allowed(loader, ballast=True, sideways=False)
    best = linprog(-np.ones(rows.shape[1]), rows, ends, bounds=(0, None), method="highs")
    found = _filling(loader, ballast=True).corners(1, ("max_mass", "max_zero_fuel_mass"))
    least = loader.record.now.mass + sum(map(loader.least, loader.places))
    assert max(state[0] for state, _ in found) == pytest.approx(least - best.fun, abs=1e-6)


POINTS = st.lists(
    st.tuples(st.integers(10, 100), st.integers(-40, 40)), min_size=2, max_size=6
).map(
    lambda steps: [
        (300.0 + sum(s for s, _ in steps[: k + 1]), 0.01 * y) for k, (_, y) in enumerate(steps)
    ]
)


@given(POINTS)
def test_a_smooth_limit_is_that_of_another_monotone_cubic(points):
    limit = Limit.through(points, "smooth")
    mass, station = np.array(points).T
    other = PchipInterpolator(mass, station)
    for m in np.linspace(mass[0], mass[-1], 60):
        assert limit.at(float(m)) == pytest.approx(float(other(m)), abs=1e-12)
    for low, high, powers in limit.pieces[1:-1]:
        for m in np.linspace(low, high, 7):
            assert np.polyval(powers[::-1], m) / m == pytest.approx(limit.at(float(m)), abs=1e-9)


@given(POINTS)
def test_a_limit_straight_in_moment_is_straight_in_moment(points):
    limit = Limit.through(points, "moment")
    for (m0, x0), (m1, x1) in pairwise(points):
        for share in (0.25, 0.5, 0.9):
            mass = m0 + share * (m1 - m0)
            moment = m0 * x0 + share * (m1 * x1 - m0 * x0)
            assert limit.at(mass) * mass == pytest.approx(moment, abs=1e-9)


@given(POINTS, st.sampled_from(RULES), st.integers(0, 2**32 - 1))
def test_the_worst_along_a_burn_is_found_whatever_the_curve(points, between, seed):
    limit = Limit.through(points, between)
    dice = np.random.default_rng(seed)
    (m0, m1), (x0, x1) = dice.uniform(280.0, 900.0, 2), dice.uniform(-0.5, 0.5, 2)
    a, b = (float(m0), float(m0 * x0)), (float(m1), float(m1 * x1))
    for sign in (1.0, -1.0):
        least, (mass, moment) = least_margin(limit, sign, a, b)
        share = np.linspace(0.0, 1.0, 1501)
        sampled = min(
            sign * ((a[1] + t * (b[1] - a[1])) / m - limit.at(m))
            for t, m in ((t, float(m0 + t * (m1 - m0))) for t in share)
        )
        assert sampled - 4e-3 <= least <= sampled + 1e-9
        assert least == pytest.approx(sign * (moment / mass - limit.at(mass)), abs=1e-9)


@given(POINTS, st.sampled_from(RULES), st.integers(0, 2**32 - 1))
def test_steps_end_where_a_curve_is_met(points, between, seed):
    dice = np.random.default_rng(seed)
    envelope = Envelope(
        forward=Limit.through(points, between), max_mass=800.0, left=-0.1, right=0.12,
        lateral_moment=70.0, max_zero_fuel_mass=650.0)  # fmt: skip
    mass, x, y = dice.uniform(350, 750), dice.uniform(-0.6, 0.6), dice.uniform(-0.15, 0.15)
    state = (mass, mass * x, mass * y, dice.uniform(0, 120))
    step = (dice.choice([-1.0, 0.0, 1.0]), *dice.uniform(-2.0, 2.0, 2), dice.choice([0.0, 1.0]))

    def moved(t: float) -> tuple[float, ...]:
        return tuple(s + t * d for s, d in zip(state, step, strict=True))

    there = least_step(envelope, state, step, 100.0)
    inside = [t for t in np.linspace(0.0, 100.0, 801) if envelope.holds(moved(t))]
    if there is None:
        assert not inside
    else:
        assert not inside or there <= inside[0] + 1e-9
        assert min(envelope.margins(moved(there)).values()) > -1e-6
    room = room_left(envelope, state, step, 100.0)
    for t in np.linspace(0.0, room or 0.0, 40) if room is not None else ():
        assert min(envelope.margins(moved(t)).values()) > -1e-6


@given(POINTS, POINTS, st.sampled_from(RULES), st.sampled_from(RULES))
def test_limits_that_cross_are_found_between_their_points_too(one, two, first, second):
    forward, aft = Limit.through(one, first), Limit.through(two, second)
    found = crossing(forward, aft)
    gaps = [aft.at(float(m)) - forward.at(float(m)) for m in np.linspace(250.0, 950.0, 1401)]
    if found is None:
        assert min(gaps) > -1e-9
    else:
        assert forward.at(found) >= aft.at(found)


def tanks(burn: object, loads: dict[str, str], **more: object) -> dict[str, object]:
    places = {
        "left": {"kind": "fuel", "fs": "1 m", "bl": "-1 m", "density": "0.7 kg/L"},
        "right": {"kind": "fuel", "fs": "1 m", "bl": "1 m", "density": "0.8 kg/L"},
        "header": {"kind": "fuel", "fs": "0 m", "density": "0.75 kg/L", "unusable": "2 L"},
    }
    case = {"name": "one", "loads": loads, "burn": burn} | more
    table = HEAD | {
        "balance": {"empty": {"mass": "300 kg", "fs": "0.1 m"}, "places": places, "cases": [case]}
    }
    return table


def burnt(table: dict[str, object]) -> list[tuple[str, float]]:
    found = balance(build(design_from(table)), ())
    case = load_case(found.loader, found.design.balance.cases[0])
    return [(point.what, round(point.mass - 300.0, 9)) for point in case.burn]


LOADS = {"left": "50 L", "right": "30 L", "header": "10 L"}


def test_tanks_that_feed_together_give_equal_volumes_then_the_rest_alone():
    steps = [{"tanks": ["left", "right"], "down_to": "5 L"}, "header"]
    assert burnt(tanks(steps, LOADS)) == [
        ("all aboard", 35.0 + 24.0 + 7.5),
        ("right down to 5 L", 25 * 0.7 + 5 * 0.8 + 7.5),
        ("left down to 5 L", 5 * 0.7 + 5 * 0.8 + 7.5),
        ("header down to 2 L", 3.5 + 4.0 + 1.5),
    ]


def test_tanks_in_proportion_reach_their_end_at_once():
    steps = [{"tanks": ["left", "right"], "share": "in proportion"}]
    assert burnt(tanks(steps, LOADS)) == [
        ("all aboard", 66.5),
        ("left dry, right dry", 7.5),
    ]


def test_what_is_kept_is_not_burnt():
    found = burnt(tanks([["left", "right"], "header"], LOADS, kept={"left": "14 L"}))
    assert found[-1] == ("header down to 2 L", pytest.approx(14 * 0.7 + 1.5))
    assert [what for what, _ in found] == [
        "all aboard",
        "right dry",
        "left down to 14 L",
        "header down to 2 L",
    ]


def test_tank_by_tank_is_the_same_written_three_ways():
    ways = (
        ["left", "header"],
        [["left"], ["header"]],
        [{"tanks": ["left"]}, {"tanks": ["header"]}],
    )
    assert len({str(burnt(tanks(way, LOADS))) for way in ways}) == 1


def test_the_burn_of_the_aircraft_serves_every_case_without_one():
    table = tanks(None, LOADS)
    del table["balance"]["cases"][0]["burn"]
    alone = burnt(table)
    table["balance"]["burn"] = ["header", ["left", "right"]]
    assert [what for what, _ in alone] == [
        "all aboard",
        "left dry",
        "right dry",
        "header down to 2 L",
    ]
    assert [what for what, _ in burnt(table)][1] == "header down to 2 L"
