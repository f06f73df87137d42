"""What a builder calls a field of a file: the path in the file, and words for people."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Sequence
from typing import Any

from pydantic import BaseModel

from planform.design.sided import SIDES, Sided

Path = tuple[str | int, ...]


class FieldName(str):
    """A field's path as text, the key that results and JSON carry; `words` is what people read.

    words : str   such as 'chord at the wing's tip', without any path
    """

    words: str

    def __new__(cls, path: str, words: str) -> FieldName:
        """Make the name of a field with its words."""
        self = super().__new__(cls, path)
        self.words = words
        return self

    def __getnewargs__(self) -> tuple[str, str]:  # type: ignore[override]
        return str(self), self.words


def in_words(name: str) -> str:
    """The words for people of a field's name; any other name is its own words."""
    return name.words if isinstance(name, FieldName) else name


def chief(by_input: Sequence[tuple[str, float]]) -> str:
    """The words of the first of ranked inputs, the one that does most."""
    return in_words(by_input[0][0])


def path_text(path: Sequence[Any]) -> str:
    """Dotted path of a field; list items are counted from 1, as a builder counts."""
    out = ""
    for step in path:
        if isinstance(step, int):
            out += f"[{step + 1}]"
        elif step != "[key]":
            out += f".{_key(str(step))}" if out else _key(str(step))
    return out


def _key(name: str) -> str:
    """A name as it stands in a path: in quotes where it could be taken for more than a name."""
    return name if _BARE.fullmatch(name) else json.dumps(name, ensure_ascii=False)


_BARE = re.compile(r"""[^.\[\]"',=]+""")
_STEP = re.compile(r"""\.?(?:("(?:[^"\\]|\\.)*")|([^.\[\]"]+))|\[([1-9][0-9]*)\]""")


def path_of(text: str) -> Path:
    """The path that a text names, as `path_text` writes it; LookupError where it names none."""
    out: list[str | int] = []
    at = 0
    while at < len(text):
        step = _STEP.match(text, at)
        if step is None or (step[0][0] == ".") != bool(at and not step[3]):
            raise LookupError(text)
        quoted, bare, number = step.groups()
        out.append(int(number) - 1 if number else json.loads(quoted) if quoted else bare)
        at = step.end()
    return tuple(out)


def field_name(model: BaseModel, path: Path, of: str = "") -> FieldName:
    """The name of a field of a file.

    of : the file's name, which then stands before the path, where fields of several files stand
        side by side
    """
    text = path_text(path)
    return FieldName(f"{of}: {text}" if of else text, words_for(model, path))


def words_for(model: BaseModel, path: Path) -> str:
    """What a builder calls the field at this path of a design, place or carrier."""
    if path[-1] in SIDES and isinstance(value_at(model, path[:-1]), Sided):
        return f"{path[-1]} {words_for(model, path[:-1])}"
    item: BaseModel | _Listed = model
    owner, index = "", 0
    while index < len(path) - 1:
        owner, item, index = _step(item, path, index, owner)
    return _leaf(item, path[index], owner)


def value_at(model: BaseModel, path: Path) -> object:
    """What stands at this path of a design, place or carrier; None where nothing does."""
    item: object = model
    for step in path:
        if isinstance(item, BaseModel | Sided):
            item = getattr(item, str(step), None)
        elif isinstance(item, dict):
            item = item.get(step)
        elif isinstance(item, tuple) and isinstance(step, int) and step < len(item):
            item = item[step]
        else:
            return None
    return item


def _step(
    item: BaseModel | _Listed, path: Path, index: int, owner: str
) -> tuple[str, BaseModel | _Listed, int]:
    """One step down: what the thing there is called, the thing, and the place in the path."""
    field = str(path[index])
    child = getattr(item, field)
    if isinstance(child, BaseModel):
        named = JOINT_LIMITS.get(type(child).__name__)
        return (named.format(owner) if named else _single(field, owner)), child, index + 1
    key = path[index + 1]
    if index + 1 == len(path) - 1:  # a dict or list of plain values: the last step is its key
        return owner, _Listed(item, field), index + 1
    inner = child[key]
    if isinstance(inner, BaseModel):
        namer = _NAMED.get(type(inner).__name__, _by_name)
        outer = _LISTS.get(field, "{}").format(owner)
        return namer(child, key, outer), inner, index + 2
    return f"{_numbered(field, int(key))}{_of(owner)}", _Listed(item, field), index + 2


JOINT_LIMITS = {"JointLimits": "the limits of {}", "LeftRight": "{}, left and right apart"}
"""What the limits of a joint are called, each joint's by its own name."""


class _Listed:
    """A plain list or table of values inside a model's field."""

    def __init__(self, model: BaseModel | _Listed, field: str) -> None:
        self.model, self.field = model, field


def _told(item: BaseModel, field: str) -> str:
    """A text of a model's field; empty where it has none."""
    return getattr(item, field, None) or ""


def _plain(name: str) -> str:
    return name.replace("_", " ")


def _the(name: str) -> str:
    plain = _plain(name)
    return plain if plain.startswith("the ") else f"the {plain}"


def _of(owner: str) -> str:
    return f" of {owner}" if owner else ""


SINGLE = {
    "propeller": "the propeller",
    "floor": "the floor",
    "ceiling": "the ceiling",
    "gable": "the gable roof",
    "hip": "the hip roof",
    "arch": "the arched roof",
    "clearances": "the clearances wanted",
    "weighing": "the weighing",
    "tilted": "the second attitude",
    "empty": "the recorded empty weight",
    "limits": "the limits",
    "mac": "the chord as given",
    "neutral_point": "your own neutral point",
    "bed": "the bed",
    "end_door": "the end door",
    "running": "the trailer",
    "road": "the road limits",
    "balance": "",
}
"""Things of which a file has one."""


def _single(field: str, owner: str) -> str:
    if field in SINGLE:
        return SINGLE[field]
    if field == "leg":
        return owner.removesuffix(" wheel") + " leg"
    if field == "top":
        return f"the upper end{_of(owner)}"
    if field in _ENDS:
        return f"{_ENDS[field]}{_of(owner)}"
    return f"the {_plain(field)}{_of(owner)}"


_ENDS = {
    "hinge_from": "the hinge's first end",
    "hinge_to": "the hinge's second end",
    "frame_mount": "the airframe end",
    "panel_mount": "the moving end",
    "inner": "the inner end",
    "outer": "the outer end",
    "at": "the foot",
}

_LISTS = {
    "ground": "the ground at {}",
    "forward": "the forward limit",
    "aft": "the aft limit",
    "profile": "{}'s profile",
}
"""What a list of points is called, by its field and whose it is."""


def _by_name(items: Sequence[BaseModel], key: str | int, owner: str) -> str:
    if isinstance(key, str):
        return _the(key)
    name = getattr(items[key], "name", None)
    return f"“{name}”" if name else f"number {key + 1}{_of(owner)}"


def _lifting_cut(items: Sequence[BaseModel], key: str | int, owner: str) -> str:
    """A cut of a lifting surface by what it is the root, the tip or the start of."""
    k, last = int(key), len(items) - 1
    joints = [_told(cut, "joint") for cut in items[: k + 1]]
    if joints[k]:
        return f"the start of {_the(joints[k])}"
    part = next((_the(joint) for joint in reversed(joints) if joint), owner)
    if k in (0, last):
        return f"the {'tip' if k else 'root'} of {part}"
    return f"cut {k + 1} of {owner}"


def _body_cut(items: object, key: str | int, owner: str) -> str:
    return f"{owner} at cut {int(key) + 1}"


def _wheel(items: object, key: str | int, owner: str) -> str:
    name = _the(str(key))
    return name if name.endswith("wheel") else f"{name} wheel"


def _stance(items: object, key: str | int, owner: str) -> str:
    return f"stance “{_plain(str(key))}”"


def _scale(items: Sequence[BaseModel], key: str | int, owner: str) -> str:
    again = f" at {owner}" if owner == SINGLE["tilted"] else ""
    return f"the {_plain(_told(items[int(key)], 'at'))} scale{again}"


def _case(items: Sequence[BaseModel], key: str | int, owner: str) -> str:
    return f"case “{_told(items[int(key)], 'name')}”"


def _place(items: object, key: str | int, owner: str) -> str:
    return f"place “{_plain(str(key))}”"


def _joint(items: object, key: str | int, owner: str) -> str:
    return f"joint limit “{_plain(str(key))}”"


def _point_of(word: str) -> Callable[[Any, str | int, str], str]:
    def named(items: object, key: str | int, owner: str) -> str:
        return f"{word} {int(key) + 1}{_of(owner)}"

    return named


_NAMED: dict[str, Callable[[Any, str | int, str], str]] = {
    "LiftingCut": _lifting_cut,
    "BodyCut": _body_cut,
    "Wheel": _wheel,
    "Stance": _stance,
    "Scale": _scale,
    "LoadingCase": _case,
    "LoadPlace": _place,
    "LimitPoint": _point_of("point"),
    "BurnStep": _point_of("burn step"),
    "JointLimit": _joint,
    "GroundPoint": _point_of("point"),
    "Plank": _point_of("plank"),
    "Level": _point_of("point"),
}

LEAVES = {
    "fs": "station",
    "bl": "butt line",
    "wl": "waterline",
    "disc_fs": "station",
    "lemac_fs": "leading edge's station",
    "mac": "length",
    "sweep_le_plan": "leading-edge sweep in plan",
    "sweep_quarter_plan": "quarter-chord sweep in plan",
    "sweep_le_panel": "leading-edge sweep in its own plane",
    "sweep_quarter_panel": "quarter-chord sweep in its own plane",
    "flat_drop": "drop on a flat tyre",
    "steers": "steering angle",
    "at": "place",
    "ridge_at": "ridge's place",
    "nose_load": "nose load wanted",
    "spot_station": "station that stands on a spot",
    "percent_mac": "share of the chord",
    "empty": "empty mass",
    "empty_hitch": "hitch load when empty",
    "hitch_least": "least hitch load",
    "hitch_most": "greatest hitch load",
    "least": "least load",
    "limit": "greatest load",
}
"""Words for fields whose own name does not say it; the others read as they are."""

WHOLE = {
    ("Running", "hitch"): "distance from the bed to the hitch",
    ("Bed", "over_road"): "height of the bed over the road",
    ("Limits", "max_mass"): "greatest mass allowed",
    ("Limits", "min_mass"): "least mass allowed",
    ("Limits", "max_zero_fuel_mass"): "greatest zero-fuel mass allowed",
    ("Limits", "left"): "CG limit to the left",
    ("Limits", "right"): "CG limit to the right",
    ("Limits", "lateral_moment"): "greatest moment to a side",
    ("JointLimit", "limit"): "greatest load of {}",
    ("LoadPlace", "unusable"): "fuel that cannot be burnt of {}",
    ("Winglet", "sweep_le_panel"): "leading-edge sweep of {}, in its own plane",
    ("LiftingCut", "chord"): "chord at {}",
    ("LiftingCut", "incidence"): "incidence at {}",
    ("Wheel", "fs"): "station of {}'s axle",
    ("Wheel", "bl"): "butt line of {}'s axle",
    ("Wheel", "wl"): "waterline of {}'s axle",
    ("Level", "at"): "place of {}",
    ("Door", "from_corner"): "distance of {} from its corner",
    ("Weighing", "level"): "level shown at the weighing",
    ("Weighing", "lean"): "lean shown at the weighing",
    ("Weighing", "cg_wl"): "height of the CG taken at the weighing",
}
"""Fields that read better as a phrase of their own; {} is what the field belongs to."""


def _leaf(item: BaseModel | _Listed, key: str | int, owner: str) -> str:
    """The field itself, of the thing that it belongs to."""
    if isinstance(item, _Listed):
        return _listed(item, key, owner)
    field, sort = str(key), type(item).__name__
    if (sort, field) in WHOLE:
        return WHOLE[sort, field].format(owner)
    if sort == "LiftingCut" and field.startswith(("sweep", "dihedral", "cant", "length")):
        return f"{LEAVES.get(field, field)} up to {owner}"
    return f"{LEAVES.get(field, _plain(field))}{_of(owner)}"


WAYS = ("along the front wall", "away from the front wall")


def _listed(item: _Listed, key: str | int, owner: str) -> str:
    """A plain value of a list or table: a corner's coordinate, a support's height, a load."""
    field = item.field
    if field == "values":
        return f"the shared value {key}"
    if isinstance(key, str):
        word = {
            "heights": "height under",
            "compressed": "strut travel of",
            "turned": "turn of",
            "deflected": "deflection of",
            "loads": "load in place",
            "kept": "fuel kept in",
        }.get(field, _plain(field))
        return f"{word} “{_plain(key)}”, {owner}"
    if field == "at":
        return f"{owner}, {WAYS[key]}"
    if field in ("foot", "head"):
        return f"{field} of {owner}, {WAYS[key]}"
    if field == "outline":
        return f"{owner}, {WAYS[key]}"
    return f"{_numbered(field, key)}{_of(owner)}"


def _numbered(field: str, k: int) -> str:
    word = {"outline": "corner", "axles": "axle"}.get(field, _plain(field))
    return f"{word} {k + 1}"
