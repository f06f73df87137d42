"""The new command: the starter files, or a first design from what a builder measured."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from planform.design.problems import InputError, Problem

if TYPE_CHECKING:
    from planform.design.fields import UnitSystem
    from planform.design.first_questions import FirstQuestion

HINT = (
    "Enter takes what stands in brackets; ? says how to measure it; Ctrl-C ends, nothing written."
)
ENDED = (
    "the answers ended before the last question, and nothing was written; give them with --known, "
    "or take --starter"
)


def write_new(folder: Path, known: Sequence[str], units: str | None, *, starter: bool) -> None:
    """Write the starters, or a first design and place from answers.

    known : answers as key=value ; starter : the starters, asking nothing
    Asks in a terminal where nothing is known yet.
    """
    from planform.design.starter import FILES, with_schemas
    from planform.design.starter import starter as starters
    from planform.report.folder import written

    if starter and known:
        allowed = "the starter takes no answers; leave one of the two out"
        raise InputError("option", [Problem("--starter", "with --known", allowed)])
    asks = not starter and not known and sys.stdin.isatty() and sys.stdout.isatty()
    if not asks and not known:
        for path in written(folder, starters(), FILES):
            print(f"wrote {path}")
        print("next: planform report my-design.toml my-place.toml -o my-report")
        return
    from planform.design.first_files import begun

    system, answers = _asked(units) if asks else (_system(units), _answers(known))
    for path in written(folder, with_schemas(begun(answers, system)), FILES):
        print(f"wrote {path}")
    _tell(answers)


def _tell(answers: dict[str, str]) -> None:
    from planform.design.first_questions import QUESTIONS

    count = sum(1 for q in QUESTIONS if q.how and q.key not in answers)
    total = sum(1 for q in QUESTIONS if q.how)
    if count:
        print(
            f"{count} of {total} values are taken, not measured: the files say how to measure each"
        )
    print("next: planform fit my-design.toml my-place.toml")


def _system(units: str | None) -> UnitSystem:
    from planform.cli.arguments import system_of

    return system_of(units, "ft-in")  # type: ignore[return-value]


def _answers(known: Sequence[str]) -> dict[str, str]:
    out: dict[str, str] = {}
    problems = []
    for one in known:
        key, sign, text = (piece.strip() for piece in one.partition("="))
        key = key.replace("-", "_").replace(" ", "_")
        if not sign or not text:
            allowed = "allowed: a question and its answer, as 'span = 26 ft 8 in'"
            problems.append(Problem("--known", repr(one), allowed))
        elif key in out:
            problems.append(Problem("--known", repr(one), f"{key} is answered twice"))
        out[key] = text
    if problems:
        raise InputError("option", problems)
    return out


def _asked(units: str | None) -> tuple[UnitSystem, dict[str, str]]:
    """Ask every question on the terminal; what cannot be is asked again, with the reason."""
    from planform.design.first_questions import QUESTIONS

    print(f"Some measures of the aircraft and the shop. {HINT}\n")
    while units is None:
        units = _line("your tape reads ft-in, in, mm or m", "ft-in") or "ft-in"
        try:
            _system(units)
        except InputError as error:
            _told(error)
            units = None
    system = _system(units)
    answers: dict[str, str] = {}
    group = ""
    for question in QUESTIONS:
        if question.group != group:
            group = question.group
            print(f"\n{group}")
        text = _answer(question, answers, system)
        if text:
            answers[question.key] = text
    print()
    return system, answers


def _answer(question: FirstQuestion, answers: dict[str, str], system: UnitSystem) -> str:
    """One answer that goes with those before it; empty where it is to be taken."""
    from planform.design.first_evening import first_answers, usual

    before = first_answers(answers, system)
    bracketed = usual(question, before.sizes, before.words, before.metric)
    while True:
        text = _line(question.words, bracketed)
        if text == "?":
            print(f"    {question.how or ', '.join(question.choices) or 'any name'}")
            continue
        try:
            first_answers(answers | {question.key: text}, system)
        except InputError as error:
            _told(error)
            continue
        return text


def _told(error: InputError) -> None:
    for problem in error.problems:
        print(f"    {problem}")


def _line(words: str, bracketed: str) -> str:
    """What is typed behind a question."""
    try:
        return input(f"  {words} [{bracketed}]: ").strip()
    except EOFError:
        print()
        raise InputError("new", [Problem("", "", ENDED)]) from None
