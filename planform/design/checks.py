"""Checks between the fields of a file: names that must exist, orders, openings in walls."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import pairwise
from typing import Any

from planform.core.contacts import CannotStand, Contact, stand
from planform.design.balance_checks import CONTACTS, check_balance
from planform.design.bounds import FLOOR, overall
from planform.design.ground_checks import check_ground
from planform.design.guidance import guide_names
from planform.design.models import AFT_WAYS, Design, LiftingCut, Panel, Stance
from planform.design.place import Place
from planform.design.problems import Problem, unknown
from planform.design.shape_checks import check_outline, check_shapes, inside
from planform.design.units import like

SIDES = ("left", "right")
PARTS = ("lifting.*.joint", "lifting.*.side", "winglets.*.side", "bodies.*.side", "wheels.*.side")
"""What the names of parts come from, besides the names of their tables."""
OPENING = ("from_corner", "clear_width", "clear_height")
PLAN = ("floor.outline", "floor.width", "floor.depth")
NEEDS = {
    "stances": "name what the aircraft stands on, such as its wheels",
    "stages": "name at least one build stage",
}


def _keys(table: dict[str, Any], name: str) -> list[str]:
    given = table.get(name)
    return list(given) if isinstance(given, dict) else []


def _has_shape(table: dict[str, Any]) -> bool:
    return bool(_keys(table, "lifting") or _keys(table, "bodies"))


def _both_sided(table: dict[str, Any], group: str, name: str, default: str) -> bool:
    item = table[group][name]
    return isinstance(item, dict) and item.get("side", default) == "both"


def _sided(table: dict[str, Any], group: str, default: str) -> list[str]:
    names = []
    for name in _keys(table, group):
        names.append(name)
        if _both_sided(table, group, name, default):
            names += [f"{side} {name}" for side in SIDES]
    return names


def _joints(table: dict[str, Any]) -> list[str]:
    names = []
    for surface in _keys(table, "lifting"):
        item = table["lifting"][surface]
        cuts = item.get("cuts", []) if isinstance(item, dict) else []
        for cut in cuts if isinstance(cuts, list) else []:
            joint = cut.get("joint") if isinstance(cut, dict) else None
            if isinstance(joint, str):
                names.append(joint)
                if _both_sided(table, "lifting", surface, "both"):
                    names += [f"{side} {joint}" for side in SIDES]
    return names


def part_names(table: dict[str, Any]) -> list[str]:
    """Every name a stage may use for a part, groups and single sides alike."""
    return [
        *_sided(table, "lifting", "both"),
        *_joints(table),
        *_sided(table, "winglets", "both"),
        *_sided(table, "bodies", "centre"),
        *(["propeller"] if "propeller" in table else []),
        *_sided(table, "wheels", "centre"),
        *_keys(table, "panels"),
    ]


def contact_names(table: dict[str, Any]) -> list[str]:
    """Every name a stance may stand on."""
    return [*_sided(table, "wheels", "centre"), *_sided(table, "pads", "centre")]


def check_design(design: Design, table: dict[str, Any]) -> Iterator[Problem]:
    """Problems between the fields of a design; `design` may lack what could not be read."""
    if _has_shape(table):
        for field in ("stances", "stages"):
            if not table.get(field):
                yield Problem(field, "nothing", f"this field is needed; {NEEDS[field]}")
    elif "balance" not in table and not table.get("masses"):
        yield Problem(
            "lifting",
            "nothing",
            "a design needs at least one surface or body (or a balance part to be weighed by)",
        )
    yield from _unique_parts(table)
    yield from check_shapes(design)
    for name, surface in (design.lifting or {}).items():
        yield from _check_cuts(f"lifting.{name}.cuts", surface.cuts)
        yield from _check_profile(f"lifting.{name}.profile", surface.profile)
        for k, cut in enumerate(surface.cuts):
            if cut.profile is not None:
                yield from _check_profile(f"lifting.{name}.cuts[{k + 1}].profile", cut.profile)
    lifting = _keys(table, "lifting")
    for name in _keys(table, "winglets"):
        item = table["winglets"][name]
        host = item.get("on") if isinstance(item, dict) else None
        if isinstance(host, str) and host not in lifting:
            yield unknown(f"winglets.{name}.on", host, lifting)
    for name, winglet in (design.winglets or {}).items():
        yield from _check_profile(f"winglets.{name}.profile", winglet.profile)
        turn = abs(winglet.cant)
        if turn > 1.5707963267948966:
            yield Problem(
                f"winglets.{name}.cant",
                repr(winglet.cant.text),
                "allowed: -90 deg to 90 deg from the vertical",
            )
    for name, body in (design.bodies or {}).items():
        for k in range(1, len(body.cuts)):
            here, before = body.cuts[k].fs, body.cuts[k - 1].fs
            if not here > before:
                yield Problem(
                    f"bodies.{name}.cuts[{k + 1}].fs",
                    repr(here.text),
                    f"allowed: aft of the cut before it ({before.text})",
                    (f"bodies.{name}.cuts[{k}].fs",),
                )
    for name, panel in (design.panels or {}).items():
        yield from _check_panel(f"panels.{name}", panel)
    yield from _check_stances(design, table)
    yield from _check_stages(design, table)
    parts = part_names(table)
    for k, item in enumerate(design.masses or ()):
        if item.part is not None and item.part not in parts:
            yield unknown(f"masses[{k + 1}].part", item.part, parts, PARTS)
    if design.balance is not None:
        groups = [*design.wheels, *design.pads]
        known = contact_names(table)
        pairs = [n for n in groups if expand(n, known) != [n]]
        given = table.get("lifting")
        written = given.values() if isinstance(given, dict) else ()
        roles = [one.get("role") for one in written if isinstance(one, dict)]
        yield from check_balance(
            design.balance,
            [n for n in known if n not in pairs],
            pairs,
            "wing" in roles,
            bool(design.masses),
        )


def _unique_parts(table: dict[str, Any]) -> Iterator[Problem]:
    seen: set[str] = set()
    for name in part_names(table):
        if name in seen:
            yield Problem(name, repr(name), "two parts have this name; each needs its own")
        seen.add(name)


def _check_profile(path: str, profile: str) -> Iterator[Problem]:
    from planform.core.sections import parse

    try:
        parse(profile)
    except ValueError as error:
        yield Problem(path, repr(profile), str(error))


def _check_cuts(path: str, cuts: tuple[LiftingCut, ...]) -> Iterator[Problem]:
    first = cuts[0]
    missing = [name for name in ("fs", "bl", "wl") if getattr(first, name) is None]
    if missing:
        yield Problem(
            f"{path}[1]", f"no {' and no '.join(missing)}", "the first cut names fs, bl and wl"
        )
    for k, cut in enumerate(cuts[1:], start=2):
        here = f"{path}[{k}]"
        out = [n for n in ("bl", "length") if getattr(cut, n) is not None]
        if not out:
            yield Problem(here, "neither bl nor length", "say how far out this cut stands")
        before = cuts[k - 2].bl
        if cut.bl is not None and before is not None:
            upright = cut.wl is not None and cut.bl == before
            if not cut.bl > before and not upright:
                yield Problem(
                    f"{here}.bl",
                    repr(cut.bl.text),
                    f"allowed: further out than the cut before it ({before.text})",
                    (f"{path}[{k - 1}].bl",),
                )
        if cut.bl is not None and cut.cant is not None:
            yield Problem(f"{here}.cant", "bl and cant", "allowed: cant goes with length, not bl")
        if cut.length is not None and cut.wl is not None:
            yield Problem(
                f"{here}.wl", "length and wl", "allowed: length goes with dihedral or cant, not wl"
            )
        if all(getattr(cut, name) is None for name in AFT_WAYS):
            yield Problem(here, "neither fs nor a sweep", f"name one of {', '.join(AFT_WAYS)}")


def _check_panel(path: str, panel: Panel) -> Iterator[Problem]:
    from planform.design.hinges import hinge_frame, open_angle

    try:
        hinge_frame(panel)
    except ValueError as error:
        yield Problem(path, "this hinge", str(error))
        return
    if panel.strut is None:
        assert panel.open_angle is not None
        if not 0.0 < panel.open_angle <= math.pi + 1e-9:
            allowed = "allowed: more than 0 and at most 180 deg, from shut"
            yield Problem(f"{path}.open_angle", repr(panel.open_angle.text), allowed)
        return
    try:
        open_angle(panel)
    except ValueError as error:
        yield Problem(f"{path}.strut.length", repr(panel.strut.length.text), str(error), (path,))


def expand(name: str, names: Iterable[str]) -> list[str]:
    """The single-sided names that a group name stands for."""
    known = set(names)
    sided = [f"{side} {name}" for side in SIDES if f"{side} {name}" in known]
    return sided or [name]


def contacts_of(design: Design, stance: Stance, table: dict[str, Any]) -> tuple[Contact, ...]:
    """The contacts of a stance, wheels and pads, with their states applied."""
    known = contact_names(table)
    flat = {n for name in stance.flat for n in expand(name, known)}
    sunk = {n: v for name, v in stance.compressed.items() for n in expand(name, known)}
    under = {n: v for name, v in stance.heights.items() for n in expand(name, known)}
    out = []
    for name in [n for given in stance.on for n in expand(given, known)]:
        side, _, rest = name.partition(" ")
        group = name if side not in SIDES or name in {**design.wheels, **design.pads} else rest
        wheel = design.wheels.get(group)
        pad = design.pads.get(group)
        item = wheel or pad
        if item is None:
            continue
        mirror = -1.0 if name == f"left {group}" or item.side == "left" else 1.0
        radius = wheel.diameter / 2.0 if wheel else 0.0
        if wheel and name in flat:
            radius -= wheel.flat_drop
        out.append(
            Contact(
                name=name,
                point=(float(item.fs), mirror * float(item.bl), item.wl + sunk.get(name, 0.0)),
                support=float(under.get(name, 0.0)),
                radius=float(radius),
                width=float(wheel.width) if wheel else 0.0,
            )
        )
    return tuple(out)


def _check_stances(design: Design, table: dict[str, Any]) -> Iterator[Problem]:
    known = contact_names(table)
    readable = {*(design.wheels or {}), *(design.pads or {})}
    fallen: dict[str, set[str]] = {}
    all_readable = readable == {*_keys(table, "wheels"), *_keys(table, "pads")}
    for name, stance in (design.stances or {}).items():
        path = f"stances.{name}"
        bad = False
        for field in ("on", "flat", "retracted", "heights", "compressed"):
            for contact in getattr(stance, field):
                if contact not in known:
                    bad = True
                    yield unknown(f"{path}.{field}", contact, known, CONTACTS)
        for contact in stance.on:
            if contact in stance.retracted:
                bad = True
                yield Problem(f"{path}.retracted", repr(contact), "it also stands on this wheel")
        if bad or not all_readable:
            continue
        reason = _why_not(design, stance, table)
        if reason is None:
            continue
        under = _standing_on(design, stance)
        rests = [path, *(f"{kind}.{one}" for kind in ("wheels", "pads") for one in under)]
        bare = stance.model_copy(update={"flat": (), "heights": {}, "compressed": {}})
        if _why_not(design, bare, table) is not None:  # the wheels' or pads' own mistake
            rests += [f"stances.{other}.on" for other in fallen if fallen[other] & under]
            fallen[name] = under
        yield Problem(f"{path}.on", ", ".join(stance.on) or "nothing", reason, tuple(rests))


def _standing_on(design: Design, stance: Stance) -> set[str]:
    """The wheels and pads of a stance as the file names them, without their side."""
    single = {f"{side} {one}": one for one in (*design.wheels, *design.pads) for side in SIDES}
    return {single.get(name, name) for name in stance.on}


def _why_not(design: Design, stance: Stance, table: dict[str, Any]) -> str | None:
    """Why nothing can stand so; None where it stands."""
    try:
        stand(contacts_of(design, stance, table))
    except CannotStand as error:
        return str(error)
    return None


def _check_stages(design: Design, table: dict[str, Any]) -> Iterator[Problem]:
    parts, stances, panels = part_names(table), _keys(table, "stances"), _keys(table, "panels")
    needed = not stances and _has_shape(table)  # which is told already
    seen: set[str] = set()
    for k, stage in enumerate(design.stages or ()):
        path = f"stages[{k + 1}]"
        if stage.name in seen:
            yield Problem(f"{path}.name", repr(stage.name), "two stages have this name")
        seen.add(stage.name)
        for field in ("parts", "without"):
            for name in getattr(stage, field) or ():
                if name not in parts:
                    yield unknown(f"{path}.{field}", name, parts, PARTS)
        for name in stage.open:
            if name not in panels:
                yield unknown(f"{path}.open", name, panels)
            elif stage.parts is not None and name not in stage.parts:
                allowed = "open, but not among this stage's parts"
                yield Problem(f"{path}.open", repr(name), allowed, (f"{path}.parts",))
        if stage.stance not in stances and not needed:
            yield unknown(f"{path}.stance", stage.stance, stances)


def walls_of(place: Place) -> dict[str, tuple[tuple[float, float], tuple[float, float]]]:
    """The walls by name, each from its first corner to its second [m]; the room on the left."""
    floor = place.floor
    if floor.outline is None:
        assert floor.width is not None
        assert floor.depth is not None
        w, d = float(floor.width), float(floor.depth)
        corners = [(0.0, 0.0), (w, 0.0), (w, d), (0.0, d)]
        names = ["front", "right", "back", "left"]
    else:
        corners = [(float(x), float(y)) for x, y in floor.outline]
        names = [f"wall {k + 1}" for k in range(len(corners))]
    return {name: (corners[k], corners[(k + 1) % len(corners)]) for k, name in enumerate(names)}


def _no_such_wall(path: str, given: str, walls: list[str]) -> Problem:
    if walls[0] == "front":
        which = "as seen from the front wall into the room; the width runs along the front wall"
    else:
        which = "by its corners: wall 1 runs from the first corner of the outline to the second"
    problem = unknown(path, given, walls)
    return replace(problem, allowed=f"{problem.allowed}; {which}", rests=PLAN)


def _check_fall(place: Place) -> Iterator[Problem]:
    from planform.design.slope import STEEPEST, TOWARD, extent

    fall = place.floor.fall
    assert fall is not None
    low, high = extent(place, TOWARD[fall.toward][0])
    most = STEEPEST * (high - low)
    if fall.drop > most:
        allowed = (
            f"allowed: at most {like(most, fall.drop.text)} over the whole floor, 1 in 40; a "
            "steeper one is a ramp: give the door a ground profile"
        )
        yield Problem("floor.fall.drop", repr(fall.drop.text), allowed, PLAN)


def check_place(place: Place, table: dict[str, Any]) -> Iterator[Problem]:
    """Problems between the fields of a place; `place` may lack what could not be read."""
    from planform.design.roof import height_at

    if place.clearances is not None:
        for name in place.clearances.guide:
            if name not in guide_names():
                yield unknown("clearances.guide", name, guide_names())
    walls = walls_of(place) if place.floor is not None else {}
    if place.floor is not None and place.floor.outline is not None:
        yield from check_outline("floor.outline", list(place.floor.outline))
        columns = zip(*place.floor.outline, strict=True)
        spans = {
            name: float(max(at) - min(at))
            for name, at in zip(("wide", "deep"), columns, strict=True)
        }
        yield from overall("floor.outline", spans, FLOOR, PLAN)
    yield from _check_openings(place)
    if place.floor is not None and place.floor.fall is not None:
        yield from _check_fall(place)
    if place.ceiling is not None and place.ceiling.profile is not None:
        levels = place.ceiling.profile
        for k in range(1, len(levels)):
            if not levels[k].at > levels[k - 1].at:
                yield Problem(
                    f"ceiling.profile[{k + 1}].at",
                    repr(levels[k].at.text),
                    f"allowed: beyond the level before it ({levels[k - 1].at.text})",
                    (f"ceiling.profile[{k}].at",),
                )
    for k, door in enumerate(place.doors or ()):
        path = f"doors[{k + 1}]"
        if not walls:
            continue
        if door.wall not in walls:
            yield _no_such_wall(f"{path}.wall", door.wall, list(walls))
            continue
        (x0, y0), (x1, y1) = walls[door.wall]
        length = float(((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5)
        if not length > 0.0:
            continue  # a corner that stands twice, which is told of the outline
        if door.from_corner + door.clear_width > length + 1e-9:
            yield Problem(
                f"{path}.clear_width",
                f"{door.clear_width.text!r} from {door.from_corner.text!r}",
                f"allowed: an opening inside its wall; {door.wall} is "
                f"{like(length, door.clear_width.text)} long",
                (*PLAN, f"{path}.from_corner"),
            )
        for part in ("width", "height"):
            nominal = getattr(door, f"nominal_{part}")
            clear = getattr(door, f"clear_{part}")
            if nominal is not None and clear > nominal:
                yield Problem(
                    f"{path}.clear_{part}",
                    repr(clear.text),
                    f"allowed: at most the nominal {part} ({nominal.text})",
                    (f"{path}.clear_{part}", f"{path}.nominal_{part}"),
                )
        if not door.clear_height > door.threshold:
            yield Problem(
                f"{path}.clear_height",
                repr(door.clear_height.text),
                f"allowed: above the threshold ({door.threshold.text})",
                (f"{path}.threshold",),
            )
        yield from check_ground(path, door, place.floor.thickness)
        if place.ceiling is not None:
            ends = []
            for along in (door.from_corner, door.from_corner + door.clear_width):
                s = along / length
                ends.append(height_at(place, x0 + s * (x1 - x0), y0 + s * (y1 - y0)))
            if min(ends) < door.clear_height - 1e-9:
                yield Problem(
                    f"{path}.clear_height",
                    repr(door.clear_height.text),
                    "allowed: a head under the ceiling, which is at "
                    f"{like(min(ends), door.clear_height.text)} there",
                    ("ceiling", *PLAN, *(f"{path}.{field}" for field in OPENING)),
                )
    for k, thing in enumerate(place.obstacles or ()):
        path = f"obstacles[{k + 1}]"
        yield from check_outline(f"{path}.outline", list(thing.outline))
        if thing.kind == "standing" and thing.top is None:
            yield Problem(f"{path}.top", "nothing", "a standing thing needs its top height")
        if thing.kind == "hanging" and not thing.bottom > 0.0:
            yield Problem(
                f"{path}.bottom", repr(thing.bottom.text), "a hanging thing needs its bottom height"
            )
        if thing.top is not None and not thing.top > thing.bottom:
            yield Problem(
                f"{path}.top",
                repr(thing.top.text),
                f"allowed: above its bottom ({thing.bottom.text}); is it upside down?",
                (f"{path}.bottom",),
            )


def _check_openings(place: Place) -> Iterator[Problem]:
    """Names that stand twice, openings that overlap, and spots off the floor."""
    for field in ("doors", "spots"):
        seen: set[str] = set()
        for k, item in enumerate(getattr(place, field) or ()):
            if item.name in seen:
                yield Problem(f"{field}[{k + 1}].name", repr(item.name), f"two {field} have it")
            seen.add(item.name)
    doors = sorted(enumerate(place.doors or ()), key=lambda d: (d[1].wall, float(d[1].from_corner)))
    for (j, one), (k, two) in pairwise(doors):
        if one.wall == two.wall and two.from_corner < one.from_corner + one.clear_width:
            yield Problem(
                f"doors[{k + 1}].from_corner",
                repr(two.from_corner.text),
                f"allowed: beyond {one.name!r}, which begins at {one.from_corner.text} and is "
                f"{one.clear_width.text} wide",
                (*(f"doors[{j + 1}].{f}" for f in OPENING), f"doors[{k + 1}].clear_width"),
            )
    if place.floor is None:
        return
    corners = [start for start, _ in walls_of(place).values()]
    for k, spot in enumerate(place.spots or ()):
        x, y = float(spot.at[0]), float(spot.at[1])
        if not inside(corners, x, y):
            yield Problem(
                f"spots[{k + 1}].at",
                f"{spot.at[0].text!r}, {spot.at[1].text!r}",
                "allowed: a point of the floor; the aircraft's parking point stands there",
                PLAN,
            )
