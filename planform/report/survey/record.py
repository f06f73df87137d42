"""A survey as JSON, everything in SI."""

from __future__ import annotations

from planform.design.told import plain_kind
from planform.report.record import Json, Record, Recorder, number
from planform.report.survey.words import CAUTIONS, verdict, way
from planform.rigging.explain.told import (
    Deviation,
    Interval,
    NextReading,
    Remaining,
    Rival,
    Suspect,
    Undetermined,
    Unseen,
)
from planform.study.as_built import BeforeAfter, BeforeAndAfter
from planform.study.surveyed import Surveyed


def _kind(is_angle: bool) -> str:
    return "angle" if is_angle else "length"


def _found(one: Deviation, _: Recorder) -> Record:
    kind = _kind(one.is_angle)
    return {
        "deviation": one.name,
        "by": number(one.by, kind),
        "half_width_95": number(one.half_width, kind),
        "half_width_95_if_nothing_else_differs": number(one.alone, kind),
        "way": way(one.name, one.by),
        "significant": one.significant,
    }


def _interval(one: Interval, _: Recorder) -> Record:
    kind = _kind(one.is_angle)
    return {
        "deviation": one.name,
        "by": number(one.by, kind),
        "half_width_95": number(one.half_width, kind),
        "determined": one.determined,
    }


def _suspect(one: Suspect, _: Recorder) -> Record:
    kind = _kind(one.is_angle)
    return {
        "reading": one.number,
        "what": one.words,
        "read": number(one.read, kind),
        "expected": number(one.expected, kind),
        "residual": number(one.residual, kind),
        "standard_deviation": number(one.sd, kind),
        "looks_like": one.looks_like or None,
        "certain": one.certain,
    }


def _next(one: NextReading, _: Recorder) -> Record:
    kind = _kind(one.is_angle)
    return {
        "what": one.words,
        "parts": one.parts,
        "differs": number(one.differs, kind),
        "tolerance": number(one.tolerance, kind) if one.tolerance > 0.0 else None,
    }


def _remaining(one: Remaining, _: Recorder) -> Record:
    return {
        "rms_in_tolerances": one.rms,
        "sum_of_squares": one.chi2,
        "limit": one.limit,
        "readings_beyond_those_needed": one.freedom,
        "explained": one.explained,
    }


def _row(row: BeforeAfter, _: Recorder) -> Record:
    if not row.kind:
        return {"what": row.label, "drawn": row.drawn_words, "built": row.built_words}
    kind = plain_kind(row.kind)

    def told(value: float | None) -> Json:
        return None if value is None else number(value, kind)

    return {
        "what": row.label,
        "drawn": told(row.drawn),
        "built": told(row.built),
        "change": told(row.change),
        "drawn_within": told(row.drawn_by),
        "built_within": told(row.built_by),
        "drawn_at": row.drawn_words or None,
        "built_at": row.built_words or None,
    }


def _sheet(sheet: BeforeAndAfter, recorder: Recorder) -> Record:
    about = dict.fromkeys(row.about for row in sheet.rows)
    return {
        "stage": sheet.stage,
        "stance": sheet.stance,
        "figures": {name: recorder.all(sheet.rows_about(name)) for name in about},
        "taken": sheet.taken,
    }


def _rival(found: Surveyed) -> dict[type, object]:
    angles = {one.name: one.is_angle for one in found.explanation.intervals}

    def told(one: Rival, _: Recorder) -> Record:
        return {
            "deviations": {
                name: number(by, _kind(angles.get(name, True)))
                for name, by in zip(one.names, one.by, strict=True)
            },
            "wrong_readings": one.wrong,
            "worse_by": one.worse,
            "needs_more": one.larger,
            "parted_by": one.parted_by or None,
        }

    return {Rival: told}


def _reading(found: Surveyed, k: int) -> Record:
    one, left = found.readings[k], found.explanation.residuals
    kind = _kind(one.is_angle)
    return {
        "reading": k,
        "row": one.row or None,
        "what": one.words,
        "read": number(one.read, kind),
        "as_drawn": number(one.drawn, kind),
        "tolerance": number(float(found.tolerances[k]), kind),
        "residual": number(float(left[k]), kind) if k < len(left) else None,
    }


def survey_record(found: Surveyed, system: str) -> Record:
    """All of a survey; system : of the sentence that tells what was found."""
    told = found.explanation
    recorder = Recorder(
        {
            Deviation: _found,
            Interval: _interval,
            Suspect: _suspect,
            NextReading: _next,
            Remaining: _remaining,
            Unseen: lambda u, _: {"reading": u.number, "what": u.words, "alike": u.alike},
            Undetermined: lambda u, _: {"deviation": u.name, "alike": u.alike},
            BeforeAfter: _row,
            BeforeAndAfter: _sheet,
            **_rival(found),  # type: ignore[dict-item]
        }
    )
    return {
        "design": found.drawn.airframe.design.name,
        "readings_of": found.source,
        "stage": found.drawn.stage.name,
        "stance": found.drawn.stance_name,
        "summary": verdict(found, system),
        "too_few": told.too_few or None,
        "found": recorder.all(told.found),
        "rivals": recorder.all(told.rivals),
        "rivals_not_told": told.more_rivals,
        "suspects": recorder.all(told.suspects),
        "next_readings": recorder.all(told.next_readings),
        "could_be_wrong_unseen": recorder.all(told.unseen),
        "not_determined": recorder.all(told.undetermined),
        "remaining": None if told.too_few else recorder.of(told.remaining),
        "found_on_the_way": {name: number(value, "angle") for name, value in found.met},
        "tried": told.tried,
        "all_free": recorder.all(told.intervals),
        "correlation": [[float(v) for v in row] for row in told.correlation],
        "readings": [_reading(found, k) for k in range(len(found.readings))],
        "before_and_after": None if found.sheet is None else recorder.of(found.sheet),
        "cautions": CAUTIONS,
    }
