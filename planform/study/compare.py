"""What one option measures, fits, flies and weighs: the same functions as everywhere else."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from planform.aero.answer import pair, reference_wing
from planform.aero.flow import solve
from planform.aero.lifting import lifting_surfaces
from planform.airframe.build import Airframe, build
from planform.airframe.measure import design_measures, standing_measures
from planform.airframe.stages import stage_meant
from planform.airframe.stance import Standing, stage_named, stand_on
from planform.balance.answer import balance
from planform.core.canard import static_margin
from planform.design.load import design_from, place_from
from planform.design.models import Design
from planform.design.place import Place
from planform.design.problems import InputError
from planform.fit.room import Room, build_room
from planform.fit.verdict import judge
from planform.study.options import Option, changed_design

Array = NDArray[np.float64]
Loading = tuple[tuple[str, Array, Array, Array], ...]

USUAL_LIFT = 0.5
"""Lift coefficient on the base design's wing where none is given; assumption, always told."""


@dataclass(frozen=True)
class Terms:
    """What is held fixed while options are compared; SI.

    lift : lift coefficient on the base wing's area, so that the lift itself is the same for all
    cg : station of the CG [m]; None: not trimmed, no static margin
    skin : mass per wetted area of wing and winglets [kg/m2]; None: no change of weight
    """

    stage: str
    stance: str
    lift: float = USUAL_LIFT
    cg: float | None = None
    skin: float | None = None


@dataclass(frozen=True)
class Study:
    """Everything a worker needs, as plain tables: design and place files, and the terms."""

    design: str
    place: str | None
    terms: Terms


FIELDS: dict[str, tuple[str, str]] = {
    "tip_height": ("tip height", "length"),
    "width": ("overall width", "length"),
    "footprint": ("footprint", "area"),
    "wing_area": ("wing area", "area"),
    "winglet_area": ("winglet area, developed", "area"),
    "wetted_area": ("wetted area, wing and winglets", "area"),
    "neutral_point": ("neutral point", "station"),
    "neutral_point_error": ("its refinement difference", "fine"),
    "static_margin": ("static margin", "percent"),
    "alpha": ("alpha in trim", "angle"),
    "control": ("trimming incidence", "angle"),
    "drag_area": ("induced drag over dynamic pressure", "drag_area"),
    "drag_area_error": ("its refinement difference", "drag_area"),
    "drag_coefficient": ("induced drag coefficient, base area", "coefficient"),
    "drag_least": ("least induced drag of this outline at that lift", "drag_area"),
    "bending": ("root bending over lift", "fine"),
    "bending_error": ("its refinement difference", "fine"),
    "bending_bl": ("butt line of the axis of bending, the leading edge of the wing's root", "butt"),
    "bending_wl": ("waterline of that axis", "water"),
    "clearance": ("least clearance", "gap"),
    "mass_change": ("change of weight", "mass"),
}
"""Figures of an option: words and kind of quantity, in SI."""


def default_terms(
    design: Design,
    stage: str | None = None,
    stance: str | None = None,
    lift: float | None = None,
    cg: float | None = None,
    skin: float | None = None,
) -> tuple[Terms, tuple[str, ...]]:
    """The terms of a comparison, and what had to be taken as something.

    Without a CG the first loading case's is taken; without one there is no trim.
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
    terms = Terms(chosen.name, where, USUAL_LIFT if lift is None else lift, cg, skin)
    return terms, tuple(told)


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
    import json

    design = design_from(json.loads(study.design), "design")
    room = None
    if study.place is not None:
        room = build_room(place_from(json.loads(study.place), "place"))
    airframe = build(design)
    area, _, _ = reference_wing(airframe)
    return _Bench(design, airframe, room, area, _wetted(airframe))


def _wetted(airframe: Airframe) -> float:
    """Skin of wing and winglets [m2]."""
    from planform.airframe.measure import skin

    return sum(skin(p) for p in airframe.parts if p.role in ("wing", "winglet"))


DIGITS = 8
"""Decimals of a record in SI: beyond them the order of machine sums shows, not the aircraft."""


def evaluate(study: Study, option: Option) -> dict[str, Any]:
    """One option's record: figures in SI (None where there is none), verdicts, or a problem."""
    record: dict[str, Any] = dict.fromkeys(FIELDS)
    record |= {"number": option.number, "name": option.name, "verdict": None, "problem": None}
    record |= {"room_verdict": None, "door_verdict": None, "tightest": None}
    try:
        found = _figures(study, option)
        rounded = {k: round(v, DIGITS) for k, v in found.items() if isinstance(v, float)}
        record |= found | rounded
    except InputError as error:
        record["problem"] = "; ".join(str(p) for p in error.problems)
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


def option_loading(study: Study, option: Option) -> Loading | None:
    """Spanwise loading of an option in trim, surface by surface, or None without a CG."""
    bench, terms = _bench(study), study.terms
    if terms.cg is None:
        return None
    airframe = option_airframe(study, option)
    area, mac, _ = reference_wing(airframe)
    flow = solve(lifting_surfaces(airframe), area, mac)
    trimmed = flow.trim(terms.lift * bench.base_area / area, terms.cg)
    return tuple(flow.loading(trimmed.circulation))


def option_room(study: Study) -> Room | None:
    """The study's place, built."""
    return _bench(study).room


def _figures(study: Study, option: Option) -> dict[str, Any]:
    bench, terms = _bench(study), study.terms
    standing = option_standing(study, option)
    airframe = standing.airframe
    stood, found = standing_measures(standing), design_measures(airframe)
    area, mac, _ = reference_wing(airframe)
    wetted = _wetted(airframe)
    lattice = pair(lifting_surfaces(airframe), area, mac)
    point = lattice.figure(lambda f: f.neutral_point)
    out: dict[str, Any] = {
        "tip_height": stood["tip_height"],
        "width": stood["width"],
        "footprint": stood["footprint.area"],
        "wing_area": area,
        "winglet_area": sum(m.value for m in found.items if m.key == "winglet.area"),
        "wetted_area": wetted,
        "neutral_point": point.value,
        "neutral_point_error": point.change,
    }
    if terms.cg is not None:
        lift = terms.lift * bench.base_area / area  # the same lift for every option
        fine, coarse = (f.trim(lift, terms.cg) for f in (lattice.fine, lattice.coarse))
        out |= {
            "static_margin": static_margin(point.value, terms.cg, mac),
            "alpha": fine.alpha,
            "control": fine.control,
            "drag_area": fine.drag * area,
            "drag_area_error": abs(fine.drag - coarse.drag) * area,
            "drag_coefficient": fine.drag * area / bench.base_area,
            "drag_least": lattice.fine.least_drag(lift)[0] * area,
            "bending": fine.bending,
            "bending_error": abs(fine.bending - coarse.bending),
            "bending_bl": lattice.fine.root[0],
            "bending_wl": lattice.fine.root[1],
        }
    if terms.skin is not None:
        out["mass_change"] = terms.skin * (wetted - bench.base_wetted)
    if bench.room is not None:
        answer = judge(standing, bench.room)
        out |= {
            "verdict": answer.verdict,
            "room_verdict": answer.verdict_of("room"),
            "door_verdict": answer.door_verdict,
        }
        gaps = [(c.gap, c) for c in answer.checks if c.gap is not None]
        if gaps:
            gap, tight = min(gaps, key=lambda pair: pair[0])
            out["clearance"] = float(gap)
            out["tightest"] = (
                tight.what if tight.group == "room" else f"{tight.group}: {tight.what}"
            )
    return out


BETTER_LOW = ("drag_area", "bending", "tip_height")
"""What the trade plot weighs: less is better in each."""


def non_dominated(records: list[dict[str, Any]]) -> set[int]:
    """Numbers of the options that no other beats in drag, bending or tip height at no cost."""
    whole = [r for r in records if all(r[key] is not None for key in BETTER_LOW)]

    def beats(a: dict[str, Any], b: dict[str, Any]) -> bool:
        pairs = [(a[key], b[key]) for key in BETTER_LOW]
        return all(x <= y for x, y in pairs) and any(x < y for x, y in pairs)

    return {r["number"] for r in whole if not any(beats(other, r) for other in whole)}
