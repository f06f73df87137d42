"""A file with some of its values changed and all else as it was: comments, order, line ends."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Mapping

from planform.design.changing import written_at
from planform.design.naming import Path, path_text
from planform.design.problems import Failure
from planform.design.spans import spans

MARK = "\ufeff"
"""What some editors put before a text."""


def rewritten(text: str, changes: Mapping[Path, str | float]) -> str:
    """The text of a TOML file with other values at these paths, to the letter the same elsewhere.

    Raises LookupError where no value stands at a path, Failure where the new text does not read
    as it should; then the file is better changed by hand.
    """
    mark = MARK if text.startswith(MARK) else ""
    body = text[len(mark) :]
    wanted = tomllib.loads(body)
    found = spans(body)
    pieces: list[tuple[int, int, str]] = []
    for path, value in changes.items():
        before = written_at(wanted, path)
        if path not in found or isinstance(before, dict | list):
            raise LookupError(path_text(path))
        written_at(wanted, path[:-1])[path[-1]] = value  # type: ignore[index]
        start, end = found[path]
        pieces.append((start, end, _written(value, body[start:end])))
    out = body
    for start, end, piece in sorted(pieces, reverse=True):
        out = out[:start] + piece + out[end:]
    if tomllib.loads(out) != wanted:
        names = ", ".join(path_text(path) for path in changes)
        raise Failure(f"{names} cannot be rewritten where it stands; change it in an editor")
    return mark + out


def _written(value: str | float, before: str) -> str:
    """A value as it stands in a file, in the quotes of the one before where it can."""
    if not isinstance(value, str):
        return repr(value)
    plain = "'" not in value and value.isprintable()
    if plain and (before.startswith("'") or '"' in value):
        return f"'{value}'"
    return json.dumps(value, ensure_ascii=False)
