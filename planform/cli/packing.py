"""The pack command: from its options to several aircraft in one hangar."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from planform.airframe.build import build
from planform.airframe.stages import stage_questions, usual_stage
from planform.airframe.stance import Standing, shaped, stage_named, stand_on
from planform.cli.options import length_given
from planform.cli.progress import told_on_change
from planform.cli.show import show
from planform.cli.watching import watching
from planform.design.models import Design, Stage
from planform.design.place import Place
from planform.design.problems import InputError, Problem, unknown
from planform.design.questions import assumptions, design_questions, place_questions

MOST = 6
"""More aircraft than this are not tried: the orders grow too many."""


@dataclass(frozen=True)
class PackingAsked:
    """The options as they were given."""

    stages: Sequence[str]
    gap: str | None
    over: str | None
    seconds: float


def show_packing(
    place: Place,
    designs: Sequence[Design],
    asked: PackingAsked,
    folder: Path | None,
    system: str,
    *,
    as_json: bool,
) -> int:
    """Print an arrangement and write it down; 0 where one was found, else 1."""
    from planform.fit.packing import pack
    from planform.fit.room import build_room
    from planform.report.packing.answer import PackingAnswer
    from planform.study.spreads_of_parked import packed_spreads

    if len(designs) > MOST:
        allowed = f"allowed: up to {MOST}; place those that are never moved as obstacles"
        raise InputError("DESIGN", [Problem("", f"{len(designs)} aircraft", allowed)])
    if not place.doors:
        allowed = "a door to come in by: [[doors]] with wall, from_corner, width and height"
        raise InputError(place.name, [Problem("doors", "none", allowed)])
    wished = place.clearances.wanted("obstacles")[0]
    between = _between("--gap", asked.gap, wished)
    upright = _between("--over", asked.over, wished)
    aircraft, chosen = _named(designs, asked.stages)
    tell = told_on_change()
    with watching(asked.seconds) as watch:

        def goes(step: str) -> bool:
            tell(step)
            return watch(step, 0, 0.0)

        found = pack(build_room(place), aircraft, between, upright, goes)
    unlike = {one.airframe.design.name: one.airframe for _, one in aircraft}.values()
    questions = [q for a in unlike for q in (*design_questions(a.design), *stage_questions(a))]
    lines = [line for a in unlike for line in assumptions(a.design, place)]
    answer = PackingAnswer(
        found=found,
        spreads=packed_spreads(found),
        taken=tuple(dict.fromkeys([*chosen, *lines])),
        questions=(*questions, *place_questions(place)),
    )
    return show(answer, folder, system, as_json=as_json)


def _between(option: str, text: str | None, wished: float | None) -> float:
    """A gap between aircraft [m]: as given, else what the place keeps to what stands."""
    given = length_given(option, text)
    if given is None:
        given = wished
    if given is None or not given > 0.0:
        allowed = "allowed: more than zero, as '6 in'; it is kept between aircraft that are parked"
        raise InputError("option", [Problem(option, repr(text) if text else "none", allowed)])
    return given


def _named(
    designs: Sequence[Design], stages: Sequence[str]
) -> tuple[list[tuple[str, Standing]], list[str]]:
    """Each aircraft as it stands, complete where no stage is given, by a name of its own.

    And what had to be taken as something.
    """
    names = [design.name for design in designs]
    by_name = {}
    for k, design in enumerate(designs):
        count = names[: k + 1].count(design.name)
        name = design.name if names.count(design.name) == 1 else f"{design.name} no. {count}"
        by_name[name] = design
    chosen: dict[str, Stage] = {}
    for text in stages:
        name, stage = _staged(text, by_name)
        if name in chosen:
            allowed = f"allowed: one stage for each aircraft; {name} has {chosen[name].name!r}"
            raise InputError("option", [Problem("--stage", repr(text), allowed)])
        chosen[name] = stage
    built = {key: build(design) for key, design in {id(d): d for d in designs}.items()}
    out, taken = [], []
    for name, design in by_name.items():
        airframe = built[id(shaped(design))]
        if name in chosen:
            stage = chosen[name]
        else:
            stage, words = usual_stage(airframe)
            taken.append(f"{name}: {words}")
        out.append((name, stand_on(airframe, stage)))
    return out, taken


def _staged(text: str, by_name: dict[str, Design]) -> tuple[str, Stage]:
    """An aircraft's name and its stage, given as 'aircraft: stage'."""
    name, colon, stage = (part.strip() for part in text.partition(":"))
    if not colon:
        allowed = f"allowed: an aircraft and its stage, as '{next(iter(by_name))}: complete'"
        raise InputError("option", [Problem("--stage", repr(text), allowed)])
    if name not in by_name:
        raise InputError("option", [unknown("--stage", name, by_name)])
    return name, stage_named(by_name[name], stage)
