"""The main job: a folder with the report, the sheet, the pictures, the solids and the data."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from planform.design.models import Design
from planform.design.place import Place
from planform.drawing.pictures import start
from planform.drawing.scene import Scene
from planform.drawing.scenes import aircraft_scene, room_scene
from planform.report.exchange import solid_files
from planform.report.exchange.solids import solids_of
from planform.report.folder import Content, put, whole_folder
from planform.report.measures.page import sheet_page
from planform.report.measures.sheet import rows, sheet_csv
from planform.report.record import document
from planform.report.whole.collect import Findings, Progress, collect
from planform.report.whole.page import drawings, report_page
from planform.report.whole.record import whole_record


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
        drawn = drawings(found, system)
        lines = rows(found.heights, found.height_spreads)
        files: dict[str, Content] = {
            "answer.json": document("report", whole_record(found)),
            "dimensions.csv": sheet_csv(lines, system),
            **{f"plan-{k + 1}.svg": plan for k, plan in enumerate(drawn.plans)},
            **solid_files(solids_of(found.meant, "floor"), ("glb", "stl")),
        }
        pictures = run.finish()
        progress("writing pages")
        fronts = drawn.fronts
        files["report.html"] = report_page(found, drawn, pictures, system)
        files["sheet.html"] = sheet_page(
            design, found.standings, lines, found.heights, system, fronts
        )
        put(workshop, files)
    return replace(found, remark=pictures.remark)


def _named(scene: Scene, name: str) -> Scene:
    return replace(scene, cameras=(replace(scene.cameras[0], name=name),))
