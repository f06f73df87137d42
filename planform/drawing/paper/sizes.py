"""Papers, their frames and the scales that drawings are made to, with their sources."""

from __future__ import annotations

from dataclasses import dataclass

from planform.drawing.paper.marks import Box

INCH = 25.4


@dataclass(frozen=True)
class PaperSize:
    """A size of paper, lying: width and height [mm]."""

    name: str
    width: float
    height: float

    @property
    def upright(self) -> PaperSize:
        """The same paper standing on its short side."""
        return PaperSize(self.name, self.height, self.width)

    def frame(self) -> Box:
        """Where the drawing frame runs [mm]: 20 mm from the left edge for filing, 10 mm elsewhere.

        ISO 5457:1999, 3.3 and Table 1 (from memory); papers in inches 10 mm all round (assumption).
        """
        left = 20.0 if self.name.startswith("A") and self.name[1:].isdecimal() else 10.0
        return left, 10.0, self.width - 10.0, self.height - 10.0


def _inches(name: str, wide: float, high: float) -> PaperSize:
    return PaperSize(name, wide * INCH, high * INCH)


PAPERS = {
    paper.name: paper
    for paper in (
        PaperSize("A4", 297.0, 210.0),
        PaperSize("A3", 420.0, 297.0),
        PaperSize("A2", 594.0, 420.0),
        PaperSize("A1", 841.0, 594.0),
        PaperSize("A0", 1189.0, 841.0),
        _inches("letter", 11.0, 8.5),
        _inches("tabloid", 17.0, 11.0),
        _inches("ANSI C", 22.0, 17.0),
        _inches("ANSI D", 34.0, 22.0),
        _inches("ANSI E", 44.0, 34.0),
    )
}
"""Papers by name: ISO 216 A series, ANSI/ASME Y14.1 sizes (letter is its A, tabloid its B)."""


@dataclass(frozen=True)
class DrawingScale:
    """How much smaller a drawing is: one to so much, and how a draughtsman says it."""

    ratio: float
    words: str

    @property
    def mm(self) -> float:
        """Millimetres on paper for a metre of the thing."""
        return 1000.0 / self.ratio


METRIC = tuple(
    DrawingScale(float(ratio), f"1:{ratio}") for ratio in (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000)
)
"""Scales of reduction of ISO 5455:1979, Table 1, largest first."""

INCHES = tuple(
    DrawingScale(12.0 / inches, f"{text} in = 1 ft (1:{12.0 / inches:g})")
    for inches, text in (
        (3.0, "3"),
        (1.5, "1 1/2"),
        (1.0, "1"),
        (0.75, "3/4"),
        (0.5, "1/2"),
        (0.375, "3/8"),
        (0.25, "1/4"),
        (0.1875, "3/16"),
        (0.125, "1/8"),
        (0.09375, "3/32"),
        (0.0625, "1/16"),
        (0.03125, "1/32"),
        (0.015625, "1/64"),
    )
)
"""Scales of American practice (common practice, no source), largest first."""


def scales_for(system: str) -> tuple[DrawingScale, ...]:
    """The scales of a reader's units, largest first."""
    return INCHES if system in ("ft-in", "in") else METRIC


def paper_for(system: str) -> PaperSize:
    """The paper in the printer of a reader with these units; assumption."""
    return PAPERS["letter" if system in ("ft-in", "in") else "A4"]


def paper_named(text: str) -> PaperSize | None:
    """A paper by its name in any case; None where there is none."""
    return {name.lower(): paper for name, paper in PAPERS.items()}.get(text.lower())


def scale_named(text: str) -> DrawingScale | None:
    """A scale by how it is written: '1:50', '1/4 in', '1/4 in = 1 ft'; None where it is none."""
    plain = " ".join(text.split()).lower()
    for one in (*METRIC, *INCHES):
        long, _, ratio = one.words.lower().partition(" (")
        short = long.partition(" = ")[0]
        if plain in (long, short, short.replace(" in", '"'), ratio.rstrip(")")):
            return one
    head, _, rest = plain.partition(":")
    if head == "1" and rest.replace(".", "", 1).isdecimal() and 1.0 <= float(rest) <= 5000.0:
        return DrawingScale(float(rest), f"1:{float(rest):g}")
    return None
