"""Which wheels drop into a drain: by the chord of a circle, and by the tyre's width."""

from __future__ import annotations

import math

import pytest

import planform as pf
from planform.airframe.build import build
from planform.design.load import design_from, place_from
from planform.fit.drains import DEEP, drain_notes, sinks
from planform.fit.room import build_room


def told(plain, room, width):
    room["floor"]["drains"] = [{"name": "channel", "line": [["0 m", "2 m"], ["9 m", "2 m"]],
                                "width": width}]  # fmt: skip
    return list(drain_notes(pf.stand(build(design_from(plain))), build_room(place_from(room))))


def test_a_wheel_sinks_by_the_sagitta_of_the_slot():
    assert sinks(0.2, 0.24) == pytest.approx(0.2 - 0.16)  # a triangle of 3, 4, 5
    assert sinks(0.2, 0.4) == math.inf
    assert sinks(0.2, 0.0) == 0.0


@pytest.mark.parametrize(
    ("width", "said"),
    [("90 mm", None), ("110 mm", "if rolled along it"), ("250 mm", "would drop in; lay a plate")],
)
def test_wheels_of_400_by_100_mm(plain, room, width, said):
    notes = told(plain, room, width)
    assert len(notes) == (said is not None)
    if said:
        assert said in notes[0]
        assert "nose, right main, left main" in notes[0]
    assert pytest.approx(sinks(0.2, 0.24)) == DEEP * 0.2


def test_a_drain_changes_no_gap(plain, room):
    standing = pf.stand(build(design_from(plain)))
    bare = pf.judge(standing, build_room(place_from(room)))
    room["floor"]["drains"] = [{"name": "channel", "line": [["0 m", "2 m"], ["9 m", "2 m"]],
                                "width": "5 cm"}]  # fmt: skip
    with_drain = pf.judge(standing, build_room(place_from(room)))
    assert [c.gap for c in bare.checks] == [c.gap for c in with_drain.checks]


def test_a_drain_without_width_is_told(room):
    room["floor"]["drains"] = [{"name": "channel", "line": [["0 m", "2 m"], ["9 m", "2 m"]]}]
    with pytest.raises(pf.InputError, match="this field is needed"):
        place_from(room)
