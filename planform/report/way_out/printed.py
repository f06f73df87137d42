"""The helpers' card as a document to print: to hand round, with names to fill in."""

from __future__ import annotations

import datetime
from collections.abc import Iterator

from planform.balance.footing import footing
from planform.design.told import said
from planform.fit.walkers import watched_there
from planform.report.printed.pieces import (
    Beside,
    Blanks,
    Boxed,
    HeadingText,
    Illustration,
    Listed,
    Piece,
    Printed,
    Prose,
    paper_of,
)
from planform.report.table import cell
from planform.report.way_out.card import (
    CALLS,
    SOURCES,
    STOP,
    before,
    crowded,
    tail_line,
    tight_table,
    walkers_table,
)
from planform.report.way_out.handover import Handover
from planform.report.way_out.page import card_columns, drawing_of, moving_words
from planform.report.way_out.pictures import LETTERS, tight_words

NAME = (20.0, 32.0)
"""Widths of an end's letter and name, and of the blank for who walks there [mm]."""


def card_document(found: Handover, system: str, paper: str | None) -> Printed:
    """The card of a route."""
    title = f"{found.standing.airframe.design.name}: moving it by hand"
    pieces = tuple(_pieces(found, system))
    return Printed(title, pieces, system, paper_of(paper, system), stamp=STOP)


def _pieces(found: Handover, system: str) -> Iterator[Piece]:
    from planform import __version__

    assert found.route is not None
    yield Prose(
        f"{found.standing.title} in {found.room.place.name}; {moving_words(found)}. Clearance "
        f"proved all along the way: {said(found.route.clearance, 'gap', system)}. Left and right "
        "are the aircraft's own."
    )
    yield Boxed(CALLS)
    yield HeadingText("Before you start", 3)
    tail = cell(tail_line(found.balance, footing(found.standing).ends), system)
    lines = (*before(found.room.place.floor), tail)
    half = (len(lines) + 1) // 2
    yield Beside(((Listed(lines[:half]),), (Listed(lines[half:]),)))
    yield from _people(found, system)
    yield HeadingText("Steps", 3)
    yield from _steps(found, system)
    date = datetime.date.today().isoformat()
    last = f"Local rules and the aircraft's own manual come first. {date}, planform {__version__}."
    yield Prose(" ".join((*SOURCES, last)), soft=True)


def _people(found: Handover, system: str) -> Iterator[Piece]:
    """Who watches what, the tightest places, and blanks for the names."""
    watchers = [watched_there(found.standing, t).name for t in found.tights]
    yield walkers_table(found.nears, found.tights, watchers)
    tight = tight_table(found.tights, found.steps)
    if tight is not None:
        yield tight
    labels = ["leads", *(f"{LETTERS[n.mark.name]} {n.mark.name}" for n in found.nears)]
    rows = []
    for k in range(0, len(labels), 3):
        three = [*labels[k : k + 3], " ", " "][:3]
        rows.append(tuple(text for label in three for text in (label, "")))
    yield Blanks(
        tuple(rows), NAME * 3, "Names; the letters are those in the pictures, a red ring: no room "
        "for a person there", height=8.2, labels=frozenset({0, 2, 4}),
    )  # fmt: skip


def _steps(found: Handover, system: str) -> Iterator[Piece]:
    """Every step small, as many abreast as the card of so many steps has."""
    columns, height = card_columns(len(found.steps))
    sentences = found.sentences(system)
    figures = []
    for k, step in enumerate(found.steps):
        tights = "".join(f" Tight: {tight_words(t, system)}." for t in found.tights_in(step))
        words = f"{sentences[k]}.{tights} {crowded(step, found.places[k])}".strip()
        drawing = drawing_of(found, k, system, small=True)
        figures.append(Illustration(drawing, words, height, strong=f"{step.number}."))
    for at in range(0, len(figures), columns):
        row = figures[at : at + columns]
        yield Beside(tuple((one,) for one in row), gap=3.0, of=columns)
