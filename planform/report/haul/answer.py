"""Parts on a trailer or in a container: the answer on its way to a reader."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from planform.design.models import Design
from planform.report.answer import Answer, Block, Files, Headline, write
from planform.report.folder import pictured
from planform.report.haul.page import haul_page
from planform.report.haul.pictures import plan, side
from planform.report.haul.record import haul_record
from planform.report.haul.tables import tables
from planform.report.haul.words import MIND, NOTES, headline
from planform.report.record import Record, document
from planform.report.writers import tabled
from planform.study.hauling import Haul


@dataclass(frozen=True, eq=False, kw_only=True)
class HaulAnswer(Answer):
    """The load, and what it is held against."""

    kind = "haul"
    writes = "haul"
    tells_taken = False

    design: Design
    found: Haul

    @property
    def good(self) -> bool:
        """Whether a place for each piece is found, inside the limits."""
        return self.found.found and self.found.verdict.good

    def said(self, system: str) -> Iterator[Block]:
        """The tables, and what holds for all of them."""
        yield Headline(f"{self.design.name} on {self.found.carrier.name}: {headline(self.found)}")
        yield from tables(self.found)
        yield from (*NOTES, *MIND)

    def record(self, system: str) -> Record:
        """The pieces, their places and the limits."""
        names: Record = {"design": self.design.name, "carrier": self.found.carrier.name}
        return {**names, **haul_record(self.found)}

    def beside(self) -> Record:
        """What was taken."""
        return {"assumed": self.taken}

    def files(self, system: str) -> Files:
        """The page, the drawings, the tables and the record."""
        drawings = {}
        if self.found.found:
            drawings = {"plan": plan(self.found, system), "side": side(self.found, system)}
        return {
            **pictured(drawings),
            **tabled("haul", tables(self.found), system),
            "haul.json": document(self.kind, self.record(system)),
            "haul.html": haul_page(self.design, self.found, drawings.values(), system),
        }


def write_haul(design: Design, found: Haul, folder: str | Path, system: str) -> list[str]:
    """Write page, drawings, table and JSON into a folder; returns the files' names.

    Raises InputError where the folder cannot be written; then nothing is left behind.
    """
    return write(HaulAnswer(design=design, found=found), folder, system)
