"""Points of a scan as other programs write them: PLY, STL, E57, or a line of numbers a point."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from planform.core.vectors import Array
from planform.design.problems import InputError, Problem
from planform.design.units import FOOT, INCH

UNITS = {"m": 1.0, "mm": 0.001, "cm": 0.01, "in": INCH, "ft": FOOT}
"""What a scan may be measured in, by the name that is given."""

LEAST = 100
"""Fewer points are no scan; readings of single points belong in a table. Assumption."""


@dataclass(frozen=True, eq=False)
class Cloud:
    """The points of a scan.

    points : (n, 3), in the scanner's own axes [m] ; left_out : points that are no numbers
    """

    source: str
    unit: str
    points: Array
    left_out: int = 0


def read_cloud(path: Path, unit: str | None = None) -> Cloud:
    """The points of a scan's file.

    unit : of its numbers, a name of `UNITS`; an E57 file is in metres by its standard (ASTM E2807)
    Raises InputError where it cannot be read, or where its unit is not known.
    """
    reader = READERS.get(path.suffix.lower())
    if reader is None:
        raise _refused(path, f"allowed: {', '.join(READERS)}")
    if not path.is_file():
        raise _refused(path, "no such file")
    if unit is None and path.suffix.lower() == ".e57":
        unit = "m"
    if unit is not None and unit not in UNITS:
        raise InputError(str(path), [Problem("unit", repr(unit), f"allowed: {', '.join(UNITS)}")])
    try:
        points = np.asarray(reader(path), dtype=float)
    except InputError:
        raise
    except Exception as error:
        words = str(error).splitlines()[0] if str(error) else type(error).__name__
        raise _refused(path, f"cannot be read as {path.suffix.lower()[1:]} ({words})") from None
    if points.ndim != 2 or points.shape[1:] != (3,):
        raise _refused(path, "allowed: x, y and z of each point")
    good = np.isfinite(points).all(axis=1) & (np.abs(points) < 1e9).all(axis=1)
    if int(good.sum()) < LEAST:
        raise _refused(
            path,
            f"{int(good.sum())} points; allowed: {LEAST} or more (single points go into a table "
            "of readings)",
        )
    kept = points[good]
    if unit is None:
        raise InputError(str(path), [_which_unit(kept)])
    return Cloud(str(path), unit, kept * UNITS[unit], int((~good).sum()))


def _refused(path: Path, allowed: str) -> InputError:
    return InputError(str(path), [Problem("", "", allowed)])


def _which_unit(points: Array) -> Problem:
    """The question that a file without a unit asks, with what it would be in each."""
    longest = float(np.ptp(np.quantile(points, [0.01, 0.99], axis=0), axis=0).max())
    sizes = ", ".join(
        f"{longest * factor:,.2f} m across in {name}" for name, factor in UNITS.items()
    )
    return Problem(
        "unit",
        "none",
        f"such a file does not say its unit, so name it (--scanned); its points are {sizes}",
    )


def _ply_or_stl(path: Path) -> Array:
    import trimesh

    kind = path.suffix.lower()[1:]
    with path.open("rb") as file:
        found = trimesh.load(file, file_type=kind, process=False)
    if not isinstance(found, trimesh.Trimesh | trimesh.PointCloud):
        raise ValueError("neither points nor a surface")
    return np.asarray(found.vertices)


def _e57(path: Path) -> Array:
    try:
        import pye57
    except ImportError:
        allowed = (
            "needs the extra: pip install 'planform[e57]' (or give PLY, STL or points as text)"
        )
        raise _refused(path, allowed) from None

    with pye57.E57(str(path)) as file:
        found = [
            file.read_scan(k, ignore_missing_fields=True, transform=True)
            for k in range(file.scan_count)
        ]
    names = ("cartesianX", "cartesianY", "cartesianZ")
    return np.concatenate([np.column_stack([one[name] for name in names]) for one in found])


def _text(path: Path) -> Array:
    """Numbers parted by blanks, commas or semicolons; what stands after the third is not read."""
    with path.open(encoding="utf-8-sig") as file:
        found = next(((n, line) for n, line in enumerate(file) if _three(line)), None)
    if found is None:
        raise ValueError("no line begins with three numbers")
    start, first = found
    mark = next((one for one in (";", ",", "\t") if one in first), None)
    return np.loadtxt(
        path, delimiter=mark, skiprows=start, usecols=(0, 1, 2), encoding="utf-8-sig", ndmin=2
    )


def _three(line: str) -> bool:
    parts = line.replace(";", " ").replace(",", " ").split()[:3]
    try:
        return len([float(part) for part in parts]) == 3
    except ValueError:
        return False


READERS: dict[str, Callable[[Path], Array]] = {
    ".ply": _ply_or_stl,
    ".stl": _ply_or_stl,
    ".e57": _e57,
    ".xyz": _text,
    ".pts": _text,
    ".asc": _text,
}
"""How each kind of file is read, by how its name ends."""
