"""The text of ISO 10303-21: numbers, strings, lists, and entities with their numbers."""

from __future__ import annotations

import re
from collections.abc import Iterable

_OTHER = re.compile(r"[^\x20-\x7e]+")


class Entities:
    """The entities of a file's data section, numbered as they come."""

    def __init__(self) -> None:
        self._lines: list[str] = []

    def put(self, entity: str) -> str:
        """Take an entity; what others name it by."""
        number = f"#{len(self._lines) + 1}"
        self._lines.append(f"{number}={entity};\n")
        return number

    def text(self) -> str:
        """All of them, one a line."""
        return "".join(self._lines)


def real(value: float, places: int = 6) -> str:
    """A number as the standard writes it: always with a point, so `3.` and not `3`."""
    text = f"{value:.{places}f}".rstrip("0")
    return "0." if text in ("-0.", "0.") else text


def reals(values: Iterable[float], places: int = 6) -> str:
    """Numbers in brackets."""
    return f"({','.join(real(value, places) for value in values)})"


def listed(names: Iterable[str]) -> str:
    """Entities named in brackets, in lines that editors still show."""
    names = list(names)
    rows = (",".join(names[k : k + 12]) for k in range(0, len(names), 12))
    return "(" + ",\n".join(rows) + ")"


def string(text: str) -> str:
    r"""A text in quotes; what is not ASCII as `\X2\` (two bytes) or `\X4\` (four) of ISO 10646."""
    plain = text.replace("\\", "\\\\").replace("'", "''")
    return f"'{_OTHER.sub(_coded, plain)}'"


def _coded(found: re.Match[str]) -> str:
    codes = [ord(letter) for letter in found[0]]
    if max(codes) > 0xFFFF:
        return "\\X4\\" + "".join(f"{code:08X}" for code in codes) + "\\X0\\"
    return "\\X2\\" + "".join(f"{code:04X}" for code in codes) + "\\X0\\"
