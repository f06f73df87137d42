"""The coordinate files of a design's profiles, read beside it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from planform.design.files import Unreadable, text_of
from planform.design.naming import path_text
from planform.design.problems import Problem


def with_coordinates(table: dict[str, Any], folder: Path) -> tuple[dict[str, Any], list[Problem]]:
    """The tables of a design with the text of each profile's file beside its name, and problems.

    folder : that of the design file; files outside of it are not read
    """
    given = table.get("profiles")
    if not isinstance(given, dict):
        return table, []
    profiles: dict[str, Any] = {}
    problems = []
    for name, one in given.items():
        profiles[name] = one
        if not isinstance(one, dict) or not isinstance(one.get("file"), str):
            continue
        path = path_text(("profiles", name, "file"))
        if "coordinates" in one:
            allowed = "allowed: either a file or coordinates"
            problems.append(Problem(path, "both", allowed))
            continue
        try:
            profiles[name] = {**one, "coordinates": _beside(folder, one["file"])}
        except Unreadable as error:
            problems.append(Problem(path, repr(one["file"]), error.allowed))
    return {**table, "profiles": profiles}, problems


def _beside(folder: Path, file: str) -> str:
    """The text of a file named relative to the folder of the design."""
    base = folder.resolve()
    try:
        found = (base / file).resolve()
    except (OSError, ValueError, RuntimeError):
        raise Unreadable("no such file") from None
    if Path(file).is_absolute() or not found.is_relative_to(base):
        raise Unreadable(
            "allowed: a file in the folder of the design file or below it, such as "
            "sections/root.txt"
        )
    return text_of(found)
