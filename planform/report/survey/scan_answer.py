"""A scan on its way to a reader."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from planform.design.told import plus_minus, said
from planform.drawing.drawing import Drawing
from planform.report.answer import Answer, Block, Files, Headline
from planform.report.folder import pictured
from planform.report.page import drawn, page, words_for
from planform.report.printed.document import pdf
from planform.report.printed.pieces import (
    Boxed,
    HeadingText,
    Illustration,
    Listed,
    Piece,
    Printed,
    Prose,
    paper_of,
)
from planform.report.record import Json, Record, document, known
from planform.report.survey.scan_pictures import scan_pictures
from planform.report.survey.words import CAUTIONS
from planform.report.table import Cell, Quantity, Table
from planform.report.writers import tabled
from planform.rigging.scan.laying import COVERS, REACH, PartOff
from planform.study.scanned import Scanned

FEW = 30
"""Points of a part below which nothing is told of it; assumption."""


@dataclass(frozen=True, eq=False, kw_only=True)
class ScanAnswer(Answer):
    """How a scan lies on the aircraft as drawn."""

    kind = "scan"
    writes = "survey"

    found: Scanned

    @property
    def good(self) -> bool:
        """Whether it lies in one way only."""
        return not self.found.laid.doubt

    @cached_property
    def _drawn(self) -> dict[str, dict[str, Drawing]]:
        return {}

    def _views(self, system: str) -> dict[str, Drawing]:
        if system not in self._drawn:
            self._drawn[system] = scan_pictures(self.found, system)
        return self._drawn[system]

    @property
    def title(self) -> str:
        """What it is about."""
        return f"{self.found.drawn.airframe.design.name}: a scan against the drawing"

    def said(self, system: str) -> Iterator[Block]:
        """What was found, and each part."""
        yield Headline(self.title)
        yield scan_verdict(self.found, system)
        yield scan_table(self.found)
        yield from scan_notes(self.found, system)
        yield f"caution: {CAUTIONS[0]}"

    def record(self, system: str) -> Record:
        """How it was laid, and each part."""
        laid = self.found.laid
        return {
            "design": self.found.drawn.airframe.design.name,
            "scan": self.found.source,
            "stage": self.found.drawn.stage.name,
            "summary": scan_verdict(self.found, system),
            "points": len(laid.at),
            "left_out": self.found.cloud.left_out,
            "on_aircraft": laid.on_aircraft,
            "doubt": laid.doubt or None,
            "turn": [[float(v) for v in row] for row in laid.turn],
            "shift": {"value": [float(v) for v in laid.shift], "unit": "m"},
            "spread": known(laid.spread, "length"),
            "parts": [_part(one) for one in laid.parts],
            "cautions": CAUTIONS,
        }

    def files(self, system: str) -> Files:
        """The page, the PDF, the pictures, the table and the record."""
        views = self._views(system)
        return {
            **pictured(views),
            **tabled("survey", (scan_table(self.found),), system),
            "survey.json": document(self.kind, self.record(system)),
            "survey.html": self._page(views, system),
            "survey.pdf": pdf(self.document(system)),
        }

    def _page(self, views: dict[str, Drawing], system: str) -> str:
        return page(
            "scan.html",
            **words_for(system) | {"cautions": CAUTIONS},
            title=self.title,
            verdict=scan_verdict(self.found, system),
            notes=scan_notes(self.found, system),
            source=self.found.source,
            standing=self.found.drawn.title,
            parts=scan_table(self.found),
            views=[(drawn(one), one.title) for one in views.values()],
            told=self.found.taken,
        )

    def document(self, system: str) -> Printed:
        """The sheet to print."""
        return Printed(
            self.title, tuple(self._pieces(system)), system, paper_of(self.paper, system)
        )

    def _pieces(self, system: str) -> Iterator[Piece]:
        from planform import __version__

        date = datetime.date.today().isoformat()
        yield Prose("", strong=scan_verdict(self.found, system))
        words = f"{self.found.source}, at {self.found.drawn.title}. Written {date} by planform"
        yield Prose(f"{words} {__version__}.", soft=True)
        yield Boxed(CAUTIONS)
        yield scan_table(self.found)
        yield Listed(scan_notes(self.found, system))
        yield HeadingText("On the aircraft, and cut")
        for view in self._views(system).values():
            yield Illustration(view, view.title, 78.0)
        if self.found.taken:
            yield HeadingText("Not given, and taken as", 2)
            yield Listed(self.found.taken)


def _told(found: Scanned) -> list[PartOff]:
    """The parts that the scan saw enough of."""
    return [one for one in found.laid.parts if one.points >= FEW]


def scan_verdict(found: Scanned, system: str) -> str:
    """How the scan lies, in one sentence."""
    laid, seen = found.laid, _told(found)
    count = f"{len(laid.at):,} points"
    if not seen:
        return f"No answer: of {count} too few lie on any part of the aircraft."
    worst = max(seen, key=lambda one: max(abs(one.low), abs(one.high)))
    return (
        f"Of {count}, {laid.on_aircraft:.0%} lie on the aircraft, within "
        f"{plus_minus(2.0 * laid.spread, 'length', system)} for most; farthest off is "
        f"the {worst.name}, from {said(worst.low, 'fine', system)} to "
        f"{said(worst.high, 'fine', system)} outward of the drawing, "
        f"{said(worst.mean, 'fine', system)} on the mean."
    )


def scan_table(found: Scanned) -> Table:
    """Each part that was seen: how far off its surface lies."""
    rows: list[tuple[Cell, ...]] = []
    for one in found.laid.parts:
        told = one.points >= FEW
        off = [one.mean, one.spread, one.low, one.high]
        cells = [Quantity(v, "fine") if told else None for v in off]
        rows.append((one.name, f"{one.points:,}", Quantity(one.covered, "percent"), *cells))
    heads = ("part", "points", "covered", "mean", "spread", "2.5 % lie below", "2.5 % lie above")
    remarks = (
        "How far the scan lies off the drawn surface, outward positive; nothing is told of parts "
        f"with fewer than {FEW} points.",
    )
    return Table("parts", "Part by part", heads, tuple(rows), remarks, frozenset({"points"}))


def scan_notes(found: Scanned, system: str) -> tuple[str, ...]:
    """What a reader must know of it."""
    laid = found.laid
    notes = [f"It may lie otherwise: {laid.doubt}."] if laid.doubt else []
    if found.cloud.left_out:
        notes.append(f"{found.cloud.left_out:,} points that are no numbers were left out.")
    reach, covers = (said(v, "fine", system) for v in (REACH, COVERS))
    notes.append(
        f"Points farther than {reach} from the drawn surface count as nothing of the aircraft; a "
        f"spot is covered where a point lies within {covers}. The scan is laid on all of the "
        "surface at once, so a part that is off pulls the rest a little the other way; a table of "
        "readings of named points tells deviations with their uncertainty."
    )
    return tuple(notes)


def _part(one: PartOff) -> Json:
    def length(value: float) -> Json:
        return known(value, "length") if np.isfinite(value) else None

    return {
        "part": one.name,
        "points": one.points,
        "covered": one.covered,
        "mean": length(one.mean),
        "spread": length(one.spread),
        "low": length(one.low),
        "high": length(one.high),
    }
