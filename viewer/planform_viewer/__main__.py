"""`python -m planform_viewer SCENE.npz ... --into FOLDER --size 1400x900`: one PNG per camera."""

from __future__ import annotations

import argparse
from pathlib import Path

from planform.report.scene import load
from planform_viewer.stills import write_stills


def main() -> None:
    """Render every camera of every scene."""
    words = argparse.ArgumentParser(prog="planform_viewer")
    words.add_argument("scenes", nargs="+", type=Path)
    words.add_argument("--into", type=Path, required=True)
    words.add_argument("--size", default="1400x900")
    given = words.parse_args()
    width, height = (int(side) for side in given.size.split("x"))
    for path in given.scenes:
        write_stills(load(path), given.into, (width, height))


if __name__ == "__main__":
    main()
