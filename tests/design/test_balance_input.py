"""Bad balance input: a clear stop where it cannot be read one way, a question where it is odd."""

from __future__ import annotations

import copy

import pytest

import planform as pf
from planform.airframe.weight.record import empty_record
from planform.balance.answer import balance
from planform.balance.questions import balance_assumptions, balance_questions
from planform.balance.stages import stage_balance
from planform.design.load import design_from
from tests.conftest import DESIGNS, PLAIN
from tests.laws.test_balance_laws import WEIGHTS


@pytest.fixture
def table():
    return copy.deepcopy(PLAIN) | copy.deepcopy(WEIGHTS)


def problems(table):
    with pytest.raises(pf.InputError) as caught:
        design_from(table)
    return {p.path: str(p) for p in caught.value.problems}


def questions(table):
    airframe = pf.build(design_from(table))
    return balance_questions(balance(airframe, pf.stand_all(airframe)))


def test_a_sound_file_asks_nothing(table):
    table["balance"]["weighing"]["scales"] = [
        {"at": "nose", "reading": "69 kg", "tare": "1 kg"},
        {"at": "left main", "reading": "180 kg", "tare": "2 kg"},
        {"at": "right main", "reading": "182 kg", "tare": "2 kg"},
    ]
    table["balance"]["weighing"]["level"] = "0 deg"
    assert questions(table) == ()


@pytest.mark.parametrize(
    ("change", "path", "words"),
    [
        (
            lambda b: b["places"]["tank"].pop("fluid"),
            "balance.places.tank",
            "a fuel tank and no density",
        ),
        (
            lambda b: b["places"]["tank"].update(density="0.72 kg/L"),
            "balance.places.tank",
            "both a density and a fluid",
        ),
        (
            lambda b: b["cases"][0]["loads"].update(seat="20 L"),
            "balance.cases[1].loads.seat",
            "needs the place's density",
        ),
        (
            lambda b: b["cases"][0]["loads"].update(tank="20 gal"),
            "balance.cases[1].loads.tank",
            "which gallon?",
        ),
        (
            lambda b: b["cases"][0]["loads"].update(set="20 kg"),
            "balance.cases[1].loads",
            "did you mean 'seat'?",
        ),
        (lambda b: b["cases"][0].update(burn=["seat"]), "balance.cases[1].burn", "names: tank"),
        (lambda b: b["cases"][1].update(name="one"), "balance.cases[2].name", "two cases"),
        (
            lambda b: b["weighing"]["deduct"][0].pop("fluid"),
            "balance.weighing.deduct[1]",
            "10 L and no density",
        ),
        (
            lambda b: b["weighing"]["deduct"][0].update(mass="7 kg"),
            "balance.weighing.deduct[1]",
            "exactly one of mass, volume",
        ),
        (
            lambda b: b["weighing"].update(deduct=[{"name": "x", "mass": "-7 kg", "fs": "0 m"}]),
            "balance.weighing.deduct[1].mass",
            "what comes off is listed under off or deduct",
        ),
        (
            lambda b: b["weighing"]["scales"][0].update(at="main"),
            "balance.weighing.scales[1].at",
            "'left main' and 'right main'",
        ),
        (
            lambda b: b["weighing"]["scales"][0].update(at="nsoe"),
            "balance.weighing.scales[1].at",
            "did you mean 'nose'?",
        ),
        (
            lambda b: b["weighing"]["scales"][1].update(at="nose"),
            "balance.weighing.scales[2].at",
            "two scales",
        ),
        (
            lambda b: b["weighing"]["scales"][0].update(tare="700 kg"),
            "balance.weighing.scales[1]",
            "are the two swapped?",
        ),
        (
            lambda b: b["weighing"]["scales"][0].update(reading="-7 kg"),
            "balance.weighing.scales[1].reading",
            "zero or more",
        ),
        (lambda b: b["weighing"].update(level="40 deg"), "balance.weighing.level", "28 deg"),
        (lambda b: b.update(limits={}), "balance.limits", "nothing in it"),
        (
            lambda b: b["limits"].update(aft=[{"fs": "0.25 m"}]),
            "balance.limits",
            "are they swapped?",
        ),
        (
            lambda b: b["limits"].update(forward=[{"fs": "0.2 m"}, {"fs": "0.3 m"}]),
            "balance.limits.forward[1].mass",
            "several points need a mass each",
        ),
        (
            lambda b: b["limits"]["forward"].reverse(),
            "balance.limits.forward[2].mass",
            "above the point before it (600 kg)",
        ),
        (
            lambda b: b["limits"].update(min_mass="700 kg"),
            "balance.limits.max_mass",
            "above min_mass",
        ),
        (
            lambda b: b["limits"].update(aft=[{"fs": "1 m", "percent_mac": "20 %"}]),
            "balance.limits.aft[1]",
            "exactly one of fs, percent_mac",
        ),
        (
            lambda b: b["limits"].update(aft=[{"percent_mac": "0.2"}]),
            "balance.limits.aft[1].percent_mac",
            "write 0.2 %",
        ),
        (
            lambda b: b["places"]["seat"].update(least="120 kg"),
            "balance.places.seat.least",
            "at most the limit 110 kg",
        ),
        (
            lambda b: b.update(changes=[{"name": "nothing"}]),
            "balance.changes[1]",
            "neither off nor on",
        ),
        (lambda b: b.update(reference="given"), "balance", "give balance.mac"),
        (
            lambda b: b.update(empty={"mass": "300 kg", "fs": "1 m", "moment": "300 kg m"}),
            "balance.empty",
            "exactly one of fs, moment",
        ),
        (lambda b: b["places"]["seat"].update(kind="chair"), "balance.places.seat.kind", "'seat'"),
        (lambda b: b.update(centre="1 m"), "balance.centre", "no such field"),
        (
            lambda b: b["cases"][0].update(burn=[{"tanks": ["tank"], "down_too": "5 L"}]),
            "balance.cases[1].burn[1].down_too",
            "did you mean down_to?",
        ),
        (
            lambda b: b["cases"][0].update(burn=[{"tanks": ["tank", "tank"]}]),
            "balance.cases[1].burn[1].tanks",
            "each tank once",
        ),
        (
            lambda b: b["cases"][0].update(burn=[{"tanks": ["tank"], "down_to": "5 qt"}]),
            "balance.cases[1].burn[1].down_to",
            "which quart?",
        ),
        (
            lambda b: b["cases"][0].update(burn=[7]),
            "balance.cases[1].burn[1]",
            "a tank's name, a list of tanks",
        ),
        (lambda b: b["cases"][0].update(burn="tank"), "balance.cases[1].burn", "a list"),
        (
            lambda b: b["cases"][0].update(burn=[{"tanks": ["tank"], "share": "half"}]),
            "balance.cases[1].burn[1].share",
            "'equal' or 'in proportion'",
        ),
        (lambda b: b.update(burn=["seat"]), "balance.burn", "names: tank"),
        (
            lambda b: b["cases"][0].update(kept={"seat": "5 kg"}),
            "balance.cases[1].kept",
            "names: tank",
        ),
        (
            lambda b: b.update(joint_limits={"two": {"places": ["seat"], "limit": "50 kg"}}),
            "balance.joint_limits.two.places",
            "at least 2 entries",
        ),
        (
            lambda b: b.update(joint_limits={"two": {"places": ["seat", "seat"], "limit": "9 kg"}}),
            "balance.joint_limits.two.places",
            "each place once",
        ),
        (
            lambda b: b.update(
                joint_limits={"two": {"places": ["seat", "shelv"], "limit": "9 kg"}}
            ),
            "balance.joint_limits.two.places",
            "did you mean 'shelf'?",
        ),
        (
            lambda b: b.update(joint_limits={"two": {"places": ["seat", "tank"], "limit": "9 L"}}),
            "balance.joint_limits.two.limit",
            "a density or fluid of each of its places, seat too",
        ),
        (
            lambda b: (
                b["places"]["seat"].update(least="60 kg"),
                b.update(joint_limits={"two": {"places": ["seat", "shelf"], "limit": "50 kg"}}),
            ),
            "balance.joint_limits.two.limit",
            "at least what its places must carry together",
        ),
        (
            lambda b: b["places"]["seat"].update(unusable="6 kg"),
            "balance.places.seat.unusable",
            "only a fuel tank",
        ),
        (
            lambda b: b["places"]["tank"].update(unusable="95 L"),
            "balance.places.tank.unusable",
            "at most the limit 90 L",
        ),
        (
            lambda b: b["limits"].update(left="0.1 m", right="-0.1 m"),
            "balance.limits.right",
            "to the right of left (0.1 m)",
        ),
        (
            lambda b: b["limits"].update(lateral_moment="-5 kg m"),
            "balance.limits.lateral_moment",
            "above zero",
        ),
        (
            lambda b: b["limits"].update(lateral_moment="5 kg"),
            "balance.limits.lateral_moment",
            "kg is a unit of mass",
        ),
        (
            lambda b: b["limits"].update(max_zero_fuel_mass="700 kg"),
            "balance.limits.max_zero_fuel_mass",
            "at most max_mass (620 kg)",
        ),
        (
            lambda b: b["limits"].update(max_zero_fuel_mass="300 kg", min_mass="350 kg"),
            "balance.limits.max_zero_fuel_mass",
            "above min_mass",
        ),
        (
            lambda b: b["limits"].update(between="curved"),
            "balance.limits.between",
            "'station', 'moment' or 'smooth'",
        ),
    ],
)
def test_a_clear_stop(table, change, path, words):
    change(table["balance"])
    found = problems(table)
    assert path in found, found
    assert words in found[path]


def test_a_limit_on_the_centre_line_is_a_limit(table):
    table["balance"]["limits"] = {"left": "0 m"}
    assert design_from(table).balance.limits.left == 0.0


def test_limits_that_cross_in_mixed_units_are_stopped_too(table):
    table["balance"]["limits"]["aft"] = [{"percent_mac": "-40 %"}]
    with pytest.raises(pf.InputError, match="are they swapped"):
        questions(table)


def test_several_mistakes_at_once(table):
    table["balance"]["cases"][0]["loads"] = {"seat": "80", "tank": "60 gal"}
    table["balance"]["limits"]["max_mass"] = "620"
    assert len(problems(table)) == 3


def test_out_of_level_without_a_height(table):
    del table["balance"]["weighing"]["cg_wl"]
    airframe = pf.build(design_from(table))
    answer = balance(airframe, pf.stand_all(airframe))
    assert any("from the mass items" in line for line in balance_assumptions(answer))
    table["masses"] = []
    assert "height of the CG" in problems(table)["balance.weighing.cg_wl"]


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda t: t["balance"]["weighing"]["scales"][0].pop("tare"), "was the reading taken with"),
        (
            lambda t: t["balance"]["weighing"]["scales"][0].update(reading="170 kg"),
            "read that scale again",
        ),
        (
            lambda t: t["balance"]["weighing"]["scales"][1].update(reading="120 kg"),
            "is a scale off",
        ),
        (lambda t: t["masses"][3].update(mass="190 kg"), "is an item missing, or a scale"),
        (
            lambda t: t["balance"]["weighing"]["scales"][0].update(arm="-0.49 m"),
            "is it measured from another datum?",
        ),
        (
            lambda t: t["balance"].update(
                changes=[
                    {"name": "x", "off": [{"name": "Engine", "mass": "90 kg", "fs": "2.31 m"}]}
                ]
            ),
            "is one arm measured from another datum?",
        ),
        (
            lambda t: t["balance"]["limits"].update(max_mass="300 kg"),
            "but empty it weighs",
        ),
        (
            lambda t: t["balance"]["limits"].update(aft=[{"fs": "0.95 m"}]),
            "behind the neutral point",
        ),
    ],
    ids=["tare", "scale", "pair", "sum", "arm", "two datums", "too heavy", "unstable limit"],
)
def test_a_question(table, change, words):
    change(table)
    asked = questions(table)
    assert any(words in q for q in asked), asked


def test_twenty_inches_between_two_datums_are_named(table):
    table["masses"][3]["fs"] = "1.8 m"
    item = {"name": "engine", "mass": "5 kg", "fs": "2.308 m"}
    table["balance"]["weighing"]["deduct"].append(item)
    asked = [q for q in questions(table) if "another datum" in q]
    assert len(asked) == 1
    assert "508 mm" in asked[0]


def test_gallons_are_never_confused(table):
    found = {}
    for gallon in ("gal (US)", "gal (imp)"):
        table["balance"]["weighing"]["deduct"][0]["volume"] = f"10 {gallon}"
        found[gallon] = empty_record(design_from(table), None).now.mass
    apart = found["gal (US)"] - found["gal (imp)"]
    assert apart == pytest.approx(10 * (4.54609 - 3.785411784) * 6 * 0.45359237 / 3.785411784)


def test_units_may_be_mixed_freely(table):
    before = empty_record(design_from(table), None).now
    scales = table["balance"]["weighing"]["scales"]
    scales[0].update(reading=f"{70 / 0.45359237!r} lb", arm=f"{-1000 / 25.4!r} in")
    after = empty_record(design_from(table), None).now
    assert (after.mass, after.fs) == (pytest.approx(before.mass), pytest.approx(before.fs))


def test_cg_behind_the_main_wheels_is_told_not_refused(table):
    table["masses"][3].update(mass="500 kg", fs="2.2 m")
    del table["balance"]["weighing"]
    airframe = pf.build(design_from(table))
    found = balance(airframe, pf.stand_all(airframe)).standings[0]
    assert not found.stands
    assert found.tip_back < 0.0
    assert found.push is None
    level = found.total.mass * (found.total.fs - 1.0) / (1.0 + 2.0)  # axle FS 1, nose FS -2 [m]
    assert found.set_down.mass > 1.5 * level > 0.0  # it lies farther behind its axle
    assert found.ballast[0].mass > 0.0


def test_the_part_that_holds_the_nose_down_is_named():
    airframe = pf.build(pf.load(DESIGNS / "marram.toml"))
    found = [stage_balance(s) for s in pf.stand_all(airframe)]
    assert "foreplane" in found[-1].tips_without
    assert "wing" not in found[-1].tips_without
    design = pf.changed(airframe.design, "stages[4].without", ["foreplane"])
    bare = stage_balance(pf.stand_all(pf.build(design))[-1])
    assert not bare.stands
