"""The preview command: pictures and solids of the aircraft as it stands, one file or a folder."""

from __future__ import annotations

import sys
import tempfile
from dataclasses import dataclass, replace
from importlib.util import find_spec
from pathlib import Path

from planform.airframe.build import build
from planform.airframe.stages import stage_meant, stage_questions
from planform.airframe.stance import Standing, shaped, stand_on
from planform.cli.show import ask, progress_bar
from planform.design.models import Design
from planform.design.problems import InputError, Problem
from planform.design.questions import design_questions
from planform.drawing.pictures import render
from planform.drawing.scenes import CORNERS, aircraft_scene
from planform.drawing.vector import scene_drawing
from planform.drawing.writers import writers
from planform.report.exchange import solid_files, solid_writers
from planform.report.exchange.solids import AXES, AXES_SAID, Axes, SolidSet, solids_of
from planform.report.folder import checked, one_file, whole_folder

PICTURES = ("png", "svg")
VIEWS = tuple(name.replace("_", "-") for name, _, _ in CORNERS)


@dataclass(frozen=True)
class PreviewAsked:
    """What the options of the command say; None where one is not given.

    curved : faces as they truly are, where the usual are facets
    ending : of the file asked for; '' for a folder
    """

    target: Path
    stage: str | None = None
    stance: str | None = None
    axes: str | None = None
    view: str | None = None
    curved: bool = False
    ending: str = ""


def asked_for(asked: PreviewAsked) -> PreviewAsked:
    """The same with its ending; InputError with every mistake of the options."""
    ending = asked.target.suffix.removeprefix(".").lower()
    if ending and ending not in (*PICTURES, *solid_writers()) and asked.target.is_dir():
        ending = ""
    problems = []
    if ending and ending not in (*PICTURES, *solid_writers()):
        known = ", ".join(f".{one}" for one in (*PICTURES, *sorted(solid_writers())))
        allowed = f"allowed: {known}; a name without an ending is a folder, which gets all"
        raise InputError("output", [Problem("-o", str(asked.target), allowed)])
    if asked.axes is not None and asked.axes not in AXES:
        problems.append(Problem("--axes", repr(asked.axes), f"allowed: {', '.join(AXES)}"))
    elif asked.axes is not None and ending in PICTURES:
        allowed = "a picture shows the aircraft as it stands; this is for solids, leave it out"
        problems.append(Problem("--axes", repr(asked.axes), allowed))
    if asked.view is not None and asked.view not in VIEWS:
        problems.append(Problem("--view", repr(asked.view), f"allowed: {', '.join(VIEWS)}"))
    elif asked.view is not None and ending not in PICTURES:
        allowed = "this is for one picture; name a .png or .svg file with -o, or leave it out"
        problems.append(Problem("--view", repr(asked.view), allowed))
    if asked.curved:
        problems += _curved_refused(ending)
    if problems:
        raise InputError("option", problems)
    if not ending:
        checked(asked.target)
    return replace(asked, ending=ending)


def _curved_refused(ending: str) -> list[Problem]:
    """What stands against curved faces: another kind of file, or a package that is missing."""
    if ending != "step":
        return [Problem("--curved", "", "this is for one .step file; name it with -o")]
    if find_spec("OCP") is None:
        allowed = (
            "this needs an optional package; install it with: pip install 'planform[step]', or "
            "leave --curved out for facets"
        )
        return [Problem("--curved", "", allowed)]
    return []


def write_preview(design: Design, asked: PreviewAsked) -> None:
    """Write one picture, one file of solids, or a folder with all of them.

    Of one stage, the complete one where none is named.
    """
    airframe = build(shaped(design))
    chosen, taken = stage_meant(airframe, asked.stage)
    standing = stand_on(airframe, chosen, asked.stance)
    told, remark = _written(standing, asked)
    print(f"{standing.title}: wrote {told}")
    for line in (*taken, *standing.remarks):
        print(f"taken: {line}")
    if remark:
        print(f"note: {remark}", file=sys.stderr)
    ask(*design_questions(design), *stage_questions(airframe, (standing,)))


def _written(standing: Standing, asked: PreviewAsked) -> tuple[str, str | None]:
    """Write what is asked for; what was written, and a remark where pictures are not rendered."""
    if not asked.ending:
        return _folder(standing, asked)
    if asked.ending in PICTURES:
        return _picture(standing, asked)
    if asked.curved:
        return _curved(standing, asked), None
    solids = _solids(standing, asked.axes)
    writer = solid_writers()[asked.ending]
    one_file(asked.target, lambda: writer.content(solids))
    return f"{asked.target}, {_about(len(solids.parts), asked.axes)}; {writer.about}", None


def _curved(standing: Standing, asked: PreviewAsked) -> str:
    """Write curved solids; what was written."""
    from planform.report.curved.make import curved_file

    made = curved_file(standing, _axes(asked.axes))
    one_file(asked.target, lambda: made.content)
    about = f"{_about(len(standing.parts), asked.axes)}; curved faces (AP242), millimetres"
    return f"{asked.target}, {about}; plane facets: {', '.join(made.faceted) or 'none'}"


def _axes(axes: str | None) -> Axes:
    return "floor" if axes == "floor" else "aircraft"


def _solids(standing: Standing, axes: str | None) -> SolidSet:
    return solids_of(standing, _axes(axes))


def _about(count: int, axes: str | None) -> str:
    return f"{count} solids, {AXES_SAID[axes or AXES[0]]}"


def _folder(standing: Standing, asked: PreviewAsked) -> tuple[str, str | None]:
    with progress_bar(2) as step, whole_folder(asked.target, "preview") as workshop:
        step("writing solids")
        solids = _solids(standing, asked.axes)
        for name, content in solid_files(solids).items():
            (workshop / name).write_bytes(content)
        step("drawing pictures")
        pictures = render(aircraft_scene(standing), workshop)
        names = sorted(path.name for path in workshop.iterdir())
    about = _about(len(solids.parts), asked.axes)
    return f"{', '.join(names)} to {asked.target}; {about}", pictures.remark


def _picture(standing: Standing, asked: PreviewAsked) -> tuple[str, str | None]:
    """One picture: a PNG is rendered, or painted where that cannot be; an SVG is drawn."""
    whole = aircraft_scene(standing)
    name = (asked.view or VIEWS[0]).replace("-", "_")
    camera = next(one for one in whole.cameras if one.name == name)
    remarks: list[str | None] = []

    def content() -> bytes:
        if asked.ending == "png":
            with tempfile.TemporaryDirectory() as folder:
                made = render(replace(whole, cameras=(camera,)), Path(folder))
                remarks.append(made.remark)
                if made.how == "rendered":
                    return made.files[name].read_bytes()
        return bytes(writers()[asked.ending].written(scene_drawing(whole, camera)))

    one_file(asked.target, content)
    return f"{asked.target}, {camera.title}", next(iter(remarks), None)
