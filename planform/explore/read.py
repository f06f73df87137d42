"""What a page asks about, read: the files with values changed, and every problem of them."""

from __future__ import annotations

from dataclasses import dataclass

from planform.design.changing import DESIGN, PLACE, Source, with_changes
from planform.design.models import Design
from planform.design.naming import path_of, value_at
from planform.design.place import Place, Spot
from planform.design.problems import InputError, Problem, unknown
from planform.design.reading import Reading
from planform.explore.asked import At, Variant
from planform.report.record import Record

DRAGGED = "where it was moved to"
"""The name of a spot that a hand gave."""


@dataclass(frozen=True, eq=False)
class Files:
    """The files as they were last read well.

    version : counts how often they were read
    system : the units that the page is read in
    """

    design: Source
    place: Source | None
    version: int
    system: str

    def of(self, sort: str) -> Source | None:
        """One of them by its sort."""
        return self.design if sort == DESIGN else self.place


@dataclass(frozen=True, eq=False)
class AsRead:
    """A variant as it was read.

    spot : its name in the place
    """

    variant: Variant
    design: Design
    place: Place | None
    spot: str | None


class Refused(Exception):
    """What is wrong with what a page asks about: problems, each with the sort of its file."""

    def __init__(self, problems: list[tuple[str, Problem]]) -> None:
        super().__init__(len(problems))
        self.problems = problems

    def lines(self) -> list[Record]:
        """The problems as the page takes them."""
        return [problem_line(sort, one) for sort, one in self.problems]


def problem_line(sort: str, one: Problem) -> Record:
    """A problem as the page takes it.

    sort : of the file that it is in
    """
    return {
        "file": sort,
        "path": one.path,
        "given": one.given,
        "allowed": one.allowed,
        "words": str(one),
    }


def read(files: Files, variant: Variant) -> AsRead:
    """The files with a variant's values in them. Raises Refused with all that is wrong."""
    models: dict[str, Design | Place] = {}
    problems: list[tuple[str, Problem]] = []
    for sort in (DESIGN, PLACE):
        source = files.of(sort)
        changes = variant.changes.get(sort, {})
        if source is None:
            problems += [
                (sort, Problem(p, repr(t), "no place was given")) for p, t in changes.items()
            ]
            continue
        try:
            models[sort] = with_changes(source, changes)
        except InputError as error:
            problems += [(sort, problem) for problem in error.problems]
    design, place = models.get(DESIGN), models.get(PLACE)
    spot = variant.spot
    if isinstance(design, Design):
        problems += [(DESIGN, one) for one in _names(design, variant)]
    if isinstance(place, Place) and isinstance(spot, str) and spot not in _spots(place):
        problems.append((PLACE, unknown("spot", spot, _spots(place))))
    if problems or not isinstance(design, Design):
        raise Refused(problems)
    if not isinstance(place, Place):
        return AsRead(variant, design, None, None)
    if isinstance(spot, At):
        place, spot = _dragged(place, spot)
    return AsRead(variant, design, place, spot)


def _names(design: Design, variant: Variant) -> list[Problem]:
    """What is wrong with the names of stage and stance."""
    stages = [stage.name for stage in design.stages]
    out = []
    if variant.stage is not None and variant.stage not in stages:
        out.append(unknown("stage", variant.stage, stages))
    if variant.stance is not None and variant.stance not in design.stances:
        out.append(unknown("stance", variant.stance, design.stances))
    return out


def _spots(place: Place) -> list[str]:
    return [spot.name for spot in place.spots]


def _dragged(place: Place, at: At) -> tuple[Place, str]:
    """The place with one spot more, where a hand moved the aircraft to; and its name."""
    name = DRAGGED
    while name in _spots(place):
        name += "'"
    texts = [f"{at.x:.4f} m", f"{at.y:.4f} m"]
    spot = Spot.model_validate({"name": name, "at": texts, "heading": f"{at.heading:.6f} rad"})
    return place.model_copy(update={"spots": (*place.spots, spot)}), name


def values_of(moved: AsRead) -> Record:
    """The changed fields as they are read: text, value [SI] and tolerance."""
    out: dict[str, dict[str, Record]] = {}
    for sort, changes in moved.variant.changes.items():
        model = moved.design if sort == DESIGN else moved.place
        if model is None:
            continue
        for path in changes:
            found = value_at(model, path_of(path))
            if isinstance(found, Reading):
                told: Record = {
                    "text": found.text,
                    "value": float(found),
                    "tolerance": found.tolerance,
                }
            else:
                number = float(found) if isinstance(found, int | float) else None
                told = {"text": str(found), "value": number, "tolerance": 0.0}
            out.setdefault(sort, {})[path] = told
    return {**out}


def refused_by(error: InputError, moved: AsRead) -> Refused:
    """What building, standing or judging refused, with the file that it is of."""
    place = moved.place is not None and error.origin == moved.place.name
    sort = PLACE if place else DESIGN
    return Refused([(sort, problem) for problem in error.problems])
