"""What would make it fit, printed and written down."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from planform.airframe.stages import stage_meant, stage_questions
from planform.cli.answers import headline, told
from planform.cli.options import length_given
from planform.cli.progress import told_on_change
from planform.cli.rolling import watching
from planform.design.models import Design
from planform.design.place import Place
from planform.design.questions import assumptions, design_questions, place_questions
from planform.report import to_json

if TYPE_CHECKING:
    from planform.study.changes import Changes


@dataclass(frozen=True)
class Asked:
    """The options as they were given."""

    stage: str | None
    stance: str | None
    spot: str | None
    keep: str | None
    seconds: float


SHARE = 40.0
"""One search may take this part of the whole time; assumption."""


def show_changes(
    design: Design, place: Place, asked: Asked, folder: Path | None, system: str, *, as_json: bool
) -> int:
    """Print the least changes and write them; 0 where it comes out or a change frees it, else 1."""
    from planform.report.changes.page import write_changes
    from planform.report.changes.words import to_table
    from planform.study.changes import Change, least_changes

    tell = told_on_change()

    def done(change: Change) -> None:
        tell(f"{change.what}: {change.answer}")

    keep = length_given("--keep", asked.keep)
    with watching(asked.seconds) as watch:
        found = least_changes(
            design, place, asked.stage, asked.stance, asked.spot,
            keep=keep, watch=watch, each=max(2.0, asked.seconds / SHARE),
            first=0.5 * asked.seconds, told=done,
        )  # fmt: skip
    airframe = found.base.case.standing.airframe
    taken = (*stage_meant(airframe, asked.stage)[1], *assumptions(design, place))
    questions = (
        *design_questions(design), *stage_questions(airframe), *place_questions(place)
    )  # fmt: skip
    written = [] if folder is None else write_changes(found, folder, system)
    if as_json:
        content = {
            "design": design.name,
            "place": place.name,
            "stage": found.base.case.stage.name,
            "stance": found.base.case.stance,
            **to_table(found, system),
            "questions": list(questions),
            "assumed": list(taken),
        }
        print(to_json.document("changes", content))
    else:
        _print(found, system)
        if written:
            print(f"wrote {', '.join(written)} to {folder}")
        for line in taken:
            print(f"taken: {line}")
        told(*questions)
    return 0 if found.free or found.found else 1


def _print(found: Changes, system: str) -> None:
    from planform.report.changes import words

    case = found.base.case
    title = f"{case.standing.title} in {case.place.name}"
    headline(title)
    print(words.verdict(found, system))
    for one in words.told(found, system):
        print(f"\n{one.number}. {one.what}  [{one.effort}]")
        for label, text in (
            ("least", one.bracket),
            ("tightest then", one.tight),
            ("beside", one.beside),
        ):
            if text:
                print(f"   {label}: {text}")
        for caution in one.cautions:
            print(f"   ! {caution}")
    rest = words.others(found, system)
    if rest:
        print("\nLooked at, and not found to free it:")
    for line in rest:
        print(f"- {line}")
    if found.stopped:
        print("The search ended before all was looked at: what had been found is told.")
    print()
    for line in words.notes(found, system):
        print(line)
