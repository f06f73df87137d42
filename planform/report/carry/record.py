"""A part carried out by hand as JSON."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from planform.core.spread import NO_SPREAD, Spread
from planform.fit.carrying import Along, Carried, Through
from planform.report.carry.words import NOTES, turnable
from planform.report.record import Json, Record, Recorder, number, tolerance


def _way(way: Along, recorder: Recorder) -> Record:
    roll, width, height = way.narrowest
    return {
        "carried": way.name,
        "direction": [round(float(v), 6) for v in way.direction],
        **recorder.told(way, "length least_opening=rectangle"),
        "narrowest": _rolled(roll, width, height),
    }


def _rolled(roll: float, width: float, height: float) -> Record:
    return {
        "roll": number(roll, "angle"),
        "width": number(width, "length"),
        "height": number(height, "length"),
    }


RECORDER = Recorder({Along: _way})


def carry_record(one: Carried, doors: Sequence[Through], spreads: Mapping[str, Spread]) -> Record:
    """What a part needs by direction, its curve against the roll, and each door."""
    first = one.ways[0].outline
    return {
        "parts": [part.name for part in one.parts],
        "ways": RECORDER.all(one.ways),
        "curve": [
            _rolled(roll, float(first.width(roll)), float(first.height(roll)))
            for roll in np.radians(np.arange(0, 180, 5))
        ],
        "doors": [_door(door, spreads) for door in doors],
        "notes": NOTES,
    }


def _door(door: Through, spreads: Mapping[str, Spread]) -> Json:
    return {
        **RECORDER.told(door, "door=opening answer"),
        "inside_tolerance": turnable(door, spreads),
        **RECORDER.told(door, "carried=way.name best_roll=roll to_spare_a_side=spare"),
        "tolerance": tolerance(spreads.get(door.opening, NO_SPREAD)),
        "wanted": RECORDER.told(door, "beside=side over=head"),
        **RECORDER.told(door, "passes_rolled=ranges"),
    }
