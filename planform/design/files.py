"""Reading a TOML file into tables: one clear sentence for every file that is none."""

from __future__ import annotations

import re
import stat
import tomllib
from pathlib import Path
from typing import Any

from planform.design.problems import InputError, Problem

LARGEST_FILE = 1_000_000
"""Bytes; a design of a hundred surfaces is well under a tenth of it."""
DEEPEST = 12
"""Tables within tables; the deepest field of our own files has eight."""
TOO_DEEP = f"tables or keys more than {DEEPEST} deep; no field of ours is; is this the right file?"
_CHAIN = re.compile(rf"(?:[\w\"'-]{{1,80}} ?\. ?){{{DEEPEST + 1}}}")
"""A dotted key longer than that."""
NO_FILE = "no such file; `planform new` writes a starter"
NO_TEXT = "not a text file (allowed: TOML in UTF-8); is this the right file?"


class Unreadable(Exception):
    """What is allowed instead of a file, and what was given."""

    def __init__(self, allowed: str, given: str = "") -> None:
        self.allowed, self.given = allowed, given


def table_of(path: Path) -> dict[str, Any]:
    """The tables of a TOML file. Raises InputError with one problem where it cannot be read."""
    try:
        return _tables(_text(_bytes(path)))
    except Unreadable as error:
        raise InputError(str(path), [Problem("", error.given, error.allowed)]) from None


def text_of(path: Path) -> str:
    """The text of a file that a design names, with plain line ends. Raises Unreadable."""
    try:
        text = _bytes(path, "a text file", "no such file").decode("utf-8-sig")
    except UnicodeDecodeError:
        raise Unreadable("not a text file (allowed: UTF-8); is this the right file?") from None
    if "\0" in text:
        raise Unreadable("not a text file (allowed: UTF-8); is this the right file?")
    return "\n".join(text.splitlines())


def _bytes(path: Path, wanted: str = "a .toml file", missing: str = NO_FILE) -> bytes:
    try:
        found = path.stat()
        if stat.S_ISDIR(found.st_mode):
            raise Unreadable(f"this is a folder; name {wanted} in it")
        if not stat.S_ISREG(found.st_mode):
            raise Unreadable(f"this is no file but a device or a pipe; name {wanted}")
        with path.open("rb") as stream:
            raw = stream.read(LARGEST_FILE + 1)
    except FileNotFoundError:
        raise Unreadable(missing) from None
    except OSError as error:
        raise Unreadable(f"cannot be read ({error.strerror}); check its permissions") from None
    if len(raw) > LARGEST_FILE:
        raise Unreadable(
            f"allowed: a text file of at most {LARGEST_FILE // 1000} kB; is this the right file?",
            f"a file of {max(found.st_size, len(raw)) / 1e6:.1f} MB",
        )
    return raw


def _text(raw: bytes) -> str:
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise Unreadable(NO_TEXT) from None
    if "\0" in text:
        raise Unreadable(NO_TEXT)
    if not text.strip():
        raise Unreadable("the file is empty; `planform new` writes a starter to fill in")
    if _CHAIN.search(text):
        raise Unreadable(TOO_DEEP)
    return text


def _tables(text: str) -> dict[str, Any]:
    try:
        table = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        spaced = _spaced_key(text, str(error))
        if spaced is not None:
            raise Unreadable(spaced) from None
        raise Unreadable(
            f"not readable as TOML: {error}; texts stand in quotes, as in "
            "chord = '24 in' or chord = \"610 mm\""
        ) from None
    except ValueError:
        raise Unreadable("a number or date in it cannot be: it has too many digits") from None
    except RecursionError:
        raise Unreadable(TOO_DEEP) from None
    if not _shallow(table):
        raise Unreadable(TOO_DEEP)
    return table


_AT = re.compile(r"\(at line ([0-9]+), column ([0-9]+)\)")
_BROKEN_KEY = ("Expected '=' after a key", "Expected ']' at the end of a table",
               "Expected ']]' at the end of an array", "Invalid statement",
               "Invalid initial character for a key part")  # fmt: skip
_PLAIN_KEY = re.compile(r"[A-Za-z0-9_-]+")


def _spaced_key(text: str, error: str) -> str | None:
    """What to write where a key with a space or an odd letter stands without quotes, or None."""
    place = _AT.search(error)
    if place is None or not error.startswith(_BROKEN_KEY):
        return None
    line, column = text.split("\n")[int(place[1]) - 1], int(place[2]) - 1
    head = error.startswith("Expected ']")
    start = max(line.rfind(mark, 0, column) for mark in ("[" if head else "{", ",")) + 1
    ends = [at for mark in ("]" if head else "=",) if (at := line.find(mark, column)) >= 0]
    key = line[start : ends[0] if ends else len(line)].strip()
    steps = [step.strip() for step in key.split(".")]
    if not ends or not key or any(mark in key for mark in "\"'{}[]#,") or not all(steps):
        return None
    odd = [step for step in steps if not _PLAIN_KEY.fullmatch(step)]
    if not odd:
        return None
    quoted = ".".join(f'"{step}"' if step in odd else step for step in steps)
    told = "has a space" if " " in odd[0] else "has more in it than letters, digits, - and _"
    where = f"{quoted} = …"
    if head:
        where = f"[[{quoted}]]" if "']]'" in error else f"[{quoted}]"
    return f"line {place[1]}: the name “{odd[0]}” {told} and stands in quotes; write {where}"


def _shallow(table: dict[str, Any]) -> bool:
    """Whether nothing is nested deeper than `DEEPEST`."""
    level: list[Any] = [table]
    for _ in range(DEEPEST):
        level = [
            inner
            for item in level
            for inner in (item.values() if isinstance(item, dict) else item)
            if isinstance(inner, dict | list)
        ]
    return not level
