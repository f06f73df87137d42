"""More of what a place may hold: roofs by their shape, things in rows, hoists, cars, outside."""

from __future__ import annotations

import copy
import random
from collections.abc import Callable
from dataclasses import replace
from typing import Any

from tests.laws.worlds import Table, World, metres

Across = Callable[[list[str]], list[str]]


def with_more(found: World, seed: int) -> World:
    """The world with another ceiling and more things in and before its room."""
    dice = random.Random(f"{seed} places")
    place = copy.deepcopy(found.place)

    def some(low: float, high: float) -> float:
        return round(dice.uniform(low, high), 3)

    along = dice.choice(["width", "depth"])
    eaves = some(2.7, 3.1)
    roof = {"eaves": metres(eaves), "ridge": metres(eaves + some(0.4, 1.0)), "ridge_along": along}
    place["ceiling"] = dice.choice([
        {"gable": roof | {"ridge_at": metres(some(2.0, 5.0))}},
        {"hip": roof | {"near_hip": metres(some(0.5, 3.0)), "far_hip": metres(some(0.0, 3.0))}},
        {"arch": {"eaves": metres(some(2.6, 3.0)), "rise": metres(some(0.5, 2.0)),
                  "ridge_along": along}},
    ])  # fmt: skip
    x, y = some(0.8, 2.0), some(0.8, 2.0)
    place["obstacles"] += [
        {"name": "column", "kind": "standing", "centre": [metres(x), metres(y)],
         "diameter": "0.2 m", "top": "2.5 m"},
        {"name": "lamp", "kind": "hanging", "drop": "0.3 m",
         "line": [["1.5 m", "1 m"], ["2.5 m", "1 m"]], "width": "0.2 m",
         "rows": [{"step": ["2.5 m", "0 m"], "count": 3},
                  {"step": ["0 m", metres(some(1.5, 3.0))], "count": 2}]},
        {"name": "chute", "kind": "hanging", "bottom": "2.5 m", "top": "2.7 m",
         "outline": [["3 m", "0.3 m"], ["4 m", "0.3 m"], ["4 m", "0.6 m"], ["3 m", "0.6 m"]],
         "incline": {"toward": dice.choice(["left", "right"]), "top": "2.9 m"}},
    ]  # fmt: skip
    place["hoists"] = [
        {"name": "hoist", "line": [["1 m", "3 m"], ["6 m", "3 m"]], "width": "0.1 m",
         "bottom": "2.6 m", "hook": {"bottom": "2.3 m", "length": "0.3 m", "width": "0.2 m",
                                     "at": metres(some(0.2, 4.5))}}
    ]  # fmt: skip
    place["cars"] = [
        {"name": "cart", "at": ["0.6 m", metres(some(5.5, 6.5))], "heading": "12 deg",
         "length": "1.2 m", "width": "0.6 m", "height": "1 m"}
    ]  # fmt: skip
    place["kept_free"] = [
        {"name": "walkway", "line": [["0.5 m", "0.5 m"], ["5 m", "0.5 m"]], "width": "0.7 m",
         "top": "2 m"}
    ]  # fmt: skip
    line = [["-9 m", metres(some(-12.0, -9.0))], ["20 m", "-11 m"]]
    place["outside"] = {
        "fences": [{"name": "fence", "line": line, "height": "1 m", "thickness": "0.1 m"}],
        "power_lines": [{"name": "wire", "line": line, "height": "6 m", "distance": "3.2 m"}],
    }
    return replace(found, place=place)


def mirror_more(place: Table, wide: float, across: Across, minus: Callable[[str], str]) -> None:
    """Mirror, in place, what `with_more` may have put into a place."""
    swap = {"left": "right", "right": "left"}

    def plans(item: Any) -> None:
        if "centre" in item:
            item["centre"] = across(item["centre"])
        if "line" in item:
            item["line"] = [across(point) for point in item["line"]]
        for row in item.get("rows", ()):
            row["step"] = [minus(row["step"][0]), row["step"][1]]
        if "incline" in item:
            toward = item["incline"]["toward"]
            item["incline"]["toward"] = swap.get(toward, toward)

    outside = place.get("outside", {})
    lists = [place.get(key, []) for key in ("obstacles", "hoists", "kept_free")]
    lists += [outside.get(key, []) for key in ("fences", "power_lines")]
    for item in (one for each in lists for one in each):
        plans(item)
    for car in place.get("cars", ()):
        number = float(car["heading"].split(" ")[0])
        car |= {"at": across(car["at"]), "heading": f"{-number} deg"}
    ceiling = place["ceiling"]
    for name in ("gable", "hip"):
        roof = ceiling.get(name)
        if roof is None:
            continue
        if "ridge_at" in roof and roof["ridge_along"] == "depth":
            roof["ridge_at"] = metres(wide - float(roof["ridge_at"].split(" ")[0]))
        if "near_hip" in roof and roof["ridge_along"] == "width":
            roof["near_hip"], roof["far_hip"] = roof["far_hip"], roof["near_hip"]
