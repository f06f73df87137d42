"""What would make it fit: the answer on its way to a reader."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from planform.report.answer import Answer, Block, Files, Headline, write
from planform.report.changes import words
from planform.report.changes.page import changes_page, plans
from planform.report.changes.record import changes_record
from planform.report.record import Record, document
from planform.study.change_found import Changes


@dataclass(frozen=True, eq=False, kw_only=True)
class ChangesAnswer(Answer):
    """The least changes that free an aircraft, each with its price."""

    kind = "changes"
    writes = "changes"

    found: Changes

    @property
    def good(self) -> bool:
        """Whether it comes out as it stands, or a change frees it."""
        return bool(self.found.free or self.found.found)

    def said(self, system: str) -> Iterator[Block]:
        """The verdict, the changes in order, and those that do not free it."""
        found, case = self.found, self.found.base.case
        yield Headline(f"{case.standing.title} in {case.place.name}")
        yield words.verdict(found, system)
        for one in words.told(found, system):
            yield f"\n{one.number}. {one.what}  [{one.effort}]"
            told = (("least", one.bracket), ("tightest then", one.tight), ("beside", one.beside))
            yield from (f"   {label}: {text}" for label, text in told if text)
            yield from (f"   ! {caution}" for caution in one.cautions)
        rest = words.others(found, system)
        if rest:
            yield "\nLooked at, and not found to free it:"
        yield from (f"- {line}" for line in rest)
        left = words.untried(found, system)
        if left:
            yield "\nNot looked at, as the search ended before:"
        yield from (f"- {line}" for line in left)
        if found.stopped:
            yield "The search ended before all was looked at: what had been found is told."
        yield ""
        yield from words.notes(found, system)

    def record(self, system: str) -> Record:
        """Every change that was looked at."""
        case = self.found.base.case
        return {
            "design": case.design.name,
            "place": case.place.name,
            "stage": case.stage.name,
            "stance": case.stance,
            **changes_record(self.found, system),
        }

    def files(self, system: str) -> Files:
        """The page, the plans and the record."""
        made = dict(plans(self.found, system))
        return {
            **{f"change-{k}.svg": plan for k, plan in made.items()},
            "changes.json": document(self.kind, self.record(system)),
            "changes.html": changes_page(self.found, system, made),
        }


def write_changes(found: Changes, folder: str | Path, system: str) -> list[str]:
    """Write the changes into a folder: page, plans, JSON; returns the files' names.

    Raises InputError where the folder cannot be written; then nothing is left behind.
    """
    return write(ChangesAnswer(found=found), folder, system)
