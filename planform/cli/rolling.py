"""The roll-out: the way out of a room, printed and handed over."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import AbstractContextManager, nullcontext
from dataclasses import dataclass
from pathlib import Path
from time import monotonic
from typing import Any

from planform.airframe.build import build
from planform.airframe.stages import stage_meant, stage_questions
from planform.airframe.stance import shaped, stand_on
from planform.cli.answers import console, headline, told
from planform.cli.options import length_given
from planform.design.models import Design
from planform.design.place import Place
from planform.design.problems import InputError, Problem
from planform.design.questions import assumptions, design_questions, place_questions
from planform.fit.verdict import NOT
from planform.report import to_json

DOLLIES, WHEELS = "dollies", "wheels"


@dataclass(frozen=True)
class Asked:
    """The options as they were given."""

    stage: str | None
    stance: str | None
    spot: str | None
    keep: str | None
    over: str | None
    moving: str
    seconds: float


def show_roll_out(
    design: Design, place: Place, asked: Asked, folder: Path | None, system: str, *, as_json: bool
) -> int:
    """Print the way out and hand it over; 0 where there is one, 1 otherwise."""
    from planform.fit.question import spelled
    from planform.fit.room import build_room, spot_point
    from planform.report.way_out.words import over_ground, summary, touching
    from planform.study.judging import judged_way
    from planform.study.roll_out import Wish, find_way_out

    if asked.moving not in (DOLLIES, WHEELS):
        allowed = f"allowed: {DOLLIES} (any way) or {WHEELS} (no side-slip)"
        raise InputError("option", [Problem("--moving", repr(asked.moving), allowed)])
    airframe = build(shaped(design))
    stage, taken = stage_meant(airframe, asked.stage)
    standing = stand_on(airframe, stage, asked.stance)
    room = build_room(place)
    with watching(asked.seconds) as watch:
        wish = Wish(
            level=length_given("--keep", asked.keep),
            over=length_given("--over", asked.over),
            gear=asked.moving == WHEELS,
        )
        answer = judged_way(
            standing, room, asked.spot,
            lambda there: find_way_out(standing, there, asked.spot, wish, watch),
        )  # fmt: skip
    found = answer.way
    assert found is not None
    if found.meets is not None:
        spot = spot_point(place, asked.spot)
        problem = Problem(f"spots: {spot.name}", spelled(spot), touching(found.meets, system))
        raise InputError(place.name, [problem])
    way = found.on_gear if asked.moving == WHEELS else found.best
    route = None if way is None else way.route
    more = (*over_ground(answer, system), *(f"Note: {note}." for note in answer.notes))
    lines = (*summary(found, system), *more)
    questions = (
        *design_questions(design), *stage_questions(airframe), *place_questions(place)
    )  # fmt: skip
    written: list[str] = []
    if folder is not None:
        from planform.report.way_out.page import write_way_out

        written = write_way_out(found, folder, system, asked.spot, room, more)
    if as_json:
        content = {
            "design": design.name,
            "place": place.name,
            "stage": stage.name,
            "stance": standing.stance_name,
            **to_json.roll_out(found),
            "verdict": answer.out_verdict,
            "over_the_ground": [to_json.check(c) for c in answer.ground_checks],
            "questions": list(questions),
            "assumed": [*taken, *assumptions(design, place)],
        }
        print(to_json.document("roll-out", content))
    else:
        head = f"{standing.title} in {place.name}: {answer.out_verdict}"
        _print(head, found, route, lines, system)
        if written:
            print(f"wrote {', '.join(written)} to {folder}")
        for line in (*taken, *assumptions(design, place)):
            print(f"taken: {line}")
        told(*questions)
    return 0 if route is not None and answer.out_verdict != NOT else 1


def _print(head: str, found: Any, route: Any, lines: tuple[str, ...], system: str) -> None:
    from planform.fit.steps import steps_of
    from planform.fit.swept import corners_of, plan_outline
    from planform.fit.way_out import NOT_FOUND
    from planform.report.way_out.instructions import instruction

    standing = found.standing
    room = found.bare.way.question.plan.room if found.bare.way else found.wished.question.plan.room
    gear = found.on_gear
    wheels = f"; on its own wheels: {gear.answer}" if gear and gear.answer == NOT_FOUND else ""
    headline(f"{head}{wheels}")
    for line in lines:
        print(line)
    if route is not None:
        for step in steps_of(route, corners_of(plan_outline(standing))):
            print(f"{step.number}. {instruction(standing, room, step, system)}.")
    print("Even floor assumed. Walkers at tips, nose and tail; anyone's STOP stops all.")


def watching(seconds: float) -> AbstractContextManager[Callable[[str, int, float], bool]]:
    """A watch with a bar on a terminal; each search ends with the time, and with Ctrl-C."""
    return _Watch(seconds) if seconds > 0.0 else nullcontext(lambda step, boxes, gone: True)


class _Watch:
    """Shows what is searched, and ends it; an interrupt ends the search, not the command."""

    def __init__(self, seconds: float) -> None:
        self.until = monotonic() + seconds
        self.console = console(stderr=True)
        self.stopped = False
        self.status: Any = None

    def __enter__(self) -> Callable[[str, int, float], bool]:
        import signal

        def stop(*_: object) -> None:
            self.stopped = True

        self.before = signal.signal(signal.SIGINT, stop)
        if self.console.is_terminal:
            self.status = self.console.status("searching for the way out")
            self.status.start()
        return self.told

    def told(self, step: str, boxes: int, gone: float) -> bool:
        """Whether to go on."""
        if self.status is not None:
            left = max(0.0, self.until - monotonic())
            self.status.update(f"{step}: {boxes} looked at, {left:.0f} s to go; Ctrl-C ends it")
        return not self.stopped and monotonic() < self.until

    def __exit__(self, *_: object) -> None:
        import signal

        signal.signal(signal.SIGINT, self.before)
        if self.status is not None:
            self.status.stop()
        if self.stopped:
            self.console.print("stopped: what had been found until then follows")
