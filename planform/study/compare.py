"""What one option measures, fits, flies and weighs: the same functions as everywhere else."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from planform.aero.answer import reference_wing
from planform.aero.lifting import lifting_surfaces
from planform.airframe.build import Airframe, build
from planform.airframe.measure import Measures, design_measures, standing_measures
from planform.airframe.stages import stage_meant
from planform.airframe.stance import Standing, stage_named, stand_on
from planform.balance.answer import balance
from planform.design.load import design_from, place_from
from planform.design.models import Design, Stage
from planform.design.place import Place
from planform.design.problems import InputError, Problem
from planform.design.units import show
from planform.fit.answer import LEAST_PARKED, FitAnswer
from planform.fit.check import ROOM
from planform.fit.room import Room, build_room
from planform.fit.verdict import NOT, UNJUDGED
from planform.study.compare_flown import flown
from planform.study.judging import judge
from planform.study.options import Option, changed_design
from planform.study.terms import USUAL_LIFT, Figures, Terms, problem_words

Array = NDArray[np.float64]
Loading = tuple[tuple[str, Array, Array, Array], ...]


@dataclass(frozen=True)
class Study:
    """Everything a worker needs, as plain tables: design and place files, and the terms."""

    design: str
    place: str | None
    terms: Terms


STRAIGHT, ASKEW = "straight", "straight, carried or on dollies, the nose turned"
TURNED = "only turning on the way, carried or on dollies"
NO_WAY, TOUCHES = "not at all", "not from there: it already touches where it is parked"
NOT_DECIDED, NOT_JUDGED = "not decided", "not judged"
"""How an option comes out of the place."""


FIELDS: dict[str, tuple[str, str]] = {
    "tip_height": ("tip height", "length"),
    "width": ("overall width", "length"),
    "footprint": ("footprint", "area"),
    "wing_area": ("wing area", "area"),
    "mac": ("mean aerodynamic chord of the wing", "fine"),
    "winglet_area": ("winglet area, developed", "area"),
    "wetted_area": ("wetted area, wing and winglets", "area"),
    "neutral_point": ("neutral point", "station"),
    "neutral_point_error": ("neutral point, refinement difference", "fine"),
    "neutral_point_coarse": ("neutral point by the coarser lattice", "station"),
    "lift_at_zero": ("lift coefficient at no angle of attack, own wing area", "coefficient"),
    "moment_at_zero": (
        "moment coefficient about the neutral point, nose up, own wing area and chord",
        "coefficient",
    ),
    "static_margin": ("static margin, of the wing's mean aerodynamic chord", "percent"),
    "nose_up_angle": ("nose-up angle at the same lift", "angle"),
    "turned_by": ("trimming surface turned by", "angle"),
    "set_to": ("trimming surface set to", "angle"),
    "section_lift": ("largest section lift coefficient at the same lift", "coefficient"),
    "section_lift_bl": ("butt line of the largest section lift", "butt"),
    "drag_area": ("induced drag over dynamic pressure", "drag_area"),
    "drag_area_error": ("induced drag over dynamic pressure, refinement difference", "drag_area"),
    "drag_area_coarse": ("induced drag over dynamic pressure by the coarser lattice", "drag_area"),
    "drag_coefficient": ("induced-drag coefficient, on the base wing area", "coefficient"),
    "drag_least": ("least induced drag of this outline at that lift", "drag_area"),
    "bending": ("root bending over lift", "fine"),
    "bending_error": ("root bending over lift, refinement difference", "fine"),
    "bending_coarse": ("root bending over lift by the coarser lattice", "fine"),
    "bending_bl": ("butt line of the axis of bending, the leading edge of the wing's root", "butt"),
    "bending_wl": ("waterline of that axis", "water"),
    "parked_gap": (LEAST_PARKED, "gap"),
    "out_gap": ("least gap on the way out", "gap"),
    "mass_change": ("change of weight", "mass"),
}
"""Figures of an option: words and kind of quantity, in SI."""

TEXTS: dict[str, str] = {
    "name": "option",
    "verdict": "verdict",
    "room_verdict": "in the room",
    "door_verdict": "straight through a door",
    "out_verdict": "coming out",
    "comes_out": "how it comes out",
    "parked_at": "where the least gap is, parked, thresholds apart",
    "out_at": "where the least gap is on the way out",
    "problem": "why it cannot be built",
    "lattice": "why the lattice tells none of its figures, or no trim",
    "surfaces": "surfaces in the lattice",
    "trimmer": "trimming surface",
    "section_lift_on": "surface of the largest section lift",
    "shares": "share of the same lift, surface by surface",
    "loading": "loading along the span at the same lift",
}
"""What a record says in words, or as JSON: `shares` by surface, and `loading`, a list of surfaces
with their name, butt lines, distances along the surface and chord times section lift [m]."""


def default_terms(
    design: Design,
    stage: str | None = None,
    stance: str | None = None,
    lift: float | None = None,
    cg: float | None = None,
    skin: float | None = None,
) -> tuple[Terms, tuple[str, ...]]:
    """The terms of a comparison, and what had to be taken as something.

    Without a CG the first loading case's is taken; without one there is no trim. Raises
    InputError for a CG ahead of or behind every surface that lifts.
    """
    told: list[str] = []
    airframe = build(design)
    chosen, taken = stage_meant(airframe, stage)
    told += taken
    where = stance or chosen.stance
    if lift is None:
        told.append(f"lift: a coefficient of {USUAL_LIFT} on the base design's wing area")
    if cg is None:
        found = balance(airframe, ())
        if found.cases:
            cg = found.cases[0].total.fs
            told.append(f"CG: that of the loading case {found.cases[0].name!r}")
        else:
            told.append("CG: none given and no loading case; no trim, no static margin")
    else:
        _refuse_outside(airframe, chosen, cg)
    terms = Terms(chosen.name, where, USUAL_LIFT if lift is None else lift, cg, skin)
    return terms, tuple(told)


def _refuse_outside(airframe: Airframe, stage: Stage, cg: float) -> None:
    """InputError where a CG [m] lies ahead of or behind every surface that lifts at the stage."""
    try:
        lines = [surface.line for surface in lifting_surfaces(airframe, stage)]
    except InputError:
        return  # each option then says why it has no figures
    low = min(float(line.edge[:, 0].min()) for line in lines)
    high = max(float((line.edge[:, 0] + line.chord).max()) for line in lines)
    if not low <= cg <= high:
        unit = "in" if airframe.design.units in ("ft-in", "in") else "mm"
        given, first, last = (f"FS {show(x, 'length', unit)}" for x in (cg, low, high))
        words = (
            f"{given} is {'ahead of' if cg < low else 'behind'} every surface that lifts "
            f"({first} to {last}); is it meant? allowed: a CG between them"
        )
        raise InputError("option", [Problem("--cg", "", words)])


def study_of(design: Design, place: Place | None, terms: Terms) -> Study:
    """A study as a worker takes it."""
    shop = None if place is None else place.model_dump_json(exclude_unset=True)
    return Study(design.model_dump_json(exclude_unset=True), shop, terms)


@dataclass(frozen=True, eq=False)
class _Bench:
    """The base of a study, built once in every worker."""

    design: Design
    airframe: Airframe
    room: Room | None
    base_area: float
    base_wetted: float


@lru_cache(maxsize=2)
def _bench(study: Study) -> _Bench:
    design = design_from(json.loads(study.design), "design")
    room = None
    if study.place is not None:
        room = build_room(place_from(json.loads(study.place), "place"))
    airframe = build(design)
    area, _, _ = reference_wing(airframe)
    return _Bench(design, airframe, room, area, _wetted(airframe))


def _winglets(airframe: Airframe) -> set[str]:
    """The winglets by name."""
    return {half.group for half in airframe.halves_in("winglet")}


def _winglet_area(airframe: Airframe, found: Measures) -> float:
    """Area of one winglet of each pair [m2]; the mean of the two where they differ."""
    total = 0.0
    for group in sorted(_winglets(airframe)):
        keys = {f"{side}{group}.area" for side in ("", "left ", "right ")}
        each = [m.value for m in found.items if m.key in keys]
        total += sum(each) / len(each)
    return total


def _wetted(airframe: Airframe) -> float:
    """Skin of wing and winglets [m2]."""
    return sum(p.skin() for p in airframe.parts if p.role in ("wing", "winglet"))


DIGITS = 8
"""Decimals of a record in SI: beyond them the order of machine sums shows, not the aircraft."""


def evaluate(study: Study, option: Option) -> Figures:
    """One option's record: figures in SI (None where there is none), verdicts, or a problem."""
    record: Figures = dict.fromkeys(FIELDS) | dict.fromkeys(TEXTS)
    record |= {"number": option.number, "name": option.name}
    try:
        found = _figures(study, option)
        rounded = {k: round(v, DIGITS) for k, v in found.items() if isinstance(v, float)}
        record |= found | rounded
    except InputError as error:
        record["problem"] = problem_words(error)
    return record


def option_airframe(study: Study, option: Option) -> Airframe:
    """The built airframe of an option."""
    bench = _bench(study)
    if not option.changes:
        return bench.airframe
    return build(changed_design(bench.design, option.changes), like=bench.airframe)


def option_standing(study: Study, option: Option) -> Standing:
    """An option as it stands in the study's stage and stance."""
    airframe = option_airframe(study, option)
    return stand_on(airframe, stage_named(airframe.design, study.terms.stage), study.terms.stance)


def loading_of(record: Mapping[str, Any]) -> Loading | None:
    """Loading along the span of a record's option in trim, surface by surface; None without."""
    if record["loading"] is None:
        return None
    return tuple(
        (name, np.array(y), np.array(along), np.array(value))
        for name, y, along, value in json.loads(record["loading"])
    )


def option_room(study: Study) -> Room | None:
    """The study's place, built."""
    return _bench(study).room


def _figures(study: Study, option: Option) -> Figures:
    bench, terms = _bench(study), study.terms
    standing = option_standing(study, option)
    airframe = standing.airframe
    stood, found = standing_measures(standing), design_measures(airframe)
    area, mac, _ = reference_wing(airframe)
    wetted = _wetted(airframe)
    out: dict[str, Any] = {
        "tip_height": next((m.value for m in stood.items if m.key == "tip_height"), None),
        "width": stood["width"],
        "footprint": stood["footprint.area"],
        "wing_area": area,
        "mac": mac,
        "winglet_area": _winglet_area(airframe, found),
        "wetted_area": wetted,
    }
    try:
        out |= flown(standing, area, mac, terms, bench.base_area)
    except InputError as error:
        out["lattice"] = problem_words(error)
    if terms.skin is not None:
        out["mass_change"] = terms.skin * (wetted - bench.base_wetted)
    if bench.room is not None:
        out |= _fitted(judge(standing, bench.room, whole=False))
    return out


def _fitted(answer: FitAnswer) -> Figures:
    """The verdicts, how it comes out, and the least gaps parked and on that way."""
    out: dict[str, Any] = {
        "verdict": answer.verdict.value,
        "room_verdict": answer.verdict_of(ROOM).value,
        "door_verdict": answer.door_verdict.value,
        "out_verdict": answer.out_verdict.value,
        "comes_out": _leaves(answer),
    }
    for key, checks in (("parked", answer.in_group(ROOM)), ("out", answer.out_checks)):
        gaps = [(c.gap, c.title) for c in checks if c.gap is not None]
        if gaps:
            gap, out[f"{key}_at"] = min(gaps)
            out[f"{key}_gap"] = float(gap)
    return out


def _leaves(answer: FitAnswer) -> str:
    """How it comes out: straight where that is enough, else turned, or why it does not."""
    if not answer.passages:
        return NOT_JUDGED
    if answer.out_verdict == NOT:
        return TOUCHES if answer.way is not None and answer.way.meets is not None else NO_WAY
    if answer.out_verdict == UNJUDGED:
        return NOT_DECIDED
    return TURNED if answer.door_verdict == NOT else _straight(answer)


def _straight(answer: FitAnswer) -> str:
    """How it goes straight through the best door: rolling, or carried with the nose turned."""
    door = next((p for p in answer.passages if p.door == answer.best_door), None)
    if door is None or door.rolling:
        return STRAIGHT
    return f"{ASKEW} {abs(round(np.degrees(door.best_heading)))} deg"


BETTER_LOW = ("drag_area", "bending", "tip_height")
"""What the trade plot weighs: less is better in each."""


def non_dominated(records: list[Figures]) -> set[int]:
    """Numbers of the options that no other beats in drag, bending or tip height at no cost."""
    whole = [r for r in records if all(r[key] is not None for key in BETTER_LOW)]

    def beats(a: dict[str, Any], b: dict[str, Any]) -> bool:
        pairs = [(a[key], b[key]) for key in BETTER_LOW]
        return all(x <= y for x, y in pairs) and any(x < y for x, y in pairs)

    return {r["number"] for r in whole if not any(beats(other, r) for other in whole)}
