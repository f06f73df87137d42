"""A rigging card as JSON."""

from __future__ import annotations

import numpy as np

from planform.core.vectors import Array
from planform.report.record import Json, Record, Recorder, known, number
from planform.rigging.card import (
    Card,
    CardBolt,
    CardCheck,
    CardFreedom,
    CardTarget,
    FloorSpot,
    HangingTape,
    RigStep,
    Template,
)

AXES = "floor: aft, right, up"


def _spot(point: Array) -> Record:
    return {"value": [float(v) for v in np.asarray(point)], "unit": "m", "axes": AXES}


def _target(one: CardTarget, recorder: Recorder) -> Record:
    return {
        **recorder.told(one, "number reads=words sort points=names"),
        "at": [_spot(end) for end in one.ends],
        **recorder.told(one, "target"),
        "go_from": known(one.low, one.kind),
        "go_to": known(one.high, one.kind),
        **recorder.told(one, "tolerance instrument tells=why reversed_too=twice reference"),
    }


def _check(one: CardCheck, recorder: Recorder) -> Record:
    return {
        "limit_of": one.name,
        "sum_of": [{"reading": at, "factor": factor} for at, factor in one.of],
        "limit": known(one.limit, one.kind),
        "tolerance": number(one.tolerance, one.kind),
        "reading": one.reading,
        "reading_at_limit": known(one.size, one.size_kind),
        "seen_by": one.seen,
        "practice": one.practice or None,
    }


def _bolt(one: CardBolt, freedoms: tuple[CardFreedom, ...]) -> Json:
    """A bolt, with how much thicker a shim is for each unit of each turn."""
    per = {f.name: share for f, share in zip(freedoms, one.per, strict=True) if share}
    units = {f.name: "m/rad" if f.kind == "angle" else "1" for f in freedoms}
    shims: Record = {name: {"value": float(v), "unit": units[name]} for name, v in per.items()}
    return {"name": one.name, "at": _spot(one.at), "thicker_for": shims}


RECORDER = Recorder(
    {
        CardTarget: _target,
        CardCheck: _check,
        CardFreedom: "name likely_within=usual of_the_aircraft=stands",
        FloorSpot: "under=name along=station right=offset from_first=first from_second=second",
        HangingTape: "of=what span pull reads_long hangs=belly longer_for_10_c=warm",
        Template: "name angle rise over",
        RigStep: "does=words why readings=numbers",
    }
)


def rig_record(card: Card) -> Record:
    """All that a card tells, each number with its unit."""
    standing = card.standing
    return {
        "design": standing.airframe.design.name,
        "joint": card.joint,
        "title": card.title,
        "stage": standing.stage.name,
        "stance": standing.stance_name,
        "parts": card.parts,
        "host": card.host,
        "limits_given": card.limited,
        "supports": card.supports,
        "readings": RECORDER.all(card.targets),
        "checks": RECORDER.all(card.checks),
        "freedoms": RECORDER.all(card.freedoms),
        "bolts": [_bolt(one, card.freedoms) for one in card.bolts],
        "no_shim_takes": card.lost,
        "base_marks": {name: _spot(at) for name, at in zip(card.base, card.base_ends, strict=True)},
        "floor_marks": RECORDER.all(card.spots),
        "templates": RECORDER.all(card.templates),
        "tapes": RECORDER.all(card.tapes),
        "lines": card.lines,
        "order": RECORDER.all(card.order),
        "practice": card.practice,
        "cautions": card.cautions,
    }
