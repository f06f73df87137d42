"""OBJ: text, one object a part; it has no unit of its own, readers take it as millimetres."""

from __future__ import annotations

from planform.report.exchange.solids import SolidSet

ENDING = "obj"
ABOUT = "one object a part, millimetres"

_PLAIN = str.maketrans({"#": "_", "\\": "_"})
"""A comment begins with #, a line goes on after a backslash; the format has no escape for them."""


def content(solids: SolidSet) -> bytes:
    """The bytes of the file, UTF-8."""
    lines = [f"# {solids.title.translate(_PLAIN)}", "# planform, millimetres, z is up"]
    before = 1
    for part in solids.parts:
        lines.append(f"o {part.name.translate(_PLAIN)}")
        lines += [f"v {x:.6f} {y:.6f} {z:.6f}" for x, y, z in part.points.tolist()]
        lines += [f"f {a} {b} {c}" for a, b, c in (part.faces + before).tolist()]
        before += len(part.points)
    return ("\n".join(lines) + "\n").encode("utf-8")
