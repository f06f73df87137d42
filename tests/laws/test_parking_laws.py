"""What stands on a spot is the middle of the main axle, in any stance and from any datum."""

from __future__ import annotations

import copy
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planform.airframe.build import build
from planform.airframe.stance import stand_on
from planform.design.load import design_from
from planform.design.questions import assumptions
from planform.design.standing import contacts_of
from tests.conftest import PLAIN

rise = st.floats(-0.3, 0.4)


def moved(item, key, shift):
    """The tables with every length of one key moved."""
    if isinstance(item, dict):
        return {k: moved(v, k, shift) for k, v in item.items()}
    if isinstance(item, list):
        return [moved(v, key, shift) for v in item]
    axis = {"fs": 0, "disc_fs": 0, "spot_station": 0, "wl": 2, "bottom": 2, "top": 2}.get(key)
    if axis is None or not shift[axis]:
        return item
    return f"{float(item.removesuffix(' m')) + shift[axis]:.9f} m"


def stood(heights, shift=(0.0, 0.0, 0.0), **more):
    table = copy.deepcopy(PLAIN) | more
    table["stances"]["gear"]["heights"] = {n: f"{h:.9f} m" for n, h in heights.items()}
    airframe = build(design_from(moved(table, "", shift)))
    return stand_on(airframe, airframe.design.stages[0])


@given(nose=rise, left=st.floats(0.0, 0.3), fs=st.floats(-9.0, 9.0), wl=st.floats(-9.0, 9.0))
def test_the_axle_stands_on_the_spot_and_no_datum_moves_the_aircraft(nose, left, fs, wl):
    heights = {"nose": nose, "left main": left}
    here, there = stood(heights), stood(heights, (fs, 0.0, wl))
    assert there.all_points() == pytest.approx(here.all_points(), abs=1e-7)
    contacts = contacts_of(here.airframe.design, here.airframe.design.stances["gear"])
    axle = np.array([c.point for c in contacts if "main" in c.name]).mean(axis=0)
    assert here.to_floor(axle[None])[0, :2] == pytest.approx([0.0, 0.0], abs=1e-12)


def test_a_kneeling_axle_by_plane_geometry():
    """Nose let down by h: the axles' line turns by the angle whose rise over the wheelbase is h."""
    down = 0.25
    found = stood({"main": down})
    base, radius = 2.0, 0.2  # of the small design
    pitch = -math.asin(down / base)  # equal wheels: both axles at radius over their support
    assert found.attitude.pitch == pytest.approx(pitch, abs=1e-9)
    nose = found.to_floor(np.array([[-1.0, 0.0, -0.8]]))[0]
    assert nose[0] == pytest.approx(-base * math.cos(pitch), abs=1e-9)
    assert nose[2] == pytest.approx(radius, abs=1e-9)


@given(fs=st.floats(-9.0, 9.0), wl=st.floats(-9.0, 9.0), given_station=st.booleans())
def test_pads_alone_park_by_their_middle_and_say_so(fs, wl, given_station):
    pads = {
        "front": {"fs": "-1 m", "bl": "0 m", "wl": "-0.6 m"},
        "aft": {"side": "both", "fs": "1.4 m", "bl": "1 m", "wl": "-0.5 m"},
    }
    more = {"pads": pads, "stances": {"gear": {"on": ["front", "aft"]}}, "wheels": {}}
    more |= {"spot_station": "0.3 m"} if given_station else {}
    here, there = stood({"aft": 0.1}, **more), stood({"aft": 0.1}, (fs, 0.0, wl), **more)
    assert there.all_points() == pytest.approx(here.all_points(), abs=1e-7)
    assert here.parked[0] == pytest.approx(0.3 if given_station else (-1.0 + 2 * 1.4) / 3.0)
    told = assumptions(here.airframe.design)[0]
    assert given_station or "middle of the points that it stands on" in told
    assert "axle" not in told


def test_mains_that_differ_left_and_right_are_the_main_axle():
    wheels = copy.deepcopy(PLAIN["wheels"])
    main = wheels.pop("main") | {"side": "centre"}
    wheels["port"] = main | {"bl": "-1.1 m", "fs": "1.1 m"}
    wheels["starboard"] = main | {"bl": "0.9 m"}
    found = stood({}, wheels=wheels, stances={"gear": {"on": ["nose", "port", "starboard"]}})
    assert found.parked == pytest.approx([1.05, -0.1, -0.8])
