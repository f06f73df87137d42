"""A scan laid on the aircraft as drawn, with all that is told of it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

from planform.airframe.part import Part
from planform.airframe.stance import Standing
from planform.design.problems import InputError, Problem
from planform.rigging.scan.cloud import Cloud, read_cloud
from planform.rigging.scan.laying import Laid, lay_on


@dataclass(frozen=True, eq=False)
class Scanned:
    """A scan on the drawn aircraft.

    drawn : the aircraft as drawn, at the stage that was scanned
    parts : of it, in aircraft axes ; source : the scan's file by name
    """

    drawn: Standing
    parts: tuple[Part, ...]
    source: str
    cloud: Cloud
    laid: Laid
    taken: tuple[str, ...] = ()


def scanned(
    standing: Standing, path: Path, unit: str | None, taken: tuple[str, ...] = ()
) -> Scanned:
    """Read a scan and lay it on the aircraft.

    unit : of its numbers, where the file does not say
    Raises InputError where it cannot be read, or does not lie on the aircraft.
    """
    cloud = read_cloud(path, unit)
    parts = in_aircraft_axes(standing)
    try:
        laid = lay_on(parts, cloud.points)
    except ValueError as error:
        raise InputError(str(path), [Problem("", "", str(error))]) from None
    return Scanned(standing, parts, path.name, cloud, laid, taken)


def in_aircraft_axes(standing: Standing) -> tuple[Part, ...]:
    """The parts as they stand (some may be turned on a hinge), in aircraft axes."""
    return tuple(
        replace(part, points=(part.points - standing.shift) @ standing.turn)
        for part in standing.parts
    )
