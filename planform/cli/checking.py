"""The check command: files of any sort, each good or with all its problems."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path

from planform.airframe.build import build
from planform.airframe.curves import curve_lines
from planform.airframe.stages import stage_questions
from planform.airframe.stance import stand_all
from planform.cli.show import ask
from planform.design.carrier import Carrier
from planform.design.including import in_files
from planform.design.models import Design
from planform.design.place import Place
from planform.design.problems import InputError, Problem
from planform.design.questions import design_questions, place_questions, value_questions
from planform.report.record import Json, document
from planform.rigging.joint_questions import joint_questions


def check_files(files: Sequence[Path], *, as_json: bool) -> int:
    """Check files of any sort; 0 where all are good, 2 otherwise."""
    found = [(path, *_checked(path, aloud=not as_json)) for path in files]
    if as_json:
        files_told: list[Json] = [
            {
                "file": str(path),
                "problems": [
                    {"path": p.path, "given": p.given, "allowed": p.allowed}
                    | ({"file": p.file} if p.file else {})
                    for p in problems
                ],
                "told": told,
                "questions": questions,
            }
            for path, problems, told, questions in found
        ]
        print(document("check", {"files": files_told}))
    return 2 if any(problems for _, problems, *_ in found) else 0


Lines = tuple[str, ...]


def _checked(path: Path, *, aloud: bool) -> tuple[tuple[Problem, ...], Lines, Lines]:
    """The problems of a file, what was read of it, and what it leaves to ask.

    aloud : told at once
    """
    try:
        told, questions = _found(path)
    except InputError as error:
        if aloud:
            print(error, file=sys.stderr)
        return tuple(error.problems), (), ()
    if aloud:
        print(f"{path}: good")
        for line in told:
            print(f"  {line}")
        ask(*questions)
    return (), told, questions


def _found(path: Path) -> tuple[Lines, Lines]:
    from planform.design.load import load_any
    from planform.study.sound import refusals

    design = load_any(path)
    if isinstance(design, Place):
        return (), place_questions(design)
    if isinstance(design, Carrier):
        return (), tuple(value_questions(design))
    found = refusals(design)
    if found:
        raise InputError(str(path), in_files(path, Design, found))
    airframe = build(design)
    asked = (*design_questions(design), *joint_questions(airframe))
    told = curve_lines(airframe)
    if not design.stages:
        return told, asked
    return told, (*asked, *stage_questions(airframe, stand_all(airframe)))
