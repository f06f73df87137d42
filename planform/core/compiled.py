"""The one place that compiles loops, and decides where what is compiled is found and kept.

An installation brings loops along, compiled for every machine of its kind (`building/`).
What they do not serve (edited loops, another compiler or kind of machine) is compiled at its first
use, and never kept inside a package: an installer does not know of files that it did not put there.
A folder has the content of the loops and the compiler in its name, so that others are never taken.
"""

from __future__ import annotations

import hashlib
import logging
import os
import tempfile
from collections.abc import Callable
from functools import cache
from importlib.util import find_spec
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from planform.core.kept_loops import Folders

NAMED = "PLANFORM_CACHE"
"""Environment variable that names the folder; `none` keeps nothing."""

PACKED = "planform_loops"
"""The package that an installation brings, of compiled loops alone."""

LOOPS = (
    "motion/planar.py",
    "motion/plan_moves.py",
    "motion/heap.py",
    "motion/box_tree.py",
    "motion/routing.py",
    "motion/gear.py",
    "shape/slab.py",
    "compiled.py",
    "kept_loops.py",
)
"""The files that hold compiled loops, and those that compile and keep them."""


def stamp() -> str:
    """The name of a folder for loops of this content, made by this compiler."""
    import numba

    here = Path(__file__).parent
    content = [(here / name).read_bytes() for name in LOOPS]
    content.append(numba.__version__.encode())
    return f"loops-{hashlib.sha256(b''.join(content)).hexdigest()[:16]}"


@cache
def packed_folder() -> Path | None:
    """Where an installation has put loops of this content; None where there are none."""
    spec = find_spec(PACKED)
    places = [] if spec is None else list(spec.submodule_search_locations or ())
    found = (Path(place) / stamp() for place in places)
    return next((folder for folder in found if folder.is_dir()), None)


def wanted_folder() -> Path | None:
    """The folder named, else the user's cache folder; None where nothing shall be kept."""
    given = os.environ.get(NAMED, "")
    if given.lower() == "none":
        return None
    if given:
        return Path(given).expanduser().absolute()
    from platformdirs import user_cache_path

    return user_cache_path("planform", appauthor=False)


def writable(folder: Path) -> bool:
    """Whether the folder is there, or can be made, and takes a file."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryFile(dir=folder) as probe:
            probe.write(b"loops")
    except OSError:
        return False
    return True


@cache
def folder() -> Path | None:
    """Where the compiled loops are kept; None where they are not, which is told once."""
    wanted = wanted_folder()
    if wanted is None:
        return None
    found = wanted / stamp()
    if writable(found):
        return found
    told_once(wanted)
    os.environ[NAMED] = "none"  # processes that this one starts neither try nor tell it again
    return None


@cache
def told_once(wanted: Path) -> None:
    """Tell that a folder cannot be written."""
    logging.getLogger("planform").warning(
        "note: %s cannot be written; the search loops are compiled anew at each start. "
        "Name another folder with %s.",
        wanted,
        NAMED,
    )


def folders() -> Folders:
    """Where compiled loops are looked for, and kept."""
    from planform.core.kept_loops import Folders

    kept = folder()
    return Folders(packed_folder(), kept, lambda: told_once(kept.parent) if kept else None)


def compiled(function: Callable[..., Any]) -> Any:
    """The function compiled: as found in `folders`, else at its first call."""
    import numba

    from planform.core.kept_loops import KeptLoop

    loops = numba.njit(function)
    loops._cache = KeptLoop(function, folders())
    return loops
