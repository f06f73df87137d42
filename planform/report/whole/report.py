"""The main job: a folder with the report, the sheet, the pictures, the solids and the data."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Any

from planform.airframe.export import write_solids
from planform.airframe.measure import Measures
from planform.airframe.stages import usual_stage
from planform.airframe.stance import Standing
from planform.design.guidance import GUIDES, space_module
from planform.design.models import Design
from planform.design.place import Place
from planform.design.told import reader
from planform.drawing.drawing import Drawing
from planform.drawing.pictures import start
from planform.drawing.scenes import CORNERS, aircraft_scene, room_scene
from planform.drawing.views import front_view, plan_view
from planform.drawing.writers import save
from planform.report import to_json
from planform.report.balance.page import section
from planform.report.fit.advice import BAND_NOTE, sentences
from planform.report.fit.push import PUSHED, instant, side_views
from planform.report.folder import whole_folder
from planform.report.measures.sheet import Row, classes, rows, to_csv
from planform.report.page import drawn, image, markup, page, words_for
from planform.report.way_out.page import brief
from planform.report.way_out.words import WAYS
from planform.report.whole.collect import Findings, Progress, collect
from planform.report.words import CAUTIONS, ROOM_SIDES, curved, whence


def write_report(
    design: Design,
    place: Place,
    folder: str | Path,
    system: str | None = None,
    progress: Progress = lambda step: None,
) -> Findings:
    """Write everything about a design in a place into a folder; returns the findings.

    system : one of 'ft-in', 'in', 'mm', 'm'; the design's own units where None
    Raises InputError where the folder cannot be written; then nothing is left behind.
    """
    system = system or design.units
    with whole_folder(Path(folder), "report") as workshop:
        found = collect(design, place, progress)
        progress("drawing pictures")
        rooms = [room_scene(answer, found.room, system) for answer in found.fits]
        scenes = [aircraft_scene(found.meant)]
        scenes += [_named(scene, f"room-{k + 1}") for k, scene in enumerate(rooms) if scene]
        run = start(tuple(scenes), workshop)
        plans = [plan_view(answer, found.room, system) for answer in found.fits]
        sides = [[drawn(v) for v in side_views(a, found.room, system)] for a in found.fits]
        fronts = [front_view(answer, found.room, system) for answer in found.fits]
        write_solids(found.meant, workshop)
        (workshop / "answer.json").write_text(everything(found), encoding="utf-8")
        lines = rows(found.heights, found.height_spreads)
        (workshop / "dimensions.csv").write_text(to_csv(lines, reader(system)), encoding="utf-8")
        balance = None if found.balance is None else section(found.balance, system)
        pictures = run.finish()
        files = pictures.files
        for k, plan in enumerate(plans):
            save(plan, workshop / f"plan-{k + 1}.svg")
        progress("writing pages")
        whole = page(
            "report.html",
            **words_for(system),
            f=found,
            advice=[sentences(one, system) for one in found.advices],
            band_note=BAND_NOTE,
            whence=partial(whence, found.place),
            curved=lambda check: curved(check, system),
            sides=sides,
            instant=lambda tight: instant(tight, system),
            pushed=(WAYS, *PUSHED, ROOM_SIDES),
            ways=[brief(a.way, found.room, system) if a.way else None for a in found.fits],
            plans=[drawn(plan) for plan in plans],
            fronts=[drawn(front) for front in fronts],
            room_pictures=[_picture(files.get(f"room-{k + 1}")) for k in range(len(rooms))],
            aircraft_pictures=[(_picture(files.get(n)), t) for n, _, t in CORNERS if n in files],
            remark=pictures.remark,
            b=balance,
        )
        (workshop / "report.html").write_text(whole, encoding="utf-8")
        sheet = sheet_page(design, found.standings, lines, found.heights, system, tuple(fronts))
        (workshop / "sheet.html").write_text(sheet, encoding="utf-8")
    return replace(found, remark=pictures.remark)


def sheet_page(
    design: Design,
    standings: tuple[Standing, ...],
    lines: tuple[tuple[Row, ...], ...],
    heights: tuple[Measures, ...],
    system: str,
    fronts: tuple[Drawing | None, ...] | None = None,
) -> str:
    """The dimension sheet as a page to print."""
    shown = fronts or (None,) * len(standings)
    stage, _ = usual_stage(standings[0].airframe)
    pairs = tuple(zip(standings, heights, strict=True))
    meant, sizes = next((pair for pair in pairs if pair[0].stage is stage), pairs[-1])
    stages = [
        (standing, own, drawn(front) or "")
        for standing, own, front in zip(standings, lines, shown, strict=True)
    ]
    return page(
        "sheet.html",
        **words_for(system),
        design=design,
        stages=stages,
        guides=GUIDES,
        module=space_module(sizes["length"], sizes["width"]),
        last=meant.title,
        classes=classes(design, meant, sizes),
    )


def everything(found: Findings) -> str:
    """All answers as one JSON document."""
    stages = []
    for heights, spreads, answer, next_one in zip(
        found.heights, found.height_spreads, found.fits, found.advices, strict=True
    ):
        fit = to_json.fit(answer, next_one)
        stages.append({**fit, "measures": to_json.measures(heights, spreads)})
    return to_json.document(
        "report",
        {
            "design": found.design.name,
            "place": found.place.name,
            "measures": to_json.measures(found.measures, found.spreads),
            "stages": stages,
            "last_chance": to_json.last_chance(found.chance),
            "balance": None if found.balance is None else to_json.balance(found.balance),
            "questions": list(found.questions),
            "assumed": list(found.assumed),
            "cautions": list(CAUTIONS),
        },
    )


def _named(scene: Any, name: str) -> Any:
    return replace(scene, cameras=(replace(scene.cameras[0], name=name),))


def _picture(path: Path | None) -> Any:
    """A picture as it goes into the page: SVG as it is, PNG as a data address."""
    if path is None:
        return None
    if path.suffix == ".svg":
        return markup(path.read_text(encoding="utf-8"))
    return image("png", path.read_bytes(), path.stem)
