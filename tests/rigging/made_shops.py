"""Shops made up by a number: an aircraft's points, what differs from its drawing, and what is read.

Straight-line in all unknowns: a part turns by small angles about its root. The aircraft, its sizes,
the readings taken and their tolerances differ from shop to shop; nothing here knows the method that
is tried on them.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from planform.core.vectors import Array
from planform.rigging.explain.net import Candidate, Net, Observed, Pool, sd_of

INCH = 0.0254
DEG = math.pi / 180.0
UNKNOWN = (
    "pitch", "roll", "floor slope along", "floor slope across", "floor height", "level zero",
)  # fmt: skip
LARGE_ANGLE, LARGE_LENGTH = 2.0 * DEG, 2.0 * INCH


@dataclass(frozen=True, eq=False)
class Shop:
    """What is known of a made shop.

    truth : (c,) how far each candidate truly is off, where it is one of the deviations
    small : (c,) what each is off beside that
    mistaken : what was done wrong with each wrong reading, by its number
    """

    net: Net
    truth: Array
    small: Array
    mistaken: dict[int, str]


class Craft:
    """Points by name, and how each candidate moves them."""

    def __init__(self, dice: np.random.Generator) -> None:
        self.at: dict[str, Array] = {}
        self.part: dict[str, str] = {}
        self.root: dict[str, Array] = {}
        s = dice.uniform(0.85, 1.15, 8)
        self._hull(s)
        self._pair(
            "foreplane", (1.0, 0.25, 0.55), (1.0 + 0.1 * s[0], 1.95 * s[1], 0.58), 0.35, 0.28
        )
        self._pair("panel", (3.6, 0.75, 0.4), (4.6 * s[2], 4.1 * s[3], 0.46 * s[4]), 1.2, 0.6)
        tip = self.at["panel left tip le"]
        self._pair(
            "winglet",
            (tip[0], -tip[1], tip[2]),
            (tip[0] + 0.55, -tip[1] + 0.08, tip[2] + s[5]),
            0.6,
            0.3,
        )
        self.moves = self._moves()

    def _put(self, name: str, part: str, at: tuple[float, float, float]) -> None:
        self.at[name], self.part[name] = np.array(at), part

    def _hull(self, s: Array) -> None:
        self._put("nose", "hull", (0.1, 0.0, 0.5))
        self._put("tail", "hull", (5.0, 0.0, 0.55))
        for side, y in (("left", -1.0), ("right", 1.0)):
            self._put(f"front bulkhead {side}", "hull", (1.1, 0.28 * y, 0.7))
            self._put(f"rear bulkhead {side}", "hull", (3.2, 0.5 * y, 0.9))
            self._put(f"firewall {side}", "hull", (4.7, 0.45 * y, 0.85))
            self._put(f"axle {side}", "hull", (4.1 * s[6], 1.0 * y, -0.5))

    def _pair(
        self,
        part: str,
        root: tuple[float, float, float],
        tip: tuple[float, float, float],
        chord: float,
        tip_chord: float,
    ) -> None:
        for side, y in (("left", -1.0), ("right", 1.0)):
            own = f"{part} {side}"
            self.root[own] = np.array((root[0], y * root[1], root[2]))
            middle = tuple(0.5 * (a + b) for a, b in zip(root, tip, strict=True))
            for place, at, c in (
                ("root", root, chord),
                ("mid", middle, 0.5 * (chord + tip_chord)),
                ("tip", tip, tip_chord),
            ):
                self._put(f"{own} {place} le", own, (at[0], y * at[1], at[2]))
                self._put(f"{own} {place} te", own, (at[0] + c, y * at[1], at[2]))

    def _rides(self, point: str, part: str) -> bool:
        """Whether a point goes along with a part: winglets ride on their panels."""
        own = self.part[point]
        return own == part or own == part.replace("panel", "winglet")

    def _moves(self) -> dict[str, Callable[[str], Array]]:
        moves: dict[str, Callable[[str], Array]] = {}
        for side, y in (("left", -1.0), ("right", 1.0)):
            for part, kinds in (
                ("panel", ("sweep", "dihedral", "incidence", "twist", "span")),
                ("winglet", ("cant", "toe", "sweep", "span")),
                ("foreplane", ("dihedral", "twist")),
            ):
                for kind in kinds:
                    moves[f"{part} {side}, {kind}"] = self._sided(f"{part} {side}", y, kind)
        for kind in ("skew", "tilt", "incidence", "fs", "bl", "wl"):
            moves[f"foreplane, {kind}"] = self._whole(kind)
        for kind in ("bend sideways", "bend up", "twist"):
            moves[f"hull, {kind}"] = self._bent(kind)
        return moves

    def _sided(self, own: str, y: float, kind: str) -> Callable[[str], Array]:
        root = self.root[own]
        upright = own.startswith("winglet")
        along = (self.at[f"{own} tip le"] - root)[2 if upright else 1]

        def move(point: str) -> Array:
            if not self._rides(point, own):
                return np.zeros(3)
            d = self.at[point] - root
            share = d[2 if upright else 1] / along
            turns = {
                "sweep": (0.0, 1.0, 0.0) if upright else (0.0, 0.0, -y),
                "dihedral": (y, 0.0, 0.0),
                "cant": (-y, 0.0, 0.0),
                "incidence": (0.0, 1.0, 0.0),
                "toe": (0.0, 0.0, y),
            }
            if kind in turns:
                return np.cross(turns[kind], d)
            if kind == "twist":
                own_share = min(max(share, 0.0), 1.0)
                return (
                    np.cross(
                        (0.0, 1.0, 0.0),
                        (d[0] - share * (self.at[f"{own} tip le"] - root)[0], 0.0, 0.0),
                    )
                    * own_share
                )
            step = np.array((0.0, 0.0, 1.0) if upright else (0.0, y, 0.0))
            return step * min(max(share, 0.0), 1.0)

        return move

    def _whole(self, kind: str) -> Callable[[str], Array]:
        middle = np.array((1.0, 0.0, 0.55))
        turns = {"skew": (0.0, 0.0, -1.0), "tilt": (1.0, 0.0, 0.0), "incidence": (0.0, 1.0, 0.0)}
        steps = {"fs": (1.0, 0.0, 0.0), "bl": (0.0, 1.0, 0.0), "wl": (0.0, 0.0, 1.0)}

        def move(point: str) -> Array:
            if not self.part[point].startswith("foreplane"):
                return np.zeros(3)
            if kind in steps:
                return np.array(steps[kind])
            return np.cross(turns[kind], self.at[point] - middle)

        return move

    def _bent(self, kind: str) -> Callable[[str], Array]:
        ahead = 3.6

        def move(point: str) -> Array:
            own, at = self.part[point], self.at[point]
            if own.startswith(("panel", "winglet")) or at[0] >= ahead:
                return np.zeros(3)
            x = 1.0 if own.startswith("foreplane") else at[0]
            t = (ahead - x) / (ahead - 0.1)
            turn = 2.0 * t / (ahead - 0.1)
            d = at - np.array((x, 0.0, 0.5))
            if kind == "bend sideways":
                return np.array((0.0, t * t, 0.0)) + np.cross((0.0, 0.0, -turn), d)
            if kind == "bend up":
                return np.array((0.0, 0.0, t * t)) + np.cross((0.0, turn, 0.0), d)
            return t * np.cross((-1.0, 0.0, 0.0), d)

        return move

    def moved(self, name: str, point: str) -> Array:
        return self.moves[name](point)


@dataclass(frozen=True)
class Take:
    """A reading that can be taken: what, between which points, with which tolerance."""

    what: str
    points: tuple[str, ...]
    tolerance: float

    @property
    def words(self) -> str:
        return f"{self.what}: {' to '.join(self.points)}"

    @property
    def is_angle(self) -> bool:
        return self.what.startswith("level")


def value_of(take: Take, at: dict[str, Array], pose: Array) -> float:
    """What a reading is, small angles; pose as UNKNOWN."""
    pitch, roll, along, across, height, zero = pose

    def up(p: str) -> float:
        x, y, z = at[p]
        return float(z - pitch * x - roll * y)

    if take.what == "distance":
        a, b = (at[p] for p in take.points)
        return float(np.linalg.norm(a - b))
    if take.what == "height":
        x, y, _ = at[take.points[0]]
        return up(take.points[0]) - height - along * x - across * y
    if take.what == "height difference":
        return up(take.points[0]) - up(take.points[1])
    if take.what in ("level along", "level across", "level reversed"):
        a, b = (at[p] for p in take.points)
        run = float(np.hypot(*(b - a)[:2]))
        sign = -1.0 if take.what == "level reversed" else 1.0
        return sign * (up(take.points[1]) - up(take.points[0])) / run + zero
    nose, tail = at["nose"], at["tail"]
    line = (tail - nose)[:2] / np.linalg.norm((tail - nose)[:2])
    d = (at[take.points[0]] - nose)[:2]
    if take.what == "station":
        return float(d @ line)
    return float(line[0] * d[1] - line[1] * d[0])


def tape(length: float) -> float:
    """The tape's own tolerance (NIST Handbook 44, 5.52) and as much for reading it."""
    feet = length / 0.3048
    own = 1 / 32 if feet <= 6 else 1 / 16 if feet <= 30 else 1 / 8
    return (own + 1 / 32) * INCH


def takes(craft: Craft) -> tuple[list[Take], list[Take]]:
    """What every shop takes, and what it may take."""
    always, may = [], []
    level = 0.1 * DEG
    for side in ("left", "right"):
        for p in ("front bulkhead", "rear bulkhead", "firewall"):
            always.append(Take("height", (f"{p} {side}",), INCH / 16))
        for part in ("foreplane", "panel"):
            for end in ("le", "te"):
                always.append(Take("height", (f"{part} {side} tip {end}",), INCH / 16))
                may += [
                    Take("height", (f"{part} {side} {at} {end}",), INCH / 16)
                    for at in ("root", "mid")
                ]
            always.append(Take("station", (f"{part} {side} tip le",), INCH / 8))
            may.append(Take("offset", (f"{part} {side} tip le",), INCH / 8))
            may += [
                Take("station", (f"{part} {side} {at} le",), INCH / 8) for at in ("root", "mid")
            ]
            may.append(Take("offset", (f"{part} {side} root le",), INCH / 8))
            for at in ("root", "mid", "tip"):
                ends = (f"{part} {side} {at} te", f"{part} {side} {at} le")
                may.append(Take("level along", ends, level))
                may.append(Take("level reversed", ends, level))
            always.append(
                Take("level along", (f"{part} {side} root te", f"{part} {side} root le"), level)
            )
        may += [
            Take("level across", (f"{p} left", f"{p} right"), level)
            for p in ("front bulkhead", "rear bulkhead", "firewall")
        ]
        pairs = [
            (f"panel {side} tip le", "nose"), (f"panel {side} tip te", "tail"),
            (f"foreplane {side} tip le", "nose"),
            (f"foreplane {side} tip le", f"panel {side} tip le"),
            (f"winglet {side} tip le", "nose"), (f"winglet {side} tip te", "tail"),
            (f"winglet {side} tip le", f"panel {side} root le"),
            (f"foreplane {side} tip te", f"rear bulkhead {side}"),
            (f"panel {side} tip le", f"rear bulkhead {side}"),
            (f"panel {side} root le", f"panel {side} tip le"),
            (f"winglet {side} root le", f"winglet {side} tip le"),
            (f"winglet {side} tip te", f"axle {side}"), (f"axle {side}", "nose"),
        ]  # fmt: skip
        for a, b in pairs:
            tolerance = tape(float(np.linalg.norm(craft.at[a] - craft.at[b])))
            may.append(Take("distance", (a, b), tolerance))
        for end in ("le", "te"):
            may.append(Take("height", (f"winglet {side} tip {end}",), INCH / 16))
            may.append(Take("offset", (f"winglet {side} tip {end}",), INCH / 8))
            may.append(Take("offset", (f"winglet {side} root {end}",), INCH / 8))
            may.append(Take("station", (f"winglet {side} tip {end}",), INCH / 8))
        may.append(Take("height", (f"axle {side}",), INCH / 16))
        may.append(Take("offset", (f"axle {side}",), INCH / 8))
        may.append(Take("offset", (f"front bulkhead {side}",), INCH / 8))
        may.append(Take("station", (f"front bulkhead {side}",), INCH / 8))
    for a in (
        "foreplane left tip le",
        "panel left tip le",
        "winglet left tip le",
        "foreplane left tip te",
    ):
        b = a.replace("left", "right")
        tolerance = tape(float(np.linalg.norm(craft.at[a] - craft.at[b])))
        may.append(Take("height difference", (a, b), INCH / 16))
        may.append(Take("distance", (a, b), tolerance))
    may += [
        Take("distance", (f"foreplane {one} tip le", f"panel {two} tip le"), INCH * 5 / 32)
        for one, two in (("left", "right"), ("right", "left"))
    ]
    may += [Take("height", (p,), INCH / 16) for p in ("nose", "tail")]
    return always, may


def columns_of(craft: Craft, chosen: list[Take]) -> tuple[Array, Array]:
    """Values as drawn, and derivatives by unknowns and candidates."""
    base = np.array([value_of(t, craft.at, np.zeros(6)) for t in chosen])
    columns = []
    for k in range(len(UNKNOWN)):
        step = np.zeros(6)
        step[k] = 1e-5
        columns.append([value_of(t, craft.at, step) for t in chosen])
    for name in craft.moves:
        at = {p: q + 1e-5 * craft.moved(name, p) for p, q in craft.at.items()}
        columns.append([value_of(t, at, np.zeros(6)) for t in chosen])
    return base, (np.array(columns).T - base[:, None]) / 1e-5


def is_angle(name: str) -> bool:
    return not name.endswith((", fs", ", bl", ", wl", ", span", ", bend sideways", ", bend up"))


def shop(seed: int, rough: float = 0.0) -> Shop:
    """One shop: readings of an aircraft with none to four deviations, and none to two mistakes.

    rough : standard deviation by which every candidate is off besides, in shares of its largest
        plausible size of 2 deg or 2 in
    """
    dice = np.random.default_rng((20_261, seed))
    craft = Craft(dice)
    always, may = takes(craft)
    if dice.random() < 0.4:  # a shop that reads little
        always = [t for t in always if dice.random() < 0.7]
        order = dice.permutation(len(may))[: int(dice.integers(6, 40))]
    else:
        order = dice.permutation(len(may))[: int(dice.integers(25, len(may)))]
    chosen = always + [may[k] for k in sorted(order)]
    chosen += [chosen[k] for k in dice.integers(0, len(chosen), int(dice.integers(0, 8)))]
    base, columns = columns_of(craft, chosen)
    tolerance = np.array([t.tolerance for t in chosen])
    names = tuple(craft.moves)
    candidates = tuple(
        Candidate(n, is_angle(n), LARGE_ANGLE if is_angle(n) else LARGE_LENGTH) for n in names
    )
    truth = np.zeros(len(names))
    for k in dice.choice(len(names), int(dice.integers(0, 5)), replace=False):
        size = dice.uniform(0.2, 0.7) * DEG if is_angle(names[k]) else dice.uniform(0.2, 0.8) * INCH
        truth[k] = size * dice.choice((-1.0, 1.0))
    large = np.array([one.large for one in candidates])
    small = rough * large * np.random.default_rng((7, seed)).normal(size=len(names))
    pose = dice.normal(0.0, 1.0, 6) * np.array((0.3, 0.3, 0.2, 0.2, 0.0, 0.1)) * DEG
    pose[4] = dice.normal(0.0, 0.01)
    error = dice.uniform(-1.0, 1.0, len(chosen)) * tolerance
    seen = columns @ np.concatenate((pose, truth + small)) + error
    mistaken = {}
    for _ in range(int(dice.integers(0, 3))):
        k = int(dice.integers(len(chosen)))
        seen[k], mistaken[k] = wrongly(dice, chosen[k], float(seen[k]), float(base[k]))
    readings, pool = observed(chosen, base + seen, base), pool_of(craft, always + may)
    net = Net(UNKNOWN, candidates, readings, columns, seen, sd_of(tolerance), pool)
    return Shop(net, truth, small, mistaken)


def observed(chosen: list[Take], read: Array, drawn: Array) -> tuple[Observed, ...]:
    places = {t.words: k for k, t in enumerate(chosen)}

    def other(t: Take) -> int | None:
        words = t.words.replace("left", "§").replace("right", "left").replace("§", "right")
        twin = places.get(words)
        return None if words == t.words else twin

    return tuple(
        Observed(t.words, t.is_angle, float(r), float(d), other(t))
        for t, r, d in zip(chosen, read, drawn, strict=True)
    )


def pool_of(craft: Craft, every: list[Take]) -> Pool:
    base, columns = columns_of(craft, every)
    return Pool(observed(every, base, base), columns, sd_of(np.array([t.tolerance for t in every])))


def wrongly(dice: np.random.Generator, take: Take, seen: float, drawn: float) -> tuple[float, str]:
    """A reading taken wrongly, of ten tolerances at least: how, and what was read (less drawn)."""
    sign = float(dice.choice((-1.0, 1.0)))
    if take.is_angle:
        return seen + sign * dice.uniform(10.0, 20.0) * take.tolerance, "level moved"
    kind = str(dice.choice(("hooked", "feet", "some")))
    if kind == "hooked" and 10.0 * take.tolerance <= INCH:
        return seen + sign * INCH, "hooked an inch off"
    if kind == "feet":
        return seen + sign * 0.3048, "feet misread"
    return seen + sign * dice.uniform(10.0, 30.0) * take.tolerance, "misread"
