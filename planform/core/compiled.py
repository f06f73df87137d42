"""The one place that compiles loops, and decides where what is compiled is kept.

Never inside the package: an installer does not know of files that it did not put there. A folder
is kept for each content of the loops, so that those of another version are never taken.
"""

from __future__ import annotations

import hashlib
import logging
import os
import tempfile
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

NAMED = "PLANFORM_CACHE"
"""Environment variable that names the folder; `none` keeps nothing."""

LOOPS = (
    "motion/planar.py",
    "motion/plan_moves.py",
    "motion/heap.py",
    "motion/box_tree.py",
    "motion/routing.py",
    "motion/gear.py",
    "shape/slab.py",
    "compiled.py",
)
"""The files that hold compiled loops, and this one."""


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
    here = Path(__file__).parent
    content = b"".join((here / name).read_bytes() for name in LOOPS)
    found = wanted / f"loops-{hashlib.sha256(content).hexdigest()[:16]}"
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


def compiled(function: Callable[..., Any]) -> Any:
    """The function compiled at its first call, and kept where `folder` says."""
    import numba

    kept = folder()
    before = numba.config.CACHE_DIR
    numba.config.CACHE_DIR = "" if kept is None else str(kept)
    try:
        loops = numba.njit(cache=kept is not None)(function)
        if kept is not None:
            _forgiving(loops._cache, kept.parent)
        return loops
    finally:
        numba.config.CACHE_DIR = before


def _forgiving(store: Any, wanted: Path) -> None:
    """Have loops compiled all the same where a kept one is broken, or the disk runs full."""
    load, save = store.load_overload, store.save_overload

    def loaded(*words: Any) -> Any:
        try:
            return load(*words)
        except Exception:  # whatever a file cut short makes of it: none is kept
            return None

    def saved(*words: Any) -> None:
        try:
            save(*words)
        except OSError:
            told_once(wanted)
        except Exception:  # the index that it adds to is broken
            store.flush()
            save(*words)

    store.load_overload, store.save_overload = loaded, saved
