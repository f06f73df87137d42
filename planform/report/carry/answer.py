"""A part carried out by hand: the answer on its way to a reader."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from planform.design.models import Design
from planform.design.place import Place
from planform.fit.carrying import NOT_FOUND, Carried, Through
from planform.report.answer import Answer, Block, Files, Headline, write
from planform.report.carry.page import carry_page
from planform.report.carry.pictures import drawings_of
from planform.report.carry.record import carry_record
from planform.report.carry.tables import tables
from planform.report.carry.words import NOTES, NOTHING, Spreads
from planform.report.folder import pictured
from planform.report.record import Record, document
from planform.report.writers import tabled


@dataclass(frozen=True, eq=False, kw_only=True)
class CarryAnswer(Answer):
    """What a part needs to be carried out, and how it passes each door."""

    kind = "carry"
    writes = "carry"
    tells_taken = False

    design: Design
    place: Place | None = None
    one: Carried
    doors: Sequence[Through]
    spreads: Spreads = field(default_factory=dict)

    @property
    def good(self) -> bool:
        """Whether it passes a door, or none is given."""
        return not self.doors or any(door.answer != NOT_FOUND for door in self.doors)

    def said(self, system: str) -> Iterator[Block]:
        """The tables, and what holds for all of them."""
        yield Headline(f"{self.design.name}: {self.one.title}, carried out")
        yield from tables(self.one, self.doors, self.spreads)
        yield from NOTES

    def record(self, system: str) -> Record:
        """What it needs by direction, its curve, the doors."""
        place = None if self.place is None else self.place.name
        told = carry_record(self.one, self.doors, self.spreads)
        return {"design": self.design.name, "place": place, **told}

    def files(self, system: str) -> Files:
        """The page, the pictures, the tables and the record."""
        from planform.report.carry.chart import roll_chart

        drawings = dict(drawings_of(self.one, self.doors, system))
        openings = [(f"{d.opening}, clear width", d.width) for d in self.doors]
        title = f"{self.one.title}: width and height against roll"
        curve = roll_chart(self.one.ways[0], openings, title, system)
        sheets = tables(self.one, self.doors, self.spreads)
        return {
            "roll.svg": curve,
            **pictured(drawings),
            **tabled("carry", sheets, system),
            "carry.json": document(self.kind, self.record(system)),
            "carry.html": carry_page(
                self.design, self.one.title, sheets, curve, drawings.values(), system
            ),
        }


def write_carrying(
    design: Design,
    one: Carried,
    doors: Sequence[Through],
    folder: str | Path,
    system: str,
    spreads: Spreads = NOTHING,
) -> list[str]:
    """Write page, pictures, table and JSON into a folder; returns the files' names.

    Raises InputError where the folder cannot be written; then nothing is left behind.
    """
    answer = CarryAnswer(design=design, one=one, doors=doors, spreads=spreads)
    return write(answer, folder, system)
