"""What an aircraft stands on: the wheels and pads of a stance, in their states."""

from __future__ import annotations

from planform.core.motion.contacts import Contact
from planform.design.gear import Pad, Wheel
from planform.design.kinds import contact_names, expand, supports
from planform.design.models import Design, Stance
from planform.design.sided import SIDES, on_side


def support_of(design: Design, name: str) -> tuple[str, Wheel | Pad] | None:
    """The wheel or pad that a contact's name means, and what the file calls it; None where none.

    One of a pair is given as it stands on its side.
    """
    items = supports(design)
    side, _, rest = name.partition(" ")
    group = rest if side in SIDES and name not in items else name
    return (group, on_side(items[group], side)) if group in items else None


def contacts_of(design: Design, stance: Stance) -> tuple[Contact, ...]:
    """The contacts of a stance, wheels and pads, with their states applied."""
    known = contact_names(design)
    flat = {n for name in stance.flat for n in expand(name, known)}
    sunk = {n: v for name, v in stance.compressed.items() for n in expand(name, known)}
    under = {n: v for name, v in stance.heights.items() for n in expand(name, known)}
    out = []
    for name in [n for given in stance.on for n in expand(given, known)]:
        found = support_of(design, name)
        if found is None:
            continue
        group, item = found
        wheel = item if isinstance(item, Wheel) else None
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
