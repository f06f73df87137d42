"""The way out of a room: the answer on its way to a reader, and what is handed over."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path

from planform.fit.answer import FitAnswer
from planform.fit.moves import Route
from planform.fit.roll_out import RollOut
from planform.fit.room import Room
from planform.fit.steps import steps_of
from planform.fit.swept import corners_of, plan_outline
from planform.fit.verdict import NOT
from planform.fit.way_out import NOT_FOUND
from planform.report.answer import Answer, Block, Files, Headline, write_files
from planform.report.checks import CHECK_SHAPES
from planform.report.folder import Content, pictured
from planform.report.printed.document import pdf
from planform.report.printed.pieces import HeadingText, NewPage, Piece, Printed
from planform.report.record import Record, Recorder, document
from planform.report.way_out.handover import Handover, handover
from planform.report.way_out.instructions import instruction
from planform.report.way_out.page import (
    card_page,
    drawing_of,
    jam_of,
    moving_picture,
    route_page,
    section,
)
from planform.report.way_out.pictures import chalk_drawing, marks_drawing
from planform.report.way_out.printed import card_document
from planform.report.way_out.record import RECORDER, handover_record
from planform.report.way_out.words import over_ground, summary
from planform.report.writers import tabled


@dataclass(frozen=True, eq=False, kw_only=True)
class WayOutAnswer(Answer):
    """The way out, and the route that is handed over.

    judged : with what the ground of its door says
    wheels : moved on its own wheels ; spot : names the spot, the place's first where None
    """

    kind = "roll-out"
    writes = "rollout"

    judged: FitAnswer
    found: RollOut
    room: Room
    wheels: bool = False
    spot: str | None = None

    @cached_property
    def route(self) -> Route | None:
        """The route that was asked for."""
        way = self.found.on_gear if self.wheels else self.found.best
        return None if way is None else way.route

    @property
    def good(self) -> bool:
        """Whether there is one, and the ground of its door lets it through."""
        return self.route is not None and self.judged.out_verdict != NOT

    def lines(self, system: str) -> tuple[str, ...]:
        """How it was found, how sure it is, and how it goes over the ground of its door."""
        notes = tuple(f"Note: {note}." for note in self.judged.notes)
        return (*summary(self.found, system), *over_ground(self.judged, system), *notes)

    def said(self, system: str) -> Iterator[Block]:
        """What was found, and the steps."""
        found, standing = self.found, self.found.standing
        gear = found.on_gear
        wheels = f"; on its own wheels: {gear.answer}" if gear and gear.answer == NOT_FOUND else ""
        head = f"{standing.title} in {self.room.place.name}"
        yield Headline(f"{head}: {self.judged.out_verdict}{wheels}")
        yield from self.lines(system)
        if self.route is not None:
            room = (found.bare.way or found.wished).question.plan.room
            for step in steps_of(self.route, corners_of(plan_outline(standing))):
                yield f"{step.number}. {instruction(standing, room, step, system)}."
        yield "Even floor assumed. Walkers at tips, nose and tail; anyone's STOP stops all."

    def record(self, system: str) -> Record:
        """The way with what is asked for, the most there is, and how sure that is."""
        standing = self.found.standing
        return {
            "design": standing.airframe.design.name,
            "place": self.room.place.name,
            "stage": standing.stage.name,
            "stance": standing.stance_name,
            **RECORDER.of(self.found),
            "verdict": self.judged.out_verdict,
            "over_the_ground": Recorder(CHECK_SHAPES).all(self.judged.ground_checks),
        }

    def files(self, system: str) -> Files:
        """Steps, floor marks, helpers' card."""
        whole = handed_over(self.found, self.room, self.spot)
        return route_files(whole, system, self.lines(system), self.paper)

    def document(self, system: str) -> Printed:
        """What is said, the drawings, the floor marks, and the helpers' card behind them."""
        whole = handed_over(self.found, self.room, self.spot)
        printed = super().document(system)
        card: tuple[Piece, ...] = ()
        if whole.route is not None:
            made = card_document(whole, system, self.paper)
            card = (NewPage(), HeadingText(made.title), *made.pieces)
        marks: tuple[Piece, ...] = (HeadingText("Marks on the floor"), *whole.sheets)
        return replace(printed, pieces=(*printed.pieces, *marks, *card))


def handed_over(found: RollOut, room: Room, spot: str | None = None) -> Handover:
    """The way out as it is handed over, or the marks of its spot where there is none.

    The way on its own wheels where that was asked for.
    """
    way = found.best if found.on_gear is None else found.on_gear
    route = None if way is None else way.route
    tights = () if way is None or route is None else way.tight
    return handover(found.standing, room, route, tights, spot, found.jams)


def route_files(
    found: Handover, system: str, lines: Sequence[str] = (), paper: str | None = None
) -> Files:
    """The files of a route, or of the marks of a spot alone.

    lines : sentences on how the way was found and how sure it is
    paper : of the card to print, 'A4', 'letter', or by the units where None
    """
    moving = moving_picture(found, system)
    content = section(found, system, moving)
    drawings = {
        "marks": marks_drawing(found.standing, found.room, found.marks, system),
        "chalk": chalk_drawing(found.standing, found.room, found.marks, system),
    }
    jam = jam_of(found, system)
    if jam is not None:
        drawings["jam"] = jam
    for k, step in enumerate(found.steps):
        drawings[f"step-{step.number}"] = drawing_of(found, k, system)
    files: dict[str, Content] = {
        **pictured(drawings),
        **tabled("floor-marks", found.sheets, system),
        "route.json": document("route", handover_record(found, system)),
        "route.html": route_page(found, system, content, lines),
    }
    if moving is not None:
        files["roll-out.gif"] = moving
        files["helpers-card.html"] = card_page(found, system, content)
        files["helpers-card.pdf"] = pdf(card_document(found, system, paper))
    return files


def write_route(
    found: Handover, folder: str | Path, system: str, lines: Sequence[str] = ()
) -> list[str]:
    """Write a route, or the marks of a spot alone, into a folder; returns the files' names.

    system : one of 'ft-in', 'in', 'mm', 'm'
    lines : sentences on how the way was found and how sure it is
    Raises InputError where the folder cannot be written; then nothing is left behind.
    """
    return write_files(folder, "rollout", lambda: route_files(found, system, lines))


def write_way_out(
    found: RollOut,
    folder: str | Path,
    system: str,
    spot: str | None = None,
    room: Room | None = None,
    more: Sequence[str] = (),
) -> list[str]:
    """Write the way out into a folder, or the marks of its spot where there is none.

    room : where it was searched in one with some doors shut, the whole room
    more : sentences after those of the search, such as how it goes over the ground
    The way on its own wheels where that was asked for. Returns the files' names.
    """
    whole = handed_over(found, room or found.wished.question.plan.room, spot)
    return write_route(whole, folder, system, (*summary(found, system), *more))
