"""Writing whole or not at all: folders and single files.

A folder is made whole beside its target and then swapped with it in one step of the system, so a
kill leaves the old one or the new one. A record in it says what planform wrote, by answer and by
content: the next run of the same answer takes that away and nothing else. What a person put there,
or changed, stays; where its name is one of the answer's own, it goes into `earlier/`.
"""

from __future__ import annotations

import contextlib
import errno
import os
import shutil
from collections.abc import Callable, Collection, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

from planform.design.problems import InputError, Problem
from planform.drawing.drawing import Drawing
from planform.drawing.writers import save, writers
from planform.report.swap import MOST_KEPT, SHOP, alone, files_in, opened, record_of, swapped

try:
    import fcntl
except ImportError:  # no such locks here: what a killed run left is not told from a live one
    fcntl = None  # type: ignore[assignment]

NO_FILE = "this file cannot be written ({}); name another or mend its folder's permissions"
NOT_WRITABLE = "this folder cannot be written ({}); name another or mend its permissions"


@contextmanager
def whole_folder(target: Path, answer: str, carried: tuple[str, ...] = ()) -> Iterator[Path]:
    """A workshop beside the target, which takes the target's place only if all went well.

    answer : whose files these are, one of NAMES; its earlier files give way to the new ones
    carried : names in the target that belong to this answer and stay
    Raises InputError where the target cannot be written.
    """
    place = Path(os.path.realpath(target))
    made: list[Path] = []
    try:
        with _told(target, "this folder cannot be written ({}); name another or mend its "
                   "permissions"):  # fmt: skip
            made = _made_parents(place)
            _refused(target, place)
            shop, lock = opened(place)
        try:
            with _told(target, "writing stopped: {}"):
                yield shop / "new"
                swapped(place, shop, answer, carried)
        finally:
            shutil.rmtree(shop, ignore_errors=True)
            if lock is not None:
                os.close(lock)
    finally:
        _unmade(made)  # they are empty only if nothing was written


def one_file(target: Path, content: Callable[[], bytes]) -> None:
    """Write a single file, whole or not at all; one of that name gives way to it.

    content : made once it is known that the file can be written
    Raises InputError where it cannot.
    """
    made: list[Path] = []
    try:
        with _told(target, NO_FILE):
            made = _made_parents(target.resolve())
            if target.is_dir():
                allowed = "this is a folder; name a file, or a folder without an ending"
                raise InputError("output", [Problem("-o", str(target), allowed)])
            if not os.access(target.resolve().parent, os.W_OK | os.X_OK):
                raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))
            held = content()
            _put(target, held)
    except BaseException:
        _unmade(made)
        raise


def checked(target: Path) -> None:
    """InputError for a folder that cannot be written, as far as that shows beforehand."""
    with _told(target, NOT_WRITABLE):
        _refused(target, Path(os.path.realpath(target)))


def written(folder: Path, files: Mapping[str, str], own: Collection[str]) -> list[Path]:
    """Texts as files of a folder, each written whole.

    own : names of files that become the user's; none goes over one that is there
    Raises InputError where one of those is there already, or the folder cannot be written.
    """
    done: list[Path] = []
    made: list[Path] = []
    try:
        with _told(folder, "this folder cannot be written ({})", "new"):
            made = _made_parents(folder / "any")
            with alone(folder):
                there = [folder / name for name in own if os.path.lexists(folder / name)]
                if there:
                    allowed = "already there and not touched; name another folder"
                    raise InputError("new", [Problem("", str(path), allowed) for path in there])
                for name, text in files.items():
                    before = (folder / name).exists()
                    _put(folder / name, text.encode("utf-8"))
                    done += [] if before else [folder / name]
    except BaseException:
        for path in done:
            path.unlink(missing_ok=True)
        _unmade(made)
        raise
    return [folder / name for name in files]


Content = str | bytes | Drawing
"""What a file holds; a drawing is written as the kind of file that the ending of its name tells."""


def pictured(drawings: Mapping[str, Drawing]) -> dict[str, Content]:
    """Each drawing as every kind of file that there is a writer for, by the files' names."""
    return {f"{name}.{end}": one for name, one in drawings.items() for end in writers()}


def put(workshop: Path, files: Mapping[str, Content]) -> None:
    """Write files below a workshop, by their names from there."""
    for name, content in files.items():
        path = workshop / name
        path.parent.mkdir(parents=True, exist_ok=True)
        if isinstance(content, Drawing):
            save(content, path)
        else:
            path.write_bytes(content.encode("utf-8") if isinstance(content, str) else content)


def _put(path: Path, content: bytes) -> None:
    """Write one file whole; the half made one has a name that a killed run's successor takes."""
    half_made = path.with_name(f"{SHOP}{path.name}")
    try:
        with half_made.open("wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        os.replace(half_made, path)
    finally:
        half_made.unlink(missing_ok=True)


@contextmanager
def _told(target: Path, words: str, origin: str = "output") -> Iterator[None]:
    """What the system refuses, as a problem of what named the folder."""
    try:
        yield
    except OSError as error:
        if error.strerror is None:
            raise
        named = "-o" if origin == "output" else ""
        problem = Problem(named, str(target), words.format(error.strerror))
        raise InputError(origin, [problem]) from None


def _made_parents(place: Path) -> list[Path]:
    """Make the folders that the place lies in; those that were not there, outermost first."""
    missing = [p for p in place.parents if not p.exists()]
    place.parent.mkdir(parents=True, exist_ok=True)
    return missing[::-1]


def _unmade(folders: list[Path]) -> None:
    """Take away those that are empty."""
    for folder in reversed(folders):
        with contextlib.suppress(OSError):
            folder.rmdir()


def _refused(target: Path, place: Path) -> None:
    """InputError for a target that cannot be swapped whole."""

    def problem(allowed: str) -> InputError:
        return InputError("output", [Problem("-o", str(target), allowed)])

    if not place.exists():
        return
    if not place.is_dir():
        raise problem("this is a file; name a folder")
    if not os.access(place, os.W_OK | os.X_OK):
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))
    here = Path(os.path.realpath(os.getcwd()))
    if os.path.ismount(place) or place == here or place in here.parents:
        raise problem("this folder itself cannot be swapped for a new one; name one inside it")
    mine = sum(map(len, record_of(place).values()))
    for count, _ in enumerate(files_in(place)):
        if count - mine > MOST_KEPT:
            raise problem(
                f"holds more than {MOST_KEPT} files that planform did not write; "
                "name a folder of its own"
            )
