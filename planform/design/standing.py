"""What an aircraft stands on: the wheels and pads of a stance, in their states."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

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


@dataclass(frozen=True)
class Give:
    """How far a wheel's tyre gives and its strut travels [m]."""

    tyre: float = 0.0
    strut: float = 0.0


def give_under(wheel: Wheel, load: float, *, flat: bool, held: bool) -> Give:
    """How far a wheel gives under a load [kg], as a spring does.

    flat : its tyre is flat and gives no more ; held : its strut's travel is given
    """
    tyre = strut = 0.0
    if wheel.squash is not None and not flat:
        tyre = load * float(wheel.squash.by) / float(wheel.squash.load)
    if wheel.stroke is not None and wheel.stroke.load is not None and not held:
        assert wheel.stroke.by is not None
        strut = load * float(wheel.stroke.by) / float(wheel.stroke.load)
        strut = min(strut, float(wheel.stroke.full))
    return Give(tyre, strut)


def gives_of(design: Design, stance: Stance, loads: Mapping[str, float]) -> dict[str, Give]:
    """How far each wheel of a stance gives under its load, by name; those that give nothing apart.

    loads : by the contact's name [kg]
    """
    known = contact_names(design)
    flat = {n for name in stance.flat for n in expand(name, known)}
    held = {n for name in stance.compressed for n in expand(name, known)}
    out = {}
    for name, load in loads.items():
        found = support_of(design, name)
        if found is not None and isinstance(found[1], Wheel) and found[1].gives:
            out[name] = give_under(found[1], load, flat=name in flat, held=name in held)
    return out


def contacts_of(
    design: Design, stance: Stance, gives: Mapping[str, Give] | None = None
) -> tuple[Contact, ...]:
    """The contacts of a stance, wheels and pads, with their states applied.

    gives : how far wheels give under what they carry; nothing where None
    """
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
        give = (gives or {}).get(name, Give())
        up = sunk.get(name, 0.0) + give.strut
        out.append(
            Contact(
                name=name,
                point=(float(item.fs), mirror * float(item.bl), item.wl + up),
                support=float(under.get(name, 0.0)),
                radius=float(radius) - give.tyre,
                width=float(wheel.width) if wheel else 0.0,
            )
        )
    return tuple(out)
