"""Everything about one design in one place as a page."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from planform.drawing.drawing import Drawing
from planform.drawing.pictures import Pictures
from planform.drawing.scenes import CORNERS
from planform.drawing.views import front_view, plan_view
from planform.report.balance.page import charts_twice, section
from planform.report.fit.advice import BAND_NOTE, sentences
from planform.report.fit.push import PUSHED, side_views
from planform.report.fit.tables import checks_table, near_table, verdicts_table
from planform.report.measures.tables import blocks
from planform.report.page import Content, drawn, image, markup, page, words_for
from planform.report.table import Table
from planform.report.way_out.page import WayInShort, in_short
from planform.report.way_out.words import WAYS
from planform.report.whole.collect import Findings
from planform.report.words import ROOM_SIDES

if TYPE_CHECKING:
    from markupsafe import Markup

    from planform.drawing.plot import Plot


CARE_NOTE = (
    "“With care” means: under the clearance wanted, less to spare than the inputs' tolerance, or a "
    "door that cannot be shut. A gap below zero is an overlap."
)
WORST = "“Gap at worst” is the gap there; of an overlap, the most the tolerances can give back."
LEADER = "The red leader marks the least gap, parked, thresholds apart."
SIDES = (
    "Out of the door from the side, at the places where head, ceiling and ground come nearest. "
    "The letters under the ground mark the parking point."
)
AREAS = (
    "Areas, chords and MAC are closed forms of the panels as written; the incidence of a section "
    "does not shorten its chord."
)

IN_3D = "in-3d.html"
"""The file beside the report that shows it in 3D."""


@dataclass(frozen=True)
class Drawings:
    """The drawings of each stage: from above, from ahead over the door, each push from the side.

    ways : the way out in short, of those that have one
    plots : those of the balance by name, as SVG and for a printed page
    """

    plans: tuple[Drawing, ...]
    fronts: tuple[Drawing | None, ...]
    sides: tuple[tuple[Drawing, ...], ...]
    ways: tuple[WayInShort | None, ...]
    plots: dict[str, tuple[str, Plot]]


def drawings(found: Findings, system: str) -> Drawings:
    """Draw every stage in the place."""
    return Drawings(
        plans=tuple(plan_view(answer, found.room, system) for answer in found.fits),
        fronts=tuple(front_view(answer, found.room, system) for answer in found.fits),
        sides=tuple(tuple(side_views(answer, found.room, system)) for answer in found.fits),
        ways=tuple(in_short(a.way, found.room, system) if a.way else None for a in found.fits),
        plots={} if found.balance is None else charts_twice(found.balance, system),
    )


def report_page(found: Findings, made: Drawings, pictures: Pictures, system: str) -> str:
    """The page."""
    return page("report.html", **words_for(system), **_content(found, made, pictures, system))


def _content(found: Findings, made: Drawings, pictures: Pictures, system: str) -> Content:
    files = pictures.files
    plots = {name: svg for name, (svg, _) in made.plots.items()}
    return {
        "f": found,
        "in_3d": IN_3D,
        "advice": [sentences(one, system) for one in found.advices],
        "band_note": f"{BAND_NOTE} {WORST}",
        "care_note": CARE_NOTE,
        "leader": LEADER,
        "side_note": SIDES,
        "areas": AREAS,
        "verdicts": verdicts_table(found.fits, system),
        "checks": checks(found, system),
        "nears": [near_table(a, f"clearances {k + 1}") for k, a in enumerate(found.fits)],
        "sides": [[drawn(one) for one in views] for views in made.sides],
        "pushed": (WAYS, *PUSHED, ROOM_SIDES),
        "ways": [None if way is None else _short(way) for way in made.ways],
        "plans": [drawn(plan) for plan in made.plans],
        "fronts": [drawn(front) for front in made.fronts],
        "room_pictures": [_picture(files.get(f"room-{k + 1}")) for k in range(len(found.fits))],
        "aircraft_pictures": [(_picture(files.get(n)), t) for n, _, t in CORNERS if n in files],
        "remark": pictures.remark,
        "measures": blocks(found.design.name, found.measures, found.spreads),
        "sizes": sizes(found),
        "b": None if found.balance is None else section(found.balance, system, plots),
    }


def _short(way: WayInShort) -> Content:
    """The way out in short as the page asks for it."""
    return {"lines": way.lines, "steps": way.steps, "picture": drawn(way.picture),
            "shown": way.shown}  # fmt: skip


def checks(found: Findings, system: str) -> list[Table]:
    """The checks of each stage, with the gap where all tolerances come together."""
    return [
        replace(
            checks_table(answer, found.place, system, built=True),
            key=f"checks {k + 1}",
            title="Checks",
        )
        for k, answer in enumerate(found.fits)
    ]


def sizes(found: Findings) -> list[tuple[Table, ...]]:
    """How big and how high the aircraft stands, stage by stage."""
    stood = zip(found.standings, found.heights, found.height_spreads, strict=True)
    return [
        blocks(standing.title, heights, spreads, f" {k + 1}")
        for k, (standing, heights, spreads) in enumerate(stood)
    ]


def _picture(path: Path | None) -> Markup | None:
    """A picture as it goes into the page: SVG as it is, PNG as a data address."""
    if path is None:
        return None
    if path.suffix == ".svg":
        return markup(path.read_text(encoding="utf-8"))
    return image("png", path.read_bytes(), path.stem)
