"""The graded rooms with the answers that are expected, and where these come from."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import planform as pf

ROOT = Path(__file__).parents[1]
ROOMS = ROOT / "benchmarks/rooms"
TABLE = ROOT / "benchmarks/answers.toml"


@dataclass(frozen=True)
class Answer:
    """What is expected in one room.

    low, high : the greatest clearance of any way out lies between [m]; below zero there is no way
    design : the aircraft's file, from the project's folder ; by : where the answer comes from
    """

    room: str
    design: str
    low: float
    high: float
    by: str

    @property
    def known(self) -> bool:
        """Whether the table has an answer of its own."""
        return self.low == self.low

    @property
    def place(self) -> Path:
        """The room's file."""
        return ROOMS / f"{self.room}.toml"


def answers() -> dict[str, Answer]:
    """The table, by room."""
    table = tomllib.loads(TABLE.read_text(encoding="utf-8"))
    return {
        name: Answer(name, row["design"], length(row["low"]), length(row["high"]), row["by"])
        for name, row in table.items()
    }


def row_of(room: str) -> Answer:
    """What the table says of a room; one not in it is for the second demo design."""
    nothing = float("nan")
    return answers().get(room) or Answer(room, "designs/quillwort.toml", nothing, nothing, "")


def room_names() -> list[str]:
    """All graded rooms."""
    return sorted(path.stem for path in ROOMS.glob("*.toml"))


def length(text: str) -> float:
    """Millimetres of a text in metres; ValueError where it is not in millimetres."""
    number, unit = text.split()
    if unit != "mm":
        message = f"{text!r}: lengths of the table are in mm"
        raise ValueError(message)
    return float(number) / 1e3


def asked_rooms(names: list[str]) -> list[Answer]:
    """The rooms with these names, all where none is named."""
    table = answers()
    return [table[name] for name in names or table]


def loaded(answer: Answer) -> tuple[Any, Any]:
    """The aircraft at its last stage, and the room."""
    standing = pf.stand_all(pf.build(pf.load(ROOT / answer.design)))[-1]
    return standing, pf.build_room(pf.load_place(answer.place))
