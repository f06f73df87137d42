"""A part carried out by hand: printed and written down."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from planform.airframe.build import build
from planform.cli.answers import headline, show_tables, told
from planform.design.models import Design
from planform.design.place import Place
from planform.design.problems import InputError, Problem
from planform.design.questions import assumptions, design_questions, place_questions
from planform.report import to_json


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
    from planform.fit.carrying import NOT_FOUND, one_piece, piece_named, through_doors
    from planform.report.carry import page as report
    from planform.study.spreads_of_parked import carried_spreads

    airframe = build(design)
    if len(pieces) > 1:
        raise InputError("option", [_one_at_a_time(pieces)])
    one = piece_named(airframe, pieces[0]) if pieces else one_piece(airframe, ())
    doors = () if place is None else through_doors(one, place)
    spreads = {} if place is None else carried_spreads(design, place, one, doors)
    written: list[str] = []
    if folder is not None:
        written = report.write_carrying(design, one, doors, folder, system, spreads)
    questions = [*design_questions(design), *(place_questions(place) if place else [])]
    if as_json:
        content = {
            "design": design.name,
            "place": None if place is None else place.name,
            **report.as_json(one, doors, spreads),
            "questions": questions,
            "assumed": list(assumptions(design, place)),
        }
        print(to_json.document("carry", content))
    else:
        headline(f"{design.name}: {one.title}, carried out")
        show_tables(report.tables(one, doors, spreads), system)
        for note in report.NOTES:
            print(note)
        if written:
            print(f"wrote {', '.join(written)} to {folder}")
        told(*questions)
    return 0 if not doors or any(door.answer != NOT_FOUND for door in doors) else 1


def _one_at_a_time(pieces: Sequence[str]) -> Problem:
    """What to say where several pieces are named; what is carried as one is joined by +."""
    allowed = (
        "allowed: one piece, as each is carried by itself; parts that stay joined stand in one "
        f"text: --part {' + '.join(pieces)!r}"
    )
    return Problem("--part", f"{len(pieces)} pieces", allowed)
