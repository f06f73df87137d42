"""Swapping a finished folder for the old one in one step, and clearing up after killed runs.

A record in each folder says what planform wrote, by answer and by content: the next run of the same
answer takes that away and nothing else. What a person put there, or changed, stays; where its name
is one of the answer's own, it goes into `earlier/`.
"""

from __future__ import annotations

import contextlib
import ctypes
import hashlib
import json
import logging
import os
import re
import shutil
import stat
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from planform.drawing.writers import writers
from planform.report.writers import table_writers

try:
    import fcntl
except ImportError:  # no such locks here: what a killed run left is not told from a live one
    fcntl = None  # type: ignore[assignment]

RECORD = ".planform.json"
"""In every folder that planform wrote: answer -> file -> SHA-256."""
EARLIER = "earlier"
"""Where a file goes that planform did not write and whose name it needs."""
MOST_KEPT = 2000
"""More files of others than this are not carried over into a new folder."""
SHOP = ".planform-work-"
SEEN = "seen.json"
EXCHANGE = 2
"""RENAME_EXCHANGE of renameat2(2)."""

PICTURE = rf"\.({'|'.join(writers())})"
TABLES = rf"\.({'|'.join(table_writers())})"
NAMES = {
    "report": r"(report|sheet|in-3d)\.html|report\.pdf|answer\.json|dimensions\.csv|plan-\d+\.svg|"
    rf"airframe\.(glb|stl)|(room-\d+|three_quarter|side|front|above){PICTURE}",
    "view": rf"((place|above|inside|through-\d+|heights|heights-ahead){PICTURE})|(stages|way)\.png",
    "preview": rf"airframe\.(3mf|glb|obj|step|stl)|(three_quarter|side|front|above){PICTURE}",
    "sheet": r"sheet\.html|dimensions\.csv|(drawings|templates|mock-up)\.pdf|"
    r"(dimension-sheet|general-views|heights|stations|sections|winglets|cant-options|room-plan)"
    r"\.(svg|dxf|png)",
    "balance": r"(balance|weighing-record)\.(html|pdf)|balance\.json|(envelope|loading)\.svg|"
    rf"balance{TABLES}",
    "compare": r"compare\.html|options\.(csv|json|parquet)|loading\.csv|(trade|span)\.svg",
    "rollout": r"route\.(html|json)|helpers-card\.(html|pdf)|roll-out\.gif|"
    rf"floor-marks{TABLES}|(marks|chalk|jam|step-\d+){PICTURE}",
    "points": rf"points\.json|readings\.csv|points{TABLES}|points-(above|left|ahead){PICTURE}",
    "changes": r"changes\.(html|json)|change-\d+\.svg",
    "pack": rf"packing\.(html|json)|plan{PICTURE}|\d+-[a-z0-9-]*/.*",
    "carry": rf"carry\.(html|json)|carry{TABLES}|roll\.svg|(door-\d+|least-opening){PICTURE}",
    "rig": r"card\.(pdf|html|svg|json)",
    "survey": rf"survey\.(html|json|pdf)|as-built\.toml|survey{TABLES}|"
    rf"(readings|scan)-[a-z-]+{PICTURE}",
    "haul": rf"haul\.(html|json)|haul{TABLES}|(plan|side){PICTURE}",
}
"""The names that an answer writes; such a file of unknown origin never stays beside a newer one."""


Record = dict[str, dict[str, str]]


@contextmanager
def alone(parent: Path) -> Iterator[None]:
    """One run at a time opens or swaps folders in here."""
    handle = os.open(parent, os.O_RDONLY)
    try:
        _flock(handle, wait=True)
        yield
    finally:
        os.close(handle)


def _flock(handle: int, *, wait: bool) -> bool:
    """Lock what is opened; whether it is ours now (also where the system has no such locks)."""
    if fcntl is None:
        return wait
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | (0 if wait else fcntl.LOCK_NB))
    except BlockingIOError:
        return False
    except OSError:
        return wait
    return True


def opened(place: Path) -> tuple[Path, int | None]:
    """A new workshop beside the place, locked as long as this run lives."""
    with alone(place.parent):
        _recovered(place)
        shop = Path(tempfile.mkdtemp(prefix=f"{SHOP}{place.name}-", dir=place.parent))
        handle = None
        if fcntl is not None:
            handle = os.open(shop, os.O_RDONLY)
            _flock(handle, wait=True)
        (shop / "new").mkdir()
    return shop, handle


def _recovered(place: Path) -> None:
    """Clear away what killed runs left beside the place, losing no file of anybody else."""
    for shop in place.parent.glob(f"{SHOP}{_escaped(place.name)}-????????"):
        if not shop.is_dir():
            continue
        handle = os.open(shop, os.O_RDONLY)
        try:
            if not _flock(handle, wait=False):
                continue
            old = shop / "old"
            if old.is_dir() and not place.exists():
                os.rename(old, place)
            _kept_late(shop, place)
            shutil.rmtree(shop, ignore_errors=True)
        finally:
            os.close(handle)


def _escaped(name: str) -> str:
    """A name as a pattern that matches itself alone."""
    return re.sub(r"([*?\[])", r"[\1]", name)


@dataclass(frozen=True)
class _Plan:
    """What becomes of the files of the old folder, by their names in it."""

    keep: list[str]
    aside: list[str]
    record: Record


def swapped(place: Path, shop: Path, answer: str, carried: tuple[str, ...]) -> None:
    """Finish the new folder and put it where the old one is."""
    new = shop / "new"
    fresh = {name: _digest(new / name) for name in files_in(new)}
    with alone(place.parent):
        if not place.exists():
            _recorded(new, {answer: fresh})
            _synced(new)
            os.rename(new, place)
            return
        plan = _planned(place, answer, fresh, carried)
        files = {name: _mark(place / name) for name in files_in(place)}
        seen = {"folder": place.stat().st_ino, "files": files}
        for name in plan.keep:
            _linked(place / name, new / name)
        where = {name: _free(new, name) for name in plan.aside}
        for name, aside in where.items():
            _linked(place / name, new / aside)
        _empty_kept(place, new)
        _recorded(new, plan.record)
        os.chmod(new, stat.S_IMODE(place.stat().st_mode))
        (shop / SEEN).write_text(json.dumps(seen), encoding="utf-8")
        _synced(new)
        _exchanged(place, new, shop / "old")
        _kept_late(shop, place)
    if where:
        moved = ", ".join(sorted(where.values()))
        logging.getLogger("planform").warning(
            "note: not written by planform as they are, and in its way: kept as %s", moved
        )


def _planned(
    place: Path, answer: str, fresh: dict[str, str], carried: tuple[str, ...]
) -> _Plan:  # fmt: skip
    """Sort the files of the old folder: they go, stay, or are set aside."""
    record = record_of(place)
    mine = record.get(answer, {})
    others = {
        name: mark for a, files in record.items() if a != answer for name, mark in files.items()
    }
    pattern = re.compile(NAMES[answer])
    taken = {*fresh, *(parent for name in fresh for parent in _above(name))}
    keep, aside = [], []
    own = dict(fresh)
    for name in files_in(place):
        if name == RECORD:
            continue
        known = mine.get(name) or others.get(name)
        unchanged = known is not None and _digest(place / name) == known
        in_the_way = name in taken or any(parent in fresh for parent in _above(name))
        if name in carried and not in_the_way:
            keep.append(name)
            own[name] = _digest(place / name)
        elif unchanged and (name in mine or in_the_way):
            continue
        elif in_the_way or name in mine or (known is None and pattern.fullmatch(name)):
            aside.append(name)
        else:
            keep.append(name)
    left = {
        a: {name: mark for name, mark in files.items() if name in keep and name not in own}
        for a, files in record.items()
        if a != answer
    }
    return _Plan(keep, aside, {a: files for a, files in left.items() if files} | {answer: own})


def _above(name: str) -> list[str]:
    """The folders that a file lies in, by their names."""
    return [str(parent) for parent in PurePosixPath(name).parents][:-1]


def files_in(folder: Path) -> Iterator[str]:
    """Every file and link below a folder, by its name from there."""
    for base, folders, names in os.walk(folder):
        links = [f for f in folders if os.path.islink(os.path.join(base, f))]
        for name in sorted([*names, *links]):
            yield Path(base, name).relative_to(folder).as_posix()


def _empty_kept(place: Path, new: Path) -> None:
    """Folders of others that hold nothing are kept too."""
    for base, folders, names in os.walk(place):
        if not folders and not names and base != str(place):
            with contextlib.suppress(FileExistsError, NotADirectoryError):
                (new / Path(base).relative_to(place)).mkdir(parents=True)


def _digest(path: Path) -> str:
    if path.is_symlink() or not path.is_file():
        return ""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def _mark(path: Path) -> list[int]:
    """Which file it is, and when it was last changed."""
    found = path.lstat()
    return [found.st_ino, found.st_mtime_ns]


def record_of(folder: Path) -> Record:
    """What planform wrote in a folder; nothing where no record can be read."""
    try:
        found = json.loads((folder / RECORD).read_text(encoding="utf-8"))["answers"]
        return {
            str(answer): {str(name): str(mark) for name, mark in files.items()}
            for answer, files in found.items()
        }
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        return {}


def _recorded(folder: Path, record: Record) -> None:
    content = {
        "schema": "planform record 1",
        "about": "what planform wrote here; it takes away these files alone, unchanged ones",
        "answers": {a: dict(sorted(files.items())) for a, files in sorted(record.items())},
    }
    text = json.dumps(content, indent=1, ensure_ascii=False)
    (folder / RECORD).write_text(text + "\n", encoding="utf-8")


def _free(new: Path, name: str) -> str:
    """A name below `earlier/` that is not taken."""
    path = PurePosixPath(EARLIER, name)
    count = 2
    while os.path.lexists(new / path):
        path = PurePosixPath(EARLIER, name).with_stem(f"{PurePosixPath(name).stem}-{count}")
        count += 1
    return str(path)


def _linked(source: Path, target: Path) -> None:
    """The same file under a second name; a copy where the disk has no such links."""
    target.parent.mkdir(parents=True, exist_ok=True)
    try:
        os.link(source, target, follow_symlinks=False)
    except (OSError, NotImplementedError):
        shutil.copy2(source, target, follow_symlinks=False)


def _synced(folder: Path) -> None:
    """Have the disk hold what was written, before it takes the place of the old."""
    for base, _, names in os.walk(folder):
        for name in names:
            path = os.path.join(base, name)
            if os.path.islink(path) or os.stat(path).st_nlink > 1:
                continue
            handle = os.open(path, os.O_RDONLY)
            try:
                os.fsync(handle)
            finally:
                os.close(handle)


def _exchanged(place: Path, new: Path, old: Path) -> None:
    """Swap two folders in one step; in two, recovered by the next run, where there is no other."""
    try:
        swap = ctypes.CDLL(None, use_errno=True).renameat2
    except (AttributeError, OSError, TypeError):
        done = False
    else:
        here = -100  # AT_FDCWD
        done = swap(here, os.fsencode(place), here, os.fsencode(new), EXCHANGE) == 0
    if not done:
        os.rename(place, old)
        os.rename(new, place)


def _kept_late(shop: Path, place: Path) -> None:
    """Bring back what was put into the old folder, or changed there, while it was being swapped."""
    try:
        seen = json.loads((shop / SEEN).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return  # never swapped: all that is in here was made or linked by the run itself
    for old in (shop / "new", shop / "old"):
        if not old.is_dir() or old.stat().st_ino != seen["folder"]:
            continue
        for name in list(files_in(old)):
            if seen["files"].get(name) == _mark(old / name) or _same(old / name, place / name):
                continue
            target = place / (_free(place, name) if os.path.lexists(place / name) else name)
            target.parent.mkdir(parents=True, exist_ok=True)
            os.rename(old / name, target)


def _same(one: Path, two: Path) -> bool:
    return os.path.lexists(two) and one.lstat().st_ino == two.lstat().st_ino
