"""The page command: from its options to one file that shows the aircraft and its room in 3D."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from planform.airframe.stages import stages_meant
from planform.airframe.stance import Standing, shaped, stand_on
from planform.cli.show import progress_bar
from planform.design.models import Design
from planform.design.place import Place
from planform.design.problems import InputError, Problem

ENDINGS = (".html", ".htm")


@dataclass(frozen=True)
class PageAsked:
    """The options as they were given; every stage where none is named."""

    stages: Sequence[str]
    stance: str | None
    spot: str | None
    workers: int | None


def show_page(
    design: Design, place: Place | None, asked: PageAsked, target: Path, system: str
) -> int:
    """Write the page; 0 where that is done."""
    from planform.fit.room import build_room, spot_point
    from planform.report.seen.answer import seen, write_page

    _checked(asked, place, target)
    stood = _standings(design, asked)
    room = None if place is None else build_room(place)
    if place is not None:
        spot_point(place, asked.spot)
    with progress_bar(len(stood) + 1) as step:
        found = seen(stood, room, asked.spot, step, asked.workers)
        step("writing the page")
        write_page(found, target, system)
    print(f"wrote {target}: open it in any browser; it needs no network and can be mailed")
    return 0


def _checked(asked: PageAsked, place: Place | None, target: Path) -> None:
    problems = []
    if target.suffix.lower() not in ENDINGS:
        allowed = "allowed: a name that ends in .html, which browsers open"
        problems.append(Problem("-o", str(target), allowed))
    if asked.spot is not None and place is None:
        allowed = "a spot is of a place; name a place file behind the design"
        problems.append(Problem("--spot", repr(asked.spot), allowed))
    if problems:
        raise InputError("option", problems)


def _standings(design: Design, asked: PageAsked) -> tuple[Standing, ...]:
    from planform.airframe.build import build

    airframe = build(shaped(design))
    meant, _ = stages_meant(airframe, asked.stages or ("all",))
    return tuple(stand_on(airframe, stage, asked.stance) for stage in meant)
