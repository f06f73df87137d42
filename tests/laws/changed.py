"""What may be changed in the files without changing an answer: datum, side, units, names, order."""

from __future__ import annotations

import copy
import random
from collections.abc import Callable
from dataclasses import replace
from typing import Any

from tests.fuzz.hostile import NAMED
from tests.laws.more_places import mirror_more
from tests.laws.worlds import Table, World

STATIONS = {"fs", "disc_fs", "spot_station", "arm", "lemac_fs"}
WATERLINES = {"wl", "cg_wl", "lower", "upper"}
SIDES = {"left": "right", "right": "left"}


def _walk(item: Any, change: Callable[[str, str], str], key: str = "") -> Any:
    """The tables with each text changed by its key."""
    if isinstance(item, dict):
        each = item.keys() == SIDES.keys()
        return {k: _walk(v, change, key if each else k) for k, v in item.items()}
    if isinstance(item, list):
        return [_walk(v, change, key) for v in item]
    return change(key, item) if isinstance(item, str) else item


def number(text: str) -> float:
    """The number of a text with a unit."""
    return float(text.split(" ")[0])


def _plus(given: Any, shift: float) -> Any:
    """A length farther by so much, or one of each side."""
    if isinstance(given, dict):
        return {side: _plus(text, shift) for side, text in given.items()}
    return f"{number(given) + shift:.4f} m"


def shifted(found: World, fs: float, wl: float) -> World:
    """The same aircraft from a datum that lies `fs` ahead and `wl` below [m]."""

    def change(key: str, text: str) -> str:
        if key in STATIONS:
            return _plus(text, fs)
        return _plus(text, wl) if key in WATERLINES else text

    design = _walk(found.design, change)
    for wheel in design["wheels"].values():
        if "fairing" in wheel:
            wheel["fairing"] |= {k: _plus(wheel["fairing"][k], wl) for k in ("bottom", "top")}
    for plate in design.get("bulkheads", {}).values():
        plate |= {end: _plus(plate[end], wl) for end in ("bottom", "top")}
    for body in design["bodies"].values():
        for station in body["cuts"]:
            station |= {end: _plus(station[end], wl) for end in ("bottom", "top")}
    return replace(found, design=design)


FEET = 0.3048
UNITS = {"mm": (1000.0, "mm"), "in": (1 / 0.0254, "in"), "ft-in": (1 / FEET, "ft"), "m": (1.0, "m")}


def in_units(found: World, system: str) -> World:
    """The same files in another unit system."""
    factor, unit = UNITS[system]

    def change(key: str, text: str) -> str:
        return (
            f"{number(text) * factor:.9f} {unit}"
            if text.endswith(" m") and "kg" not in text
            else text
        )

    def told(table: Table) -> Table:
        return _walk(table, change) | {"units": system}

    return World(told(found.design), told(found.place), told(found.carrier))


def swapped(text: str) -> str:
    """Left for right and right for left in a name of the files."""
    return " ".join(SIDES.get(word, word) for word in text.split(" "))


def mirrored(found: World) -> World:
    """Aircraft and place seen in a mirror; the carrier is its own mirror image."""
    design = _walk(_sides_swapped(found.design), _mirror_text)
    for wheel in (*design["wheels"].values(), *design["pads"].values()):
        if wheel.get("side") == "both":
            wheel["bl"] = _minus(wheel["bl"])
            if "brake" in wheel:
                wheel["brake"]["bl"] = _minus(wheel["brake"]["bl"])
    for wheel in design["wheels"].values():
        if "retraction" in wheel:
            turn = wheel["retraction"]
            turn["angle"] = f"{-number(turn['angle'])} deg"
    for strut in design.get("struts", {}).values():
        for end in (strut["inner_end"], strut["outer_end"]):
            end |= {"bl": _minus(end["bl"])} if "bl" in end else {}
    for panel in design.get("panels", {}).values():
        if panel.get("side", "centre") != "centre":
            for end in ("hinge_from", "hinge_to"):
                panel[end] |= {"bl": _minus(panel[end]["bl"])}
    for fitting in design.get("fittings", {}).values():
        if fitting.get("side", "centre") != "centre":
            fitting["at"] |= {"bl": _minus(fitting["at"]["bl"])} if "bl" in fitting["at"] else {}
    for joint in design.get("joints", {}).values():
        for bolt in joint["bolts"]:  # butt lines outboard
            bolt["bl"] = _minus(bolt["bl"])
    for body in design["bodies"].values():
        if body.get("side") == "both":
            body["bl"] = _minus(body["bl"])
    for surface in design["lifting"].values():
        for cut in surface["cuts"]:
            if "bl" in cut:
                cut["bl"] = _minus(cut["bl"])
            for point in ("hinge_from", "hinge_to"):  # butt lines outboard
                if point in cut.get("fold", {}):
                    cut["fold"][point]["bl"] = _minus(cut["fold"][point]["bl"])
    for control in design.get("controls", {}).values():
        for end in ("inner", "outer"):  # butt lines outboard
            if "bl" in control[end]:
                control[end]["bl"] = _minus(control[end]["bl"])
    for stance in design["stances"].values():
        for field in ("heights", "compressed", "turned", "deflected"):
            if field in stance:
                stance[field] = {swapped(k): v for k, v in stance[field].items()}
        if "propeller" in stance.get("turned", {}):  # clockwise as seen from behind
            stance["turned"]["propeller"] = minus_angle(stance["turned"]["propeller"])
    for item in (*design["wheels"].values(), *design["pads"].values()):
        if item.get("side") in SIDES:
            item["bl"] = _minus(item["bl"])
    if "parked_angle" in design.get("propeller", {}):
        parked = design["propeller"]["parked_angle"]
        design["propeller"]["parked_angle"] = minus_angle(parked)
    weighing = design.get("balance", {}).get("weighing")
    if weighing is not None and "lean" in weighing:
        weighing["lean"] = f"{-number(weighing['lean'])} deg"
    limits = design.get("balance", {}).get("limits", {})
    if "left" in limits:
        left, right = limits["left"], limits["right"]
        limits |= {"left": _minus(right), "right": _minus(left)}
    return World(design, _mirrored_place(found.place), found.carrier)


def _minus(given: Any) -> Any:
    if isinstance(given, dict):
        return {side: _minus(text) for side, text in given.items()}
    return f"{-number(given):.4f} m"


def _sides_swapped(item: Any) -> Any:
    """The tables with the numbers of the left on the right."""
    if isinstance(item, dict):
        each = item.keys() == SIDES.keys()
        return {SIDES[k] if each else k: _sides_swapped(v) for k, v in item.items()}
    return [_sides_swapped(v) for v in item] if isinstance(item, list) else item


def minus_angle(text: str) -> str:
    """The angle the other way round."""
    return f"{-number(text)} deg"


def _mirror_text(key: str, text: str) -> str:
    if key == "bl":
        return _minus(text)
    named = ("on", "flat", "retracted", "folded", "without", "open", "parts", "at", "part", "side",
             "toward",
             "opens")  # fmt: skip
    return swapped(text) if key in named else text


def outline_of(place: Table) -> list[tuple[float, float]]:
    """The corners of the floor [m]."""
    floor = place["floor"]
    if "outline" in floor:
        return [(number(x), number(y)) for x, y in floor["outline"]]
    w, d = number(floor["width"]), number(floor["depth"])
    return [(0.0, 0.0), (w, 0.0), (w, d), (0.0, d)]


def width_of(place: Table) -> float:
    """Mirrored, an x [m] is this less x."""
    return max(x for x, _ in outline_of(place))


def wall_swap(place: Table) -> dict[str, str]:
    """What each wall is called in the mirror."""
    if "outline" not in place["floor"]:
        return {"front": "front", "back": "back", **SIDES}
    n = len(place["floor"]["outline"])
    return {f"wall {k + 1}": f"wall {(n - 2 - k) % n + 1}" for k in range(n)}


def _mirrored_place(place: Table) -> Table:
    out = copy.deepcopy(place)
    wide, corners, walls = width_of(place), outline_of(place), wall_swap(place)

    def across(pair: list[str]) -> list[str]:
        return [f"{wide - number(pair[0]):.4f} m", pair[1]]

    names = list(walls) if "outline" in place["floor"] else ["front", "right", "back", "left"]
    length = {}
    for k, name in enumerate(names):
        (x0, y0), (x1, y1) = corners[k], corners[(k + 1) % len(corners)]
        length[name] = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
    if "outline" in out["floor"]:
        out["floor"]["outline"] = [across(pair) for pair in out["floor"]["outline"][::-1]]
    for door in out["doors"]:
        left = length[door["wall"]] - number(door["from_corner"]) - number(door["clear_width"])
        door |= {"from_corner": f"{left:.4f} m", "wall": walls[door["wall"]]}
        for leaf in (*door.get("sliding", ()), *door.get("hinged", ())):
            leaf |= {key: swapped(leaf[key]) for key in ("beside", "hinge") if key in leaf}
    mirror_more(out, wide, across, _minus)
    floor = out["floor"]
    plans = (*out["obstacles"], *floor.get("pits", ()), *floor.get("levels", ()))
    for ramp in floor.get("ramps", ()):
        ramp |= {end: across(ramp[end]) for end in ("foot", "head")}
    for thing in (one for one in plans if "outline" in one):
        thing["outline"] = [across(pair) for pair in thing["outline"][::-1]]
    for spot in out["spots"]:
        spot |= {"at": across(spot["at"]), "heading": f"{-number(spot['heading'])} deg"}
    ceiling = out["ceiling"]
    if "profile" in ceiling and ceiling["along"] == "width":
        ceiling["profile"] = [
            {"at": f"{wide - number(level['at']):.4f} m", "height": level["height"]}
            for level in ceiling["profile"][::-1]
        ]
    return out


PLACED = ("doors", "obstacles", "spots", "hoists", "cars", "kept_free")
"""Lists of a place whose entries have names."""


def renamed(found: World, seed: int) -> tuple[World, dict[str, str]]:
    """Parts, stances, stages, doors, spots and things by other names; and the old ones by these."""
    dice = random.Random(seed)
    old = {name for group in NAMED for name in found.design.get(group, {})}
    old |= {one["name"] for key in ("stages", "masses") for one in found.design[key]}
    balance = found.design.get("balance", {})
    old |= {*balance.get("places", {}), *balance.get("ground_ballast", {})}
    old |= {case["name"] for case in balance.get("cases", ())}
    old |= {"outer panel"}
    lists = [found.place.get(key, ()) for key in PLACED]
    lists += [found.place["floor"].get(key, ()) for key in ("pits", "levels", "ramps", "drains")]
    place = {one["name"] for each in lists for one in each}
    fresh = [f"zq{k}{dice.choice('abcxyz')}" for k in range(len(old | place))]
    dice.shuffle(fresh)
    names = dict(zip(sorted(old | place), fresh, strict=True))
    kept = {"format", "name_of_file", "role", "side", "kind", "units", "fluid", "profile", "wall",
            "direction", "toward", "opens", "goes", "reference", "along", "between",
            "share", "beside", "hinge", "face", "swings", "folds"}  # fmt: skip

    def one(text: str) -> str:
        side, _, rest = text.partition(" ")
        return f"{side} {names[rest]}" if side in SIDES and rest in names else names.get(text, text)

    def walk(item: Any, key: str = "", holder: str = "") -> Any:
        if isinstance(item, dict):
            named = holder in (
                *NAMED,
                "places",
                "ground_ballast",
                "loads",
                "kept",
                "heights",
                "turned",
                "deflected",
            )
            return {(one(k) if named else k): walk(v, k, k) for k, v in item.items()}
        if isinstance(item, list):
            return [walk(v, key, "") for v in item]
        return one(item) if isinstance(item, str) and key not in kept else item

    def top(table: Table, own: tuple[str, ...]) -> Table:
        return {k: v if k in own else walk(v, k, k) for k, v in table.items()}

    own = ("format", "name", "units", "datum", "story")
    back = {new: name for name, new in names.items()}
    return World(top(found.design, own), top(found.place, own), found.carrier), back


BY_NAME = ("places", "ground_ballast", "loads", "heights", "turned", "deflected")
"""Tables by the names of parts and places, besides those of parts themselves."""

ORDERED = {"stages", "cuts", "frames", "outline", "profile", "at", "forward", "aft", "cases",
           "doors", "burn", "changes", "line", "centre", "step", "rows"}  # fmt: skip
"""Lists whose order says something: what comes after what, or in which order it is told."""


def reordered(found: World, seed: int) -> World:
    """Tables, and lists whose order says nothing, in another order."""
    dice = random.Random(seed)

    def walk(item: Any, key: str = "") -> Any:
        if isinstance(item, dict):
            keys = list(item)
            dice.shuffle(keys)
            return {k: walk(item[k], k) for k in keys}
        if isinstance(item, list):
            out = [walk(v, key) for v in item]
            if key not in ORDERED:
                dice.shuffle(out)
            return out
        return item

    return World(walk(found.design), walk(found.place), walk(found.carrier))
