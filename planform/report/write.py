"""Writing files whole or not at all."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from planform.design.problems import InputError, Problem


@contextmanager
def whole_folder(target: Path) -> Iterator[Path]:
    """A workshop folder beside the target; its files move into the target only if all went well.

    Raises InputError where the target cannot be written.
    """
    parent = target.absolute().parent
    try:
        parent.mkdir(parents=True, exist_ok=True)
        if target.exists() and not target.is_dir():
            raise InputError(
                "output", [Problem("-o", str(target), "this is a file; name a folder")]
            )
        if target.exists() and not os.access(target, os.W_OK | os.X_OK):
            raise PermissionError(13, "Permission denied")
        workshop = Path(tempfile.mkdtemp(prefix=f".{target.name}-", dir=parent))
    except OSError as error:
        raise InputError(
            "output",
            [
                Problem(
                    "-o",
                    str(target),
                    f"this folder cannot be written ({error.strerror}); "
                    "name another or mend its permissions",
                )
            ],
        ) from None
    try:
        yield workshop
        target.mkdir(exist_ok=True)
        for made in sorted(workshop.iterdir()):
            os.replace(made, target / made.name)
    except OSError as error:
        raise InputError(
            "output", [Problem("-o", str(target), f"writing stopped: {error.strerror}")]
        ) from None
    finally:
        shutil.rmtree(workshop, ignore_errors=True)
