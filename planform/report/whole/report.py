"""The main job: a folder with the report, the sheet, the pictures, the solids and the data."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory

from planform.design.models import Design
from planform.design.place import Place
from planform.drawing.pictures import Pictures, start
from planform.drawing.scene import Scene
from planform.drawing.scenes import aircraft_scene, room_scene
from planform.drawing.vector import scene_drawing
from planform.report.exchange import solid_files
from planform.report.exchange.solids import solids_of
from planform.report.folder import Content, one_file, put, whole_folder
from planform.report.measures.page import sheet_page
from planform.report.measures.sheet import rows, sheet_csv
from planform.report.printed.document import pdf
from planform.report.record import document
from planform.report.seen.answer import SeenStages
from planform.report.whole.collect import Findings, Progress, collect
from planform.report.whole.page import IN_3D, drawings, report_page
from planform.report.whole.printed import Shown, report_document
from planform.report.whole.record import whole_record
from planform.study.judging import SoFar, Step


def write_report(
    design: Design,
    place: Place,
    folder: str | Path,
    system: str | None = None,
    progress: Progress = lambda step: None,
    paper: str | None = None,
) -> Findings:
    """Write everything about a design in a place into a folder; returns the findings.

    system : one of 'ft-in', 'in', 'mm', 'm'; the design's own units where None
    paper : of the document to print, 'A4' or 'letter'; letter where lengths are in inches if None
    Raises InputError where the folder cannot be written; then nothing is left behind.
    """
    system = system or design.units
    with whole_folder(Path(folder), "report") as workshop:
        found = collect(design, place, progress)
        progress("drawing pictures")
        scenes = _scenes(found, system)
        run = start(scenes, workshop)
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
        told = replace(found, remark=pictures.remark)
        files["report.pdf"] = pdf(
            report_document(told, drawn, _shown(pictures, scenes), system, paper)
        )
        files[IN_3D] = _seen(found).page(system)
        files["sheet.html"] = sheet_page(
            design, found.standings, lines, found.heights, system, fronts
        )
        put(workshop, files)
    return replace(found, remark=pictures.remark)


def report_file(
    design: Design,
    place: Place,
    target: Path,
    system: str | None = None,
    progress: Progress = lambda step: None,
    paper: str | None = None,
) -> Findings:
    """Write the report as one PDF; returns the findings. Arguments as of `write_report`.

    Raises InputError where the file cannot be written; then nothing is left behind.
    """
    system = system or design.units
    told: list[Findings] = []

    def content() -> bytes:
        found = collect(design, place, progress)
        progress("drawing pictures")
        scenes = _scenes(found, system)
        with TemporaryDirectory(prefix="planform-") as workshop:
            run = start(scenes, Path(workshop))
            drawn = drawings(found, system)
            pictures = run.finish()
            shown = _shown(pictures, scenes)
        progress("writing pages")
        told.append(replace(found, remark=pictures.remark))
        return pdf(report_document(told[0], drawn, shown, system, paper))

    one_file(target, content)
    return told[0]


def _seen(found: Findings) -> SeenStages:
    """The page in 3D, of what was found."""
    pairs = zip(found.fits, found.advices, strict=True)
    answers = [SoFar(answer, tuple(Step), told) for answer, told in pairs]
    return SeenStages(found.standings, found.measures, found.heights, found.room, answers)


def _scenes(found: Findings, system: str) -> tuple[Scene, ...]:
    """The aircraft alone, and each stage in the room."""
    rooms = [room_scene(answer, found.room, system) for answer in found.fits]
    named = [_named(scene, f"room-{k + 1}") for k, scene in enumerate(rooms) if scene]
    return (aircraft_scene(found.meant), *named)


def _shown(pictures: Pictures, scenes: tuple[Scene, ...]) -> dict[str, Shown]:
    """The pictures for a printed page: as rendered, or drawn again."""
    if pictures.how == "rendered":
        return {name: path.read_bytes() for name, path in pictures.files.items()}
    return {
        camera.name: scene_drawing(scene, camera, (1400, 900))
        for scene in scenes
        for camera in scene.cameras
    }


def _named(scene: Scene, name: str) -> Scene:
    return replace(scene, cameras=(replace(scene.cameras[0], name=name),))
