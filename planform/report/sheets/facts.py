"""What a hangar manager asks beside the drawing, in short lines with their sources."""

from __future__ import annotations

from collections.abc import Iterator

from planform.airframe.footprint import plan_hull
from planform.airframe.weight.items import summed
from planform.airframe.weight.stage_weight import stage_weight
from planform.design.guidance import space_module
from planform.design.place import Place
from planform.design.told import plus_minus
from planform.drawing.paper.tables import FactRow
from planform.fit.door import best_heading
from planform.fit.swept import watched
from planform.report.measures.sheet import airfield_classes
from planform.report.sheets.aircraft_views import Aircraft

MARGIN = 0.15
"""Kept free at each side and over the aircraft in a door where no place says how much [m].
Assumption."""


def facts(aircraft: Aircraft, place: Place | None) -> Iterator[FactRow]:
    """The lines of the sheet's table, those of the door first."""
    yield from _door(aircraft, place)
    yield from _floor(aircraft)
    yield from _mass(aircraft)
    yield from _people(aircraft)
    for what, one, source in airfield_classes(aircraft.standing.airframe.design, aircraft.found):
        yield FactRow(what, one, source)


def _door(aircraft: Aircraft, place: Place | None) -> Iterator[FactRow]:
    say = aircraft.teller.words
    side, head, source = _margins(place)
    bulge = 2.0 * aircraft.standing.bulge
    wide, high = aircraft.found["width"] + bulge, aircraft.found["height"] + 0.5 * bulge
    for what, size, free, key in (
        ("clear door width, straight", wide, 2.0 * side, "width"),
        ("clear door height", high, head, "height"),
    ):
        spread = aircraft.teller.spread.get(key)
        band = plus_minus(spread.worst, "length", aircraft.teller.system) if spread else ""
        each = f"2 x {say(side)}" if key == "width" else say(head)
        curves = f", curves {say(bulge if key == 'width' else 0.5 * bulge, 'over')}"
        parts = f"{say(aircraft.found[key])} {band}".rstrip() + (curves if bulge else "")
        yield FactRow(what, f"{say(size + free, 'over')}", f"{parts} + {each}")
    heading, best = best_heading(plan_hull(aircraft.points))
    if wide - best > 0.01:
        turned = say(abs(heading), "angle")
        yield FactRow(
            "clear door width, turned", say(best + bulge + 2.0 * side, "over"),
            f"carried or on dollies, the nose {turned} off the way",
        )  # fmt: skip
    yield FactRow("margins from", source)


def _margins(place: Place | None) -> tuple[float, float, str]:
    if place is None:
        return MARGIN, MARGIN, "assumed; a place file says yours"
    side, from_side = place.clearances.wanted("door_sides")
    head, from_head = place.clearances.wanted("door_head")
    given = ((side, from_side), (head, from_head))
    named = (source or place.name for wish, source in given if wish is not None)
    source = " and ".join(dict.fromkeys(named))
    return side or 0.0, head or 0.0, source or f"{place.name} asks for none"


def _floor(aircraft: Aircraft) -> Iterator[FactRow]:
    say, found = aircraft.teller.words, aircraft.found
    long, short = found["footprint.rectangle_long"], found["footprint.rectangle_short"]
    yield FactRow("least rectangle of floor", f"{say(long)} x {say(short)}")
    area, taut = found["footprint.area"], found["footprint.hull_area"]
    yield FactRow("footprint", say(area, "area"), f"taut string round it {say(taut, 'area')}")
    deep, wide, module = space_module(found["length"], found["width"])
    yield FactRow(
        "hangar module", f"{say(deep)} x {say(wide)}",
        f"{say(module, 'area')}, 10 ft all round (UFC 3-260-01, Table 8.1)",
    )  # fmt: skip
    if "turning_circle_axle" in found:
        wheel = say(found["turning_circle_wheel"])
        yield FactRow(
            "turning circle", say(found["turning_circle_axle"]),
            f"about the main axle; {wheel} about one main wheel",
        )  # fmt: skip


def _mass(aircraft: Aircraft) -> Iterator[FactRow]:
    standing = aircraft.standing
    weight = stage_weight(standing.airframe, standing.stage, standing.stance_name)
    if weight is None:
        yield FactRow("mass", "none recorded")
        return
    items, source = weight
    mass = summed(standing.stage.name, items).mass
    yield FactRow("mass as drawn", aircraft.teller.words(mass, "mass"), source)


def _people(aircraft: Aircraft) -> Iterator[FactRow]:
    marks = watched(aircraft.standing)
    yield FactRow("walkers", str(len(marks)), ", ".join(mark.name for mark in marks))
