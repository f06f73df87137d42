"""What every command says of a world as JSON, and whether two worlds are told alike."""

from __future__ import annotations

import contextlib
import io
import json
import math
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Any

from planform.airframe.build import build
from planform.airframe.stages import usual_stage
from planform.airframe.stance import stand_on
from planform.cli import changing, comparing, packing
from planform.cli.balancing import BalanceAsked, show_balance
from planform.cli.carrying import show_carrying
from planform.cli.fitting import FitAsked, show_fit
from planform.cli.hauling import show_haul
from planform.cli.measuring import show_measures
from planform.design.load import carrier_from, design_from, place_from
from planform.design.models import Design
from planform.design.place import Place
from planform.design.problems import InputError
from planform.fit.question import box_limit
from planform.fit.room import build_room
from planform.report.record import document
from planform.report.way_out.record import RECORDER
from planform.study.roll_out import find_way_out
from tests.laws.changed import SIDES, swapped, wall_swap, width_of
from tests.laws.worlds import World

NEAR = 2e-6
"""Two numbers are the same within this, or this share of them: the files carry 0.1 mm times an
exact factor, and the solvers end at 1e-8 or closer."""

TURNING = 1e-3
"""The attitude in which a part needs least is the bottom of a flat trough: its angles are found
to this, what it needs there to `NEAR`."""

PATIENCE = 3600.0
"""Seconds a search may take: none ends by its time, which differs from run to run."""


def answer(found: World, command: str, part: str = "left wing") -> Any:
    """What a command says of a world: its JSON with its exit code, or what it refuses."""
    design, place = design_from(found.design), place_from(found.place)
    carrier, units = carrier_from(found.carrier), design_from(found.design).units
    cants = {"cant": "0 deg, 20 deg"} if design.winglets else {}
    options = comparing.ComparisonAsked(
        cants, (), None, None, None, None, None, workers=1, scheduler=None, yes=True
    )
    freed = changing.ChangesAsked(None, None, None, None, PATIENCE, 1)
    calls: dict[str, Callable[[], int | None]] = {
        "measure": lambda: show_measures(design, ("all",), None, units, as_json=True),
        "balance": lambda: show_balance(design, BalanceAsked(("all",), None), units, as_json=True),
        "fit": lambda: show_fit(design, place, FitAsked(("all",)), units, as_json=True),
        "carry": lambda: show_carrying(design, place, [part], None, units, as_json=True),
        "haul": lambda: show_haul(design, carrier, [part], None, units, as_json=True),
        "compare": lambda: comparing.show_comparison(
            design, place, options, None, units, as_json=True
        ),
        "rollout": lambda: _rolled(design, place),
        "changes": lambda: changing.show_changes(design, place, freed, None, units, as_json=True),
        "pack": lambda: packing.show_packing(
            place,
            [design],
            packing.PackingAsked((), None, None, PATIENCE),
            None,
            units,
            as_json=True,
        ),
    }
    out = io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(io.StringIO()):
        try:
            code = calls[command]()
        except InputError as error:
            return {"refused": [problem.allowed for problem in error.problems]}
    return {**json.loads(out.getvalue()), "code": code}


BOXES = 60_000
"""Boxes a search for a way out may take: an end that is the same in every world alike."""


def _rolled(design: Design, place: Place) -> None:
    """Print the way out of the complete aircraft, as the command does, bounded by boxes."""
    airframe = build(design)
    standing = stand_on(airframe, usual_stage(airframe)[0])
    found = find_way_out(standing, build_room(place), watch=box_limit(BOXES))
    print(document("roll-out", RECORDER.of(found)))


STATIONS = re.compile(
    r"^(fs|.*_fs|.*\.lemac_fs.*|neutral_point|neutral_point_coarse|neutral_point_without)$"
)
STATIONS_TOLD = ("CG",)
"""What is told before and after a change, and is a station."""

WATERLINES = re.compile(r"^(wl|cg_wl|cg_wl_taken|bending_wl)$")
TURNED = {"bl", "at_bl", "heading", "turn", "roll", "right_wing_down", "across", "lean"}


@dataclass(frozen=True)
class Back:
    """Takes an answer about a changed world back to the unchanged one.

    fs, wl : the datum was moved by this [m] ; mirror : the unchanged world where it was mirrored
    names : the old names by the new ones ; units : only the unit system was changed
    told_fs : stations in sentences are not compared
    """

    fs: float = 0.0
    wl: float = 0.0
    mirror: World | None = None
    names: dict[str, str] = field(default_factory=dict)
    units: bool = False
    told_fs: bool = False

    def text(self, said: str) -> str:
        """A text with the old names, the old sides and the old walls."""
        if self.units:  # what was read is told as it was written
            said = re.sub(r"-?\d[\d.]* (m|mm|in|ft|kg|lb)\b|\d+'-[\d/ ]+\"", "READ", said)
        if self.told_fs:  # a station in a sentence, which the numbers beside it are held by
            said = re.sub(r"\bFS -?[\d.]+", "FS", said)
        if self.names:
            found = "|".join(sorted(self.names, key=len, reverse=True))
            said = re.sub(rf"\b({found})\b", lambda m: self.names[m[0]], said)
        if self.mirror is not None and not said.startswith("Left and right"):  # how they are told
            # which way a roll counts is the same rule in a mirror
            said = re.sub(r"\b(left|right)\b(?! wing down)", lambda m: swapped(m[0]), said)
            walls = {new: old for old, new in wall_swap(self.mirror.place).items()}
            said = re.sub(r"\bwall \d+", lambda m: walls.get(m[0], m[0]), said)
            said = re.sub(
                r"\b(anti)?clockwise as seen from behind",
                lambda m: f"{'' if m[1] else 'anti'}clockwise as seen from behind", said,
            )  # fmt: skip
            ends = {"before": "past", "past": "before"}
            doors = "|".join(re.escape(d["name"]) for d in self.mirror.place["doors"])
            said = re.sub(
                rf"(wall(?: \d+)?) (before|past) ({doors})",
                lambda m: f"{m[1]} {ends[m[2]]} {m[3]}", said,
            )  # fmt: skip
            said = re.sub(
                rf"(wall(?: \d+)?) between ({doors}) and ({doors})",
                lambda m: f"{m[1]} between {m[3]} and {m[2]}", said,
            )  # fmt: skip
        return said

    def key(self, name: str) -> str:
        """A key, which may be the name of a part or a path that has one in it."""
        return name if name in SIDES else self.text(name)

    def point(self, one: dict[str, Any]) -> dict[str, Any]:
        """A point in the axes that it names."""
        values = list(one["value"])
        if self.mirror is not None:
            if one["axes"] == "place":
                values[0] = width_of(self.mirror.place) - values[0]
            else:  # the second axis goes to the right
                values[1] = -values[1]
        return one | {"value": values, "axes": one["axes"]}

    def way(self, item: dict[str, Any]) -> dict[str, Any]:
        """A way to carry a part, told with that end first by which it is compared.

        With the other end first the rolls count the other way.
        """
        x, y, z = item["direction"]
        y = y if self.mirror is None else -y  # the second axis goes to the right
        end = math.copysign(1.0, max((x, y, z), key=abs))
        roll = item["narrowest"]["roll"]
        turned = roll | {"value": end * roll["value"]}
        return item | {
            "direction": [end * v for v in (x, y, z)],
            "narrowest": item["narrowest"] | {"roll": turned},
        }

    def number(self, key: str, value: float, beside: dict[str, Any]) -> float:
        """A number by what it is called."""
        if STATIONS.match(key) and "unit" in beside and beside["unit"] == "m":
            return value - self.fs
        if WATERLINES.match(key):
            return value - self.wl
        if self.mirror is not None:
            if key in TURNED:
                return -value
            if key == "x":
                return width_of(self.mirror.place) - value
        return value

    def answer(self, item: Any, key: str = "") -> Any:
        """A whole answer."""
        if isinstance(item, dict):
            if "axes" in item:
                return self.point(item)
            if isinstance(item.get("value"), int | float) and "unit" in item:
                value = self.number(key, item["value"], item)
                return {k: self.answer(v, k) for k, v in item.items()} | {"value": value}
            if "direction" in item and "narrowest" in item:
                item = self.way(item)
            if "passes_rolled" in item:
                item = _either_way(item)
            sides = self.mirror is not None and key == "margins"
            keys = {k: swapped(k) if sides else self.key(k) for k in item}
            out = {keys[k]: self.answer(v, self._below(key, k)) for k, v in item.items()}
            if "moment" in item and "mass" in item:  # a moment is a mass times a station
                value = item["moment"]["value"] - item["mass"]["value"] * self.fs
                out["moment"] = item["moment"] | {"value": value}
            if self.fs and item.get("what") in STATIONS_TOLD:
                for when in ("before", "after"):
                    out[when] = item[when] | {"value": item[when]["value"] - self.fs}
            return out
        if isinstance(item, list):
            if self.mirror is not None and key == "curve":  # by its roll, which counts backward
                item = [*item[:1], *item[:0:-1]]
            return [self.answer(one, key) for one in item]
        return self.text(item) if isinstance(item, str) else item

    @staticmethod
    def _below(key: str, name: str) -> str:
        return key if key.startswith("neutral_point") else name


NOT_HELD = ("as_written", "centre_of_load")
"""The text of the file is another one in another datum: its number stands beside it. And a bed is
loaded from its left side on, in the mirror as well, so the load's centre is not mirrored."""


def _either_way(door: dict[str, Any]) -> dict[str, Any]:
    """What a door says of rolls, which count either way by the end that goes first."""
    ranges = [[one["value"] for one in pair] for pair in door["passes_rolled"]]
    other = [[math.pi - high, math.pi - low] for low, high in ranges[::-1]]
    out = door | {"passes_rolled": min(ranges, other)}
    if isinstance(door.get("best_roll"), dict):
        roll = door["best_roll"]["value"]
        out["best_roll"] = door["best_roll"] | {"value": min(roll, math.pi - roll)}
    return out


def _words(item: Any) -> str:
    """All texts below, to find what stands for the same thing."""
    if isinstance(item, dict):
        told = sorted((k, v) for k, v in item.items() if k not in NOT_HELD)
        return "|".join(f"{k}:{_words(v)}" for k, v in told)
    if isinstance(item, list):
        return "|".join(sorted(map(_words, item)))
    return _side_free(item) if isinstance(item, str) else ""


def _pairs(one: list[Any], two: list[Any]) -> Iterator[tuple[Any, Any]]:
    """The items of two lists that speak of the same.

    A list that is sorted by a number has what is equal there in either order, and a list of sides
    has left before right; so items are matched by their words and not by their places.
    """
    if one and all(isinstance(v, dict) for v in (*one, *two)):
        one, two = (sorted(v, key=_words) for v in (one, two))
    elif one and all(isinstance(v, str) for v in (*one, *two)):
        one, two = (sorted(v, key=_bag) for v in (one, two))
    return zip(one, two, strict=True)


def unlike(one: Any, two: Any, path: str = "") -> list[str]:
    """Where two answers differ, each place with what stands there."""
    if isinstance(one, dict) and isinstance(two, dict) and one.keys() == two.keys():
        if witness(one) and witness(two) and abs(_apart(one) - _apart(two)) < 1e-5:
            # where two sides lie along each other any point of them is nearest: both are right
            one = {k: v for k, v in one.items() if k not in ENDS}
        tied = "gap_proved" in one and "jamb" in str(one.get("thing"))
        told = [k for k in one if k not in NOT_HELD and not (tied and k in ("kind", "part"))]
        return [line for k in told for line in unlike(one[k], two[k], f"{path}.{k}")]
    if isinstance(one, list) and isinstance(two, list) and len(one) == len(two):
        pairs = enumerate(_pairs(one, two))
        return [line for k, (a, b) in pairs for line in unlike(a, b, f"{path}[{k}]")]
    numbers = all(isinstance(v, int | float) and not isinstance(v, bool) for v in (one, two))
    if numbers:
        off = abs(one - two)
        if "heading" in path:
            off = abs(math.remainder(one - two, math.tau))
        if "roll" in path:  # a part that lies on its other side fits the same opening
            off = abs(math.remainder(one - two, math.pi))
        turning = ".curve[" in path or "roll" in path or "direction" in path
        near = TURNING if turning else NEAR
        return [] if off <= near * max(1.0, abs(one)) else [f"{path}: {one} and {two}"]
    same = _bag(_side_free(one)) == _bag(_side_free(two)) if isinstance(one, str) else one == two
    return [] if same else [f"{path}: {one!r} and {two!r}"]


TIED = re.compile(
    r"\b(left|right) (?P<what>[^;,()]*? (is widest|is highest|and the jamb \w+ the door))"
)
"""Both sides of an aircraft that is its own mirror image come as near to both jambs: the rule that
names one of them names the same side in the mirror."""


def _side_free(text: str) -> str:
    """The text without the side in it where two sides tie; their number stands beside it."""
    text = TIED.sub(lambda m: m["what"], text)
    return re.sub(r"the jamb (before|past) the door", "the jamb", text)


def _bag(text: Any) -> list[str]:
    """The words of a text; names in it stand in the order of their letters or of the file."""
    return sorted(re.findall(r"[\w.%-]+", str(text)))


ENDS = ("at_part", "at_thing")


def witness(item: dict[str, Any]) -> bool:
    """Whether it tells a gap by the two points between which it is."""
    return all(isinstance(item.get(end), dict) for end in ENDS)


def _apart(item: dict[str, Any]) -> float:
    return math.dist(*(item[end]["value"] for end in ENDS))


def count(item: Any) -> int:
    """How many numbers an answer has."""
    if isinstance(item, dict):
        return sum(map(count, item.values()))
    if isinstance(item, list):
        return sum(map(count, item))
    return int(isinstance(item, int | float) and not isinstance(item, bool))
