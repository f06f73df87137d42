"""planform: measures, fit, pictures and sheets of an aircraft that is being built in a small shop.

The public names are listed in `__init__.pyi`, where editors and type checkers look for them too;
each loads when it is first used, so that a bare import is quick.
"""

from __future__ import annotations

import re
from functools import cache
from importlib import import_module
from pathlib import Path
from typing import Any

__version__ = "0.1.0"


@cache
def _homes() -> dict[str, str]:
    """The module of each public name."""
    listed = Path(__file__).with_suffix(".pyi").read_text(encoding="utf-8")
    found = re.findall(r"^from (\S+) import (\w+) as \2$", listed, re.MULTILINE)
    return {name: home for home, name in found}


def __getattr__(name: str) -> Any:
    if name == "__all__":
        return ["__version__", *_homes()]
    if name.startswith("_") or name not in _homes():
        from difflib import get_close_matches

        near = get_close_matches(name, _homes(), n=1)
        hint = f"did you mean {near[0]!r}?" if near else f"names: {', '.join(_homes())}"
        raise AttributeError(f"planform has no name {name!r}; {hint}")
    found = getattr(import_module(_homes()[name]), name)
    globals()[name] = found
    return found


def __dir__() -> list[str]:
    return ["__version__", *_homes()]
