"""Parts that a random aircraft gets besides those of `worlds.py`, each kind by dice of its own.

So a kind more does not change what the others of a seed are. A maker takes the table of a design
and its dice, and adds to the table.
"""

from __future__ import annotations

import math
import random
from typing import Any

Table = dict[str, Any]


def _metres(value: float) -> str:
    return f"{value:.4f} m"


def fittings(table: Table, dice: random.Random) -> None:
    """Rods and boxes on hull, wing and winglets: on the skin, or at three coordinates."""
    out: Table = {}
    if dice.random() < 0.4:
        out["whip"] = {
            "on": "hull", "at": {"fs": "0.2 m", "bl": _metres(dice.uniform(-0.1, 0.1))},
            "toward": dice.choice(["up", "down"]),
            "rod": {"length": _metres(dice.uniform(0.1, 0.4)), "diameter": "0.006 m",
                    "leans_aft": f"{dice.uniform(-10, 40):.2f} deg"},
        }  # fmt: skip
    if dice.random() < 0.4:
        out["step"] = {
            "on": "hull", "side": dice.choice(["both", "left", "right"]),
            "at": {"fs": "0.5 m", "wl": "0.05 m"}, "toward": "outboard",
            "box": {"fore_aft": "0.12 m", "across": "0.1 m", "upright": "0.03 m"},
        }  # fmt: skip
    if dice.random() < 0.4:
        wing = table["lifting"]["wing"]["cuts"][0]
        aft = float(wing["fs"].split(" ")[0]) + 0.3 * float(wing["chord"].split(" ")[0])
        out["ring"] = {
            "on": "wing", "side": "both", "at": {"fs": _metres(aft), "bl": "0.15 m"},
            "toward": "down",
            "box": {"fore_aft": "0.04 m", "across": "0.01 m", "upright": "0.04 m"},
        }  # fmt: skip
    if out:
        table["fittings"] = out


def wheel_parts(table: Table, dice: random.Random) -> None:
    """Fairings and brakes of some wheels."""
    for name, wheel in table["wheels"].items():
        fs, bl, wl = (float(wheel[key].split(" ")[0]) for key in ("fs", "bl", "wl"))
        if dice.random() < 0.3:
            wheel["fairing"] = {
                "fs": _metres(fs - 0.35), "length": "1.1 m",
                "width": _metres(dice.uniform(0.16, 0.24)),
                "bottom": _metres(wl - 0.08), "top": _metres(wl + dice.uniform(0.22, 0.3)),
            }  # fmt: skip
        if name != "nose" and dice.random() < 0.3:
            inboard = -0.08 if bl > 0.0 else 0.08
            wheel["brake"] = {"bl": _metres(bl + inboard), "diameter": "0.25 m", "width": "0.05 m"}
    _springs_and_hinges(table, dice)


def _springs_and_hinges(table: Table, dice: random.Random) -> None:
    """Tyres and struts that give, and a nose leg that retracts about a hinge."""
    if dice.random() < 0.3:
        for wheel in table["wheels"].values():
            wheel["squash"] = {"load": "200 kg", "by": _metres(dice.uniform(0.01, 0.03))}
    nose = table["wheels"]["nose"]
    if dice.random() < 0.3:
        nose["stroke"] = {"full": "0.1 m", "load": "60 kg", "by": "0.03 m"}
    if dice.random() < 0.4:
        high = _metres(float(nose["wl"].split(" ")[0]) + 0.4)
        side = _metres(dice.uniform(0.05, 0.15))
        nose["retraction"] = {
            "hinge_from": {"fs": "-1.3 m", "bl": "0 m", "wl": high},
            "hinge_to": {"fs": "-1.3 m", "bl": side, "wl": high},
            "angle": f"{dice.uniform(60, 110):.2f} deg",
        }  # fmt: skip


def blades(table: Table, dice: random.Random) -> None:
    """A propeller as blades, parked at an angle, and turned on in some stance."""
    if "propeller" not in table or dice.random() < 0.4:
        return
    table["propeller"] |= {
        "blades": dice.choice([2, 2, 3, 4]), "parked_angle": f"{dice.uniform(-180, 180):.2f} deg",
        "chord": _metres(dice.uniform(0.06, 0.12)),
    }  # fmt: skip
    if dice.random() < 0.5:
        table["propeller"] |= {"tip_chord": "0.05 m", "hub_diameter": "0.2 m"}
    if dice.random() < 0.3:
        stance = table["stances"][table["stages"][-1]["stance"]]
        stance["turned"] = stance.get("turned", {}) | {
            "propeller": f"{dice.uniform(-180, 180):.2f} deg"
        }


def folds(table: Table, dice: random.Random) -> None:
    """Outer panels that fold up or aft, folded or turned part of the way in some stance."""
    cuts = table["lifting"]["wing"]["cuts"]
    k = next((k for k, cut in enumerate(cuts) if "joint" in cut), None)
    if k is None or dice.random() < 0.4:
        return
    fold: Table = {"angle": f"{dice.uniform(60, 120):.2f} deg"}
    if dice.random() < 0.5:
        bl, wl = "1.5 m", cuts[0]["wl"]
        point = {"fs": _metres(float(cuts[0]["fs"].split(" ")[0]) + 0.8), "bl": bl}
        fold |= {"goes": "aft", "hinge_from": point | {"wl": wl},
                 "hinge_to": point | {"wl": _metres(float(wl.split(" ")[0]) + 0.3)}}  # fmt: skip
    cuts[k]["fold"] = fold
    stance = table["stances"][table["stages"][-1]["stance"]]
    which = dice.choice(["outer panel", "left outer panel", "right outer panel"])
    if dice.random() < 0.5:
        stance["folded"] = [which]
    else:
        stance["turned"] = stance.get("turned", {}) | {which: f"{dice.uniform(10, 60):.2f} deg"}


def profiles(table: Table, dice: random.Random) -> None:
    """Sections by their points on the wing: uneven curves that no four digits describe."""
    if dice.random() < 0.4:
        thick, camber = dice.uniform(0.08, 0.18), dice.uniform(-0.01, 0.04)
        table["profiles"] = {"own": {"coordinates": _columns(dice.randint(10, 30), thick, camber)}}
        cuts = table["lifting"]["wing"]["cuts"]
        cuts[dice.randrange(len(cuts))]["profile"] = "own"


def _columns(n: int, thick: float, camber: float) -> str:
    """A round nose, a closed trailing edge and camber, as one run of points."""
    rows = []
    for k in range(-n, n + 1):
        x = 0.5 * (1.0 - math.cos(math.pi * k / n))
        half = 1.3 * thick * (math.sqrt(x) - x**1.5)
        y = 4.0 * camber * x * (1.0 - x) - math.copysign(half, k) if abs(k) < n else 0.0
        rows.append(f"{x:.6f} {y + 0.0:.6f}")
    return "\n".join(rows)


def hulls(table: Table, dice: random.Random) -> None:
    """A smooth hull, with flat sides, a keel, a flat bottom and a bulge on top."""
    hull = table["bodies"]["hull"]
    if dice.random() < 0.4:
        hull["smooth"] = True
    for cut in hull["cuts"]:
        if dice.random() < 0.3:
            cut["flat_sides"] = _metres(dice.uniform(0.0, 0.02))
        if dice.random() < 0.3:
            cut["keel"] = _metres(dice.uniform(0.0, 0.02))
        if dice.random() < 0.2:
            cut["flat_bottom"] = _metres(dice.uniform(0.0, 0.02))
    if dice.random() < 0.2:
        hull["canopy_bulge"] = {
            "smooth": dice.random() < 0.5,
            "cuts": [
                cut | {"top": _metres(float(cut["top"].split()[0]) + 0.1)}
                for cut in hull["cuts"][1:]
            ],
        }


def controls(table: Table, dice: random.Random) -> None:
    """Elevators or ailerons behind a hinge line, and rudders, some free, some deflected."""
    out: Table = {}
    stance = table["stances"][table["stages"][-1]["stance"]]
    deflected: Table = {}
    second = next((n for n in ("foreplane", "tailplane") if n in table["lifting"]), None)
    if second and dice.random() < 0.5:
        out["elevator"] = {
            "on": second, "inner": {"bl": "0.5 m", "hinge": "70 %"}, "outer": {"hinge": "65 %"},
            "down": "20 deg", "up": "25 deg", "free": dice.random() < 0.4,
        }  # fmt: skip
        if dice.random() < 0.5:
            deflected["elevator"] = f"{dice.uniform(-25, 20):.2f} deg"
    if len(table["lifting"]["wing"]["cuts"]) == 2 and dice.random() < 0.5:
        out["aileron"] = {
            "on": "wing", "inner": {"bl": "1.1 m", "hinge": "75 %"},
            "outer": {"bl": "1.6 m", "hinge": "75 %"}, "down": "15 deg", "up": "20 deg",
        }  # fmt: skip
        if dice.random() < 0.5:
            deflected |= {"left aileron": "-12.5 deg", "right aileron": "10 deg"}
    if table["winglets"].get("winglet", {}).get("direction") == "up" and dice.random() < 0.5:
        out["rudder"] = {
            "on": "winglet", "inner": {"along": "0.06 m", "hinge": "60 %"},
            "outer": {"hinge": "60 %"}, "outboard": "30 deg", "inboard": "2 deg",
            "free": dice.random() < 0.4,
        }  # fmt: skip
        if dice.random() < 0.5:
            deflected["left rudder"] = f"{dice.uniform(0, 30):.2f} deg"
    if out:
        table["controls"] = out
    if deflected:
        stance["deflected"] = deflected


def struts(table: Table, dice: random.Random) -> None:
    """Struts from the hull's side to the wing, round or faired, on both sides or on one."""
    if dice.random() > 0.3:
        return
    hull = table["bodies"]["hull"]["cuts"]
    low, high = (float(hull[1][field].split()[0]) for field in ("bottom", "top"))
    inner = {"on": "hull", "fs": "0.4 m", "wl": _metres(0.5 * (low + high))}
    outer = {
        "on": "wing", "fs": _metres(dice.uniform(0.2, 0.9)), "bl": _metres(dice.uniform(0.7, 1.2)),
        "wl": _metres(0.5 * (low + high) + dice.uniform(-0.1, 0.1)),
    }  # fmt: skip
    shape = {"diameter": "0.04 m"}
    if dice.random() < 0.5:
        shape = {"chord": "0.08 m", "thickness": _metres(dice.uniform(0.01, 0.02))}
    side = dice.choice(["both", "both", "left", "right"])
    table["struts"] = {"brace": {"side": side, "inner_end": inner, "outer_end": outer, **shape}}


def structure(table: Table, dice: random.Random) -> None:
    """Spars along the wing, inside it or too high, and a bulkhead of the hull."""
    if dice.random() < 0.5:
        share = round(dice.uniform(0.25, 0.5), 3)
        spar: Table = {
            "on": "wing", "side": "both", "width": "0.02 m",
            "root": {"along": "0.02 m", "chord_fraction": share},
            "tip": {"chord_fraction": 0.4},
        }  # fmt: skip
        height = {"height": _metres(dice.uniform(0.1, 0.6))}
        spar |= height if dice.random() < 0.5 else {"inside": "0.001 m"}
        table["spars"] = {"beam": spar}
    if dice.random() < 0.5:
        width, top = (_metres(dice.uniform(0.1, 0.6)) for _ in range(2))
        table["bulkheads"] = {
            "frame": {"on": "hull", "fs": "0.3 m", "thickness": "0.006 m",
                      "width": width, "bottom": "0 m", "top": top},
        }  # fmt: skip


def doors(table: Table, dice: random.Random) -> None:
    """A hatch by corners, and a pair of doors cut from the hull's skin, with a strut and a stop."""
    panels: Table = {}
    if dice.random() < 0.3:
        low, high = _metres(dice.uniform(-0.05, 0.0)), _metres(dice.uniform(0.1, 0.15))
        panels["door"] = {
            "side": dice.choice(["both", "left", "right"]), "body": "hull",
            "frames": [{"fs": "-0.4 m", "lower": low, "upper": high},
                       {"fs": "0.5 m", "lower": low, "upper": high}],
            "hinge_from": {"fs": "-0.4 m", "bl": "0.4 m", "wl": high},
            "hinge_to": {"fs": "0.5 m", "bl": "0.42 m", "wl": high},
            "opens": "up", "thickness": "0.01 m",
            "open_angle": f"{dice.uniform(30, 80):.2f} deg", "stop": "85 deg",
        }  # fmt: skip
    if dice.random() < 0.3:
        ends = [("-0.3", "-0.2"), ("0.3", "-0.25"), ("0.35", "0.2"), ("-0.3", "0.25")]
        corners = [{"fs": f"{x} m", "bl": f"{y} m", "wl": "0.8 m"} for x, y in ends]
        panels["lid"] = {
            "corners": corners, "hinge_from": corners[1], "hinge_to": corners[2], "opens": "up",
            "thickness": "0.01 m", "open_angle": f"{dice.uniform(20, 100):.2f} deg",
        }  # fmt: skip
    if panels:
        table["panels"] = table.get("panels", {}) | panels
        if dice.random() < 0.5:
            table["stages"][-1].setdefault("open", []).extend(panels)


def towing(table: Table, dice: random.Random) -> None:
    """A castering nose wheel, and a tow bar at it."""
    nose = table["wheels"]["nose"]
    if dice.random() < 0.3 and "steers" not in nose:
        nose["trail"] = _metres(dice.uniform(0.03, 0.1))
    if dice.random() < 0.2:
        nose["tow_bar"] = {"length": _metres(dice.uniform(0.6, 1.2)), "width": "0.3 m",
                           "height": "0.9 m"}  # fmt: skip


def joints(table: Table, dice: random.Random) -> None:
    """A joint of the first surface, with bolts and limits of angles."""
    if dice.random() < 0.4:
        name, surface = next(iter(table["lifting"].items()))
        first = surface["cuts"][0]
        at = {"bl": "0.15 m", "wl": first.get("wl", "0 m")}
        table["joints"] = {
            f"{name} on its seat": {
                "part": name, "face": dice.choice(["down", "up", "aft"]),
                "bolts": [
                    {"fs": first["fs"], **at},
                    {"fs": _metres(float(first["fs"].split(" ")[0]) + 0.2), **at},
                ],
                "limits": {"incidence": "0.2 deg"},
            }
        }  # fmt: skip


MAKERS = (
    towing,
    doors,
    structure,
    fittings,
    wheel_parts,
    blades,
    folds,
    profiles,
    hulls,
    controls,
    struts,
    joints,
)


def with_more_parts(table: Table, seed: int) -> Table:
    """The design with what the dice of each kind give it."""
    for make in MAKERS:
        make(table, random.Random(f"{make.__name__} {seed}"))
    return table
