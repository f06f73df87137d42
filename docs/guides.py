"""The two drawings of the guides: the rooms with what they import, and the axes of an aircraft."""

from __future__ import annotations

import ast
import configparser
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from planform.drawing.drawing import Drawing

ROOT = Path(__file__).parent.parent
HIGH, WIDE, STEP, LANE = 0.62, 7.6, 0.95, 0.34
"""Height and width of a room, from one to the next, and between two lanes [m on the sheet]."""


def rooms() -> list[str]:
    """The rooms from the highest down, as the contract has them; those of one level in turn."""
    contract = configparser.ConfigParser()
    contract.read(ROOT / ".importlinter")
    lines = contract["importlinter:contract:rooms"]["layers"].split("\n")
    named = [f"planform.{one.strip()}" for line in lines if line for one in line.split("|")]
    return ["planform_viewer", *named]


def folder(room: str) -> Path:
    """Where a room's modules lie."""
    base = ROOT / "viewer" if room == "planform_viewer" else ROOT
    return base / room.replace(".", "/")


def about(room: str) -> str:
    """The sentence that a room says of itself."""
    tree = ast.parse((folder(room) / "__init__.py").read_text(encoding="utf-8"))
    return (ast.get_docstring(tree) or "").split("\n")[0]


def imports(room: str) -> set[str]:
    """The other rooms that a room's modules import, at the head or where they are used."""
    named: set[str] = set()
    for module in folder(room).rglob("*.py"):
        for node in ast.walk(ast.parse(module.read_text(encoding="utf-8"))):
            if isinstance(node, ast.ImportFrom) and node.module and node.level == 0:
                named |= {node.module, *(f"{node.module}.{one.name}" for one in node.names)}
            elif isinstance(node, ast.Import):
                named |= {one.name for one in node.names}
    return {r for r in rooms() if r != room and any(f"{n}.".startswith(f"{r}.") for n in named)}


def map_of_rooms() -> Drawing:
    """Every room as a box; its lane goes down from it, with an arrow into each room it imports."""
    from planform.drawing.sheet import Sheet

    names = rooms()
    top = {name: -STEP * k for k, name in enumerate(names)}
    right = WIDE + LANE * (len(names) + 1)
    sheet = Sheet(np.array([0.0, -STEP * (len(names) - 1)]), np.array([right, HIGH]), 1000, 0.25)
    for name in names:
        y = top[name]
        corners = [(0.0, y), (WIDE, y), (WIDE, y + HIGH), (0.0, y + HIGH)]
        sheet.polygon(corners, "floor")
        sheet.line([*corners, corners[0]], "thin")
        sheet.words((0.15, y + 0.37), name.removeprefix("planform."), "called", "start")
        sheet.words((0.15, y + 0.13), about(name), "small", "start")
    for k, name in enumerate(names):
        found = sorted(imports(name), key=lambda one: -top[one])
        if not found:
            continue
        lane, start = WIDE + LANE * (len(names) - k), top[name] + 0.45 * HIGH
        foot = min(top[one] for one in found) + 0.75 * HIGH
        sheet.line([(WIDE, start), (lane, start), (lane, foot)], "thin")
        for one in found:
            y = top[one] + 0.75 * HIGH
            sheet.arrow([(lane, y), (WIDE, y)], "arc", "head", 8.0)
    return sheet.drawing("The rooms, and what each imports: arrows only ever go down")


def axes() -> Drawing:
    """The demo aircraft from above and from its left side, with the three axes and their signs."""
    from shapely.affinity import translate

    import planform as pf
    from planform.airframe.outlines import outline
    from planform.design.kinds import ROLES
    from planform.drawing.sheet import Sheet
    from planform.drawing.views import silhouette

    standing = pf.stand_all(pf.build(pf.load(ROOT / "designs" / "marram.toml")))[-1]
    points = standing.all_points()
    low, high = points.min(axis=0), points.max(axis=0)
    floor = float(low[1] - high[2]) - 1.2
    corner = np.array([low[0] - 1.6, floor - 0.2])
    sheet = Sheet(corner, np.array([high[0] + 0.6, high[1] + 0.2]), 620, 0.3)
    for part in sorted(standing.parts, key=lambda p: float(p.points[:, 2].max())):
        sheet.shape(outline(part), ROLES[part.role].line, part.name)
    for part, shape in silhouette(standing.parts, np.array([1.0, 0.0, 0.0])):
        sheet.shape(translate(shape, yoff=floor), ROLES[part.role].line, part.name)
    sheet.line([(corner[0], floor), (high[0] + 0.6, floor)], "thin")
    aft, up = ((1.4, 0.0), "FS, aft: x"), (0.0, 1.4)
    for start, ways in (
        ((low[0] - 0.9, low[1] + 1.2), (aft, (up, "BL, to the right: y"))),
        ((low[0] - 0.9, floor + 0.15), (aft, (up, "WL, up: z"))),
    ):
        for way, words in ways:
            end = np.add(start, way)
            sheet.arrow([start, end], "motion", "head")
            sheet.note(end, words, "called")
    return sheet.drawing("Axes of the aircraft: from above, and from its left side")
