"""A card made by hand for Marram's foreplane, with the columns of small turns in closed form."""

from __future__ import annotations

import math

import numpy as np

from planform.core.vectors import Array
from planform.rigging.card import (
    Card,
    CardBolt,
    CardCheck,
    CardFreedom,
    CardTarget,
    FloorSpot,
    HangingTape,
    RigStep,
    Template,
)

INCH, DEG = 0.0254, math.pi / 180.0
HEIGHT, STATION = np.array([0.0, 0.0, 1.0]), np.array([1.0, 0.0, 0.0])
TURNS = {"tilt": (1, 0, 0), "skew": (0, 0, -1), "incidence": (0, 1, 0)}
"""As right-hand vectors: right tip up, right tip aft, nose up; axes aft, right, up."""


def made_card(standing, limits=True) -> Card:
    """The foreplane on its bulkhead: both tips' heights and stations, levels, two tapes."""
    at = {
        f"{side} foreplane tip, {edge} edge": standing.to_floor(np.array([fs, bl, 34.0]) * INCH)
        for side, bl in (("left", -78.0), ("right", 78.0))
        for edge, fs in (("leading", 60.7), ("trailing", 73.7))
    }
    at["tail"] = standing.to_floor(np.array([264.0, 0.0, 31.0]) * INCH)
    middle = standing.to_floor(np.array([64.0, 0.0, 34.0]) * INCH)
    targets = [
        *(_point(k + 1, "height", name, at, middle) for k, name in enumerate(list(at)[:4])),
        *(
            _point(k + 5, "station", name, at, middle)
            for k, name in enumerate(n for n in at if "leading" in n)
        ),
        _level(7, "level across", at, middle),
        _level(8, "level along", at, middle),
        *(_tape(k + 9, name, at, middle) for k, name in enumerate(n for n in at if "leading" in n)),
    ]
    span = 156.0 * INCH
    limit = 0.1 * DEG if limits else None
    return Card(
        "foreplane to bulkhead", "foreplane to bulkhead", ("left foreplane", "right foreplane"),
        "hull", standing,
        ("Chock both main wheels, support the tail, and support the foreplane at both tips.",),
        tuple(targets),
        (
            *(CardFreedom(name, "angle", "", 2.0 * DEG, False) for name in TURNS),
            CardFreedom("roll of the aircraft", "angle", "", 1.0 * DEG, True),
        ),
        (
            CardCheck("tilt", "angle", ((3, 1 / span), (1, -1 / span)), limit, 0.02 * DEG,
                      span * math.tan(0.1 * DEG), "length", "height of the right tip less the left",
                      "a water level sees it; a tape from the floor does not", "0.2 deg"),
            CardCheck("skew", "angle", ((6, 1 / span), (5, -1 / span)), limit, 0.03 * DEG,
                      span * math.tan(0.1 * DEG), "length", "right tip's station less the left",
                      "plumb lines and tapes see it; a tape over 17 ft does not", "1/8 in"),
            CardCheck("incidence", "angle", ((8, 1.0),), limit, 0.05 * DEG, 0.1 * DEG, "angle",
                      "level along the root chord", "a digital level, reversed", "0.1 deg"),
        ),
        tuple(_bolt(name, fs, bl, standing, middle) for name, fs, bl in BOLTS),
        ("mark A", "mark B"),
        np.array([[-3.6, 0.0, 0.0], [-1.0, 0.0, 0.0]]),
        tuple(FloorSpot(n, p[0] + 3.6, p[1], math.hypot(p[0] + 3.6, p[1]),
                        math.hypot(p[0] + 1.0, p[1])) for n, p in at.items() if "leading" in n),
        (Template("incidence block", 1.0 * DEG, math.tan(1.0 * DEG) * 0.3, 0.3),),
        (HangingTape("steel tape to the tail", 5.4, 22.2, 0.0005, 0.012, 0.0006),),
        ("A string along the base line, as tight as it holds.",),
        ("A turn about the bolts' own direction no shim takes: the holes would move.",),
        {},
        (
            RigStep("Set the stations of both tips", "Levels move no station.", (5, 6)),
            RigStep("Level it across by shims", "Shims move no station.", (1, 2, 3, 4, 7)),
            RigStep("Set the incidence", "It turns about the spar.", (8,)),
            RigStep("Read everything once more", "The last setting shows in all.", ()),
        ),
        ("Left and right alike within 0.2 deg: practice of homebuilders, no limit.",),
        ("This card approves no drilling: the designer's limits and the person responsible do.",
         "Support before measuring. Ladders on level ground; no laser at the height of eyes."),
    )  # fmt: skip


BOLTS = tuple(
    (f"{side} {place} bolt", fs, bl)
    for side, bl in (("left", -8.0), ("right", 8.0))
    for place, fs in (("front", 61.0), ("aft", 67.0))
)


def _columns(at: Array, along: Array, middle: Array) -> tuple[float, ...]:
    """How a coordinate of a point changes with each turn, and with the roll of the aircraft."""
    turned = [float(np.cross(turn, at - middle) @ along) for turn in TURNS.values()]
    return (*turned, float(np.cross((1.0, 0.0, 0.0), at) @ along))


def _point(number, sort, name, at, middle) -> CardTarget:
    along, ends = (HEIGHT if sort == "height" else STATION), at[name][None]
    value, wide = float(ends[0] @ along), INCH / 16.0
    return CardTarget(
        number, f"{sort} of the {name}", sort, "length", (name,), ends, value,
        None, None, wide, wide, "water level" if sort == "height" else "plumb line and two tapes",
        "", False, False, _columns(ends[0], along, middle),
        {"what": sort, "point": name, "instrument": "tape"},
    )  # fmt: skip


def _level(number, sort, at, middle) -> CardTarget:
    across = sort == "level across"
    half = np.array([0.0, 0.6, 0.0]) if across else np.array([0.17, 0.0, 0.0])
    columns = (0.0, 0.0, 0.0, 1.0) if across else (0.0, 0.0, 1.0, 0.0)
    where = "the longerons" if across else "the root chord, nose up"
    return CardTarget(
        number, f"{sort} on {where}", sort, "angle", ("foreplane",),
        np.array([middle - half, middle + half]), 0.0 if across else DEG,
        None if across else 0.9 * DEG, None if across else 1.1 * DEG,
        0.05 * DEG, 0.3 * DEG, "digital level", "incidence", True, across, columns,
        {"what": sort, "point": "foreplane", "instrument": "digital level"},
    )  # fmt: skip


def _tape(number, name, at, middle) -> CardTarget:
    ends = np.array([at[name], at["tail"]])
    way = ends[0] - ends[1]
    return CardTarget(
        number, f"tape from the {name}, to the tail", "distance", "length", (name, "tail"), ends,
        float(np.linalg.norm(way)), None, None, INCH / 16.0, INCH / 16.0, "steel tape at 5 lbf",
        "a check of the stations", False, False,
        (*_columns(ends[0], way / np.linalg.norm(way), middle)[:3], 0.0),
        {"what": "distance", "point": name, "to": "tail", "instrument": "tape"},
    )  # fmt: skip


def _bolt(name, fs, bl, standing, middle) -> CardBolt:
    at = standing.to_floor(np.array([fs, bl, 33.0]) * INCH)
    per = [float(np.cross(turn, at - middle)[2]) for turn in TURNS.values()]
    return CardBolt(name, "", at, (*per, 0.0))
