"""Suspicious but legal: what a careful reader of the file would ask back."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import partial

from pydantic import BaseModel

from planform.design.levels import level_questions
from planform.design.models import Design
from planform.design.naming import Path, field_name, in_words
from planform.design.parking import parked_by
from planform.design.place import Place
from planform.design.place_asked import asked, taken
from planform.design.place_beyond import beyond
from planform.design.side_checks import sided_at
from planform.design.sided import SIDES, hands
from planform.design.slope import told as slope_told
from planform.design.units import show
from planform.design.vary import VALUES, WEIGHTS, own_readings, readings, unused_values

Question = tuple[Path, str]
"""The path of a field, and what is asked about it."""

LOOKS_LIKE_RADIANS = 1.6
"""Degrees; most sweeps and cants in radians lie under it. Assumption."""
UNIT_SLIP = (12.0, 55.0)
"""Neighbouring chords or spans that differ by about 25.4 suggest inches for mm. Assumption."""


def design_questions(design: Design) -> tuple[str, ...]:
    """Questions about a design, each naming its field."""
    found = {side: list(_about_shapes(one)) for side, one in hands(design)}
    told = [_asked(design, *asked) for asked in _like_radians(design)]
    for side, questions in found.items():
        others = [q for other, asked in found.items() if other != side for q in asked]
        for path, question in questions:
            if side and sided_at(design, path):
                told.append(_asked(design, (*path, side), question))
            elif side and (path, question) not in others:
                told.append(_asked(design, path, f"on the {side}, {question}"))
            elif side != "right":
                told.append(_asked(design, path, question))
    return (*told, *value_questions(design))


def value_questions(model: BaseModel) -> Iterator[str]:
    """Questions about the shared values of a file: those that no field stands on."""
    for name in unused_values(model):
        yield _asked(model, (VALUES, name), "no field stands on it; is one still a number?")


def _about_shapes(design: Design) -> Iterator[Question]:
    """Questions about surfaces and winglets as they are on one side."""
    for name in design.lifting:
        yield from _about_cuts(design, name)
    for name in design.lifting:
        if _begins_aside(design, name):
            yield _aside(design, name)
    for name in design.winglets:
        yield from _about_winglet(design, name)
        yield from _on_one_tip(design, name)


def _like_radians(design: Design) -> Iterator[Question]:
    for path, reading in readings(design):
        field = str(path[-2] if path[-1] in SIDES else path[-1])
        degrees = math.degrees(abs(reading))
        precise = "rad" not in reading.text and len(reading.text.split("deg")[0].strip()) >= 5
        whole = path[0] != "as_built"  # a difference from the drawing is small
        angled = whole and field.startswith(("sweep", "cant", "dihedral", "open_angle"))
        if angled and precise and 0.15 <= degrees <= LOOKS_LIKE_RADIANS and "." in reading.text:
            turned = math.degrees(degrees)
            yield (
                path,
                f"{reading.text!r} looks like radians; is it {turned:.1f} deg? As written it "
                "was taken as degrees.",
            )


def _about_cuts(design: Design, name: str) -> Iterator[Question]:
    cuts = design.lifting[name].cuts
    where = "lifting", name, "cuts"
    chords = [float(cut.chord) for cut in cuts]
    for k, cut in enumerate(cuts):
        if cut.sweep is not None:
            yield (
                (*where, k, "sweep"),
                f"{cut.sweep.text!r} names no line; it was taken along the leading edge (plan "
                "view, or the panel's own plane if steep). Write sweep_le_plan, "
                "sweep_quarter_plan, sweep_le_panel or sweep_quarter_panel.",
            )
        if k and chords[k] > chords[0] and k == len(chords) - 1:
            yield (
                (*where, k, "chord"),
                f"{cut.chord.text!r} is longer than the root chord ({cuts[0].chord.text}); is "
                "that meant?",
            )
        if k and _slip(chords[k - 1], chords[k]):
            yield (
                (*where, k, "chord"),
                f"{cut.chord.text!r} next to {cuts[k - 1].chord.text!r}; are inches and "
                "millimetres mixed?",
            )


def _about_winglet(design: Design, name: str) -> Iterator[Question]:
    root, tip = design.winglets[name].root_chord, design.winglets[name].tip_chord
    if root is None:
        return
    if tip > root:
        yield (
            ("winglets", name, "tip_chord"),
            f"{tip.text!r} is longer than the root chord; is that meant?",
        )
    if _slip(float(root), float(tip)):
        yield (
            ("winglets", name, "root_chord"),
            f"{root.text!r} beside a tip chord of {tip.text!r}; are inches and millimetres mixed?",
        )


def _on_one_tip(design: Design, name: str) -> Iterator[Question]:
    """A winglet on one tip only, of a surface that has two; beside those of its own direction."""
    winglet = design.winglets[name]
    host = design.lifting[winglet.on]
    if host.side != "both" or winglet.side not in SIDES:
        return
    others = [one for one in design.winglets.values() if one.on == winglet.on]
    alike = {one.side for one in others if one.direction == winglet.direction}
    if alike & ({"both", *SIDES} - {winglet.side}):
        return
    way = f" {winglet.direction}" if len(others) > 1 else ""
    yield (
        ("winglets", name, "side"),
        f"only the {winglet.side} tip of the {winglet.on} has a winglet{way}; is that meant?",
    )


def _begins_aside(design: Design, name: str) -> bool:
    """Whether a paired surface begins off the centre line, and nothing says how that is meant."""
    surface = design.lifting[name]
    first = surface.cuts[0].bl
    paired = surface.side == "both" and surface.role != "fin"
    return paired and surface.carried_through is None and first is not None and first > 0.0


def _aside(design: Design, name: str) -> Question:
    bl = design.lifting[name].cuts[0].bl
    assert bl is not None
    question = (
        f"{bl.text!r} is off the centre line; does the {name} go on through the body? "
        "carried_through = true carries its root chord to the centre line in areas, MAC and "
        "lattice, false leaves it as drawn. As written, nothing is counted inboard of it."
    )
    return ("lifting", name, "cuts", 0, "bl"), question


def _asked(model: BaseModel, path: Path, question: str) -> str:
    """A question about a field: what a builder calls it, the question, and where it stands."""
    name = field_name(model, path)
    return f"{in_words(name)}: {question} (in the file: {name})"


def _slip(a: float, b: float) -> bool:
    ratio = max(a, b) / min(a, b)
    return UNIT_SLIP[0] <= ratio <= UNIT_SLIP[1]


def place_questions(place: Place) -> tuple[str, ...]:
    """Questions about a place: what is missing, what looks odd."""
    out = []
    for door in place.doors:
        if door.nominal_width is None:
            out.append(
                f"door {door.name!r}: is {door.clear_width.text} x {door.clear_height.text} "
                "what stays clear with the door open, less leaf, track and stops? "
                "No nominal size is given."
            )
    out += list(asked(place))
    out += list(beyond(place))
    out += list(level_questions(place))
    uneven = any(door.ground or door.planks or door.threshold for door in place.doors)
    missing = [
        name.replace("_", " ")
        for name in (
            *("walls", "ceiling", "obstacles", "door_sides", "door_head"),
            *(("ground",) if uneven else ()),
        )
        if place.clearances.wanted(name)[0] is None
    ]
    if missing:
        out.append(
            f"no clearance is wanted for {', '.join(missing)}; there anything above zero counts "
            "as fitting."
        )
    return (*out, *value_questions(place))


def assumptions(design: Design, place: Place | None = None) -> tuple[str, ...]:
    """What was not given and had to be taken as something."""
    out = []
    if design.spot_station is None:
        out.append(f"parking point: {parked_by(design)} (no spot_station given)")
    bare = sum(
        1
        for path, r in own_readings(design)
        if path[0] not in WEIGHTS and r.kind in ("length", "angle") and not r.tolerance
    )
    bared = [f"“{stage.name}”" for stage in design.stages if stage.bare]
    if bared:
        out.append(
            f"areas and mean chords are of the design's surfaces, also at {', '.join(bared)}, "
            "where skins are not on"
        )
    if bare:
        out.append(
            f"{design.name}: {bare} lengths and angles carry no tolerance and count as exact"
        )
    if place is not None:
        bare = sum(1 for _, r in own_readings(place) if not r.tolerance)
        if bare:
            out.append(f"{place.name}: {bare} lengths carry no tolerance and count as exact")
        if place.clearances.guide:
            out.append(
                f"{place.name}: clearances not given are taken from "
                f"{' and '.join(place.clearances.guide)}: guidance published for other buildings "
                "and duties, not law for a private shop; local codes come first "
                "(“read”: seen in a text of the source)"
            )
        out += [f"{place.name}: {told}" for told in taken(place)]
        if place.floor.fall is not None:
            length = partial(show, kind="length", system=place.units)
            out.append(f"{place.name}: {slope_told(place, length)}")
        if not place.floor.wall_thickness:
            out.append(f"{place.name}: walls 0.1 m thick, outward (no wall_thickness given)")
    return tuple(out)
