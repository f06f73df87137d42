"""Items with a mass and a place, and their sums."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from planform.core.quantity import KilogramMetres, Kilograms, Metres
from planform.design.models import Mass
from planform.design.notation import read
from planform.design.weights import FLUIDS, Weight


@dataclass(frozen=True)
class Item:
    """One line of a sheet [kg, m]; a mass below zero is taken off; wl is None where not known.

    of : the mass item of the design that it is, or is a share of
    """

    name: str
    mass: Kilograms
    fs: Metres
    bl: Metres = 0.0
    wl: Metres | None = None
    note: str = ""
    part: str | None = None
    of: Mass | None = None

    @property
    def moment(self) -> KilogramMetres:
        """Moment about the datum [kg m]."""
        return self.mass * self.fs

    def less(self) -> Item:
        """The same item taken off."""
        return replace(self, mass=-self.mass)


def summed(name: str, items: Iterable[Item], note: str = "") -> Item:
    """The items as one, at their common centre; the waterline only if every one has one."""
    items = [item for item in items if item.mass != 0.0]
    mass = sum(item.mass for item in items)
    if not mass > 0.0:
        raise ValueError(f"expected a mass above zero for {name}, got {mass!r} kg")
    known = [item.wl for item in items if item.wl is not None]
    wl = None
    if len(known) == len(items):
        wl = sum(i.mass * w for i, w in zip(items, known, strict=True)) / mass
    return Item(
        name,
        mass,
        sum(item.moment for item in items) / mass,
        sum(item.mass * item.bl for item in items) / mass,
        wl,
        note,
    )


def of_file(item: Weight) -> Item:
    """An item of the file as a line; a volume by its density."""
    wl = None if item.wl is None else float(item.wl)
    if item.mass is not None:
        return Item(item.name, float(item.mass), float(item.fs), float(item.bl), wl)
    assert item.volume is not None
    density = item.density or read(FLUIDS[str(item.fluid)], "density")
    note = f"{item.volume.text} at {density.text}" + (f" ({item.fluid})" if item.fluid else "")
    mass = float(item.volume) * float(density)
    return Item(item.name, mass, float(item.fs), float(item.bl), wl, note)
