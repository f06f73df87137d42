"""A design file as built: the user's own file, with what was found written at its end."""

from __future__ import annotations

import json
import math
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from planform.design.as_built import ANGLES
from planform.design.naming import Path
from planform.design.problems import Failure
from planform.design.rewriting import rewritten
from planform.design.units import INCH


@dataclass(frozen=True)
class BuiltRow:
    """One difference from the drawing, as it is written: `sweep = "0.250 deg ± 0.060 deg"`.

    of, side, kind : as those of `AsBuilt`, '' for no side
    by, within : how much, and the tolerance of it [rad or m] ; text : where it is from
    """

    of: str
    side: str
    kind: str
    by: float
    within: float
    text: str

    def written(self, units: str) -> str:
        """The value as a design file has it; units : of the file, 'ft-in', 'in', 'mm' or 'm'."""
        if self.kind in ANGLES:
            by, within, unit = math.degrees(self.by), math.degrees(self.within), "deg"
        elif units in ("ft-in", "in"):
            by, within, unit = self.by / INCH, self.within / INCH, "in"
        else:
            by, within, unit = self.by * 1000.0, self.within * 1000.0, "mm"
        places = 2 if unit == "mm" else 4 if unit == "in" else 3
        return f"{by:z.{places}f} {unit} ± {within:.{places}f} {unit} (measured)"


def with_as_built(text: str, rows: Sequence[BuiltRow], units: str) -> str:
    """The text of a design file with these differences; all else stays to the letter.

    One that the file has already gets its new value where it stands; the others come at its end,
    a table a part. Raises Failure where the file has them in a form that cannot be added to.
    """
    given = tomllib.loads(text.removeprefix("\ufeff")).get("as_built", [])
    there = {
        (one.get("of"), one.get("side", ""), kind): k for k, one in enumerate(given) for kind in one
    }
    changes: dict[Path, str | float] = {}
    new: dict[tuple[str, str], list[BuiltRow]] = {}
    for row in rows:
        k = there.get((row.of, row.side, row.kind))
        if k is None:
            new.setdefault((row.of, row.side), []).append(row)
            continue
        changes["as_built", k, row.kind] = row.written(units)
        if "text" in given[k]:
            changes["as_built", k, "text"] = row.text
    out = rewritten(text, changes) if changes else text
    end = "\r\n" if "\r\n" in text else "\n"
    out = out.rstrip() + end
    for (of, side), some in new.items():
        out += end + end.join(_table(of, side, some, units)) + end
    _read_again(out, rows, units)
    return out


def _table(of: str, side: str, rows: Sequence[BuiltRow], units: str) -> list[str]:
    lines = ["[[as_built]]", f"of = {_quoted(of)}"]
    lines += [f"side = {_quoted(side)}"] if side else []
    lines += [f"{row.kind} = {_quoted(row.written(units))}" for row in rows]
    return [*lines, f"text = {_quoted(rows[0].text)}"]


def _quoted(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)


def _read_again(text: str, rows: Sequence[BuiltRow], units: str) -> None:
    """Failure where the text does not read as it should."""
    try:
        table: Mapping[str, list[dict[str, object]]] = tomllib.loads(text.removeprefix("\ufeff"))
    except tomllib.TOMLDecodeError:
        raise Failure(
            "the design file lists as_built in one value; write each as a table [[as_built]]"
        ) from None
    found = {
        (one.get("of"), one.get("side", ""), kind): value
        for one in table.get("as_built", [])
        for kind, value in one.items()
    }
    if any(found.get((r.of, r.side, r.kind)) != r.written(units) for r in rows):
        raise Failure("what was found cannot be written into this design file; write it by hand")
