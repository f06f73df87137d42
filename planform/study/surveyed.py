"""A survey with all that is told of it: readings, their explanation, drawn against as built."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np

from planform.airframe.build import Airframe
from planform.airframe.stages import stage_meant
from planform.airframe.stance import Standing, stand_on
from planform.core.vectors import Array
from planform.design.as_built_file import BuiltRow, with_as_built
from planform.design.files import text_of
from planform.design.including import whole_of
from planform.design.load import design_from
from planform.design.models import Design, Stage
from planform.design.told import counted
from planform.fit.room import Room
from planform.rigging.equations import Equations
from planform.rigging.explain.net import Observed
from planform.rigging.explain.told import Explanation
from planform.rigging.readings import ReadingList
from planform.rigging.survey import Explained, survey
from planform.study.as_built import BeforeAndAfter, before_and_after


@dataclass(frozen=True, eq=False)
class ReadAt:
    """Where a reading is taken, on the aircraft as drawn, in aircraft axes.

    at : (3,) the point [m] ; to : (3,) its second end, where there is one [m]
    along : (3,) the direction in which the point would have to move for a larger reading
    lever : what a reading is turned into a length there by: 1 for a length, [m] for an angle
    """

    at: Array
    to: Array | None
    along: Array
    lever: float = 1.0


@dataclass(frozen=True, eq=False)
class Surveyed:
    """What was read of an aircraft, and what came of it.

    drawn : as it stood while it was read ; source : the readings' file by name
    tolerances : (m,) of the readings [m] or [rad]
    spots : (m,) where each was taken; None for those that are no point of the aircraft
    sheet : drawn against as built; None where nothing was found that may be built in
    as_built : the design file as built, as text; empty likewise
    beside : texts of the files that it names, by their names from its folder
    taken : what was not given, and taken as something
    met : slopes of the floor, attitudes and level zeros that were found on the way, by name [rad]
    """

    drawn: Standing
    source: str
    readings: tuple[Observed, ...]
    tolerances: Array
    spots: tuple[ReadAt | None, ...]
    explanation: Explanation
    sheet: BeforeAndAfter | None
    as_built: str
    taken: tuple[str, ...] = ()
    beside: Mapping[str, str] = field(default_factory=dict)
    met: tuple[tuple[str, float], ...] = ()

    def row(self, number: int) -> str:
        """A reading by the row of its file, or by its number where it has none."""
        row = self.readings[number].row
        return f"row {row}" if row else f"reading {number + 1}"


def surveyed(
    design: Design, airframe: Airframe, file: Path, given: ReadingList, asked: SurveyTerms
) -> Surveyed:
    """Readings of an aircraft explained, written into its design, and what that does.

    design : as loaded; what it says of as built is left out of what the readings are held against
    airframe : of it as drawn ; file : that it was loaded from
    Raises InputError for what `survey` refuses, and for a stage, stance or spot that is not there.
    """
    before = airframe.design
    stage, stance, taken = _stood(airframe, given, asked)
    standing = stand_on(airframe, stage, stance)
    found = survey(airframe, given, asked.datum)
    source = Path(given.source).name
    rows = [
        BuiltRow(way.of, way.side, way.kind, one.by, one.half_width, _whence(given, source))
        for way, one in found.built
    ]
    sheet, as_built = None, ""
    if rows:
        as_built = with_as_built(text_of(file), rows, design.units)
        after = _with_rows(design, rows)
        sheet = before_and_after(before, after, asked.room, stage.name, standing.stance_name)
    return Surveyed(
        drawn=standing,
        source=source,
        readings=found.observed,
        tolerances=found.tolerance,
        spots=_spots(found.equations),
        explanation=found.explanation,
        sheet=sheet,
        as_built=as_built,
        taken=(*given.taken, *taken),
        beside=_beside(design, file) if as_built else {},
        met=_met(found),
    )


def _stood(
    airframe: Airframe, given: ReadingList, asked: SurveyTerms
) -> tuple[Stage, str | None, tuple[str, ...]]:
    """How both aircraft stand in the sheet: as asked, else as it stood for every reading."""
    where = {(one.stage, one.stance) for one in given.readings}
    if asked.stage is None and len(where) == 1:
        name, stance = next(iter(where))
        return stage_meant(airframe, name)[0], asked.stance or stance, ()
    stage, taken = stage_meant(airframe, asked.stage)
    return stage, asked.stance, taken


MET = ("attitude", "floor's slope", "zero of")


def _met(found: Explained) -> tuple[tuple[str, float], ...]:
    """The unknowns that a builder would look at again before the next reading."""
    told = found.explanation
    if told.too_few:
        return ()
    pairs = zip(found.unknown, told.unknown.tolist(), strict=True)
    return tuple((name, value) for name, value in pairs if name.startswith(MET))


def _beside(design: Design, file: Path) -> dict[str, str]:
    """The files that a design file names, which have to lie beside it."""
    base = file.parent.resolve()
    named = [one.relative_to(base).as_posix() for one in whole_of(file, Design).files]
    named += [one.file for one in design.profiles.values() if one.file is not None]
    return {name: text_of(base / name) for name in dict.fromkeys(named)}


@dataclass(frozen=True, eq=False)
class SurveyTerms:
    """How a survey is asked for: what is taken as drawn, and what before and after are shown at."""

    datum: tuple[str, ...] = ()
    stage: str | None = None
    stance: str | None = None
    room: Room | None = None


def _whence(given: ReadingList, source: str) -> str:
    return f"survey of {source}, {counted(len(given.readings), 'reading')}"


def _with_rows(design: Design, rows: Sequence[BuiltRow]) -> Design:
    """The design with what was found, checked again; what it had of the same names is replaced."""
    new = {(row.of, row.side, row.kind) for row in rows}
    table = design.model_dump(mode="json", exclude_unset=True)
    kept = []
    for one in table.get("as_built", []):
        side = one.get("side") or ""
        rest = {k: v for k, v in one.items() if (one["of"], side, k) not in new}
        if set(rest) - {"of", "side", "text"}:
            kept.append(rest)
    for row in rows:
        side = {"side": row.side} if row.side else {}
        kept.append({"of": row.of, **side, row.kind: row.written(design.units)})
    return design_from({**table, "as_built": kept}, "as built")


STEP = 1e-5
"""How far a point is moved to see what a reading does [m]."""


def _spots(own: Equations) -> tuple[ReadAt | None, ...]:
    """Where each reading is taken, and where its point would have to go for a larger one."""
    at, numbers = own.at, {point.name: k for k, point in enumerate(own.points)}
    slopes = np.zeros((len(own.rows), *at.shape))
    for k in range(len(at)):
        for axis in range(3):
            step = np.zeros_like(at)
            step[k, axis] = STEP
            change = own.seen(at + step, own.start) - own.seen(at - step, own.start)
            slopes[:, k, axis] = change / (2.0 * STEP)
    out: list[ReadAt | None] = []
    for row, slope in zip(own.rows, slopes, strict=True):
        own_point = numbers[row.reading.point]
        size = float(np.linalg.norm(slope[own_point]))
        to = at[numbers[row.reading.to]] if row.reading.to else None
        if size < TINY:
            out.append(None)
            continue
        along = slope[own_point] / size
        out.append(ReadAt(at[own_point], to, along, 1.0 / size))
    return tuple(out)


TINY = 1e-9
"""A reading that a point does less to does not hang on it."""
