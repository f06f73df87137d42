"""Solids as files that other programs read, one module for each kind of file, found by itself.

A writer is a module in here with ENDING, the ending of its files without a dot, ABOUT, its unit and
what it keeps, and `content`, which makes a set of solids the bytes of such a file: the same bytes
for the same solids, whenever and wherever they are written.
"""

from __future__ import annotations

import pkgutil
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from importlib import import_module

from planform.report.exchange.solids import SolidSet


@dataclass(frozen=True)
class SolidWriter:
    """One kind of file: its ending, what a reader finds in it, and how it is made."""

    ending: str
    about: str
    content: Callable[[SolidSet], bytes]


@cache
def solid_writers() -> dict[str, SolidWriter]:
    """The writers of solids, by the ending of their files."""
    found = [import_module(f"{__name__}.{one.name}") for one in pkgutil.iter_modules(__path__)]
    return {
        module.ENDING: SolidWriter(module.ENDING, module.ABOUT, module.content)
        for module in found
        if hasattr(module, "ENDING")
    }


def solid_files(solids: SolidSet, endings: tuple[str, ...] = ()) -> dict[str, bytes]:
    """The solids as airframe.* of every kind of file, or of those with these endings."""
    known = solid_writers()
    return {f"airframe.{one}": known[one].content(solids) for one in endings or sorted(known)}
