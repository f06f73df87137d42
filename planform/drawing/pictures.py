"""Pictures of a scene: rendered by a child process, or drawn as vectors where that cannot be.

Off-screen rendering kills its process by a signal on a machine without a GL library. So it runs in
a process of its own, first as the machine is, then through OSMesa; where both fail, the same scene
is drawn by `planform.drawing.vector`, and a remark says what to install.
PLANFORM_NO_GL=1 in the environment asks for vector pictures outright.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
import time
import weakref
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from planform.airframe.stance import Standing
from planform.core.shown import Brief, Shown
from planform.drawing.scene import Scene, save
from planform.drawing.scenes import aircraft_scene
from planform.drawing.vector import scene_drawing
from planform.drawing.writers import svg

LONGEST = 180.0
"""Seconds that all attempts at rendering may take together; assumption."""

OSMESA = {"VTK_DEFAULT_OPENGL_WINDOW": "vtkOSOpenGLRenderWindow"}
NO_VIEWER = 3
"""Exit code of the child where pyvista is missing."""

DRAWN = "Vector pictures were drawn instead of rendered ones, because "
NO_GL = (
    f"{DRAWN}no GL library could render here. On Debian: apt-get install libegl1 libgl1-mesa-dri "
    "(or libosmesa6, with VTK_DEFAULT_OPENGL_WINDOW=vtkOSOpenGLRenderWindow)."
)
NO_PYVISTA = f"{DRAWN}pyvista is missing: pip install pyvista."
TOO_SLOW = f"{DRAWN}rendering took longer than {LONGEST:.0f} s."
ASKED = f"{DRAWN}PLANFORM_NO_GL=1 is set; unset it to have them rendered."


@dataclass(frozen=True, repr=False)
class Pictures(Shown):
    """The files by camera name, how they were made, and what to tell the user."""

    files: dict[str, Path]
    how: Literal["rendered", "vector"]
    remark: str | None = None

    def brief(self) -> Brief:
        """How they were made, and the files' names."""
        rows = tuple((name, path.name) for name, path in self.files.items())
        return Brief(f"{len(rows)} pictures, {self.how}", rows)


class Run:
    """Pictures under way; `finish` waits for them. Given up, it ends its child and leaves nothing.

    scenes : drawn together; no two of their cameras may share a name
    folder : where the pictures go, one file for each camera
    size : width and height [px]
    """

    def __init__(self, scenes: tuple[Scene, ...], folder: Path, size: tuple[int, int]) -> None:
        self.pairs = [(scene, camera) for scene in scenes for camera in scene.cameras]
        names = [camera.name for _, camera in self.pairs]
        if len(set(names)) != len(names):
            raise ValueError(f"Expected cameras of different names, got {names}")
        self.folder, self.size = folder, size
        self.started = time.monotonic()
        self.child: subprocess.Popen[bytes] | None = None
        self.asked = os.environ.get("PLANFORM_NO_GL") == "1"
        if self.asked:
            return
        here = Path(tempfile.mkdtemp(prefix=".planform-scenes-", dir=folder))
        self._tidy = weakref.finalize(self, shutil.rmtree, here, ignore_errors=True)
        self.inputs = [here / f"scene{k}.npz" for k in range(len(scenes))]
        for scene, path in zip(scenes, self.inputs, strict=True):
            save(scene, path)
        self.out = here / "pictures"
        self.out.mkdir()
        self._start({})

    def _start(self, extra: dict[str, str]) -> None:
        """Start the child; it finds the packages where this process does, and ends with it."""
        paths = os.pathsep.join(path or os.getcwd() for path in sys.path)
        width, height = self.size
        command = [sys.executable, "-P", "-m", "planform_viewer", *map(str, self.inputs)]
        try:
            self.child = subprocess.Popen(
                [*command, str(self.out), "--size", f"{width}x{height}", "--bound"],
                env={**os.environ, "PYTHONPATH": paths, **extra},
                stdin=subprocess.PIPE,
                stdout=subprocess.DEVNULL,
                stderr=subprocess.DEVNULL,
            )
        except OSError:
            self.child = None
        else:
            weakref.finalize(self, _end, self.child)

    def _ended(self) -> str | None:
        """Wait for the child; None if all pictures are there, else the remark."""
        if self.child is None:
            return NO_GL
        try:
            code = self.child.wait(timeout=max(0.0, self.started + LONGEST - time.monotonic()))
        except subprocess.TimeoutExpired:
            _end(self.child)
            return TOO_SLOW
        if code == NO_VIEWER:
            return NO_PYVISTA
        whole = all((self.out / f"{camera.name}.png").is_file() for _, camera in self.pairs)
        return None if code == 0 and whole else NO_GL

    def finish(self) -> Pictures:
        """Wait; rendered pictures if any way works, vector pictures otherwise."""
        if self.asked:
            return Pictures(self._drawn(), "vector", ASKED)
        try:
            remark = self._ended()
            if remark is NO_GL:
                self._start(OSMESA)
                remark = self._ended()
            if remark is None:
                return Pictures(self._rendered(), "rendered")
            return Pictures(self._drawn(), "vector", remark)
        finally:
            self._tidy()
            if self.child is not None:
                _end(self.child)

    def _rendered(self) -> dict[str, Path]:
        files = {}
        for _, camera in self.pairs:
            made = self.out / f"{camera.name}.png"
            files[camera.name] = _put(made.read_bytes(), self.folder / made.name)
        return files

    def _drawn(self) -> dict[str, Path]:
        files = {}
        for scene, camera in self.pairs:
            content = svg.written(scene_drawing(scene, camera, self.size))
            files[camera.name] = _put(content, self.folder / f"{camera.name}.svg")
        return files


def _put(content: bytes, target: Path) -> Path:
    """Write a file whole or not at all."""
    half_made = target.with_name(f".{target.name}.part")
    try:
        half_made.write_bytes(content)
        os.replace(half_made, target)
    finally:
        half_made.unlink(missing_ok=True)
    return target


def _end(child: subprocess.Popen[bytes]) -> None:
    if child.stdin is not None:
        child.stdin.close()
    if child.poll() is None:
        child.kill()
        child.wait()


def start(
    scenes: Scene | tuple[Scene, ...], folder: Path, size: tuple[int, int] = (1400, 900)
) -> Run:
    """Begin the pictures of one scene or several, to be had by `finish` of what is returned.

    folder : takes one file for each camera, named after it
    size : width and height [px]
    """
    folder.mkdir(parents=True, exist_ok=True)
    return Run((scenes,) if isinstance(scenes, Scene) else scenes, folder, size)


def write_pictures(standing: Standing, folder: str | Path) -> Pictures:
    """Pictures of the aircraft as it stands, from four sides, into a folder."""
    Path(folder).mkdir(parents=True, exist_ok=True)
    return render(aircraft_scene(standing), Path(folder))


def render(scene: Scene, folder: Path, size: tuple[int, int] = (1400, 900)) -> Pictures:
    """The pictures of one scene; PLANFORM_NO_GL=1 in the environment has them drawn as vectors."""
    return start(scene, folder, size).finish()
