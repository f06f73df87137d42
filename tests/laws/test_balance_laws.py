"""Laws of balance: the datum is a choice, splitting changes nothing, loads and moments close."""

from __future__ import annotations

import copy

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

import planform as pf
from planform.airframe.weight.stage_weight import items_on
from planform.airframe.weight.weighing import weigh
from planform.balance.answer import balance
from planform.balance.footing import footing
from planform.balance.stages import balanced, stage_balance
from planform.core.mass.limits import Limit, least_margin
from planform.core.mass.loading import (
    Envelope,
    amounts_at,
    boundary,
    least_step,
    room_left,
)
from planform.core.mass.support import edges, hold_down, push_to_tip, reactions, tip_angle
from planform.design.load import design_from
from tests.conftest import PLAIN

WEIGHTS = {
    "masses": [
        {"name": "pod", "mass": "200 kg", "fs": "0 m", "wl": "0.1 m", "part": "pod"},
        {"name": "wings", "mass": "120 kg", "fs": "0.9 m", "wl": "0.2 m", "part": "wing"},
        {"name": "winglets", "mass": "10 kg", "fs": "2 m", "wl": "0.7 m", "part": "winglet"},
        {"name": "engine", "mass": "90 kg", "fs": "1.8 m", "wl": "0.3 m"},
    ],
    "balance": {
        "neutral_point": {"fs": "0.9 m", "record": "invented"},
        "nose_load": "60 kg",
        "ground_ballast": {"nose": {"fs": "-1.9 m", "bl": "0 m", "wl": "0 m"}},
        "weighing": {
            "level": "1.5 deg",
            "cg_wl": "0.2 m",
            "scales": [
                {"at": "nose", "reading": "70 kg", "tare": "1 kg"},
                {"at": "left main", "reading": "178 kg", "tare": "2 kg"},
                {"at": "right main", "reading": "182 kg", "tare": "2 kg"},
            ],
            "deduct": [
                {"name": "fuel", "volume": "10 L", "fluid": "avgas", "fs": "0.4 m", "wl": "0 m"}
            ],
        },
        "places": {
            "seat": {"kind": "seat", "fs": "-0.9 m", "wl": "0.1 m", "limit": "110 kg"},
            "tank": {"kind": "fuel", "fs": "0.5 m", "wl": "0 m", "limit": "90 L", "fluid": "avgas"},
            "shelf": {"kind": "baggage", "fs": "1.2 m", "wl": "0.1 m", "limit": "30 kg"},
            "nose_weight": {"kind": "ballast", "fs": "-1.8 m", "wl": "0 m", "limit": "40 kg"},
        },
        "limits": {
            "max_mass": "620 kg",
            "forward": [{"mass": "400 kg", "fs": "0.2 m"}, {"mass": "600 kg", "fs": "0.3 m"}],
            "aft": [{"fs": "0.55 m"}],
        },
        "cases": [
            {"name": "one", "loads": {"seat": "80 kg", "tank": "60 L"}},
            {"name": "aft", "loads": {"seat": "55 kg", "tank": "20 L", "shelf": "25 kg"}},
        ],
    },
}


def span(low, high):
    """Numbers as a person writes them: four decimals."""
    return st.integers(round(low * 1e4), round(high * 1e4)).map(lambda n: n / 1e4)


STATIONS = ("fs", "arm", "lemac_fs", "disc_fs")


def plain():
    return copy.deepcopy(PLAIN) | copy.deepcopy(WEIGHTS)


def answer_of(table):
    airframe = pf.build(design_from(table))
    return balance(airframe, pf.stand_all(airframe))


def moved(item, delta):
    """The tables with every station moved: the datum put elsewhere."""
    if isinstance(item, dict):
        return {
            key: f"{float(value.split()[0]) + delta!r} m"
            if key in STATIONS and isinstance(value, str)
            else moved(value, delta)
            for key, value in item.items()
        }
    if isinstance(item, list):
        return [moved(one, delta) for one in item]
    return item


@given(st.integers(-4000, 4000))
def test_moving_the_datum_moves_every_station_and_no_answer(millimetres):
    delta = millimetres / 1000.0
    before, after = answer_of(plain()), answer_of(moved(plain(), delta))
    assert after.record.now.fs - before.record.now.fs == pytest.approx(delta, abs=1e-9)
    assert after.record.now.mass == pytest.approx(before.record.now.mass)
    for one, two in zip(before.references, after.references, strict=True):
        assert two.lemac - one.lemac == pytest.approx(delta, abs=1e-9)
        share = one.share(before.record.now.fs)
        assert two.share(after.record.now.fs) == pytest.approx(share, abs=1e-9)
    for one, two in zip(before.standings, after.standings, strict=True):
        assert two.tip_back == pytest.approx(one.tip_back, abs=1e-9)
        assert two.overturn == pytest.approx(one.overturn, abs=1e-9)
        assert [s.load for s in two.supports] == pytest.approx([s.load for s in one.supports])
        assert two.ballast[0].mass == pytest.approx(one.ballast[0].mass)
    for one, two in zip(before.cases, after.cases, strict=True):
        assert two.verdict == one.verdict
        lefts = [m.left for m in one.margins]
        assert [m.left for m in two.margins] == pytest.approx(lefts, abs=1e-9)
        assert [r.what for r in two.remedies] == [r.what for r in one.remedies]
        assert [r.mass for r in two.remedies] == pytest.approx([r.mass for r in one.remedies])
        assert dict(two.room) == pytest.approx(dict(one.room))
    assert before.leavings
    for one, two in zip(before.leavings, after.leavings, strict=True):
        assert two.order == one.order
        assert [s.front for s in two.steps] == pytest.approx([s.front for s in one.steps])
    for one, two in zip(before.adverse, after.adverse, strict=True):
        assert two.total.fs - one.total.fs == pytest.approx(delta, abs=1e-9)
        assert two.margin == pytest.approx(one.margin, abs=1e-9)


@given(st.integers(0, 3), st.integers(1, 99))
def test_splitting_an_item_in_two_changes_nothing(which, percent):
    table = plain()
    mass = float(table["masses"][which]["mass"].split()[0])
    first = mass * percent / 100.0
    other = dict(table["masses"][which], name="the other half", mass=f"{mass - first!r} kg")
    split = copy.deepcopy(table)
    split["masses"][which]["mass"] = f"{first!r} kg"
    split["masses"].append(other)
    one, two = answer_of(table).standings[0], answer_of(split).standings[0]
    assert two.total.mass == pytest.approx(one.total.mass)
    assert two.total.fs == pytest.approx(one.total.fs, abs=1e-12)
    assert two.tip_back == pytest.approx(one.tip_back, abs=1e-12)
    assert [s.load for s in two.supports] == pytest.approx([s.load for s in one.supports])


@given(
    st.lists(
        st.tuples(span(1.0, 300.0), span(-1.5, 1.5), span(-0.8, 0.8), span(-0.3, 1.0)),
        min_size=1,
        max_size=6,
    ),
    st.sampled_from(["level", "nose on a block", "one main on a block"]),
)
def test_wheel_loads_sum_to_the_weight_and_their_moments_vanish(items, stand):
    table = plain()
    heights = {"level": {}, "nose on a block": {"nose": "0.3 m"}}
    table["stances"]["gear"]["heights"] = heights.get(stand, {"left main": "0.15 m"})
    table["masses"] = [
        {
            "name": f"item {k}",
            "mass": f"{m!r} kg",
            "fs": f"{x!r} m",
            "bl": f"{y!r} m",
            "wl": f"{z!r} m",
        }
        for k, (m, x, y, z) in enumerate(items)
    ]
    del table["balance"]
    found = answer_of(table).standings[0]
    if found.supports[0].load is None:
        assert not found.stands
        return
    loads = np.array([s.load for s in found.supports])
    where = np.array([[s.fs, s.bl] for s in found.supports])
    weight, centre = found.total.mass, found.over_floor
    assert loads.min() >= 0.0
    assert loads.sum() == pytest.approx(weight)
    if found.sits_on:
        rest = footing(found.standing).tail
        centre = rest.turn @ centre + rest.shift
        assert abs(rest.points[:, 2]).max() < 1e-9
    residue = loads @ where - weight * centre[:2]
    assert np.abs(residue).max() < 1e-9 * weight


@given(
    st.lists(st.tuples(span(-2, 2), span(-2, 2)), min_size=4, max_size=7, unique=True),
    span(0.05, 0.95),
)
def test_more_than_three_supports_carry_all_and_pull_nothing(points, share):
    plan = np.array(points)
    basis = np.column_stack([np.ones(len(plan)), plan])
    if np.linalg.svd(basis, compute_uv=False)[-1] < 0.2:
        return
    weights = np.array([share ** (k + 1) for k in range(len(plan))])
    centre = weights @ plan / weights.sum()  # inside the outline
    loads = reactions(plan, 500.0, centre)
    assert loads.sum() == pytest.approx(500.0)
    assert np.abs(loads @ plan - 500.0 * centre).max() < 1e-6


def test_the_tipping_line_is_that_of_the_outer_supports():
    square = np.array([[0.0, -1.0], [0.0, 1.0], [2.0, -1.0], [2.0, 1.0], [1.0, 0.0]])
    found = edges(square)
    assert len(found) == 4
    aft = max(found, key=lambda e: e.normal[0])
    assert aft.inside(np.array([0.5, 0.0])) == pytest.approx(1.5)
    assert 4 not in {index for edge in found for index in (edge.first, edge.second)}


@given(span(0.01, 2.0), span(0.1, 2.0), span(50.0, 900.0), span(0.1, 3.0))
def test_the_push_that_tips_it_empties_the_nose(inside, height, mass, beyond):
    push = push_to_tip(mass, inside, beyond)
    line = np.array([[0.0, -1.0], [0.0, 1.0], [-3.0, 0.0]])
    whole = mass + push
    centre = np.array([(-mass * inside + push * beyond) / whole, 0.0])
    assert reactions(line, whole, centre)[2] == pytest.approx(0.0, abs=1e-9 * mass)
    assert np.tan(tip_angle(inside, height)) * height == pytest.approx(inside)


@given(span(-0.5, 0.4), span(10.0, 200.0), span(1.0, 3.0))
def test_ground_ballast_gives_the_nose_load_asked_for(inside, wanted, place):
    mass, arm = 600.0, 2.5
    ballast = hold_down(mass, inside, wanted, arm, place)
    line = np.array([[0.0, -1.0], [0.0, 1.0], [-arm, 0.0]])
    whole = mass + ballast
    centre = np.array([-(mass * inside + ballast * place) / whole, 0.0])
    nose = reactions(line, whole, centre)[2]
    assert nose >= wanted - 1e-9
    if ballast > 0.0:
        assert nose == pytest.approx(wanted)


FORWARD = Limit.through([(400.0, 0.2), (550.0, 0.25), (700.0, 0.4)])
AFT = Limit.through([(400.0, 0.6), (700.0, 0.55)])
WALLS = Envelope(FORWARD, AFT, 700.0, 380.0)


@given(span(350.0, 800.0), span(-0.2, 1.0), span(-1.0, 1.0), span(-2.0, 2.0))
def test_the_least_step_is_the_least(mass, cg, dm, arm):
    state, step = (mass, mass * cg), (dm, arm)
    t = least_step(WALLS, state, step, 300.0)
    samples = np.linspace(0.0, 300.0, 1501)
    good = [s for s in samples if WALLS.holds((mass + s * dm, mass * cg + s * arm))]
    if t is None:
        assert not good
    else:
        assert WALLS.holds((mass + t * dm, mass * cg + t * arm))
        assert not good or t <= good[0] + 1e-9


@given(span(390.0, 690.0), span(0.0, 1.0), span(-1.0, 1.0), span(-2.0, 2.0))
def test_room_left_ends_where_a_limit_begins(mass, share, dm, arm):
    cg = FORWARD.at(mass) + share * (AFT.at(mass) - FORWARD.at(mass))
    room = room_left(WALLS, (mass, mass * cg), (dm, arm), 200.0)
    assert room is not None
    for s in np.linspace(0.0, room, 50):
        m = {k: v for k, v in WALLS.margins((mass + s * dm, mass * cg + s * arm)).items()}
        assert min(m.values()) > -1e-6
    if room < 200.0:
        beyond = room + 1e-3
        assert not WALLS.holds((mass + beyond * dm, mass * cg + beyond * arm)) or room == 0.0


@given(span(420.0, 680.0), span(0.0, 0.9), span(420.0, 680.0), span(0.0, 0.9))
def test_the_least_margin_along_a_burn_is_found(m0, x0, m1, x1):
    a, b = (m0, m0 * x0), (m1, m1 * x1)
    for limit, sign in ((FORWARD, 1.0), (AFT, -1.0)):
        least, (mass, moment) = least_margin(limit, sign, a, b)
        share = np.linspace(0.0, 1.0, 2001)
        masses = m0 + share * (m1 - m0)
        moments = a[1] + share * (b[1] - a[1])
        sampled = min(sign * (q / m - limit.at(m)) for m, q in zip(masses, moments, strict=True))
        assert least <= sampled + 1e-12
        assert least >= sampled - 2e-3
        assert least == pytest.approx(sign * (moment / mass - limit.at(mass)))


@given(
    st.lists(st.tuples(span(-2.0, 2.0), span(0.0, 150.0)), min_size=1, max_size=5),
    st.integers(0, 2**32 - 1),
)
def test_no_loading_leaves_the_outline_of_all_loadings(places, seed):
    arms = np.array([arm for arm, _ in places])
    most = np.array([mass for _, mass in places])
    base = (400.0, 100.0)
    low = boundary(base, arms, most, np.inf, [int(k) for k in np.argsort(arms)])
    high = boundary(base, arms, most, np.inf, [int(k) for k in np.argsort(-arms)])
    amounts = np.random.default_rng(seed).random(len(arms)) * most
    mass, moment = base[0] + amounts.sum(), base[1] + amounts @ arms
    assert np.interp(mass, low[:, 0], low[:, 1]) <= moment + 1e-6
    assert np.interp(mass, high[:, 0], high[:, 1]) >= moment - 1e-6
    order = [int(k) for k in np.argsort(arms)]
    filled = amounts_at(mass, base[0], most, order)
    assert filled.sum() == pytest.approx(amounts.sum(), abs=1e-9)


@given(span(-0.3, 0.3), span(-0.2, 0.2))
def test_a_weighing_out_of_level_gives_back_the_cg(nose, left):
    """Stand it crooked, read what its wheels carry off as scales, and work the CG out again."""
    table = plain()
    table["stances"]["gear"]["heights"] = {"nose": f"{nose} m", "left main": f"{left} m"}
    airframe = pf.build(design_from(table))
    standing = pf.stand_all(airframe)[0]
    found = stage_balance(standing)
    table["balance"]["weighing"] = {
        "level": f"{standing.attitude.pitch!r} rad",
        "lean": f"{standing.attitude.roll!r} rad",
        "cg_wl": f"{found.total.wl!r} m",
        "scales": [
            {"at": s.name, "reading": f"{s.load + 3.0!r} kg", "tare": "3 kg"}
            for s in found.supports
        ],
    }
    weighed = weigh(design_from(table))
    assert weighed.empty.mass == pytest.approx(found.total.mass)
    assert weighed.empty.fs == pytest.approx(found.total.fs, abs=1e-9)
    assert weighed.empty.bl == pytest.approx(found.total.bl, abs=1e-9)
    if abs(nose) > 0.05:
        assert weighed.as_weighed.fs != pytest.approx(found.total.fs, abs=1e-4)


def test_half_a_pair_counts_half_and_stands_aside():
    table = plain()
    table["stages"] = [{"name": "left winglet off", "without": ["left winglet"], "stance": "gear"}]
    airframe = pf.build(design_from(table))
    items = {i.name: i for i in items_on(airframe, airframe.design.stages[0])}
    assert items["winglets"].mass == pytest.approx(5.0)
    assert items["winglets"].bl == pytest.approx(4.0, abs=0.1)
    found = balanced(pf.stand_all(airframe)[0], tuple(items.values()))
    by_name = {s.name: s.load for s in found.supports}
    assert by_name["right main"] > by_name["left main"]
