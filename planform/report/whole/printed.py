"""Everything about one design in one place as a document to print."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from dataclasses import replace
from itertools import chain

from planform.drawing.drawing import Drawing
from planform.drawing.scenes import CORNERS
from planform.report.balance.printed import of_the_balance
from planform.report.fit.advice import BAND_NOTE, sentences
from planform.report.fit.push import PUSHED
from planform.report.fit.tables import near_table, verdicts_table
from planform.report.measures.tables import blocks
from planform.report.printed.pieces import (
    Beside,
    Boxed,
    Flowing,
    HeadingText,
    Illustration,
    Listed,
    Piece,
    Printed,
    Prose,
    paper_of,
)
from planform.report.table import Table
from planform.report.way_out.words import WAYS
from planform.report.whole.collect import Findings
from planform.report.whole.page import (
    AREAS,
    CARE_NOTE,
    LEADER,
    SIDES,
    WORST,
    Drawings,
    checks,
    sizes,
)
from planform.report.words import CAUTIONS, ROOM_SIDES

NEAREST = 8
"""Clearances as parked that are printed of each stage."""
PICTURE = 56.0
"""How high a picture of the room may be [mm]."""
WAY = 116.0
"""How high the drawing of the way out may be [mm]."""
AIRCRAFT = 48.0
"""How high a picture of the aircraft alone may be [mm]."""
VIEW = 72.0
"""How high a view from the side may be [mm]."""

LEFT_OUT = ("change-", "lift-shares", "case-", "room", "stepping-out", "loading")
"""How the keys of tables and plots of the balance begin that are printed in its own sheet alone."""
LEFT_OUT_TOLD = (
    "Changes of equipment, who carries the lift, each loading by itself, what each place still "
    "takes, stepping out one by one and the loading graph stand in report.html and in the balance "
    "sheet: planform balance, with -o FILE.pdf."
)

Shown = Drawing | bytes
"""A picture: drawn, or rendered (PNG)."""


def report_document(
    found: Findings, made: Drawings, pictures: dict[str, Shown], system: str, paper: str | None
) -> Printed:
    """The document; pictures : by their cameras' names ; paper : 'A4', 'letter' or by the units."""
    title = f"{found.design.name} in {found.place.name}"
    pieces = tuple(_pieces(found, made, pictures, system))
    return Printed(title, pieces, system, paper_of(paper, system), f"{title}: planform report")


def _pieces(
    found: Findings, made: Drawings, pictures: dict[str, Shown], system: str
) -> Iterator[Piece]:
    from planform import __version__

    yield Prose(" ".join(text for text in (found.design.story, found.place.story) if text), True)
    yield Prose(
        f"Written {datetime.date.today().isoformat()} by planform {__version__}. Datum: "
        f"{found.design.datum}. Every number and picture here is read off the same built airframe.",
        soft=True,
    )
    yield HeadingText("Does it fit?")
    yield verdicts_table(found.fits, system)
    yield Boxed((found.chance.words,)) if found.chance.step else Prose(found.chance.words)
    for line in (CARE_NOTE, WAYS, *PUSHED, ROOM_SIDES, f"{BAND_NOTE} {WORST}"):
        yield Prose(line, soft=True)
    yield Boxed(CAUTIONS)
    for k in range(len(found.fits)):
        yield from _stage(found, k, made, pictures.get(f"room-{k + 1}"), system)
    if found.balance is not None:
        yield HeadingText("Weight and balance")
        plots = {name: plot for name, (_, plot) in made.plots.items()}
        yield from of_the_balance(found.balance, system, LEFT_OUT, plots)
        yield Prose(LEFT_OUT_TOLD, soft=True)
    yield from _aircraft(found, pictures, system)


def _stage(
    found: Findings, k: int, made: Drawings, picture: Shown | None, system: str
) -> Iterator[Piece]:
    """One stage: verdict, pictures, checks, the way out, what to measure next, sizes."""
    answer = found.fits[k]
    yield HeadingText(answer.standing.title)
    text = found.design.stances[answer.stance].text
    spot = f"parked on “{answer.spot}”" if answer.spot else ""
    told = "; ".join(words for words in (spot, text) if words)
    yield Prose(told, strong=str(answer.verdict), leads=True)
    views = [Illustration(made.plans[k], "From above.", PICTURE)]
    if picture is not None:
        views.insert(0, Illustration(picture, LEADER, PICTURE))
    yield Beside(tuple((view,) for view in views))
    yield checks(found, system)[k]
    yield Flowing(tuple(_in_columns(found, k, made, system)))


def _in_columns(found: Findings, k: int, made: Drawings, system: str) -> Iterator[Piece]:
    """The rest of a stage: way out, advice, elevations, clearances, sizes."""
    answer, way = found.fits[k], made.ways[k]
    if way is not None:
        yield HeadingText("The way out", 3)
        yield from (Prose(line) for line in way.lines)
        if way.steps:
            yield Listed(tuple(f"{step}." for step in way.steps), numbered=True)
        if way.picture is not None:
            yield Illustration(way.picture, way.shown, WAY)
    advice = sentences(found.advices[k], system)
    if advice:
        yield HeadingText("What to measure next", 3)
        yield Listed(advice)
    for note in answer.notes:
        yield Prose(note, soft=True)
    front = made.fronts[k]
    if front is not None:
        yield Illustration(front, "From ahead, over the door opening.", PICTURE)
    yield from (Illustration(one, SIDES, VIEW) for one in made.sides[k])
    yield _nearest(found, k)
    for table in sizes(found)[k]:
        yield replace(table, title=table.title.rpartition(": ")[2].capitalize())


def _nearest(found: Findings, k: int) -> Table:
    """The least clearances as parked, and how many more there are."""
    answer = found.fits[k]
    whole = near_table(answer, f"clearances {k + 1}")
    more = len(answer.near) - NEAREST
    remarks = (f"{more} more are told in answer.json.",) if more > 0 else ()
    return replace(
        whole, title="Least clearances, parked", rows=whole.rows[:NEAREST], remarks=remarks
    )


def _aircraft(found: Findings, pictures: dict[str, Shown], system: str) -> Iterator[Piece]:
    """The aircraft by itself: pictures, measures, what was asked and taken."""
    yield HeadingText("The aircraft")
    title = found.meant.title
    shown = [
        Illustration(pictures[name], f"{title}, {words}.", AIRCRAFT)
        for name, _, words in CORNERS
        if name in pictures
    ]
    for at in range(0, len(shown), 2):
        yield Beside(tuple((view,) for view in shown[at : at + 2]))
    if found.remark:
        yield Prose(found.remark, soft=True)
    yield from blocks(found.design.name, found.measures, found.spreads)
    yield Prose(AREAS, soft=True)
    for heading, lines in (
        ("Questions back to you", found.questions), ("Not given, and taken as", found.assumed)
    ):  # fmt: skip
        if lines:
            yield HeadingText(heading)
            yield Listed(tuple(chain(lines)))
