"""Rigging cards of Marram, and what readings decide on them; closed forms beside them."""

from __future__ import annotations

import csv
import dataclasses
import io
import itertools
import math

import numpy as np
import pytest

import planform as pf
from planform.airframe.build import build
from planform.design.joints import Joint, JointLimits
from planform.design.problems import InputError
from planform.design.units import INCH
from planform.rigging.deciding import AGAIN, GO, STOP, decide
from planform.rigging.joints import joint_named, joints_of
from planform.rigging.making import rigging_card
from planform.rigging.points import named_points
from planform.rigging.reading_file import readings_in
from planform.rigging.shims import can_take, holes_move, thicknesses, unshimmed
from planform.rigging.targets import READ
from tests.conftest import DESIGNS

DEG = math.radians(1.0)


@pytest.fixture(scope="module")
def marram():
    return pf.build(pf.load(DESIGNS / "marram.toml"))


@pytest.fixture(scope="module")
def foreplane(marram):
    return rigging_card(marram, "foreplane to bulkhead")


@pytest.fixture(scope="module")
def panel(marram):
    return rigging_card(marram, "outer panel to centre section")


def check(card, name):
    return next(one for one in card.checks if one.name == name)


def target(card, number):
    return next(one for one in card.targets if one.number == number)


def readings(card, **by):
    """What every reading is with the freedoms off by so much; first order."""
    names = [one.name for one in card.freedoms]
    off = np.zeros(len(names))
    for name, value in by.items():
        off[names.index(name.replace("_", " "))] = value
    return [
        [t.target + float(np.dot(t.columns, off))] * (2 if t.twice else 1) for t in card.targets
    ]


def test_tilt_of_a_foreplane_of_thirteen_feet(foreplane):
    """0.2 deg from tip to tip of 13 ft is 156 in x tan 0.2 deg = 0.54 in."""
    one = check(foreplane, "tilt")
    assert one.size / INCH == pytest.approx(0.54, abs=0.005)
    assert one.size == pytest.approx(156 * INCH * 0.2 * DEG, rel=1e-4)
    assert target(foreplane, 4).sort == "height difference"
    assert "water level or a laser can" in one.seen
    assert "a tape from point to point cannot" in one.seen


def test_skew_of_a_foreplane_of_thirteen_feet(foreplane):
    """0.3 deg is 0.82 in between the stations of the tips; no reading of height tells it."""
    one = check(foreplane, "skew")
    assert one.size / INCH == pytest.approx(0.82, abs=0.005)
    assert one.reading.startswith("no. 10 less no. 9, plus ")
    assert one.reading.endswith("no. 1 (reference)")
    assert len(one.of) == 3
    assert "marks along the base line can" in one.seen
    assert "a water level or a laser" not in one.seen


def test_targets_are_those_of_the_standing_aircraft(marram, foreplane):
    standing = pf.stand(marram, "hull on its wheels", "gear")
    points = {p.name: p for p in named_points(marram)}
    tip = points["left foreplane tip, leading edge"]
    heights = [t for t in foreplane.targets if t.sort == "height" and not t.reference]
    assert len(heights) == 2
    assert heights[0].target == pytest.approx(heights[1].target, abs=1e-9)
    assert heights[0].target == pytest.approx(standing.to_floor(tip.at[None, :])[0, 2])


@pytest.mark.parametrize(
    ("degrees", "rises"),
    [(1.0, (0.0524, 0.1047, 0.1571, 0.2095)), (2.5, (0.1310, 0.2620, 0.3930, 0.5239))],
)
def test_rise_per_chord_is_chord_times_tangent(marram, degrees, rises):
    """LV-04, a modellers' table: rises over chords of 3, 6, 9 and 12 in; by tangent, not by sine.

    Printed to 1e-4 in; its own rounding is off by up to 1.1e-4.
    """
    for chord, rise in zip((3.0, 6.0, 9.0, 12.0), rises, strict=True):
        assert chord * math.tan(math.radians(degrees)) == pytest.approx(rise, abs=1.2e-4)
    card = rigging_card(marram, "outer panel to centre section")
    for one in card.templates:
        assert one.rise == pytest.approx(one.over * math.tan(one.angle), abs=1e-12)
        assert one.angle == pytest.approx(-1.0 * DEG, abs=1e-4)


def test_shims_of_four_bolts_of_a_rectangle():
    """t = n . (w x r); opposite corners have equal sums: t1 + t4 = t2 + t3."""
    corners = np.array([[x, y, 0.3] for x, y in itertools.product((0.0, 0.15), (-0.2, 0.2))])
    rng = np.random.default_rng(7)
    for turn in rng.normal(0.0, 0.005, (50, 3)):
        t = thicknesses(corners, np.array([0.0, 0.0, 1.0]), turn)
        assert t[0] + t[3] == pytest.approx(t[1] + t[2], abs=1e-15)
        assert t[2] - t[0] == pytest.approx(-turn[1] * 0.15)
        assert t[1] - t[0] == pytest.approx(turn[0] * 0.4)


def test_the_turn_about_the_faces_normal_takes_no_shim():
    corners = np.array([[x, y, 0.0] for x, y in itertools.product((0.0, 6.0), (0.0, 8.0))])
    up, turn = np.array([0.0, 0.0, 1.0]), np.array([0.0, 0.0, 0.01])
    assert thicknesses(corners, up, turn) == pytest.approx(np.zeros(4), abs=1e-15)
    assert unshimmed(turn, up) == 0.01
    assert holes_move(corners, up, turn) == pytest.approx(0.01 * 5.0)


def test_what_bolts_in_a_row_cannot_take():
    """A row fore and aft holds a turn across it, and none about itself; one bolt holds none."""
    up, row = np.array([0.0, 0.0, 1.0]), np.array([[0.0, 0.0, 0.0], [0.2, 0.0, 0.0]])
    about_x, about_y = np.array([1.0, 0.0, 0.0]), np.array([0.0, 1.0, 0.0])
    assert can_take(row, up, about_y)
    assert not can_take(row, up, about_x)
    assert not can_take(row[:1], up, about_y)
    assert can_take(row, up, up)
    assert can_take(np.vstack([row, [[0.1, 0.1, 0.0]]]), up, about_x)


def test_shims_of_the_foreplane_for_its_tilt(foreplane):
    """14 in between the bolts: 0.1 deg of tilt is 14 in x tan 0.1 deg = 0.0244 in."""
    per = {bolt.name: bolt.per[0] for bolt in foreplane.bolts}
    apart = per["right bolt 1"] - per["left bolt 1"]
    assert apart * 0.1 * DEG / INCH == pytest.approx(14.0 * math.tan(0.1 * DEG), abs=1e-4)
    t1, t2, t3, t4 = (per[f"{s} bolt {k}"] for s in ("left", "right") for k in (1, 2))
    assert t1 + t4 == pytest.approx(t2 + t3)
    assert len(foreplane.lost) == 1
    assert foreplane.lost[0].startswith("skew: all of it is about the face's own normal")


def test_all_as_drawn_is_go(foreplane, panel):
    for card in (foreplane, panel):
        found = decide(card, readings(card))
        assert found.word == GO
        assert all(one.word != STOP for one in found.rows)
        assert all(abs(one.by) < 1e-9 for one in found.turns)


def test_a_tilt_outside_its_limit_is_stop_and_the_shims_take_it_out(foreplane):
    found = decide(foreplane, readings(foreplane, tilt=0.3 * DEG, roll=0.4 * DEG))
    assert found.word == STOP
    assert found.why == "tilt is outside its limit"
    by = {one.name: one for one in found.turns}
    assert by["tilt"].by == pytest.approx(0.3 * DEG, abs=0.01 * DEG)
    shims = dict(found.shims)
    right, left = shims["right bolt 1"], shims["left bolt 1"]
    assert right < left
    assert (left - right) / INCH == pytest.approx(14.0 * math.tan(0.3 * DEG), rel=0.03)
    assert min(shims.values()) == 0.0


def test_an_aircraft_that_stands_askew_changes_no_check(foreplane):
    """The reference is read too: how the aircraft stands is no fault of the joint."""
    askew = readings(foreplane, roll=0.5 * DEG, pitch=-0.3 * DEG, height=0.01)
    for one, plain in zip(
        decide(foreplane, askew).checks, decide(foreplane, readings(foreplane)).checks, strict=True
    ):
        assert one.off == pytest.approx(plain.off, abs=5e-5)
        assert one.word == plain.word


def test_near_a_limit_it_is_measured_again(foreplane):
    found = decide(foreplane, readings(foreplane, tilt=0.19 * DEG))
    assert found.word == AGAIN
    assert found.why == "tilt is too near its limit for these instruments"


def test_the_range_of_a_reading_is_go_to_its_ends_and_not_beyond(foreplane):
    one = target(foreplane, 4)
    assert one.high is not None
    reads = {number for number, _ in check(foreplane, "tilt").of}
    values = [
        some if t.number in reads else [None] * len(some)  # what else tells of the tilt is not read
        for t, some in zip(foreplane.targets, readings(foreplane), strict=True)
    ]
    tilt = [c.name for c in foreplane.checks].index("tilt")
    for by, word in ((0.99, GO), (1.01, AGAIN)):
        values[3] = [one.target + by * (one.high - one.target)]
        assert decide(foreplane, values).checks[tilt].word == word


def test_a_limit_that_the_readings_cannot_decide_is_told(marram):
    """With every reading on its target its sum is known to more than the limit: never GO."""
    limits = JointLimits.model_validate({"cant": "0.02 deg", "toe": "0.05 deg"})
    joint = Joint(part="winglet", limits=limits)
    design = marram.design.model_copy(update={"joints": {"winglet": joint}})
    card = rigging_card(build(design), "winglet")
    mine = [c for c in card.checks if c.limit is not None]
    assert len(mine) == 4
    for one in mine:
        assert one.tolerance > one.limit
        assert one.seen.startswith("these readings know it to ± ")
        assert "never GO with these instruments; read it by " in one.seen
    assert decide(card, readings(card)).word == AGAIN
    assert all(t.low is None for t in card.targets)


def test_a_cradle_is_found_by_its_stance(marram):
    assert joint_named(marram, "cradle").name == "cradle under the aircraft"


def test_a_level_is_turned_end_for_end(foreplane):
    values = readings(foreplane)
    k = next(j for j, t in enumerate(foreplane.targets) if t.twice)
    zero = 0.4 * DEG
    values[k] = [values[k][0] + zero, values[k][0] - zero]
    found = decide(foreplane, values)
    assert found.word == GO
    assert found.rows[k].off == pytest.approx(0.0, abs=1e-12)
    values[k] = [values[k][0], None]
    found = decide(foreplane, values)
    assert (found.word, found.rows[k].word) == (AGAIN, AGAIN)
    assert found.rows[k].why == "turn the level end for end and read again"


def wrong_one(card, number, change):
    """What is decided where all is as drawn but one reading."""
    values = readings(card)
    values[number - 1] = [change(one) for one in values[number - 1]]
    return decide(card, values)


@pytest.mark.parametrize(
    ("number", "change", "hint"),
    [
        (5, lambda v: v / 25.4, "about 25.4 times too small, is the unit right?"),
        (3, lambda v: v * 12.0, "about 12 times too large, is the unit right?"),
        (5, lambda v: v + INCH, "about an inch off, is it misread?"),
        (13, lambda v: v + 0.1, "about 100 mm off, is it misread?"),
        (11, lambda v: -v, "is the sign right?"),
    ],
)
def test_a_reading_that_contradicts_the_others_is_measured_again(foreplane, number, change, hint):
    found = wrong_one(foreplane, number, change)
    assert found.word == AGAIN
    assert f"{number}: it does not fit the other readings: {hint}" in found.why
    assert found.rows[number - 1].word == AGAIN
    assert not found.turns
    assert not found.shims


def test_a_part_that_is_set_far_off_is_asked_about(foreplane):
    """200 mm too high at both tips contradicts nothing, and no limit sees it."""
    values = readings(foreplane)
    for number in (5, 6):
        values[number - 1] = [values[number - 1][0] + 0.2]
    found = decide(foreplane, values)
    assert found.word == AGAIN
    assert {found.rows[k - 1].word for k in (5, 6)} == {AGAIN}
    assert "14: " not in found.why
    assert "6: it is far off its target" in found.why
    assert not found.shims


def test_good_readings_seldom_contradict_each_other(foreplane, panel):
    """Each within its tolerance: an alarm in less than one of fifty, and hardly ever a shim."""
    dice = np.random.default_rng(18)
    for card in (foreplane, panel):
        alarms = shims = 0
        for _ in range(300):
            values = [
                [v + dice.uniform(-1.0, 1.0) * t.tolerance for v in some]
                for t, some in zip(card.targets, readings(card), strict=True)
            ]
            found = decide(card, values)
            alarms += "does not fit" in found.why or "far off" in found.why
            shims += bool(found.shims)
        assert alarms <= 6
        assert shims <= 30


def test_large_turns_are_no_contradiction(marram, foreplane):
    """A tilt of 2 deg, read off the aircraft that is built so and not off straight lines."""
    from planform.design.as_built import AsBuilt

    row = AsBuilt.model_validate({"of": "foreplane", "tilt": "2 deg"})
    built = build(marram.design.model_copy(update={"as_built": (row,)}))
    at = {p.name: pf.stand(marram, "hull on its wheels", "gear").to_floor(p.at[None, :])[0]
          for p in named_points(built)}  # fmt: skip
    base = [at[name] for name in foreplane.base]
    values = [
        [READ[t.sort]([at[name] for name in t.names], base)] * (2 if t.twice else 1)
        for t in foreplane.targets
    ]
    found = decide(foreplane, values)
    assert found.word == STOP
    assert "tilt is outside its limit" in found.why
    by = {one.name: one for one in found.turns}
    assert by["tilt"].by == pytest.approx(2.0 * DEG, abs=by["tilt"].half)


def test_how_well_a_turn_is_known_grows_with_what_does_not_fit(foreplane):
    """Readings somewhat worse than their tolerances; told with a wider margin, or not at all."""
    dice = np.random.default_rng(3)
    plain = {one.name: one.half for one in decide(foreplane, readings(foreplane)).turns}
    ratios = []
    for _ in range(40):
        values = [
            [v + dice.uniform(-1.5, 1.5) * t.tolerance for v in some]
            for t, some in zip(foreplane.targets, readings(foreplane), strict=True)
        ]
        grown = [one.half / plain[one.name] for one in decide(foreplane, values).turns]
        assert all(one == pytest.approx(grown[0]) for one in grown)
        ratios += grown[:1]
    assert min(ratios) == pytest.approx(1.0)
    assert 1.2 < max(ratios) < 2.5


def test_a_level_whose_readings_differ_too_much_stops_nothing(foreplane):
    values = readings(foreplane)
    values[6] = [values[6][0] + 4.0 * DEG, values[6][0] + 1.0 * DEG]
    found = decide(foreplane, values)
    assert found.word == AGAIN
    assert STOP not in {one.word for one in (*found.rows, *found.checks)}
    assert not found.shims


def test_what_is_not_read_decides_nothing(foreplane):
    found = decide(foreplane, [[None]] * len(foreplane.targets))
    assert (found.word, found.why) == ("", "not all is read yet")
    assert not found.turns
    assert not found.shims
    with pytest.raises(ValueError, match="allowed: 14"):
        decide(foreplane, [[None]])


def test_without_limits_none_is_made_up(marram):
    card = rigging_card(marram, "winglet to wing")
    assert not card.limited
    assert all(t.low is None for t in card.targets)
    assert "no limit" in card.practice[0].lower()
    found = decide(card, readings(card))
    assert found.word == ""
    assert {one.word for one in found.rows} == {""}


def test_every_part_and_its_host_make_a_joint(marram):
    names = [one.name for one in joints_of(marram)]
    assert names[:2] == ["foreplane to bulkhead", "outer panel to centre section"]
    assert {"winglet to wing", "main to hull", "cradle under the aircraft"} <= set(names)
    for name in names:
        card = rigging_card(marram, name)
        assert card.targets
        assert card.order[0].words.startswith("Support")


def test_each_check_is_the_sum_that_sees_its_freedom_alone(foreplane, panel):
    for card in (foreplane, panel):
        for k, one in enumerate(card.freedoms[:-3]):
            mine = [c for c in card.checks if c.name.startswith(one.name)]
            for c in (c for c in mine if "less" not in c.name):
                by = sum(f * target(card, n).columns[k] for n, f in c.of)
                assert by == pytest.approx(1.0, abs=0.003)


def test_as_built_differences_do_not_move_the_targets(marram):
    design = pf.load(DESIGNS / "marram.toml")
    from planform.design.as_built import AsBuilt

    row = AsBuilt.model_validate({"of": "foreplane", "tilt": "1 deg"})
    moved = build(design.model_copy(update={"as_built": (row,)}))
    one, other = (rigging_card(a, "foreplane to bulkhead") for a in (marram, moved))
    assert [t.target for t in one.targets] == pytest.approx([t.target for t in other.targets])


def test_a_stage_without_the_part_is_told(marram):
    with pytest.raises(InputError, match="foreplane is not on at this stage; stages with it: hull"):
        rigging_card(marram, "foreplane to bulkhead", "spars and winglets, no skins")
    with pytest.raises(InputError, match="did you mean 'winglet to wing'"):
        rigging_card(marram, "winglet to wnig")


def test_cards_are_frozen(foreplane):
    with pytest.raises(dataclasses.FrozenInstanceError):
        foreplane.joint = "x"


@pytest.mark.parametrize("joint", ["foreplane to bulkhead", "outer panel to centre section"])
def test_readings_of_a_card_are_readings_of_the_survey(marram, joint):
    """What a card asks for, written as a survey's table, reads back with the card's own targets."""
    card = rigging_card(marram, joint)
    head = list(card.targets[0].survey)
    out = io.StringIO()
    table = csv.writer(out)
    table.writerow([*head, "read"])
    for t in card.targets:
        read = f"{t.target:.9f} m" if t.kind == "length" else f"{math.degrees(t.target):.9f} deg"
        table.writerow([*(t.survey[name] for name in head), read])
    found = readings_in(out.getvalue(), "card.csv", marram).readings
    assert [one.sort for one in found] == [t.sort for t in card.targets]
    assert [one.value[0] for one in found] == pytest.approx(
        [t.target for t in card.targets], abs=1e-8
    )
    assert all(one.stage == card.standing.stage.name for one in found)
