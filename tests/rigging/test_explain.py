"""Readings explained: against other ways of working them out, published thresholds, and laws."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchmarks.shops import counted
from planform.core.adjust.snooping import one_of
from planform.core.vectors import Array
from planform.rigging.explain.explaining import explain
from planform.rigging.explain.fitting import full_model, upper
from planform.rigging.explain.looks import looks_like
from planform.rigging.explain.net import Candidate, Net, Observed, Pool, sd_of
from planform.rigging.explain.reduced import reduced
from planform.rigging.explain.sets import best_sets, prices
from planform.rigging.explain.told import Explanation
from tests.rigging.made_shops import (
    DEG,
    INCH,
    Craft,
    columns_of,
    is_angle,
    observed,
    shop,
    takes,
)

SEEDS = st.integers(0, 10_000)


def length(words: str, read: float = 1.0) -> Observed:
    return Observed(words, False, read, read)


def small_net(columns: Array, seen: Array, names: str, unknown: int = 1) -> Net:
    """Readings of a millimetre, candidates named by letters, each plausible up to 50 mm."""
    m = len(seen)
    readings = tuple(length(f"reading {k}", 1.0 + seen[k]) for k in range(m))
    candidates = tuple(Candidate(n, False, 0.05) for n in names)
    return Net(("height",) * unknown, candidates, readings, columns, seen, sd_of(np.full(m, 1e-3)))


def by_name(told: Explanation) -> dict[str, float]:
    return {one.name: one.by for one in told.found}


@pytest.mark.parametrize(("n", "printed"), [(8, 2.727), (54, 3.305), (141, 3.565), (211, 3.669)])
def test_the_threshold_of_the_greatest_of_n(n: int, printed: float):
    """Two-sided 5 % over n, Sidak 1967: the normal quantile at (1 - 0.05)^(1/n)."""
    assert one_of(n) == pytest.approx(printed, abs=6e-4)


@pytest.mark.parametrize(("freedom", "printed"), [(5, 15.086), (10, 23.209), (30, 50.892)])
def test_the_limit_of_what_may_be_left(freedom: int, printed: float):
    """Tables of the chi-square distribution at 1 % (from memory; scipy.stats.chi2 agrees)."""
    assert upper(freedom) == pytest.approx(printed, rel=0.01)


def test_forty_shops():
    """What `benchmarks/shops.py` reaches in a thousand, with room for forty."""
    count = counted(range(40))
    assert 0.93 <= count["full held"] / count["full"] <= 0.98
    assert count["stated held"] / count["stated"] >= 0.92
    assert count["right or rival"] >= 37
    assert count["false deviation"] <= 3
    assert count["false alarm"] <= 4
    assert count["seen named"] >= 0.95 * count["seen"] > 10
    assert count["blind said"] == count["blind"]


@pytest.mark.parametrize("seed", range(6))
def test_the_best_set_is_that_of_trying_all(seed: int):
    """All sets of up to three columns, each solved by itself through the whole matrix."""
    dice = np.random.default_rng(seed)
    columns = dice.normal(size=(14, 7))
    seen = columns[:, 2] * 0.01 + columns[:, 5] * 0.004 + dice.uniform(-1e-3, 1e-3, 14)
    seen[3] += 0.02
    net = small_net(columns, seen, "abcdef")
    small = reduced(net)
    price = prices(small)
    best = best_sets(small, price)[0]
    whole = np.hstack([columns, np.eye(14)]) / net.sd[:, None]
    scores = {}
    for size in range(4):
        for own in combinations(range(6 + 14), size):
            inside = whole[:, [0, *(1 + k for k in own)]]
            rest = [k for k in own if k < 6]
            room = np.zeros((len(rest), inside.shape[1]))
            for row, k in enumerate(rest):
                room[row, 1 + own.index(k)] = 1.0 / 0.05
            stacked, aim = np.vstack([inside, room]), np.append(seen / net.sd, np.zeros(len(rest)))
            found = np.linalg.lstsq(stacked, aim, rcond=1e-12)[0]
            left = float(np.sum((aim - stacked @ found) ** 2))
            scores[own] = left + float(price[list(own)].sum())
    least = min(scores, key=lambda own: scores[own])
    assert best.members == least
    assert best.score == pytest.approx(scores[least], rel=1e-6)


def test_the_covariance_of_the_full_model_is_that_of_many_shops():
    """A million sets of readings whose errors lie anywhere within their tolerances."""
    dice = np.random.default_rng(5)
    columns = dice.normal(size=(12, 4))
    net = small_net(columns, np.zeros(12), "abc")
    small = reduced(net)
    _, _, covariance = full_model(small, [], np.full(3, 1e3))
    errors = dice.uniform(-1e-3, 1e-3, (1_000_000, 12))
    solved = errors @ np.linalg.pinv(columns).T
    assert covariance == pytest.approx(np.cov(solved[:, 1:].T), rel=0.01, abs=2e-10)


@settings(max_examples=8, deadline=None)
@given(SEEDS)
def test_a_rigid_motion_of_all_points_changes_no_deviation(seed: int):
    made = shop(seed)
    net = made.net
    dice = np.random.default_rng(seed)
    moved = net.columns[:, :6] @ (dice.normal(size=6) * 0.05)
    there = tuple(replace(o, read=o.read + s) for o, s in zip(net.readings, moved, strict=True))
    before, after = explain(net), explain(replace(net, readings=there, seen=net.seen + moved))
    assert by_name(after) == pytest.approx(by_name(before), abs=1e-7)
    assert [one.number for one in after.suspects] == [one.number for one in before.suspects]
    for a, b in zip(after.intervals, before.intervals, strict=True):
        assert a.half_width == pytest.approx(b.half_width, rel=1e-6)


def other_side(words: str) -> str:
    return words.replace("left", "§").replace("right", "left").replace("§", "right")


def turns_about(name: str) -> bool:
    """Whether a candidate changes sign in a mirror."""
    return name.endswith((", skew", ", tilt", ", bl", ", bend sideways", "hull, twist"))


@settings(max_examples=6, deadline=None)
@given(SEEDS)
def test_left_and_right_changed_change_sides_and_signs(seed: int):
    craft = Craft(np.random.default_rng(seed))
    always, may = takes(craft)
    chosen = always + may[::2]
    dice = np.random.default_rng(seed + 1)
    tolerance = np.array([t.tolerance for t in chosen])
    names = tuple(craft.moves)
    truth = np.zeros(len(names))
    truth[dice.choice(len(names), 2, replace=False)] = 0.008
    candidates = tuple(
        Candidate(n, is_angle(n), 2.0 * (DEG if is_angle(n) else INCH)) for n in names
    )
    told = []
    for mirrored in (False, True):
        own = (
            [replace(t, points=tuple(map(other_side, t.points))) for t in chosen]
            if mirrored
            else chosen
        )
        base, columns = columns_of(craft, own)
        if not mirrored:
            error = np.random.default_rng(seed + 2).uniform(-1.0, 1.0, len(own)) * tolerance
            seen = columns[:, 6:] @ truth + error
        else:
            seen = np.where([t.what == "offset" for t in own], -seen, seen)
        unknown = ("pitch", "roll", "along", "across", "height", "zero")
        net = Net(
            unknown, candidates, observed(own, base + seen, base), columns, seen, sd_of(tolerance)
        )
        told.append(explain(net))
    there = {other_side(n): -by if turns_about(n) else by for n, by in by_name(told[0]).items()}
    assert by_name(told[1]) == pytest.approx(there, abs=1e-6)
    before = {other_side(one.name): one for one in told[0].intervals}
    for one in told[1].intervals:
        assert one.half_width == pytest.approx(before[one.name].half_width, rel=1e-4)


@settings(max_examples=8, deadline=None)
@given(SEEDS, st.integers(0, 10_000), st.floats(0.1, 10.0))
def test_a_reading_added_that_agrees_never_widens_a_result(seed: int, which: int, worse: float):
    net = shop(seed).net
    assert net.pool is not None
    before = explain(net)
    if before.too_few:
        return
    k = which % len(net.pool.readings)
    row = net.pool.columns[k]
    sizes = np.zeros(len(net.candidates))
    for one in before.found:
        sizes[[c.name for c in net.candidates].index(one.name)] = one.by
    agrees = float(row @ np.concatenate([before.unknown, sizes]))
    added = replace(net.pool.readings[k], read=net.pool.readings[k].read + agrees)
    more = replace(
        net,
        readings=(*net.readings, added),
        columns=np.vstack([net.columns, row]),
        seen=np.append(net.seen, agrees),
        sd=np.append(net.sd, net.pool.sd[k] * worse),
    )
    after = explain(more)
    widths = {one.name: one.half_width for one in after.intervals}
    if {s.number for s in after.suspects} == {s.number for s in before.suspects}:
        assert all(widths[o.name] <= o.half_width * (1 + 1e-9) for o in before.intervals)
        if set(by_name(after)) == set(by_name(before)):
            found = {one.name: one.half_width for one in after.found}
            assert all(found[o.name] <= o.half_width * (1 + 1e-9) for o in before.found)


def levelled(count: int = 10) -> Array:
    """Heights of points along a bar: its height is unknown, it may be tilted (a) or bent (b)."""
    x = np.linspace(-1.0, 1.0, count)
    return np.stack([np.ones(count), x, x * x], axis=1)


def test_a_tape_hooked_an_inch_off_is_named_and_told_as_that():
    columns = levelled()
    seen = columns @ [0.3, 0.01, 0.0]
    seen[4] += INCH
    told = explain(small_net(columns, seen, "ab"))
    assert by_name(told) == pytest.approx({"a": 0.01}, abs=1e-4)
    (suspect,) = told.suspects
    assert suspect.number == 4
    assert suspect.certain
    assert suspect.residual == pytest.approx(INCH, abs=1e-4)
    assert suspect.looks_like.startswith("1 in")
    assert told.remaining.explained


def test_two_that_do_the_same_are_told_as_rivals_and_neither_is_significant():
    columns = levelled()[:, [0, 1, 1]]
    told = explain(small_net(columns, columns @ [0.0, 0.01, 0.0], "ab"))
    assert len(told.found) == 1
    assert not told.found[0].significant
    names = {told.found[0].name, *told.rivals[0].names}
    assert names == {"a", "b"}
    assert told.rivals[0].worse == pytest.approx(0.0, abs=1e-6)
    assert {one.name for one in told.undetermined} == {"a", "b"}
    assert told.undetermined[0].alike == ("b",)


def test_the_reading_that_parts_them_is_told_with_how_good_it_must_be():
    columns = levelled()[:, [0, 1, 1]]
    net = small_net(columns, columns @ [0.0, 0.01, 0.0], "ab")
    pool = Pool(
        (length("sees both"), length("sees b alone")),
        np.array([[1.0, 1.0, 1.0], [1.0, 0.0, 0.5]]),
        sd_of(np.array([1e-3, 1e-3])),
    )
    told = explain(replace(net, pool=pool))
    first = told.next_readings[0]
    assert first.words == told.rivals[0].parted_by == "sees b alone"
    assert first.differs == pytest.approx(0.005, rel=0.02)
    # three standard deviations of the reading and of what is expected there make up the difference
    doubt = sd_of(np.array(1e-3)) ** 2 * (1.0 / 10.0 + 0.25 / float(columns[:, 1] @ columns[:, 1]))
    assert first.tolerance == pytest.approx(math.sqrt(3.0 * (0.005**2 / 9.0 - doubt)), rel=0.03)


def test_two_wrong_readings_that_agree_are_told_with_what_they_look_like():
    """The only two readings of a part agree with each other against the truth: both sets stand."""
    columns = np.zeros((8, 2))
    columns[:, 0] = 1.0
    columns[6:, 1] = 1.0
    seen = np.zeros(8)
    seen[6:] = 0.02
    told = explain(small_net(columns, seen, "a"))
    assert by_name(told) == pytest.approx({"a": 0.02}, abs=1e-4)
    assert {one.number for one in told.unseen} >= {6, 7}
    assert [(one.names, one.wrong, one.larger) for one in told.rivals] == [((), (6, 7), True)]


def test_a_pair_that_stands_for_one_deviation_is_told_as_larger():
    x = np.linspace(-1.0, 1.0, 10)
    columns = np.stack([np.ones(10), x, np.minimum(x, 0.0), np.maximum(x, 0.0)], axis=1)
    beside = np.vstack([np.hstack([np.zeros((8, 4)), np.eye(8)])] * 2)  # eight other candidates
    columns = np.vstack([np.hstack([columns, np.zeros((10, 8))]), beside])
    told = explain(small_net(columns, columns[:, 1] * 0.01, "tlrstuvwxyz"))
    assert by_name(told) == pytest.approx({"t": 0.01}, abs=1e-3)
    assert told.found[0].significant
    assert [set(one.names) for one in told.rivals if one.larger] == [{"l", "r"}]


def test_too_few_readings_are_the_answer():
    told = explain(small_net(np.ones((1, 2)), np.zeros(1), "a"))
    assert told.too_few.startswith("1 reading for 1 unknowns")
    assert not told.found
    assert not told.certain
    none = explain(small_net(np.zeros((0, 2)), np.zeros(0), "a"))
    assert none.too_few == "there is no reading"
    blind = explain(small_net(np.array([[1.0, 0.0]] * 3), np.zeros(3), "a"))
    assert "none of the 3 readings sees" in blind.too_few


def test_more_left_than_the_tolerances_give_widens_all():
    """Errors of three tolerances: said, and no interval is as narrow as the tolerances make it."""
    dice = np.random.default_rng(3)
    columns = levelled(40)
    seen = columns @ [0.0, 0.02, 0.0] + dice.choice((-1.0, 1.0), 40) * 2e-3
    loose = explain(small_net(columns, seen, "ab"))
    tight = explain(small_net(columns, columns @ [0.0, 0.02, 0.0], "ab"))
    assert tight.remaining.explained
    assert not loose.remaining.explained
    assert loose.intervals[0].half_width > 2.0 * tight.intervals[0].half_width


@pytest.mark.parametrize(
    ("read", "expected", "begins"),
    [
        (2.5254, 2.5, "1 in"),
        (2.1952, 2.5, "1 ft"),
        (2.5 * 25.4, 2.5, "25.4 times"),
        (2.5 / 12.0, 2.5, "a 12th"),
        (-0.35, 0.35, "the sign is turned"),
        (2.564, 2.546, "two digits changed places, 2546 and 2564"),
        (2.517, 2.5, ""),
    ],
)
def test_what_a_wrong_length_looks_like(read: float, expected: float, begins: str):
    words = looks_like(Observed("a tape", False, read, expected), expected, 1e-3)
    assert words.startswith(begins)
    assert bool(words) == bool(begins)


def test_what_a_wrong_angle_looks_like():
    up, down = Observed("a level", True, -0.03, 0.0), Observed("a level", True, 0.03, 0.0)
    assert looks_like(up, 0.03, 2e-3).startswith("the sign is turned")
    assert looks_like(down, 0.03 - math.radians(1.0), 2e-3).startswith("1 deg")


def test_sides_that_changed_places():
    columns = np.hstack([np.ones((9, 1)), np.zeros((9, 1))])
    columns[8, 1] = 1.0
    seen, read = np.zeros(9), np.ones(9)
    read[3], read[5] = 1.4, 1.0  # drawn 1.0 and 1.4
    seen[3], seen[5] = 0.4, -0.4
    net = small_net(columns, seen, "a")
    readings = list(net.readings)
    readings[3] = Observed("left", False, 1.4, 1.0, twin=5)
    readings[5] = Observed("right", False, 1.0, 1.4, twin=3)
    told = explain(replace(net, readings=tuple(readings)))
    assert {one.number for one in told.suspects} == {3, 5}
    assert {one.looks_like for one in told.suspects} == {
        "left and right changed places with right",
        "left and right changed places with left",
    }


def test_a_net_of_wrong_sizes_is_refused():
    with pytest.raises(ValueError, match=r"expected columns \(2, 2\)"):
        small_net(np.ones((2, 3)), np.zeros(2), "a")
    with pytest.raises(ValueError, match="expected finite"):
        small_net(np.full((2, 2), np.nan), np.zeros(2), "a")


def test_shops_in_which_everything_is_a_little_off():
    """A fiftieth of a degree or inch everywhere is no deviation, and widths still hold."""
    count = counted(range(500, 520), rough=0.01)
    assert count["full held"] >= 0.92 * count["full"]
    assert count["right or rival"] >= 18
    assert count["false deviation"] <= 2


def test_two_readings_that_check_only_each_other_break_nothing():
    """Beside a mistake in one of them, a mistake in the other is the very same column."""
    columns = np.zeros((14, 3))
    columns[:12, 0] = 1.0
    columns[:12, 2] = np.linspace(-1.0, 1.0, 12)
    columns[12:, 1] = 1.0
    seen = columns @ [0.0, 0.0, 0.01]
    seen[12] += 0.02
    told = explain(small_net(columns, seen, "a", unknown=2))
    assert by_name(told) == pytest.approx({"a": 0.01}, abs=1e-3)
    assert {one.number for one in told.suspects} | set(told.rivals[0].wrong) == {12, 13}
    assert not told.suspects[0].certain
