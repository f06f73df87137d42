"""The carry command: from its options to what a part needs to be carried out."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from planform.airframe.build import build
from planform.cli.show import show
from planform.design.models import Design
from planform.design.place import Place
from planform.design.problems import InputError, Problem
from planform.design.questions import assumptions, design_questions, place_questions


def show_carrying(
    design: Design,
    place: Place | None,
    pieces: Sequence[str],
    folder: Path | None,
    system: str,
    *,
    as_json: bool,
) -> int:
    """Print what a part needs to be carried out; 0 where it passes a door, or none is given."""
    from planform.fit.carrying import one_piece, piece_named, through_doors
    from planform.report.carry.answer import CarryAnswer
    from planform.study.spreads_of_parked import carried_spreads

    airframe = build(design)
    if len(pieces) > 1:
        raise InputError("option", [_one_at_a_time(pieces)])
    one = piece_named(airframe, pieces[0]) if pieces else one_piece(airframe, ())
    doors = () if place is None else through_doors(one, place)
    answer = CarryAnswer(
        design=design,
        place=place,
        one=one,
        doors=doors,
        spreads={} if place is None else carried_spreads(design, place, one, doors),
        taken=tuple(assumptions(design, place)),
        questions=(*design_questions(design), *(place_questions(place) if place else ())),
    )
    return show(answer, folder, system, as_json=as_json)


def _one_at_a_time(pieces: Sequence[str]) -> Problem:
    """What to say where several pieces are named; what is carried as one is joined by +."""
    allowed = (
        "allowed: one piece, as each is carried by itself; parts that stay joined stand in one "
        f"text: --part {' + '.join(pieces)!r}"
    )
    return Problem("--part", f"{len(pieces)} pieces", allowed)
