"""Writers of tables, one module for each kind of file, found by itself.

A writer of tables is a module in here with ENDING, the ending of its files without a dot, and
`written`, which makes tables the content of such a file in the reader's units.
"""

from __future__ import annotations

import pkgutil
from collections.abc import Sequence
from functools import cache
from importlib import import_module
from typing import Protocol

from planform.report.table import Table


class Writer(Protocol):
    """What a module in here holds."""

    ENDING: str

    def written(self, tables: Sequence[Table], system: str) -> str:
        """The content of a file."""


@cache
def table_writers() -> dict[str, Writer]:
    """The writers of tables, by the ending of their files."""
    found: list[Writer] = [
        import_module(f"{__name__}.{one.name}") for one in pkgutil.iter_modules(__path__)
    ]
    return {module.ENDING: module for module in found}


def tabled(name: str, tables: Sequence[Table], system: str) -> dict[str, str]:
    """Tables as every kind of file that there is a writer for, by the files' names."""
    return {
        f"{name}.{ending}": writer.written(tables, system)
        for ending, writer in table_writers().items()
    }
