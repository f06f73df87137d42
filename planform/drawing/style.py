"""How things are drawn, as one table: colours, line weights, dashes, sizes of letters."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

PAPER = "#fbfaf6"
"""The ground of every drawing and picture."""


@dataclass(frozen=True)
class Look:
    """How a mark is drawn; sizes in px of the sheet.

    fill, stroke : '#rrggbb', or None for none; the fill of a text is its colour
    opacity, stroke_opacity : 0 to 1
    dash : lengths of strokes and gaps in turn; an unbroken line where empty
    round_ends : open lines end round
    letter : size of letters
    words : what words do near it: keep off, rather keep off its lines, or lie anywhere
    """

    fill: str | None = None
    opacity: float = 1.0
    stroke: str | None = None
    stroke_opacity: float = 1.0
    weight: float = 1.0
    dash: tuple[float, ...] = ()
    round_ends: bool = False
    letter: float = 13.0
    bold: bool = False
    words: Literal["off", "rather off", "over"] = "rather off"

    @property
    def letter_width(self) -> float:
        """Width of a letter as a share of its size, rather too wide than too narrow."""
        return 0.68 if self.bold else 0.6


Kind = str | Look
"""The name of a look in the table, or a look of its own, such as a shade of a lit solid."""

LOOKS = {
    "words": Look(fill="#2b3a42"),
    "small": Look(fill="#5d6b70", letter=11.0),
    "strong": Look(fill="#8c2f1b", bold=True),
    "called": Look(fill="#1f5f4d", bold=True),
    "person": Look(fill="#4a3a08", letter=11.0, bold=True),
    "floor": Look(fill="#f1ece0", words="over"),
    "wall": Look(fill="#6b6459", stroke="#4b463e", weight=0.6, words="off"),
    "opening": Look(stroke="#2f6f73", weight=2.0, dash=(7, 4)),
    "hanging": Look(fill="#c9b458", opacity=0.35, stroke="#8a7622", dash=(5, 3)),
    "standing": Look(fill="#b9a58a", stroke="#6d5a3f"),
    "kept": Look(fill="#a9c3a4", opacity=0.3, stroke="#567352", dash=(2, 3), words="over"),
    "part": Look(fill="#7fa3ad", opacity=0.8, stroke="#1f3f4a", weight=0.9, words="off"),
    "disc": Look(fill="#9a8fb0", opacity=0.55, stroke="#4d4266", words="off"),
    "panel": Look(fill="#d7a35b", opacity=0.7, stroke="#7a5215", words="off"),
    "parked": Look(fill="#a9a79f", opacity=0.6, stroke="#57554e", weight=0.9, words="off"),
    "ghost": Look(
        fill="#7fa3ad", opacity=0.1, stroke="#6d8c95", weight=0.9, dash=(4, 3), words="off"
    ),
    "leader": Look(stroke="#b3361b", weight=2.0),
    "end": Look(fill="#b3361b"),
    "earth": Look(fill="#e4dccb"),
    "surface": Look(stroke="#6b5a3c", weight=1.8),
    "bend": Look(stroke="#4b463e", weight=0.9, dash=(12, 3, 2, 3)),
    "roof": Look(stroke="#4b463e", weight=1.4),
    "sight": Look(stroke="#2f6f73", dash=(5, 4)),
    "thin": Look(stroke="#7a8387"),
    "hatch": Look(stroke="#8a7622", weight=0.7),
    "sweep": Look(fill="#dba35f", opacity=0.16, stroke="#a8641e", weight=1.2, dash=(2, 3)),
    "between": Look(stroke="#a9bcc2", weight=0.7),
    "motion": Look(stroke="#1f5f4d", weight=2.6),
    "head": Look(fill="#1f5f4d"),
    "pivot": Look(fill=PAPER, stroke="#1f5f4d", weight=2.4),
    "arc": Look(stroke="#1f5f4d", dash=(3, 3)),
    "walker": Look(fill="#f3d36b", stroke="#4a3a08", weight=1.4),
    "keepoff": Look(fill=PAPER, stroke="#b3361b", weight=2.0),
    "tape": Look(stroke="#6b4f8f", weight=0.8, dash=(6, 3)),
    "chalk": Look(stroke="#a8641e", weight=1.8, dash=(7, 4)),
    "spot": Look(fill="#6b4f8f", stroke=PAPER),
    "board": Look(stroke="#8c2f1b", weight=4.0, words="off"),
}
"""Every kind of mark, by its name."""


def look_of(kind: Kind) -> Look:
    """The look of a kind; KeyError for one that the table does not hold."""
    return LOOKS[kind] if isinstance(kind, str) else kind
