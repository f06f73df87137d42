"""Laws on the ground: the record comes first, exits against a solver, remedies by doing them."""

from __future__ import annotations

import copy
import re

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linprog

import planform as pf
from planform.balance.adverse import adverse
from planform.balance.footing import footing
from planform.balance.questions import balance_assumptions, balance_questions
from planform.design.load import design_from
from planform.design.told import said
from planform.report.balance.answer import write_balance
from planform.report.balance.charts import envelope_chart, loading_chart
from planform.report.balance.ground_tables import TIP_BACK_WORDS
from planform.report.balance.tables import tables
from planform.report.table import cell
from planform.study.spreads_of_balance import balance_findings
from tests.laws.test_balance_laws import answer_of, plain, span

FEW = settings(max_examples=8)
UNITS = {"lb": 0.45359237, "kg": 1.0}


def seated(arms, masses, empty_fs="0.8 m"):
    """An aircraft weighed by a record, with seats at arms and a case of people in them."""
    table = plain()
    balance = table["balance"]
    del balance["weighing"]
    balance["empty"] = {"mass": "420 kg", "fs": empty_fs, "bl": "0 m", "wl": "0.25 m"}
    places = {"tank": balance["places"]["tank"]}
    for k, arm in enumerate(arms):
        side = ("-0.3 m", "0.3 m")[k % 2]
        places[f"seat {k}"] = {"kind": "seat", "fs": f"{arm!r} m", "bl": side, "wl": "0.1 m"}
    balance["places"] = places
    loads = {f"seat {k}": f"{mass!r} kg" for k, mass in enumerate(masses)}
    balance["cases"] = [{"name": "all", "loads": {**loads, "tank": "50 L"}}]
    balance["limits"] = {"max_mass": "900 kg"}
    return table


def solved(plan, mass, centre):
    """Loads on three points by a general solver that allows no pull; None where none exist."""
    rows = np.vstack([np.ones(len(plan)), np.asarray(plan).T])
    right = mass * np.array([1.0, *centre])
    found = linprog(np.zeros(len(plan)), A_eq=rows, b_eq=right, bounds=(0, None))
    return found.x if found.success else None


crews = st.integers(1, 3).flatmap(
    lambda n: st.tuples(
        st.lists(span(-1.6, 0.9), min_size=n, max_size=n),
        st.lists(span(45.0, 110.0), min_size=n, max_size=n),
        span(0.55, 1.05),
    )
)


@FEW
@given(crews)
def test_every_exit_is_carried_as_a_linear_programme_says(crew):
    arms, masses, empty = crew
    answer = answer_of(seated(arms, masses, f"{empty!r} m"))
    on = footing(answer.loaded[0].standing)
    full, dry = answer.leavings
    assert (full.fuel, dry.fuel) == ("as loaded", "tanks dry")
    for one in (full, dry):
        assert len(one.steps) == 2 ** len(arms) - 1
        assert sorted(one.order) == sorted(f"seat {k}" for k in range(len(arms)))
        for step in one.steps:
            assert step.total.mass == pytest.approx(
                420.0
                + sum(m for k, m in enumerate(masses) if f"seat {k}" not in step.out)
                + (50e-3 * 719.0 if one is full else 0.0),
                abs=0.1,
            )
            loads = solved(on.plan, step.total.mass, step.carried.centre[:2])
            assert (loads is not None) == step.carried.stands
            if loads is not None:
                told = [s.load for s in step.carried.supports]
                assert told == pytest.approx(list(loads), abs=1e-6)
            elif step.carried.sits_on:
                rest = on.tail
                sunk = rest.turn @ step.carried.centre + rest.shift
                points = [(s.fs, s.bl) for s in step.carried.supports]
                told = [s.load for s in step.carried.supports]
                assert solved(points, step.total.mass, sunk[:2]) is not None
                assert sum(told) == pytest.approx(step.total.mass)
                assert np.array(told) @ np.array(points) == pytest.approx(
                    step.total.mass * sunk[:2], abs=1e-6
                )
        assert one.worst.front == min(s.front for s in one.steps)


@FEW
@given(crews)
def test_no_order_of_stepping_out_is_better_than_the_one_told(crew):
    from itertools import permutations

    arms, masses, empty = crew
    for one in answer_of(seated(arms, masses, f"{empty!r} m")).leavings:
        fronts = {frozenset(s.out): s.front for s in one.steps}

        def least(order, fronts=fronts):
            return min(fronts[frozenset(order[: k + 1])] for k in range(len(order)))

        assert one.least.front == pytest.approx(least(one.order))
        best = max(least(order) for order in permutations(one.order))
        assert least(one.order) == pytest.approx(best, abs=1e-5)
        for step, hand in ((one.least, one.hand), (one.worst, one.worst_hand)):
            wanted = 60.0
            assert (hand is None) == (step.front >= wanted)
            if hand is not None:  # done: the hand at the nose, FS -2, is so much more weight there
                mass = step.total.mass + hand.mass
                centre = (step.total.moment - 2.0 * hand.mass) / mass
                assert mass * (1.0 - centre) / 2.0 == pytest.approx(wanted)


def test_a_case_whose_stepping_out_is_not_looked_at_is_named():
    table = seated([-0.9, 0.4], [80.0, 70.0])
    del table["balance"]["places"]["seat 1"]["wl"]
    answer = answer_of(table)
    assert answer.leavings == ()
    words = "stepping out of case “all”: not looked at, as the height of seat 1 is not given"
    assert words in balance_assumptions(answer)


@FEW
@given(crews, st.integers(0, 2))
def test_one_who_steps_out_leaves_the_case_without_him(crew, which):
    arms, masses, empty = crew
    name = f"seat {which % len(arms)}"
    table = seated(arms, masses, f"{empty!r} m")
    without = copy.deepcopy(table)
    del without["balance"]["cases"][0]["loads"][name]
    one = answer_of(table).leavings[0]
    step = next(s for s in one.steps if s.out == (name,))
    stood = answer_of(without).loaded[0]
    assert step.carried.tip_back == pytest.approx(stood.tip_back)
    assert [s.load for s in step.carried.supports] == pytest.approx(
        [s.load for s in stood.supports]
    )


def test_the_record_comes_before_the_mass_items_and_is_named():
    table = seated([-0.9], [80.0], "0.95 m")
    answer = answer_of(table)
    stage = answer.standings[0]
    assert stage.source == "from a record"
    assert (stage.total.mass, stage.total.fs) == (pytest.approx(420.0), pytest.approx(0.95))
    nose = next(s.load for s in stage.supports if s.name == "nose")
    assert nose == pytest.approx(420.0 * (1.0 - 0.95) / 2.0)  # plain statics, level
    assert stage.ballast[0].mass == pytest.approx((60.0 * 2.0 - 420.0 * 0.05) / 2.9)
    assert any("more than their uncertainty" in q for q in balance_questions(answer))
    assert not any("balance." in q for q in balance_questions(answer))


@FEW
@given(span(0.6, 1.4), span(300.0, 500.0))
def test_a_stage_without_a_part_is_the_record_less_its_item(fs, mass):
    table = seated([-0.9], [80.0])
    table["balance"]["empty"] |= {"mass": f"{mass!r} kg", "fs": f"{fs!r} m"}
    table["stages"] = [
        {"name": "bare", "without": ["winglet"], "stance": "gear"},
        {"name": "complete", "stance": "gear"},
    ]
    bare, whole = answer_of(table).standings
    assert whole.total.mass == pytest.approx(mass)
    assert bare.total.mass == pytest.approx(mass - 10.0)
    assert bare.total.moment == pytest.approx(mass * fs - 10.0 * 2.0)
    assert bare.source == "from a record, less winglets"


@FEW
@given(span(1.02, 1.9), span(200.0, 600.0))
def test_on_its_tail_nothing_carries_more_than_the_weight(fs, mass):
    table = seated([-0.9], [80.0])
    table["balance"]["empty"] |= {"mass": f"{mass!r} kg", "fs": f"{fs!r} m"}
    found = answer_of(table).standings[0]
    assert not found.stands
    loads = [s.load for s in found.supports]
    assert all(load is None for load in loads) or (
        min(loads) >= 0.0 and sum(loads) == pytest.approx(mass) and max(loads) <= mass
    )


def test_sat_back_by_plane_geometry():
    """Pod's lower corner 1 m behind the axle and 0.3 m over it, the axle 0.2 m over the floor."""
    table = seated([-0.9], [80.0])
    table["balance"]["empty"]["fs"] = "1.05 m"
    found = answer_of(table).standings[0]
    assert found.sits_on == "pod"
    turn = np.arctan2(0.3, 1.0) + np.arcsin(0.2 / np.hypot(1.0, 0.3))
    tail = np.cos(turn) + 0.3 * np.sin(turn)
    centre = 0.05 * np.cos(turn) + 1.05 * np.sin(turn)  # of the CG, WL 0.25, axle at WL -0.8
    loads = {s.name: s.load for s in found.supports}
    assert loads["nose"] == 0.0
    resting = loads["tail (left pod)"] + loads["tail (right pod)"]
    assert resting == pytest.approx(420.0 * centre / tail, rel=1e-3)


def test_a_pilot_under_the_seats_least_is_outside_and_said():
    table = plain()
    table["balance"]["places"]["seat"]["least"] = "70 kg"
    table["balance"]["limits"] = {"max_mass": "620 kg"}
    table["balance"]["cases"] = [{"name": "light", "loads": {"seat": "55 kg", "tank": "20 L"}}]
    found = balance_findings(pf.stand_all(pf.build(design_from(table))), design_from(table))
    case = found.answer.cases[0]
    assert (case.verdict, case.under) == ("outside", ("seat",))
    sheet = next(t for t in tables(found) if t.key == "cases")
    assert sheet.rows[0][-1] == "outside (under the least of seat)"
    (remedy,) = case.remedies
    assert (remedy.what, remedy.mass) == ("someone heavier at seat, by", pytest.approx(15.0))
    table["balance"]["cases"] = [{"name": "empty", "loads": {"tank": "20 L"}}]
    (case,) = answer_of(table).cases
    assert (case.verdict, case.under) == ("outside", ("seat",))
    (remedy,) = case.remedies
    assert (remedy.what, remedy.mass) == ("seat someone at seat, of", pytest.approx(70.0))


@FEW
@given(span(40.0, 110.0), span(40.0, 120.0), span(0.0, 30.0), span(0.35, 0.6), st.booleans())
def test_remedies_hold_when_done_in_the_amounts_printed(pilot, rear, shelf, aft, least):
    table = plain()
    balance = table["balance"]
    balance["places"]["rear"] = {"kind": "seat", "fs": "0.9 m", "wl": "0.1 m", "limit": "120 kg"}
    if least:
        balance["places"]["seat"]["least"] = "60 kg"
    balance["limits"]["aft"] = [{"fs": f"{aft!r} m"}]
    loads = {"seat": f"{pilot!r} kg", "rear": f"{rear!r} kg", "shelf": f"{shelf!r} kg"}
    balance["cases"] = [{"name": "one", "loads": {**loads, "tank": "60 L"}}]
    design = design_from(table)
    answer = answer_of(table)
    loader, case = answer.loader, answer.cases[0]
    assert all(not ("leave seat" in r.what and least) for r in case.remedies)
    have = loader.amounts(design.balance.cases[0])
    order = loader.burning(design.balance.cases[0])
    for remedy in case.remedies:
        spare = remedy.most - remedy.mass
        kind = "mass_up" if spare > 0.5 else "mass_up_fine"
        for system in ("ft-in", "mm"):
            number, unit = said(remedy.mass, kind, system).split()
            amount = float(number) * UNITS[unit]
            assert amount >= remedy.mass - 1e-9
            done = dict(have)
            first, *rest = remedy.what.removesuffix(", by").split()
            last = rest[-1] if rest[-1] != "empty" else rest[0]
            if first == "leave":
                done[last] = 0.0
            elif first == "change":
                done["seat"], done["rear"] = done["rear"], done["seat"]
            elif spare <= 0.005:
                continue
            elif first == "move":
                done[rest[1]] = done.get(rest[1], 0.0) - amount
                done[last] = done.get(last, 0.0) + amount
            else:
                sign = 1.0 if first == "add" or "heavier" in remedy.what else -1.0
                done[last] = done.get(last, 0.0) + sign * amount
            assert loader.holds(done, order), remedy.what
            assert done["seat"] >= (60.0 if least else 0.0) - 1e-9
            _inside_by_hand(loader, done, aft)


def _inside_by_hand(loader, done, aft):
    """Full and dry between the limits, by plain sums."""
    empty = loader.record.now
    for amounts in (done, {**done, "tank": 0.0}):
        mass = empty.mass + sum(amounts.values())
        moment = empty.moment + sum(m * float(loader.places[n].fs) for n, m in amounts.items())
        assert mass <= 620.0 + 1e-6
        forward = np.interp(mass, [400.0, 600.0], [0.2, 0.3])
        assert forward - 1e-6 <= moment / mass <= aft + 1e-6


@settings(max_examples=3)
@given(st.lists(span(-1.5, 1.5), min_size=2, max_size=4), span(0.0, 60.0))
def test_adverse_loadings_are_those_of_a_linear_programme(arms, ballast):
    table = seated(arms, [0.0] * len(arms))
    places = table["balance"]["places"]
    for k in range(len(arms)):
        places[f"seat {k}"] |= {"least": "10 kg", "limit": "100 kg"}
    places["lead"] = {"kind": "ballast", "fs": "-1.9 m", "limit": f"{ballast + 1.0!r} kg"}
    table["balance"]["cases"] = []
    table["balance"]["limits"] = {
        "max_mass": "640 kg",
        "forward": [{"mass": "400 kg", "fs": "0.1 m"}, {"mass": "640 kg", "fs": "0.3 m"}],
        "aft": [{"mass": "400 kg", "fs": "0.7 m"}, {"mass": "640 kg", "fs": "0.6 m"}],
    }
    loader = answer_of(table).loader
    found = adverse(loader)
    assert [(one.side, one.ballast) for one in found] == [
        ("forward", False),
        ("aft", False),
        ("forward", True),
        ("aft", True),
    ]
    arm = np.array([loader.arm(n) for n in loader.places])
    empty = loader.record.now
    for one in found:
        sign = 1.0 if one.side == "forward" else -1.0
        limit = getattr(loader.envelope, one.side)
        bounds = [
            (loader.least(n), loader.most(n) if one.ballast or n != "lead" else 0.0)
            for n in loader.places
        ]
        low = empty.mass + sum(b[0] for b in bounds)
        high = min(640.0, empty.mass + sum(b[1] for b in bounds))
        margins = []
        for mass in np.linspace(low, high, 9):
            best = linprog(
                sign * arm, A_eq=np.ones((1, len(arm))), b_eq=[mass - empty.mass], bounds=bounds
            )
            cg = (empty.moment + sign * best.fun) / mass
            margins.append(sign * (cg - limit.at(mass)))
        assert one.margin <= min(margins) + 1e-9
        assert one.margin >= min(margins) - 0.05


def test_the_weighing_can_be_checked_by_hand_from_what_is_printed(tmp_path):
    table = plain()
    scales = table["balance"]["weighing"]["scales"]
    scales[1]["reading"], scales[1]["tare"] = "392.4 lb", "4.4 lb"
    design = design_from(table)
    found = balance_findings(pf.stand_all(pf.build(design)), design)
    write_balance(found, tmp_path, "mm")
    page = (tmp_path / "weighing-record.html").read_text(encoding="utf-8")
    for words in ("392.4 lb", "4.4 lb", "1.5 deg", "WL 200 mm", "10 L at 6 lb/gal (US)", "lean"):
        assert words in page
    shown = {t.key: [[cell(c, "mm") for c in row] for row in t.rows] for t in tables(found)}
    mass = moment = high = 0.0
    for name, reading, tare, _, arm, _, _, height in shown["weighing"][:3]:
        assert name
        amounts = [a.split() for a in (reading, tare)]
        net = sum(s * float(n) * UNITS[u] for (n, u), s in zip(amounts, (1, -1), strict=True))
        mass += net
        moment += net * _mm(arm)
        high += net * _mm(height)
    day = dict(shown["weighing-day"])
    level = np.radians(float(day["level, nose up positive"].split()[0]))
    cg = _mm(day["height of the CG taken, as given"])
    fs = moment / mass + np.tan(level) * (high / mass - cg)
    litres, density = re.match(r"(\S+) L at (\S+) lb/gal", day["deducted: fuel"]).groups()
    fuel = float(litres) * float(density) * 0.45359237 / 3.785411784
    hand = (mass * fs - fuel * 0.4) / (mass - fuel)
    weighed = found.answer.record.weighed.empty
    assert weighed.mass == pytest.approx(mass - fuel, abs=1e-6)
    assert weighed.fs == pytest.approx(hand, abs=1e-4)


def _mm(text):
    return float(text.split()[1]) / 1000.0


def test_one_unit_of_moment_and_one_convention_of_tip_back():
    table = seated([-0.9, 0.4], [80.0, 70.0])
    design = design_from(table)
    found = balance_findings(pf.stand_all(pf.build(design)), design)
    for system, unit in (("mm", "kg m"), ("ft-in", "lb in")):
        assert f"moment about the datum, {unit}<" in loading_chart(found, system)
        assert said(1.0, "moment", system).endswith(unit)
    sheets = {t.key: t for t in tables(found)}
    assert TIP_BACK_WORDS in sheets["ground"].remarks
    assert TIP_BACK_WORDS in sheets["stepping-out"].remarks
    stage = found.answer.standings[0]
    inside, height = 1.0 - stage.over_floor[0], stage.over_floor[2]
    pivot = stage.standing.to_floor(np.array([[1.0, 0.0, 0.0]]))[0][0]
    inside = pivot - stage.over_floor[0]
    assert np.tan(stage.tip_back) == pytest.approx(inside / height)


@settings(max_examples=2)
@given(st.sampled_from([-9.0, 9.0]), st.lists(st.text("Wm", min_size=55, max_size=58)))
def test_charts_hold_what_lies_far_off_and_long_names(neutral_point, names):
    table = seated([-0.9], [80.0])
    table["balance"]["neutral_point"]["fs"] = f"{neutral_point} m"
    places = table["balance"]["places"]
    for name in ("W" * 58, "m" * 59, *names):
        places[name] = {"kind": "baggage", "fs": "0.7 m"}
    design = design_from(table)
    found = balance_findings(pf.stand_all(pf.build(design)), design)
    assert "neutral point" in envelope_chart(found, "mm")  # a warning of the layout fails here
    assert "W" * 50 in loading_chart(found, "mm")


@FEW
@given(crews)
def test_mirrored_left_and_right_exits_mirror(crew):
    arms, masses, empty = crew
    table = seated(arms, masses, f"{empty!r} m")
    other = copy.deepcopy(table)
    for place in other["balance"]["places"].values():
        if place.get("bl"):
            place["bl"] = f"{-float(place['bl'].split()[0])!r} m"
    for one, two in zip(answer_of(table).leavings, answer_of(other).leavings, strict=True):
        assert one.order == two.order
        for a, b in zip(one.steps, two.steps, strict=True):
            assert a.front == pytest.approx(b.front)
            loads = {s.name: s.load for s in a.carried.supports}
            mirrored = {s.name: s.load for s in b.carried.supports}
            if "left main" in loads:
                assert loads["left main"] == pytest.approx(mirrored["right main"])
