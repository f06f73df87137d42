"""Writers of drawings, one module for each kind of file, found by itself.

A writer of still drawings is a module in here with ENDING, the ending of its files without a dot,
and `written`, which makes a drawing the content of such a file.
"""

from __future__ import annotations

import pkgutil
from functools import cache
from importlib import import_module
from pathlib import Path
from typing import Any

from planform.drawing.drawing import Drawing


@cache
def writers() -> dict[str, Any]:
    """The writers of still drawings, by the ending of their files."""
    found = [import_module(f"{__name__}.{one.name}") for one in pkgutil.iter_modules(__path__)]
    return {module.ENDING: module for module in found if hasattr(module, "written")}


def save(drawing: Drawing, path: Path) -> None:
    """Write a drawing as the kind of file that the ending of its name tells."""
    path.write_bytes(writers()[path.suffix.removeprefix(".")].written(drawing))
