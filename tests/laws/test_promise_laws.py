"""Laws of what a better reading promises, and of bands that many samples are held against."""

from __future__ import annotations

import copy

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import planform as pf
from planform.design.load import design_from, place_from
from planform.design.vary import shifted, toleranced_shape
from planform.fit.straight import judge_straight
from planform.study.inputs import given_inputs
from planform.study.next_reading import advice, better_readings
from planform.study.spreads_of_fit import with_spreads
from planform.study.spreads_of_measures import measure_spreads
from tests.conftest import PLAIN, ROOM

WIDE = st.sampled_from([3.0, 8.0, 20.0])


def judged_with(tolerances, lamp=2.0, ground=None):
    """The plain design in its box, with tolerances [mm] by a short name of the reading."""
    design, place = copy.deepcopy(PLAIN), copy.deepcopy(ROOM)
    t = {name: f" ± {value!r} mm" for name, value in tolerances.items()}
    design["winglets"]["winglet"]["length"] = f"1 m{t.get('length', '')}"
    design["wheels"]["main"]["wl"] = f"-0.8 m{t.get('wheel', '')}"
    place["doors"][0]["clear_height"] = f"2.06 m{t.get('head', '')}"
    if ground is not None:
        place["doors"][0]["ground"] = ground
    place["obstacles"] = [
        {"name": name, "kind": "hanging", "outline": outline, "bottom": bottom}
        for name, outline, bottom in (
            ("lamp", square(5.8), f"{lamp!r} m{t.get('lamp', '')}"),
            ("duct", square(6.1), f"2 m{t.get('duct', '')}"),
        )
    ]
    room = pf.build_room(place_from(place))
    standing = pf.stand_all(pf.build(design_from(design)))[0]
    return with_spreads(judge_straight(standing, room), room), room


def square(x):
    return [[f"{x + a:.1f} m", f"{b} m"] for a, b in ((0, 4.8), (0.1, 4.8), (0.1, 5.2), (0, 5.2))]


NAMES = {
    "Plain: winglets.winglet.length": "length",
    "Plain: wheels.main.wl": "wheel",
    "Box: doors[1].clear_height": "head",
    "Box: obstacles[1].bottom": "lamp",
    "Box: obstacles[2].bottom": "duct",
}


@settings(max_examples=2)
@given(
    st.fixed_dictionaries({name: WIDE for name in NAMES.values()}),
    st.floats(1.99, 2.01),
)
def test_what_a_better_reading_promises_is_what_judging_again_gives(tolerances, lamp):
    answer, room = judged_with(tolerances, lamp)
    inputs = given_inputs(answer.standing.airframe.design, room.place)
    for key in ("obstacle", "door: head"):
        check = next(c for c in answer.checks if c.key == key)
        for better in better_readings(answer, room, check, inputs):
            read = {**tolerances, NAMES[better.input.name]: better.careful * 1000.0}
            again = next(c for c in judged_with(read, lamp)[0].checks if c.key == key)
            assert better.worst == pytest.approx(again.worst, abs=1e-6)
            assert better.within_99 == pytest.approx(again.within_99, abs=1e-6)
            assert (better.verdict, better.settles) == (again.verdict, not again.open)


def test_a_rival_close_behind_keeps_a_reading_from_settling():
    """Lamp and duct hang alike and are read alike: one read better leaves the other."""
    answer, room = judged_with({"lamp": 20.0, "duct": 20.0})
    check = next(c for c in answer.checks if c.key == "obstacle")
    inputs = given_inputs(answer.standing.airframe.design, room.place)
    for better in better_readings(answer, room, check, inputs):
        assert better.worst == pytest.approx(check.worst, abs=1e-6)
        assert better.within_99 == pytest.approx(check.within_99, abs=1e-6)
    assert advice(answer, room).deciding is answer.deciding


APRON = [{"at": "0.8 m", "height": "0 m"}, {"at": "2.6 m", "height": "-0.3 m ± 30 mm"}]


def test_a_push_has_the_band_of_its_own_gap():
    """Under a door head of its own tolerance alone the band is that of an even one, 99 %."""
    answer, _ = judged_with({"head": 20.0}, ground=APRON)
    (check,) = (c for c in answer.checks if c.key == "door: head on the way")
    assert check.strands[0].gap == pytest.approx(check.gap, abs=1e-9)
    assert check.worst >= 0.02 - 1e-4
    only = check.strands[0].spread
    assert dict(only.by_input)["Box: doors[1].clear_height"] == pytest.approx(0.02, abs=1e-4)
    assert check.within_99 == pytest.approx(only.within_99, abs=1e-9)


@pytest.mark.parametrize(
    ("angles", "wide", "seed"),
    [((0.0, 20.0), 2.0, 1), ((15.0, 0.0), 4.0, 2), ((28.0, 30.0), 1.0, 3)],
)
def test_no_sample_lies_outside_the_worst_case_of_a_measure(angles, wide, seed):
    """All inputs drawn evenly within their tolerances, and at corners of them."""
    design = copy.deepcopy(PLAIN)
    cant, sweep = angles
    design["winglets"]["winglet"] |= {
        "length": f"1 m ± {10.0 * wide!r} mm",
        "cant": f"{cant!r} deg ± {wide!r} deg",
    }
    tip = design["lifting"]["wing"]["cuts"][1]
    tip |= {
        "bl": f"4 m ± {8.0 * wide!r} mm",
        "sweep_le_plan": f"{sweep!r} deg ± {wide!r} deg",
        "chord": f"1 m ± {6.0 * wide!r} mm",
    }
    loaded = design_from(design)
    standing = pf.stand_all(pf.build(loaded))[0]
    found = measure_spreads([standing])
    base = [pf.design_measures(standing.airframe), pf.standing_measures(standing)]
    spreads = [found.design, found.standings[0]]
    inputs = list(toleranced_shape(loaded))
    rng = np.random.default_rng(seed)
    for k in range(12):
        shares = rng.uniform(-1.0, 1.0, len(inputs))
        shares = np.sign(shares) if k % 2 else shares
        there = loaded
        for (path, reading), share in zip(inputs, shares, strict=True):
            there = shifted(there, path, float(share) * reading.tolerance)
        stood = pf.stand_all(pf.build(there))[0]
        moved = [pf.design_measures(stood.airframe), pf.standing_measures(stood)]
        for spread, before, after in zip(spreads, base, moved, strict=True):
            for key, one in spread.items():
                assert abs(after[key] - before[key]) <= one.worst + 1e-6, key
