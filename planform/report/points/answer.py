"""Named points on their way to a reader."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from planform.airframe.stance import Standing
from planform.core.vectors import Array
from planform.report.answer import Answer, Block, Files, Headline
from planform.report.folder import Content, pictured
from planform.report.points.picture import point_pictures
from planform.report.record import Record, document, number
from planform.report.table import Cell, Quantity, Table
from planform.report.writers import tabled
from planform.report.writers.csv import csv_text
from planform.rigging.points import NamedPoint, buried

BLANK = ("what", "point", "to", "line", "read", "tolerance", "instrument", "reversed", "note")


@dataclass(frozen=True, eq=False, kw_only=True)
class PointsAnswer(Answer):
    """The named points of an aircraft as it stands."""

    kind = "points"
    writes = "points"

    standing: Standing
    points: tuple[NamedPoint, ...]

    def said(self, system: str) -> Iterator[Block]:
        """The list."""
        yield Headline(f"{self.standing.airframe.design.name}: {len(self.points)} named points")
        yield self._table

    def in_short(self, system: str) -> Iterator[Block]:
        """How many there are; the list stands in the files."""
        yield Headline(f"{self.standing.airframe.design.name}: {len(self.points)} named points")

    @cached_property
    def _heights(self) -> Array:
        """How high each point is over the floor [m]."""
        return self.standing.to_floor(np.array([point.at for point in self.points]))[:, 2]

    @cached_property
    def _table(self) -> Table:
        hidden = buried(self.standing.airframe, self.points)
        rows: tuple[tuple[Cell, ...], ...] = tuple(
            (
                str(k),
                point.name,
                *(Quantity(float(v), kind) for v, kind in zip(point.at, AXES, strict=True)),
                Quantity(float(height), "length"),
                f"{point.part} *" if point.name in hidden else point.part,
            )
            for k, (point, height) in enumerate(zip(self.points, self._heights, strict=True), 1)
        )
        heads = (
            "no.",
            "point",
            "station",
            "butt line",
            "waterline",
            "over the floor",
            "moves with",
        )
        title = f"Named points, {self.standing.title}"
        remark = ("* inside a body, where no tape reaches while it is closed",) if hidden else ()
        return Table("points", title, heads, rows, remark)

    def record(self, system: str) -> Record:
        """The points in SI."""
        return {
            "stage": self.standing.stage.name,
            "stance": self.standing.stance_name,
            "points": [
                {
                    "name": point.name,
                    "fs": number(float(point.at[0]), "length"),
                    "bl": number(float(point.at[1]), "length"),
                    "wl": number(float(point.at[2]), "length"),
                    "over_the_floor": number(float(height), "length"),
                    "moves_with": point.part,
                }
                for point, height in zip(self.points, self._heights, strict=True)
            ],
        }

    def files(self, system: str) -> Files:
        """Pictures, the list, and an empty table of readings with its columns."""
        files: dict[str, Content] = {
            **pictured(point_pictures(self.standing, self.points)),
            **tabled("points", (self._table,), system),
            "points.json": document(self.kind, self.record(system)),
            "readings.csv": self._blank(),
        }
        return files

    def _blank(self) -> str:
        """An empty table of readings, its stage and stance said."""
        said = f"# stage: {self.standing.stage.name}\n# stance: {self.standing.stance_name}\n"
        return said + csv_text([BLANK])


AXES = ("station", "butt", "water")
