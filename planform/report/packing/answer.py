"""Several aircraft in one hangar: the answer on its way to a reader."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from planform.fit.packing import Packing
from planform.fit.tightest import tightest
from planform.report.answer import Answer, Block, Files, Headline, write
from planform.report.folder import Content, pictured
from planform.report.packing.page import folder_of, packing_page
from planform.report.packing.pictures import plan
from planform.report.packing.record import packing_record
from planform.report.packing.tables import tables
from planform.report.packing.words import MINDED, NOTHING, Spreads, headline, proofs, steps_in
from planform.report.record import Record, document
from planform.report.way_out.answer import route_files
from planform.report.way_out.handover import handover


@dataclass(frozen=True, eq=False, kw_only=True)
class PackingAnswer(Answer):
    """An arrangement, and what is proved of it."""

    kind = "packing"
    writes = "pack"

    found: Packing
    spreads: Spreads = field(default_factory=dict)

    @property
    def good(self) -> bool:
        """Whether one was found."""
        return self.found.found

    def said(self, system: str) -> Iterator[Block]:
        """The tables, each one's way in, and what is proved."""
        found = self.found
        yield Headline(f"{found.room.place.name}: {headline(found)}")
        yield from tables(found, self.spreads)
        for berth in found.berths:
            yield f"{berth.number}. {berth.name}, the way in:"
            yield from (f"   {words}." for words in steps_in(berth, system))
        yield from (*proofs(found), *MINDED)

    def record(self, system: str) -> Record:
        """The order, each one's way in, the gaps."""
        place: Record = {"place": self.found.room.place.name}
        return place | packing_record(self.found, system, self.spreads)

    def files(self, system: str) -> Files:
        """The page, the plan, and a folder for each aircraft's way in."""
        found = self.found
        drawings = {"plan": plan(found, system)} if found.found else {}
        files: dict[str, Content] = {
            "packing.json": document(self.kind, self.record(system)),
            **pictured(drawings),
            "packing.html": packing_page(found, self.spreads, drawings.get("plan"), system),
        }
        for berth in found.berths:
            tights = tightest(berth.question, berth.way_in)
            own = handover(berth.standing, berth.room, berth.way_in, tights)
            for name, content in route_files(own, system).items():
                files[f"{folder_of(berth)}/{name}"] = content
        return files


def write_packing(
    found: Packing, folder: str | Path, system: str, spreads: Spreads = NOTHING
) -> list[str]:
    """Write the page, the plan, and a folder for each aircraft's way in; returns the names.

    Raises InputError where the folder cannot be written; then nothing is left behind.
    """
    return write(PackingAnswer(found=found, spreads=spreads), folder, system)
