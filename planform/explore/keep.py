"""'Keep this': a new file with the changed values, shown as a difference first.

The original stays as it is, and no file that is there is ever written over.
"""

from __future__ import annotations

import os
import re
import secrets
from collections.abc import Mapping
from dataclasses import dataclass
from difflib import unified_diff
from pathlib import Path, PurePosixPath

from planform.design.changing import (
    Source,
    carried,
    source_of,
    tail_of,
    to_the_letter,
    with_changes,
)
from planform.design.files import table_of
from planform.design.naming import Path as Place
from planform.design.naming import path_of, path_text, value_at
from planform.design.problems import Failure, InputError, Problem
from planform.design.reading import Reading
from planform.design.rewriting import rewritten
from planform.explore.asked import DROP, KEEP, Kept
from planform.explore.read import problem_line
from planform.report.record import Record

NAME = re.compile(r"\w[\w .()+-]{0,80}\.toml")
NAMED = "allowed: a name of letters, digits and - that ends in .toml, in the folder of the original"


@dataclass(frozen=True)
class NewFiles:
    """New files as they would be written, the first one last.

    texts : by their path ; difference : against the originals, line by line
    asks : fields whose tolerance is neither kept nor dropped yet
    """

    texts: dict[Path, str]
    difference: tuple[str, ...]
    asks: tuple[Record, ...]


def new_files(path: Path, sort: str, kept: Kept) -> NewFiles:
    """The new file, and new ones of included files whose values changed.

    Raises InputError with all that is wrong; nothing is written.
    """
    source = source_of(path, sort)
    target = _target(path, kept.name)
    texts, asks = {}, []
    for field, text in kept.changes.items():
        texts[field], ask = _worded(source, field, text, kept.carry.get(field, ""))
        asks += [] if ask is None else [ask]
    with_changes(source, texts, to_the_letter)
    if not texts:
        none = Problem("", "", "nothing is changed; there is nothing to keep")
        raise InputError(str(path), [none])
    out: dict[Path, str] = {}
    difference: list[str] = []
    for old, new, changes in _by_file(source, target, texts):
        before = old.read_bytes().decode("utf-8")
        after = rewritten(before, changes)
        out[new] = after
        rows = unified_diff(
            before.splitlines(), after.splitlines(), old.name, new.name, lineterm=""
        )
        difference += rows
    return NewFiles(out, tuple(difference), tuple(asks))


def _target(path: Path, name: str) -> Path:
    """The new file. Raises InputError where its name is none, or is taken."""
    problem = None
    if not NAME.fullmatch(name) or Path(name).name != name:
        problem = Problem("name", repr(name[:80]), NAMED)
    elif os.path.lexists(path.parent / name):
        problem = Problem("name", repr(name), "this file is there already; give another name")
    if problem is not None:
        raise InputError(str(path), [problem])
    return path.parent / name


def _worded(source: Source, field: str, text: str, carry: str) -> tuple[str, Record | None]:
    """A value as it goes into the file; and what is asked about its tolerance."""
    there = _reading(source, field)
    if there is None or not tail_of(there.text):
        return text, None
    with_tail = carried(text, there)
    if with_tail == text or carry == DROP:
        return text, None
    words = f"{field} was {there.text}; does {tail_of(there.text)} hold for {text} too?"
    ask: Record = {"path": field, "tail": tail_of(there.text), "words": words}
    return with_tail, None if carry == KEEP else ask


def _reading(source: Source, field: str) -> Reading | None:
    try:
        found = value_at(source.model, path_of(field))
    except LookupError:
        return None
    return found if isinstance(found, Reading) else None


def _by_file(
    source: Source, target: Path, texts: Mapping[str, str]
) -> list[tuple[Path, Path, dict[Place, str | float]]]:
    """Each file that changes, the new one, and its changes; the first file last."""
    whole, folder = source.whole, source.path.parent
    by_name: dict[str, dict[Place, str | float]] = {"": {}}
    for field, text in texts.items():
        place = path_of(field)
        name, own = whole.origin(place) or ("", place)
        by_name.setdefault(name, {})[own] = to_the_letter(source, field, text)
    out = []
    own_changes = by_name.pop("")
    for name, changes in by_name.items():
        new = _beside(folder, name, target, next(iter(changes)))
        place = ("include", _included_at(source, name, changes))
        own_changes[place] = new.relative_to(folder).as_posix()
        out.append((folder / name, new, changes))
    return [*out, (source.path, target, own_changes)]


def _beside(folder: Path, name: str, target: Path, place: Place) -> Path:
    """The new file of an included one, beside it. Raises InputError where it is there."""
    old = PurePosixPath(name)
    new = folder / old.with_name(f"{old.stem}-{target.stem}.toml")
    if os.path.lexists(new):
        given = new.relative_to(folder).as_posix()
        allowed = "this file of what is included is there already; give another name"
        raise InputError(str(folder), [Problem("name", repr(given), allowed)])
    return new


def _included_at(source: Source, name: str, changes: Mapping[Place, str | float]) -> int:
    """Where in its list the first file includes another one.

    Raises InputError where another included file does.
    """
    given = table_of(source.path).get("include", [])
    folder = source.path.parent.resolve()
    for k, one in enumerate(given):
        if (folder / str(one)).resolve() == (folder / name).resolve():
            return k
    allowed = f"this field stands in {name}, which another included file includes; change it there"
    raise InputError(str(source.path), [Problem(path_text(p), "", allowed) for p in changes])


def write_new(found: NewFiles) -> list[Path]:
    """Write the new files, whole or not at all, and over none that is there.

    Raises InputError where one cannot be written; then none is.
    """
    done: list[Path] = []
    try:
        for path, text in found.texts.items():
            _write(path, text.encode("utf-8"))
            done.append(path)
    except OSError as error:
        for path in done:
            path.unlink(missing_ok=True)
        taken = isinstance(error, FileExistsError)
        allowed = (
            "this file is there already; give another name"
            if taken
            else f"cannot be written here ({error.strerror}); is the folder yours?"
        )
        raise InputError(str(path), [Problem("name", repr(path.name), allowed)]) from None
    return done


def kept_files(path: Path, sort: str, kept: Kept, write: bool) -> Record:
    """What a page is told of what it wants to keep: the difference, or what was written.

    write : False shows the difference alone; where something is asked nothing is written
    """
    try:
        found = new_files(path, sort, kept)
        if write and not found.asks:
            written = [str(one) for one in write_new(found)]
            return {"written": written[-1], "files": written}
    except InputError as error:
        return {"problems": [problem_line(sort, one) for one in error.problems]}
    except Failure as error:
        return {"problems": [problem_line(sort, Problem("", "", str(error)))]}
    return {"difference": found.difference, "asks": found.asks}


def _write(path: Path, content: bytes) -> None:
    """Write one file that is not there yet; FileExistsError where it is."""
    half_made = path.with_name(f".{path.name}.{secrets.token_hex(6)}")
    try:
        with half_made.open("xb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        _linked(half_made, path, content)
    finally:
        half_made.unlink(missing_ok=True)


def _linked(half_made: Path, path: Path, content: bytes) -> None:
    """Give a whole file its name, which no other file has."""
    try:
        os.link(half_made, path)
    except FileExistsError:
        raise
    except OSError:  # a disk that knows no second name for a file
        with path.open("xb") as stream:
            try:
                stream.write(content)
            except OSError:
                path.unlink(missing_ok=True)
                raise
