"""More that random rooms may have, each with dice of its own: leaves of their doors, a pit."""

from __future__ import annotations

import copy
import random
from typing import Any

Table = dict[str, Any]


def _metres(value: float) -> str:
    return f"{value:.4f} m"


def leaves(place: Table, dice: random.Random) -> None:
    """One door with a leaf of some kind; what it stands beside may be out of the room."""
    door = dice.choice(place["doors"])
    clear, wide = (float(door[f"clear_{size}"].split()[0]) for size in ("height", "width"))
    side, face = dice.choice(["left", "right"]), dice.choice(["inside", "outside"])
    upright = {"height": _metres(clear + 0.1), "thickness": "50 mm"}
    kind = dice.choice(["sliding", "hinged", "hinged", "bifold", "roller", "strip_curtain"])
    if kind == "sliding":
        beside = {"beside": side, "face": face, "width": "0.8 m", "past_jamb": "20 mm"}
        door["sliding"] = [beside | upright]
    elif kind == "hinged":
        angle = f"{dice.uniform(70.0, 170.0):.2f} deg"
        swung = {"hinge": side, "swings": face, "open": angle, "width": _metres(0.4 * wide)}
        door["hinged"] = [swung | upright]
    elif kind == "bifold":
        high = _metres(clear + dice.uniform(0.2, 0.6))
        door["bifold"] = {"leaf_height": high, "thickness": "50 mm", "folds": face}
    elif kind == "roller":
        door["roller"] = {"face": face, "depth": "0.35 m", "height": "0.4 m"}
    else:
        door["strip_curtain"] = {"lower_end": "0.2 m"}


def with_levels(place: Table, seed: int) -> Table:
    """The room with an island under its bay that is higher than the rest, and a ramp up to it."""
    dice, place = random.Random(f"levels {seed}"), copy.deepcopy(place)
    x, y = (float(text.split()[0]) for text in place["spots"][0]["at"])
    left, right = dice.uniform(2.0, 3.0), dice.uniform(2.0, 3.0)
    ahead, back = dice.uniform(3.2, 4.2), dice.uniform(3.2, 4.2)
    near = y - ahead
    corners = ((x - left, near), (x + right, near), (x + right, y + back), (x - left, y + back))
    ring = [[_metres(a), _metres(b)] for a, b in corners]
    high = dice.uniform(0.1, 0.3)
    place["floor"]["levels"] = [{"name": "island", "outline": ring, "height": _metres(high)}]
    middle = x + dice.uniform(-0.3, 0.3)
    foot, head = ([_metres(middle), _metres(at)] for at in (near - 1.0, near))
    ramp = {"name": "way up", "level": "island", "foot": foot, "head": head, "width": "2.5 m"}
    place["floor"]["ramps"] = [ramp] if near > 1.0 and dice.random() < 0.6 else []
    return place


def with_more_rooms(place: Table, seed: int) -> Table:
    """The room with what else it may have."""
    dice = random.Random(f"leaves {seed}")
    if dice.random() < 0.5:
        leaves(place, dice)
    if dice.random() < 0.4:
        x, y = dice.uniform(0.2, 1.5), dice.uniform(0.2, 1.5)
        corners = ((x, y), (x + 0.6, y), (x + 0.6, y + 0.4), (x, y + 0.4))
        ring = [[_metres(a), _metres(b)] for a, b in corners]
        place["floor"]["pits"] = [{"name": "pit", "outline": ring}]
    return place
