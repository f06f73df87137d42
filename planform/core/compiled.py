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

LOOPS = ("kernel.py", "gear.py", "compiled.py")
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
    logging.getLogger("planform").warning(
        "note: %s cannot be written; the search loops are compiled anew at each start. "
        "Name another folder with %s.",
        wanted,
        NAMED,
    )
    os.environ[NAMED] = "none"  # processes that this one starts neither try nor tell it again
    return None


def compiled(function: Callable[..., Any]) -> Any:
    """The function compiled at its first call, and kept where `folder` says."""
    import numba

    kept = folder()
    before = numba.config.CACHE_DIR
    numba.config.CACHE_DIR = "" if kept is None else str(kept)
    try:
        return numba.njit(cache=kept is not None)(function)
    finally:
        numba.config.CACHE_DIR = before
