"""Marram read with tapes, levels and plumb bobs, and told what differs from its drawing."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy.spatial.transform import Rotation

import planform as pf
from planform.airframe.build import Airframe
from planform.airframe.freedoms import displaced, freedoms
from planform.core.vectors import Array
from planform.rigging.equations import equations
from planform.rigging.offers import offers
from planform.rigging.points import named_points
from planform.rigging.readings import ReadingList, ShopReading
from planform.rigging.survey import Explained, survey
from tests.conftest import ROOT

QUARTER = math.radians(0.25)
INCH = 0.0254


@pytest.fixture(scope="module")
def marram() -> Airframe:
    return pf.build(pf.load(ROOT / "designs/marram.toml"))


def could(airframe: Airframe) -> tuple[ShopReading, ...]:
    """All that is offered of the complete aircraft on its wheels."""
    standing = pf.stand(airframe)
    one = ShopReading(
        "height", "nose tip", "", None, (0.0,), 0.002, "", "tape", False, standing.stage.name,
        standing.stance_name, "", 1,
    )  # fmt: skip
    return offers(airframe, ReadingList("shop", (one,)))


def read(
    airframe: Airframe, chosen: list[ShopReading], off: dict[str, float], seed: int
) -> ReadingList:
    """What would be read with these deviations, on a sloping floor, with a level that is off."""
    dice = np.random.default_rng(seed)
    named = [
        replace(r, row=k + 2, instrument="level" if r.sort.startswith("level") else "tape")
        for k, r in enumerate(chosen)
    ]
    given = ReadingList("shop", tuple(named))
    model = equations(airframe, given)
    own = freedoms(airframe)
    by = [off.get(one.name, 0.0) for one in own]
    assert set(off) <= {one.name for one in own}
    at = displaced(own, by, [p.part for p in model.points], model.at)
    x = model.start + dice.normal(size=len(model.start)) * 0.004
    values: Array = model.seen(at, x) + dice.uniform(-1.0, 1.0, len(named)) * model.tolerance
    return with_values(given, values)


def with_values(given: ReadingList, values: Array) -> ReadingList:
    changed = (replace(r, value=(float(v),)) for r, v in zip(given.readings, values, strict=True))
    return replace(given, readings=tuple(changed))


def by_name(told: Explained) -> dict[str, float]:
    return {one.name: one.by for one in told.explanation.found}


def chosen_of(airframe: Airframe, seed: int, count: int = 120) -> list[ShopReading]:
    pool = could(airframe)
    order = np.random.default_rng(seed).permutation(len(pool))[:count]
    return [pool[k] for k in sorted(order.tolist())]


def test_a_quarter_degree_of_sweep_and_a_tape_hooked_an_inch_off(marram: Airframe):
    given = read(marram, chosen_of(marram, 1), {"left outer panel, sweep": QUARTER}, 5)
    wrong = next(k for k, r in enumerate(given.readings) if r.sort == "distance")
    values = np.array([r.value[0] for r in given.readings])
    values[wrong] += INCH
    told = survey(marram, with_values(given, values))
    ((freedom, found),) = told.built
    assert (freedom.of, freedom.side, freedom.kind) == ("outer panel", "left", "sweep")
    assert found.half_width < math.radians(0.1)
    assert abs(found.by - QUARTER) < 1.5 * found.half_width  # of one shop, in 99.7 % of them
    (suspect,) = told.explanation.suspects
    assert told.observed[suspect.number].row == given.readings[wrong].row
    assert suspect.looks_like.startswith("1 in")
    assert told.explanation.remaining.explained


def test_as_drawn_nothing_is_found(marram: Airframe):
    told = survey(marram, read(marram, chosen_of(marram, 2), {}, 6))
    assert not told.built
    assert not told.explanation.suspects


def test_the_other_side_is_the_other_side(marram: Airframe):
    """Every reading taken on the other side finds the same there."""
    off = {"left winglet, cant": math.radians(0.5), "foreplane, skew": math.radians(0.4)}
    given = read(marram, chosen_of(marram, 3, 160), off, 7)
    other = {point.name: point.mirrored_name for point in named_points(marram)}

    def crossed(one: ShopReading) -> ShopReading:
        hand = -1.0 if one.sort in ("offset", "level across") else 1.0
        line = (other[one.line[0]], other[one.line[1]]) if one.line else None
        to = other[one.to] if one.to else ""
        return replace(one, point=other[one.point], to=to, line=line, value=(hand * one.value[0],))

    mirrored = replace(given, readings=tuple(crossed(one) for one in given.readings))
    here, there = by_name(survey(marram, given)), by_name(survey(marram, mirrored))
    assert set(here) == set(off)
    assert set(there) == {"right winglet, cant", "foreplane, skew"}
    assert there["right winglet, cant"] == pytest.approx(here["left winglet, cant"], rel=0.02)
    assert there["foreplane, skew"] == pytest.approx(-here["foreplane, skew"], rel=0.02)


def test_points_taken_as_drawn_are_not_moved(marram: Airframe):
    given = read(marram, chosen_of(marram, 4), {}, 8)
    told = survey(marram, given, ("left outer panel tip, leading edge",))
    tried = {one.name for one in told.freedoms}
    assert "left outer panel, sweep" not in tried
    assert "right outer panel, sweep" in tried
    with pytest.raises(pf.InputError, match="nearest names"):
        survey(marram, given, ("left outer panel tip, leading egde",))


def test_too_few_readings_say_so(marram: Airframe):
    given = read(marram, chosen_of(marram, 4)[:3], {}, 9)
    told = survey(marram, given)
    assert told.explanation.too_few
    assert not told.built


def test_what_is_offered_can_be_read_on_its_stage(marram: Airframe):
    sorts = {one.sort for one in could(marram)}
    assert sorts >= {"height", "distance", "station", "offset", "level along", "level across"}
    assert 100 < len(could(marram)) < 800


def listed(airframe: Airframe, off: dict[str, float], turn: Rotation, shift: Array) -> ReadingList:
    """All points of the aircraft as built, from a program with axes of its own."""
    own = freedoms(airframe)
    points = named_points(airframe)
    drawn, parts = np.array([p.at for p in points]), [p.part for p in points]
    at = displaced(own, [off.get(one.name, 0.0) for one in own], parts, drawn)
    at = at + np.random.default_rng(11).uniform(-0.001, 0.001, at.shape)
    standing = pf.stand(airframe)
    rows = [
        ShopReading(
            "point", p.name, "", None, tuple(xyz.tolist()), 0.001, "", "station", False,
            standing.stage.name, standing.stance_name, "", k + 2,
        )
        for k, (p, xyz) in enumerate(zip(points, turn.apply(at) + shift, strict=True))
    ]  # fmt: skip
    return ReadingList("station", tuple(rows[::2]))


def test_a_rigid_motion_of_all_points_changes_no_deviation(marram: Airframe):
    off = {"right outer panel, dihedral": math.radians(0.4), "hull, bend sideways": 0.008}
    still = survey(marram, listed(marram, off, Rotation.identity(), np.zeros(3)))
    turn = Rotation.from_euler("zyx", [2.0, -0.3, 0.2])
    moved = survey(marram, listed(marram, off, turn, np.array([30.0, -12.0, 4.0])))
    assert set(by_name(still)) == set(off)
    for found in still.explanation.found:
        assert abs(found.by - off[found.name]) < found.half_width
    # what bends over a turn of a milliradian is of the order of a microradian
    assert by_name(moved) == pytest.approx(by_name(still), abs=3e-6)
