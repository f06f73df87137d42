"""`python -m planform_viewer SCENE.npz ... FOLDER [--size 1400x900]`: one PNG per camera.

Exit code: 0 all pictures are written, 2 the scene or the folder is wrong, 3 pyvista is missing.
A machine without a GL library may end it by a signal instead.
"""

from __future__ import annotations

import argparse
import os
import re
import sys
from pathlib import Path
from threading import Thread
from zipfile import BadZipFile

from planform.drawing.scene import load
from planform_viewer.show import show
from planform_viewer.stills import write_stills


def _size(words: str) -> tuple[int, int]:
    found = re.fullmatch(r"(\d{2,5})x(\d{2,5})", words)
    if not found:
        raise argparse.ArgumentTypeError(f"given {words!r}; allowed: width x height as 1400x900")
    return int(found[1]), int(found[2])


def _bound() -> None:
    """End with whoever started this: when they end, however they end, this input closes."""

    def watch() -> None:
        while os.read(0, 64):  # not through sys.stdin: its lock would be held at the end
            pass
        os._exit(4)

    Thread(target=watch, daemon=True).start()


def main() -> int:
    """Render every camera of every scene; what went wrong is told in one line."""
    words = argparse.ArgumentParser(prog="planform_viewer", description=__doc__.split("\n\n")[1])
    words.add_argument("scenes", nargs="+", type=Path, metavar="SCENE.npz")
    words.add_argument("folder", type=Path, metavar="FOLDER")
    words.add_argument("--window", action="store_true", help="open a window on the first")
    words.add_argument("--size", type=_size, default=(1400, 900), metavar="1400x900")
    words.add_argument("--bound", action="store_true", help="end when the standard input closes")
    given = words.parse_args()
    if given.bound:
        _bound()
    try:
        scenes = [load(path) for path in given.scenes]
    except (OSError, ValueError, KeyError, BadZipFile) as error:
        print(f"planform_viewer: not a scene: {error}", file=sys.stderr)
        return 2
    try:
        if given.window:
            show(scenes[0], given.size)
        else:
            for scene in scenes:
                write_stills(scene, given.folder, given.size)
    except OSError as error:
        print(f"planform_viewer: {error}", file=sys.stderr)
        return 2
    except ImportError as error:
        print(f"planform_viewer: {error}; pip install pyvista", file=sys.stderr)
        return 3
    return 0


if __name__ == "__main__":
    sys.exit(main())
