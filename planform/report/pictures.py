"""Pictures of a scene: rendered by a child process, or drawn as vectors where that cannot be.

Off-screen rendering kills its process by a signal on a machine without a GL library. So it runs in
a process of its own; if that fails, the same scene is drawn by `planform.report.vector`.
Setting PLANFORM_NO_GL=1 in the environment asks for vector pictures outright.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

from planform.report.scene import Scene, save
from planform.report.vector import to_svg

LONGEST = 180.0
"""Seconds a rendering may take; assumption."""

REMEDY = (
    "Vector pictures were drawn, because no GL library could render here. On Debian: "
    "apt-get install libegl1 libgl1-mesa-dri (or libosmesa6)."
)
OSMESA = {"VTK_DEFAULT_OPENGL_WINDOW": "vtkOSOpenGLRenderWindow"}


@dataclass(frozen=True)
class Pictures:
    """The files by camera name, how they were made, and what to tell the user."""

    files: dict[str, Path]
    how: str
    remark: str | None = None


class Run:
    """Pictures under way; `finish` waits for them."""

    def __init__(self, scenes: tuple[Scene, ...], folder: Path, size: tuple[int, int]) -> None:
        self.scenes, self.folder, self.size = scenes, folder, size
        self.workshop = tempfile.TemporaryDirectory(prefix="planform-")
        here = Path(self.workshop.name)
        self.inputs = [here / f"scene{k}.npz" for k in range(len(scenes))]
        for scene, path in zip(scenes, self.inputs, strict=True):
            save(scene, path)
        self.out = here / "pictures"
        self.out.mkdir()
        asked = os.environ.get("PLANFORM_NO_GL") == "1"
        self.child = None if asked else self._start({})

    def _start(self, extra: dict[str, str]) -> subprocess.Popen[bytes] | None:
        paths = os.pathsep.join(p for p in sys.path if p)
        command = [sys.executable, "-m", "planform_viewer", *map(str, self.inputs)]
        width, height = self.size
        try:
            return subprocess.Popen(
                [*command, "--into", str(self.out), "--size", f"{width}x{height}"],
                env={**os.environ, "PYTHONPATH": paths, **extra},
                stdin=subprocess.DEVNULL,
                stdout=subprocess.DEVNULL,
                stderr=subprocess.DEVNULL,
            )
        except OSError:
            return None

    def _ended_well(self, child: subprocess.Popen[bytes] | None) -> bool:
        if child is None:
            return False
        try:
            code = child.wait(timeout=LONGEST)
        except subprocess.TimeoutExpired:
            child.kill()
            child.wait()
            return False
        names = {f"{c.name}.png" for scene in self.scenes for c in scene.cameras}
        return code == 0 and names <= {path.name for path in self.out.iterdir()}

    def finish(self) -> Pictures:
        """Wait; rendered pictures if any way works, vector pictures otherwise."""
        try:
            good = self._ended_well(self.child)
            if not good and self.child is not None:
                good = self._ended_well(self._start(OSMESA))
            if good:
                return Pictures(self._moved(), "rendered")
            return Pictures(self._drawn(), "vector", REMEDY)
        finally:
            self.workshop.cleanup()

    def _moved(self) -> dict[str, Path]:
        files = {}
        for scene in self.scenes:
            for camera in scene.cameras:
                target = self.folder / f"{camera.name}.png"
                target.write_bytes((self.out / target.name).read_bytes())
                files[camera.name] = target
        return files

    def _drawn(self) -> dict[str, Path]:
        files = {}
        for scene in self.scenes:
            for camera in scene.cameras:
                target = self.folder / f"{camera.name}.svg"
                target.write_text(to_svg(scene, camera, self.size), encoding="utf-8")
                files[camera.name] = target
        return files


def start(scenes: tuple[Scene, ...], folder: Path, size: tuple[int, int] = (1400, 900)) -> Run:
    """Begin the pictures of scenes; one file per camera goes into `folder`."""
    return Run(scenes, folder, size)


def render(scene: Scene, folder: Path, size: tuple[int, int] = (1400, 900)) -> Pictures:
    """The pictures of one scene."""
    return start((scene,), folder, size).finish()
