"""Measures as JSON."""

from __future__ import annotations

from collections.abc import Mapping

from planform.airframe.measure import Measure, Measures
from planform.core.spread import Spread
from planform.report.record import Record, Recorder, tolerance

RECORDER = Recorder({Measure: "label *value reference"})


def measures_record(found: Measures, spreads: Mapping[str, Spread]) -> Record:
    """Measures by key, each with what the tolerances do to it where they do anything."""

    def one(item: Measure) -> Record:
        spread = spreads.get(item.key)
        told = RECORDER.of(item)
        if spread is not None and spread.worst > 0.0:
            told["tolerance"] = tolerance(spread, item.kind)
        return told

    return {item.key: one(item) for item in found.items}
