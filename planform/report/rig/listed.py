"""The joints of an aircraft by name, and shims that take out turns that were found."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from planform.design.told import said
from planform.report.answer import Answer, Block, Files, Headline
from planform.report.record import Record, document, number
from planform.report.rig.answer import RigAnswer
from planform.report.table import Cell, Quantity, Table
from planform.rigging.deciding import shims_for
from planform.rigging.joints import RigJoint

OF_THE_DESIGN, BY_NAME = "the design", "by its parts"


@dataclass(frozen=True, eq=False, kw_only=True)
class JointsAnswer(Answer):
    """The joints that a card can be made of, each with its stage and stance.

    places : stage and stance of each joint; where it has none, why
    """

    kind = "rig"
    writes = "rig"

    name: str
    joints: Sequence[RigJoint]
    places: Sequence[tuple[str, str]]

    def said(self, system: str) -> Iterator[Block]:
        """One table."""
        yield Headline(f"{self.name}: joints that a rigging card can be made of")
        rows = tuple(
            (one.name, one.part or "pads", one.host, stage, stance, _limits(one))
            for one, (stage, stance) in zip(self.joints, self.places, strict=True)
        )
        columns = ("joint", "set", "on", "stage", "stance", "limits given")
        yield Table("joints", "Joints", columns, rows, (
            'A card: planform rig DESIGN --joint "NAME" -o card.pdf',
        ))  # fmt: skip

    def record(self, system: str) -> Record:
        """Each joint by name."""
        pairs = zip(self.joints, self.places, strict=True)
        return {
            "design": self.name,
            "joints": [
                {
                    "name": one.name,
                    "part": one.part or None,
                    "host": one.host,
                    "stage": stage,
                    "stance": stance or None,
                    "declared": one.declared is not None,
                    "limits": _limits(one),
                }
                for one, (stage, stance) in pairs
            ],
        }

    def files(self, system: str) -> Files:
        """The record."""
        return {"card.json": document(self.kind, self.record(system))}


def _limits(joint: RigJoint) -> str:
    if joint.declared is None:
        return "none"
    limits = joint.declared.limits
    words = [*limits.given(), *(f"{kind}, left less right" for kind in limits.between())]
    return ", ".join(words) or "none"


@dataclass(frozen=True, eq=False, kw_only=True)
class ShimmedAnswer(RigAnswer):
    """A card with the shims that take out what was found; found : by freedom's name [rad]."""

    found: Mapping[str, float] = field(default_factory=dict)

    def said(self, system: str) -> Iterator[Block]:
        """The card, and the shims."""
        yield from super().said(system)
        shims = shims_for(self.card, self.found)
        if self.found:
            rows: tuple[tuple[Cell, ...], ...] = tuple(
                (name, Quantity(thick, "thin")) for name, thick in shims
            )
            title = "Shims that take out what was found; the least is none"
            yield Table("shims to set", title, ("at", "thick"), rows, self._moved(system))

    def _moved(self, system: str) -> tuple[str, ...]:
        """Of what was found, that which no shim takes: how far the holes would move for it."""
        return tuple(
            f"{name}: no shim takes what of it is about the face's own normal; for "
            f"{said(abs(by), 'angle_fine', system)} the holes would move by up to "
            f"{said(abs(by) * self.card.holes[name], 'fine', system)}"
            for name, by in self.found.items()
            if name in self.card.holes
        )

    def record(self, system: str) -> Record:
        """The card's record, and the shims beside it."""
        record = super().record(system)
        if self.found:
            record["found"] = {name: number(by, "angle") for name, by in self.found.items()}
            shims = shims_for(self.card, self.found)
            record["shims_to_set"] = {name: number(thick, "length") for name, thick in shims}
        return record
