"""Random but buildable aircraft, places and carriers, as tables in metres; the same for a seed.

`world(seed)` makes one; `worlds` is a hypothesis strategy of them. What may be changed without
changing an answer is in `changed.py`.
"""

from __future__ import annotations

import random
from dataclasses import dataclass
from typing import Any

from hypothesis import strategies as st

from tests.fuzz.changes import written
from tests.laws.more_parts import with_more_parts
from tests.laws.more_rooms import with_more_rooms

Table = dict[str, Any]


@dataclass(frozen=True)
class World:
    """An aircraft, a room that may or may not take it, and a carrier."""

    design: Table
    place: Table
    carrier: Table

    def texts(self) -> dict[str, str]:
        """The three files as TOML, by name."""
        return {
            "design": written(self.design),
            "place": written(self.place),
            "carrier": written(self.carrier),
        }


def metres(value: float) -> str:
    """A length as the tables have it."""
    return f"{value:.4f} m"


def degrees(value: float) -> str:
    """An angle as the tables have it."""
    return f"{value:.3f} deg"


class _Maker:
    """Throws the dice for one world."""

    def __init__(self, seed: int) -> None:
        self.dice = random.Random(seed)

    def some(self, low: float, high: float) -> float:
        return round(self.dice.uniform(low, high), 3)

    def maybe(self, share: float) -> bool:
        return self.dice.random() < share

    def surface(self, role: str, fs: float, wl: float, half: float, chord: float) -> Table:
        """A surface of one to three panels, with joints, sweep, dihedral and twist."""
        count = self.dice.choice([1, 1, 2, 3]) if role == "wing" else 1
        first = {"fs": metres(fs), "bl": "0 m", "wl": metres(wl), "chord": metres(chord)}
        cuts: list[Table] = [first | {"incidence": degrees(self.some(-1, 3))}]
        for k in range(1, count + 1):
            chord *= self.some(0.55, 0.95)
            one = {"bl": metres(half * k / count), "chord": metres(chord)}
            one["sweep_le_plan"] = degrees(self.some(-2, 32 if role == "wing" else 8))
            one["dihedral"] = degrees(self.some(-2, 5))
            one["incidence"] = degrees(self.some(-3, 2))
            if k == 2 and self.maybe(0.7):
                cuts[-1]["joint"] = "outer panel"
            cuts.append(one)
        profile = self.dice.choice(["NACA 0012", "NACA 2412"])
        return {"role": role, "profile": profile, "cuts": cuts}

    def winglet(self, on: str, side: str) -> Table:
        out = {
            "on": on, "side": side, "direction": self.dice.choice(["up", "up", "down"]),
            "length": metres(self.some(0.3, 0.9)), "cant": degrees(self.some(-10, 40)),
            "toe": degrees(self.some(-1, 2)), "sweep_le_panel": degrees(self.some(0, 35)),
            "root_chord": metres(0.3), "tip_chord": metres(self.some(0.12, 0.3)),
        }  # fmt: skip
        if out["direction"] == "down":
            out["length"] = metres(0.15)
        return out

    def design(self) -> Table:
        some, maybe = self.some, self.maybe
        half, fs, wl = some(1.8, 4.0), some(0.6, 1.6), some(-0.2, 0.3)
        surfaces = {"wing": self.surface("wing", fs, wl, half, some(0.8, 1.5))}
        second = self.dice.choice(["foreplane", "foreplane", "tailplane", None])
        if second is not None:
            at = -1.6 if second == "foreplane" else 3.6
            size = some(0.8, 1.3), some(0.3, 0.5)
            surfaces[second] = self.surface(second, at + some(-0.2, 0.2), wl + 0.2, *size)
        winglets = {}
        kind = self.dice.choice(["both", "both", "none", "sides", "foreplane"])
        if kind == "both" or (kind == "foreplane" and second is None):
            winglets["winglet"] = self.winglet("wing", "both")
        elif kind == "sides":
            winglets["port fin"] = self.winglet("wing", "left")
            winglets["starboard fin"] = self.winglet("wing", "right")
        elif kind == "foreplane":
            winglets["winglet"] = self.winglet(str(second), "both")
        hull = [
            {"fs": metres(x), "half_width": metres(w), "bottom": metres(wl - b), "top": metres(t)}
            for x, w, b, t in (
                (-2.2, some(0.05, 0.2), 0.2, wl + 0.2),
                (-0.8, some(0.3, 0.45), some(0.3, 0.4), wl + some(0.4, 0.6)),
                (1.8, some(0.3, 0.45), some(0.3, 0.4), wl + some(0.4, 0.6)),
                (3.2, 0.15, 0.2, wl + 0.25),
            )
        ]
        bodies: Table = {"hull": {"cuts": hull}}
        if maybe(0.3):
            low, top = metres(wl - 0.25), metres(wl + 0.1)
            ends = [{"fs": metres(x), "half_width": "0.15 m", "bottom": low, "top": top}
                    for x in (fs, fs + 1.2)]  # fmt: skip
            pod = {"side": "both", "bl": metres(some(0.9, 1.3)), "cuts": ends}
            bodies["pod"] = pod if maybe(0.6) else pod | {"side": "centre"}
        table: Table = {
            "format": "planform design 1", "name": "Plover", "units": "m",
            "datum": "a mark on the floor of the hall", "lifting": surfaces,
            "winglets": winglets, "bodies": bodies,
        }  # fmt: skip
        if maybe(0.5):
            table["propeller"] = {"disc_fs": "3.3 m", "wl": metres(wl + 0.1),
                                  "diameter": metres(some(0.6, 1.2)), "depth": "0.1 m"}  # fmt: skip
        self.gear(table, wl)
        if maybe(0.5):
            butt, level = self.dice.choice([-0.3, 0.3]), metres(wl + 0.45)
            table["panels"] = {"hatch": {
                "hinge_from": {"fs": "-0.6 m", "bl": metres(butt), "wl": level},
                "hinge_to": {"fs": "0.4 m", "bl": metres(butt), "wl": level},
                "width": "0.5 m", "toward": "left" if butt > 0 else "right", "opens": "up",
                "rise": "0.1 m", "thickness": "0.02 m", "open_angle": degrees(some(40, 95)),
            }}  # fmt: skip
        self.stages(table)
        self.masses(table, wl)
        return table

    def gear(self, table: Table, wl: float) -> None:
        some = self.some
        low, main = wl - some(0.65, 0.8), some(1.3, 1.8)
        nose = {"fs": metres(-1.4), "bl": "0 m", "wl": metres(low + some(-0.02, 0.02)),
                "diameter": "0.3 m", "width": "0.1 m", "flat_drop": "0.03 m"}  # fmt: skip
        if self.maybe(0.5):
            nose["steers"] = degrees(some(20, 45))
        wheel = {"fs": metres(main), "wl": metres(low), "diameter": "0.4 m",
                 "width": "0.12 m", "flat_drop": "0.05 m"}  # fmt: skip
        butt = some(0.6, 0.9)
        if self.maybe(0.25):
            wheels = {
                "nose": nose,
                "port": wheel | {"bl": metres(-butt)},
                "starboard": wheel | {"bl": metres(butt + some(0.0, 0.1)),
                                      "fs": metres(main + some(-0.1, 0.1))},
            }  # fmt: skip
            mains = ["port", "starboard"]
        else:
            wheels = {"nose": nose, "main": wheel | {"side": "both", "bl": metres(butt)}}
            mains = ["main"]
        table["wheels"] = wheels
        table["pads"] = {
            "bumper": {"fs": "-1.7 m", "bl": "0 m", "wl": metres(wl - 0.3)},
            "cradle": {"side": "both", "fs": "1.5 m", "bl": "0.3 m", "wl": metres(wl - 0.35)},
        }
        high = mains[0] if len(mains) > 1 else "left main"
        table["stances"] = {
            "gear": {"on": ["nose", *mains]},
            "kneeling": {"on": ["bumper", *mains], "retracted": ["nose"]},
            "one high": {"on": ["nose", *mains], "heights": {high: metres(some(0.03, 0.15))}},
            "flat": {"on": ["nose", *mains], "flat": [high]},
            "blocks": {"on": ["nose", *mains],
                       "heights": dict.fromkeys(mains, "0.2 m") | {"nose": metres(some(0.0, 0.3))}},
            "cradle": {"on": ["bumper", "cradle"],
                       "heights": {"bumper": "0.5 m", "cradle": metres(some(0.5, 0.7))},
                       "retracted": ["nose", *mains]},
        }  # fmt: skip

    def stages(self, table: Table) -> None:
        off = [name for name in ("foreplane", "tailplane") if name in table["lifting"]]
        off += [*table["winglets"], *(["propeller"] if "propeller" in table else [])]
        dice = self.dice
        stance = dice.choice(["gear", "gear", "kneeling", "one high", "flat", "blocks", "cradle"])
        stages = [{"name": "whole", "stance": stance}]
        if off and self.maybe(0.6):
            without = dice.sample(off, dice.randint(1, len(off)))
            early: Table = {"name": "early", "without": sorted(without), "stance": "gear"}
            stages.insert(0, early)
        if "panels" in table and self.maybe(0.5):
            stages[-1]["open"] = ["hatch"]
        if "panels" in table and self.maybe(0.3):
            table["stances"][stance]["turned"] = {"hatch": degrees(self.some(0, 120))}
        table["stages"] = stages

    def masses(self, table: Table, wl: float) -> None:
        some = self.some
        rows = [
            ("shell", some(80, 140), some(0.2, 0.6), 0.0, wl, "hull"),
            ("plank", some(60, 120), some(1.2, 1.6), 0.0, wl + 0.05, "wing"),
            ("engine", some(60, 120), some(1.9, 2.6), 0.0, wl + 0.1, "hull"),
            ("battery", some(5, 40), some(-1.8, -1.2), some(-0.2, 0.2), wl, "hull"),
        ]
        table["masses"] = [
            {"name": name, "mass": f"{mass} kg", "fs": metres(fs), "bl": metres(bl),
             "wl": metres(high), "part": part}
            for name, mass, fs, bl, high, part in rows
        ]  # fmt: skip
        places: Table = {
            "pilot": {"kind": "seat", "fs": metres(some(-0.6, 0.2)), "wl": metres(wl),
                      "limit": "110 kg"},
            "mate": {"kind": "seat", "fs": metres(some(0.4, 0.8)), "bl": "-0.2 m",
                     "wl": metres(wl), "limit": "110 kg"},
            "tank": {"kind": "fuel", "fs": metres(some(0.9, 1.5)), "wl": metres(wl),
                     "limit": "90 L", "fluid": "avgas"},
        }  # fmt: skip
        balance: Table = {
            "reference": "planform",
            "places": places,
            "ground_ballast": {"locker": {"fs": "-1.8 m", "bl": "0 m", "wl": metres(wl)}},
            "nose_load": "15 kg",
            "limits": {
                "record": "invented",
                "max_mass": "700 kg",
                "forward": [{"mass": "200 kg", "fs": "0.3 m"}, {"mass": "700 kg", "fs": "0.5 m"}],
                "aft": [{"fs": metres(some(1.0, 1.3))}],
            },
            "cases": [
                {"name": "alone", "loads": {"pilot": f"{some(55, 105)} kg", "tank": "60 L"}},
                {"name": "two", "loads": {"pilot": "80 kg", "mate": "70 kg", "tank": "20 L"}},
            ],
        }
        if self.maybe(0.4):
            mains = [n for n in table["wheels"] if n != "nose"]
            sides = ["left main", "right main"] if len(mains) == 1 else mains
            loads = [some(15, 40), some(120, 170), some(120, 170)]
            balance["weighing"] = {
                "date": "invented", "level": degrees(some(-0.5, 0.5)),
                "lean": degrees(some(-0.4, 0.4)), "cg_wl": metres(wl),
                "scales": [{"at": at, "reading": f"{kg} kg", "tare": "2 kg"}
                           for at, kg in zip(["nose", *sides], loads, strict=True)],
            }  # fmt: skip
        _loaded_to_the_sides(balance)
        table["balance"] = balance

    def place(self) -> Table:
        some, maybe, dice = self.some, self.maybe, self.dice
        wide, deep = some(9.0, 13.0), some(8.0, 12.0)
        shape: Table = {"width": metres(wide), "depth": metres(deep)}
        walls = {"front": wide, "right": deep, "back": wide, "left": deep}
        if maybe(0.3):
            x, y = some(7.0, wide - 1), some(6.0, deep - 1)
            at = [(0, 0), (wide, 0), (wide, y), (x, y), (x, deep), (0, deep)]
            shape = {"outline": [[metres(a), metres(b)] for a, b in at]}
            walls = {"wall 1": wide, "wall 2": y, "wall 5": x, "wall 6": deep}
        high = some(2.6, 3.4)
        ceiling: Table = {"height": metres(high)}
        slope = dice.choice(["flat", "flat", "shed", "gable"])
        along = dice.choice(["width", "depth"])
        far = wide if along == "width" else deep
        if slope == "shed":
            ceiling = {"along": along, "profile": [
                {"at": "0 m", "height": metres(high)},
                {"at": metres(far), "height": metres(high + some(-0.3, 0.8))}]}  # fmt: skip
        elif slope == "gable":
            ceiling = {"along": along, "profile": [
                {"at": "0 m", "height": metres(high)},
                {"at": metres(0.45 * far), "height": metres(high + 0.8)},
                {"at": metres(far), "height": metres(high)}]}  # fmt: skip
        doors = []
        for k, wall in enumerate(dice.sample(sorted(walls), dice.choice([1, 1, 2, 3]))):
            room = walls[wall]
            clear = min(some(3.5, 9.5), room - 0.4)
            door = {
                "name": f"{('big', 'side', 'low')[k]} door",
                "wall": wall,
                "from_corner": metres(some(0.2, room - clear)),
                "clear_width": metres(clear),
                "clear_height": metres(some(1.6, 2.5)),
            }
            if maybe(0.2):
                door["threshold"] = metres(some(0.01, 0.03))
            doors.append(door)
        things = []
        for name, kind in (("bench", "standing"), ("beam", "hanging")):
            if maybe(0.5):
                x, y = some(0.3, wide - 2.5), some(0.3, deep - 2.5)
                w, d = some(0.5, 2.0), some(0.4, 0.8)
                ring = [[metres(a), metres(b)]
                        for a, b in ((x, y), (x + w, y), (x + w, y + d), (x, y + d))]  # fmt: skip
                one = {"name": name, "kind": kind, "outline": ring}
                one |= (
                    {"top": "0.6 m"} if kind == "standing" else {"bottom": metres(some(1.8, 2.4))}
                )
                things.append(one)
        wish = {"walls": metres(some(0.05, 0.3)), "ceiling": "0.1 m", "obstacles": "0.1 m",
                "door_sides": metres(some(0.05, 0.2)), "door_head": "0.05 m"}  # fmt: skip
        heading = dice.choice([0.0, 180.0, 180.0, some(-170, 170)])
        return {
            "format": "planform place 1", "name": "Hall", "units": "m", "floor": shape,
            "ceiling": ceiling, "doors": doors, "obstacles": things,
            "clearances": wish if maybe(0.7) else {},
            "spots": [{"name": "bay", "at": [metres(wide * some(0.42, 0.58)),
                                             metres(deep * some(0.42, 0.58))],
                       "heading": degrees(heading)}],
        }  # fmt: skip

    def carrier(self) -> Table:
        some = self.some
        return {
            "format": "planform carrier 1", "name": "Cart", "units": "m",
            "bed": {"length": metres(some(3, 6)), "width": metres(some(1.5, 2.4)),
                    "over_road": "0.6 m", "overhang": "0.5 m", "gap": "0.05 m"},
            "running": {"axles": [metres(some(1.8, 2.5))], "hitch": "1.5 m", "empty": "300 kg",
                        "empty_hitch": "40 kg", "payload": "400 kg", "hitch_least": "10 kg",
                        "hitch_most": "100 kg", "source": "invented"},
            "road": {"width": "2.55 m", "height": "4 m", "source": "invented"},
        }  # fmt: skip


def world(seed: int) -> World:
    """The world of a number."""
    maker = _Maker(seed)
    design, place, carrier = maker.design(), maker.place(), maker.carrier()
    return World(with_more_parts(design, seed), with_more_rooms(place, seed), carrier)


worlds = st.integers(0, 100_000).map(world)


def _loaded_to_the_sides(balance: Table) -> None:
    """Give a balance limits to the sides, joint ones and tanks that feed in steps, or some of them.

    By dice of its own, so that what else a world holds stays as it is.
    """
    dice = random.Random(str(balance["places"]))
    places, limits = balance["places"], balance["limits"]
    if dice.random() < 0.6:
        places["aux"] = {"kind": "fuel", "fs": metres(1.1), "bl": metres(-0.6), "wl": metres(0.3),
                         "limit": "30 L", "fluid": "avgas", "unusable": "1 L"}  # fmt: skip
        balance["cases"][0]["loads"]["aux"] = "24 L"
        balance["cases"][0]["kept"] = {"tank": "5 L"}
        balance["cases"][1]["loads"]["aux"] = "8 L"
        share = dice.choice(["equal", "in proportion"])
        both = {"tanks": ["tank", "aux"], "down_to": "4 L", "share": share}
        balance["burn"] = [both, "aux", "tank"]
    if dice.random() < 0.6:
        limits |= {"left": metres(-0.03), "right": metres(round(dice.uniform(0.005, 0.05), 4))}
    if dice.random() < 0.4:
        limits["lateral_moment"] = "14 kg-m"  # no length alone
    if dice.random() < 0.5:
        limits["max_zero_fuel_mass"] = f"{dice.choice([420, 480, 560])} kg"
    if dice.random() < 0.6:
        limits["between"] = dice.choice(["moment", "smooth"])
    if dice.random() < 0.6:
        balance["joint_limits"] = {"both seats": {"places": ["pilot", "mate"], "limit": "165 kg"}}
