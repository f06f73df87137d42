"""All answers about a design in a place as one JSON record."""

from __future__ import annotations

from planform.report.balance.record import balance_record
from planform.report.fit.record import RECORDER, fit_record
from planform.report.measures.record import measures_record
from planform.report.record import Record
from planform.report.whole.collect import Findings
from planform.report.words import CAUTIONS


def whole_record(found: Findings) -> Record:
    """All answers, stage by stage."""
    rows = zip(found.heights, found.height_spreads, found.fits, found.advices, strict=True)
    return {
        "design": found.design.name,
        "place": found.place.name,
        "measures": measures_record(found.measures, found.spreads),
        "stages": [
            {**fit_record(answer, advice), "measures": measures_record(heights, spreads)}
            for heights, spreads, answer, advice in rows
        ],
        "last_chance": RECORDER.of(found.chance),
        "balance": None if found.balance is None else balance_record(found.balance),
        "questions": found.questions,
        "assumed": found.assumed,
        "cautions": CAUTIONS,
    }
