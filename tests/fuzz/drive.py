"""Drives changed files through `check` and, where it calls them good, through the commands."""

from __future__ import annotations

import contextlib
import io
import json
import random
import re
import shutil
import tempfile
import traceback
import warnings
from dataclasses import dataclass
from pathlib import Path
from time import monotonic
from typing import Any

from planform.cli.app import app
from planform.design.problems import InputError
from tests.conftest import DESIGNS, PLAIN, ROOM
from tests.fuzz.changes import changed, tables_of, written

QUICK = ("measure", "balance", "sheet", "carry", "haul", "fit")
SLOW = ("compare", "rollout", "wheels", "changes", "pack", "preview")
ABOUT_AN_OPTION = (
    "options",
    "option",
    "stage",
    "stance",
    "spot",
    "output",
    "part",
    "change",
    "--part",
)
OF_BOTH = ("its middle must stand", "already meets", "give the place a spot", "a door to come out")
"""What is refused of an aircraft in a place, or of what a command needs; no mistake of a file."""
SLOWEST = {"check": 5.0}
"""Seconds a command may take on a busy machine; eighty where it is not named."""


@dataclass(frozen=True)
class Fault:
    """What went wrong: of which kind, in which command, and how to see it again."""

    kind: str
    command: str
    detail: str
    trial: str

    @property
    def where(self) -> str:
        """The kind of fault, without what differs from file to file."""
        return f"{self.kind} | {self.command} | {self.detail}"


@dataclass(frozen=True)
class Answer:
    """What a command said."""

    code: int
    out: str
    err: str
    refused: InputError | None
    failure: str
    seconds: float


def run(*words: str) -> Answer:
    """One command in this process, as main would run it."""
    out, err = io.StringIO(), io.StringIO()
    refused, failure, code = None, "", 0
    began = monotonic()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        try:
            with warnings.catch_warnings():
                warnings.simplefilter("error")
                code = app(list(words), standalone_mode=False) or 0
        except InputError as error:
            refused, code = error, 2
        except Exception as error:
            failure, code = f"{_last(error)}\n{traceback.format_exc()}", 3
    return Answer(code, out.getvalue(), err.getvalue(), refused, failure, monotonic() - began)


def _last(error: Exception) -> str:
    """The error, and the deepest line of our own code that it passed."""
    frames = [f for f in traceback.extract_tb(error.__traceback__) if "/planform/" in f.filename]
    at = f"{frames[-1].filename.rpartition('/planform/')[2]}:{frames[-1].lineno}" if frames else "?"
    return f"{type(error).__name__} {re.sub('[0-9.]+', '#', str(error))[:60]} at {at}"


def _faults(command: str, answer: Answer, trial: str, *, json_out: bool) -> list[Fault]:
    out = []
    if answer.failure:
        out.append(Fault("failure", command, answer.failure.split("\n")[0], trial))
    if answer.seconds > SLOWEST.get(command, 80.0):
        out.append(Fault("slow", command, "", f"{trial} {answer.seconds:.1f} s"))
    if json_out and answer.out and not answer.failure:
        try:
            json.loads(answer.out, parse_constant=_no_constant)
        except ValueError as error:
            out.append(Fault("json", command, str(error)[:80], trial))
    odd = re.search(r"(?<![\w-])(?:nan|inf)(?![\w-])|None(?! is )|<[\w.]+ object", answer.out)
    if odd and command != "check" and not json_out:
        line = next(line for line in answer.out.splitlines() if odd[0] in line)
        out.append(Fault("odd word", command, odd[0], f"{trial}: {line.strip()[:90]}"))
    marks = re.search(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]", answer.out)
    if marks or re.search(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e]", answer.err):
        out.append(Fault("control character", command, "", trial))
    return out


def _no_constant(name: str) -> Any:
    raise ValueError(f"{name} in JSON")


@dataclass
class Bench:
    """A folder with the unchanged files that go with a changed one."""

    folder: Path

    def __post_init__(self) -> None:
        (self.folder / "plain.toml").write_text(written(PLAIN), encoding="utf-8")
        (self.folder / "room.toml").write_text(written(ROOM), encoding="utf-8")

    def words(self, command: str, sort: str, base: str, path: Path) -> list[str] | None:
        """How a command is called with the changed file; None where it takes no such file."""
        partner = {"Quillwort 2": "garden-shed", "Marram": "boatshed", "Samphire": "barn"}
        room = str(DESIGNS / f"{partner[base]}.toml") if base in partner else self._of("room")
        other = {"Garden shed": "quillwort", "Boat shed": "marram", "Barn": "samphire"}
        plain = str(DESIGNS / f"{other[base]}.toml") if base in other else self._of("plain")
        design = str(path) if sort == "design" else plain
        place = str(path) if sort == "place" else room
        carrier = str(path) if sort == "carrier" else str(DESIGNS / "flat-trailer.toml")
        out = ["-o", str(self.folder / "out")]
        calls = {
            "measure": (("design",), [design]),
            "balance": (("design",), [design, *out]),
            "sheet": (("design",), [design, *out]),
            "carry": (("design", "place"), [design, place, "--part", self.part(design)]),
            "haul": (("design", "carrier"), [design, carrier, "--part", self.part(design)]),
            "fit": (("design", "place"), [design, place]),
            "compare": (
                ("design", "place"),
                [design, place, "--cant", "5 deg", "--workers", "1", *out],
            ),
            "rollout": (("design", "place"), [design, place, "--time", "1", *out]),
            "wheels": (("design", "place"), [design, place, "--time", "1", "--moving", "wheels"]),
            "changes": (("design", "place"), [design, place, "--time", "1"]),
            "pack": (("design", "place"), [place, design, self._of("plain"), "--time", "1"]),
            "preview": (("design",), [design, *out]),
            "report": (("design", "place"), [design, place, *out]),
        }
        sorts, words = calls[command]
        name = "rollout" if command == "wheels" else command
        return [name, *words] if sort in sorts else None

    def _of(self, name: str) -> str:
        return str(self.folder / f"{name}.toml")

    def part(self, design: str) -> str:
        """A part of the design, by a reading of its own; any word where there is none."""
        import tomllib

        table = tomllib.loads(Path(design).read_text("utf-8"))
        for group in ("lifting", "winglets", "bodies"):
            found = table.get(group)
            if isinstance(found, dict) and found:
                return next(iter(found))
        return "wing"


def trial(seed: int, commands: tuple[str, ...], share: float) -> list[Fault]:
    """One changed file, checked; a share of those that pass also goes through a command."""
    dice = random.Random(seed)
    sort = dice.choice(("design", "design", "design", "place", "place", "carrier"))
    base = dice.choice(tables_of(sort))
    table = changed(base, dice)
    command = dice.choice(commands) if commands else ""
    with_command = bool(command) and dice.random() < share
    folder = Path(tempfile.mkdtemp(prefix="fuzz-"))
    try:
        path = folder / "changed.toml"
        path.write_text(written(table), encoding="utf-8")
        name = f"seed {seed}, {sort} {base['name']}"
        answer = run("check", str(path), "--json")
        found = _faults("check", answer, name, json_out=True)
        found += [Fault("same name", "check", "", name)] * _same_name(answer)
        if answer.code == 0 and with_command and not found:
            found += _commanded(Bench(folder), command, sort, base["name"], path, name)
        return found
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _same_name(answer: Answer) -> bool:
    try:
        files = json.loads(answer.out)["files"]
    except (ValueError, KeyError):
        return False
    return any(
        f"did you mean {problem['given']}?" in problem["allowed"]
        for file in files
        for problem in file["problems"]
    )


def _commanded(
    bench: Bench, command: str, sort: str, base: str, path: Path, name: str
) -> list[Fault]:
    words = bench.words(command, sort, base, path)
    if words is None:
        return []
    json_out = len(name) % 2 == 0 and command not in ("sheet", "preview", "report")
    answer = run(*words, *(["--json"] if json_out else []))
    found = _faults(command, answer, name, json_out=json_out)
    refusal = str(answer.refused)
    of_both = any(words in refusal for words in OF_BOTH)
    if answer.refused is not None and not of_both and answer.refused.origin not in ABOUT_AN_OPTION:
        found.append(Fault("check is silent", command, str(answer.refused)[-150:], name))
    elif answer.code == 2 and answer.refused is None:
        found.append(Fault("check is silent", command, answer.err[-150:], name))
    return found
