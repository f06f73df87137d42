"""The survey command: from readings or a scan to what differs from the drawing."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from planform.cli import completing
from planform.cli.arguments import (
    DesignFile,
    Json,
    OneStage,
    Sheets,
    StanceName,
    Units,
    command,
    design_and_place,
    file_given,
    none_of,
    option_given,
    output_option,
    sheets_of,
    system_of,
)
from planform.design.problems import InputError, Problem

if TYPE_CHECKING:
    from planform.design.models import Design
    from planform.design.place import Place
    from planform.report.answer import Answer

ReadingsFile = Annotated[
    Path,
    typer.Argument(
        metavar="READINGS",
        help="what was read: a table (.csv), or a scan (.ply, .stl, .e57, .xyz, .pts, .asc)",
    ),
]
PlaceToo = Annotated[
    Path | None, file_given("PLACE", "place file (.toml), to fit drawn and as built", "place")
]
Datum = Annotated[
    list[str] | None,
    typer.Option(
        "--datum",
        metavar="POINT",
        help="a named point that is taken as drawn, again for another, or several with ; between",
    ),
]
Unit = Annotated[
    str | None,
    option_given(
        "--scanned", "UNIT", "of a scan's numbers: m, mm, cm, in or ft", completing.scan_units
    ),
]


@dataclass(frozen=True)
class SurveyAsked:
    """The command's options as written."""

    design: Path
    readings: Path
    place: Path | None
    stage: str | None
    stance: str | None
    datum: tuple[str, ...]
    unit: str | None
    paper: str | None


@command()
def survey(
    design: DesignFile,
    readings: ReadingsFile,
    place: PlaceToo = None,
    stage: OneStage = None,
    stance: StanceName = None,
    datum: Datum = None,
    scan_unit: Unit = None,
    output: Annotated[
        Path | None, output_option("write sheet, pictures, JSON and the design as built here")
    ] = None,
    paper: Sheets = None,
    units: Units = None,
    as_json: Json = False,
) -> None:
    """What was read of the aircraft as built: what explains it, and what it does."""
    sheets = sheets_of(paper)
    asked = SurveyAsked(
        design, readings, place, stage, stance, _names(datum), scan_unit, sheets
    )  # fmt: skip
    raise typer.Exit(show_survey(asked, output, units, as_json=as_json))


def _names(given: list[str] | None) -> tuple[str, ...]:
    """Names of points; they may hold commas, so several in one text have semicolons between."""
    parts = (part.strip() for text in given or () for part in text.split(";"))
    return tuple(part for part in parts if part)


def show_survey(
    asked: SurveyAsked, folder: Path | None, units: str | None, *, as_json: bool
) -> int:
    """Print a survey, or write it; 0 where it has one explanation, else 1."""
    from planform.airframe.build import drawn
    from planform.airframe.stance import shaped
    from planform.cli.show import show
    from planform.rigging.scan.cloud import READERS

    loaded, shop = design_and_place(asked.design, asked.place)
    shaped(loaded)
    system = system_of(units, loaded.units)
    answer: Answer
    if asked.readings.suffix.lower() in READERS:
        answer = _scan(drawn(loaded), asked)
    else:
        answer = _readings(loaded, shop, asked)
    return show(answer, folder, system, as_json=as_json)


def _scan(design: Design, asked: SurveyAsked) -> Answer:
    """The scan on the drawn aircraft, at one stage."""
    from planform.airframe.build import build
    from planform.airframe.stages import stage_meant
    from planform.airframe.stance import stand_on
    from planform.report.survey.scan_answer import ScanAnswer
    from planform.study.scanned import scanned

    none_of(
        "allowed with a table of readings; a scan alone gives no design as built",
        {"PLACE": asked.place, "--datum": "; ".join(asked.datum) or None},
    )
    airframe = build(design)
    stage, taken = stage_meant(airframe, asked.stage)
    standing = stand_on(airframe, stage, asked.stance)
    found = scanned(standing, asked.readings, asked.unit, taken)
    return ScanAnswer(found=found, taken=taken, paper=asked.paper)


def _readings(design: Design, shop: Place | None, asked: SurveyAsked) -> Answer:
    """The readings of a table, explained."""
    from planform.airframe.build import build, drawn
    from planform.fit.room import build_room
    from planform.report.survey.answer import SurveyAnswer
    from planform.rigging.reading_file import read_readings
    from planform.study.surveyed import SurveyTerms, surveyed

    if asked.unit is not None:
        allowed = "allowed with a scan; a table says it in a line such as '# units: mm'"
        raise InputError("option", [Problem("--scanned", repr(asked.unit), allowed)])
    airframe = build(drawn(design))
    given = read_readings(asked.readings, airframe)
    terms = SurveyTerms(
        datum=asked.datum,
        stage=asked.stage,
        stance=asked.stance,
        room=None if shop is None else build_room(shop),
    )
    found = surveyed(design, airframe, asked.design, given, terms)
    taken = (*found.taken, *(() if found.sheet is None else found.sheet.taken))
    return SurveyAnswer(found=found, taken=tuple(dict.fromkeys(taken)), paper=asked.paper)
