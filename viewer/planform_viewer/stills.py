"""Off-screen stills of a scene."""

from __future__ import annotations

import os
from importlib.util import find_spec
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from planform.drawing.framing import INK, View, aim, letter_size, plates
from planform.drawing.scene import Camera, Scene
from planform_viewer.quiet import quiet
from planform_viewer.stage import look, stage

if TYPE_CHECKING:
    from pyvista import Plotter, Text
    from vtkmodules.vtkRenderingCore import vtkActor2D


def write_stills(
    scene: Scene, folder: Path, size: tuple[int, int] = (1400, 900)
) -> dict[str, Path]:
    """One PNG per camera, named after it; a file appears only when it is whole.

    size : width and height [px]
    Returns the files by camera name.
    """
    folder.mkdir(parents=True, exist_ok=True)
    out = {}
    with quiet():
        plotter = stage(scene, size, off_screen=True)
        try:
            for camera in scene.cameras:
                view = aim(scene, camera, size, parallel=camera.parallel)
                look(plotter, view)
                written = _write_words(plotter, scene, camera, view)
                out[camera.name] = _shoot(plotter, folder / f"{camera.name}.png")
                plotter.remove_actor(written, render=False)  # type: ignore[arg-type]
        finally:
            plotter.close()
    return out


def _shoot(plotter: Plotter, target: Path) -> Path:
    half_made = target.with_name(f"{target.stem}.part.png")
    try:
        plotter.render()
        plotter.screenshot(str(half_made))
        os.replace(half_made, target)
    finally:
        half_made.unlink(missing_ok=True)
    return target


def _write_words(
    plotter: Plotter, scene: Scene, camera: Camera, view: View
) -> list[Text | vtkActor2D]:
    """The labels beside their leaders and the title below, for this camera; the actors made."""
    letter = letter_size(view.size)
    actors: list[Text | vtkActor2D] = [
        _words(f"{scene.title}, {camera.title}", 0.8 * letter, INK, (letter, letter))
    ]
    if scene.leaders:
        ends = view.project(np.array([[x.start, x.end] for x in scene.leaders]))
        places = plates(ends, [x.label for x in scene.leaders], view.size)
        for leader, (x, y, width, height) in zip(scene.leaders, places, strict=True):
            low = view.size[1] - y - height
            actors += _plate((x, low), (width, height), leader.colour)
            middle = (x + 0.5 * width, low + 0.5 * height)
            actors.append(_words(leader.label, letter, leader.colour, middle, bold=True))
    for actor in actors:
        plotter.add_actor(actor, render=False, reset_camera=False)  # type: ignore[arg-type]
    return actors


def _words(
    text: str, letter: float, colour: str, spot: tuple[float, float], *, bold: bool = False
) -> Text:
    """Flat words from the picture's lower left corner on; bold ones centred on their spot."""
    from pyvista import Text

    actor = Text(text.replace("$", "\\$"))  # what stands between two would be set as a formula
    prop = actor.prop
    face = _typeface("DejaVuSans-Bold.ttf" if bold else "DejaVuSans.ttf")
    if face:
        prop.set_font_file(str(face))
    prop.bold = bold and not face
    prop.font_size = round(letter)
    prop.color = colour
    if bold:
        prop.justification_horizontal = "center"
        prop.justification_vertical = "center"
    actor.SetPosition(*spot)
    return actor


def _typeface(name: str) -> Path | None:
    """A typeface that knows ± and ½, out of matplotlib, which pyvista brings along."""
    found = find_spec("matplotlib")
    if found is None or found.origin is None:
        return None
    path = Path(found.origin).parent / "mpl-data" / "fonts" / "ttf" / name
    return path if path.is_file() else None


def _plate(low: tuple[float, float], size: tuple[float, float], colour: str) -> list[vtkActor2D]:
    """A white plate with a thin rim, flat in the picture."""
    import pyvista
    from vtkmodules.vtkRenderingCore import vtkActor2D, vtkPolyDataMapper2D

    x, y = low
    width, height = size
    corners = [(x, y, 0), (x + width, y, 0), (x + width, y + height, 0), (x, y + height, 0)]
    area = pyvista.PolyData(np.array(corners, dtype=float), faces=[4, 0, 1, 2, 3])
    rim = pyvista.PolyData(np.array(corners, dtype=float), lines=[5, 0, 1, 2, 3, 0])
    actors = []
    for shape, paint, opacity in ((area, "white", 0.93), (rim, colour, 1.0)):
        mapper = vtkPolyDataMapper2D()
        mapper.SetInputData(shape)
        actor = vtkActor2D()
        actor.SetMapper(mapper)
        actor.GetProperty().SetColor(*pyvista.Color(paint).float_rgb)
        actor.GetProperty().SetOpacity(opacity)
        actor.GetProperty().SetLineWidth(1.3)
        actors.append(actor)
    return actors
