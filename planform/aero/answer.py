"""What the lattice says about a stage of a design, each figure with its refinement difference."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Annotated

from planform.aero.flow import Flow, solve
from planform.aero.lifting import Lifting, lifting_surfaces
from planform.airframe.build import Airframe
from planform.airframe.measure import design_measures
from planform.core.flow.strips import ROWS, STRIPS
from planform.core.quantity import OfHolder, Unit
from planform.core.shown import Brief, Shown
from planform.design.models import Stage
from planform.design.problems import InputError, Problem
from planform.design.told import said

CLAIMS = (
    "From a linear lattice of thin surfaces in steady flow: neutral point, lift slope, shares of "
    "lift, loading, induced drag, root bending from that loading, setting of the trimming surface.",
    "Not in it: body, propeller, boundary layer, gaps, bending of the structure. A body commonly "
    "moves the neutral point forward by several % MAC; limits come from the designer and from "
    "flight test.",
    "No claim on stall, on which surface stalls first, on greatest lift, profile drag or power.",
)


@dataclass(frozen=True)
class Figure:
    """A value and how much it changed from a lattice of half as many strips and rows."""

    value: OfHolder
    change: float


StationFigure = Annotated[Figure, Unit("m")]
RatioFigure = Annotated[Figure, Unit("1")]


@dataclass(frozen=True, eq=False)
class Pair:
    """The lattice and a coarser one beside it, for the refinement difference."""

    fine: Flow
    coarse: Flow

    def figure(self, read: Callable[[Flow], float]) -> Figure:
        """One figure of both."""
        value = read(self.fine)
        return Figure(value, abs(value - read(self.coarse)))


@dataclass(frozen=True, eq=False, repr=False)
class Aerodynamics(Shown):
    """The lattice's figures; station and chord in m, slope per rad.

    lift_at_zero : coefficient at no angle of attack, surfaces as designed
    moment_at_zero : coefficient about the neutral point, nose up
    without : neutral point with one surface taken off
    units : those that the reader of its table is shown
    """

    reference: str
    area: float
    mac: float
    lemac: float
    pair: Pair
    lift_slope: RatioFigure
    neutral_point: StationFigure
    lift_at_zero: RatioFigure
    moment_at_zero: RatioFigure
    shares: dict[str, RatioFigure]
    efficiency: RatioFigure
    without: tuple[tuple[str, Figure], ...]
    units: str

    def brief(self) -> Brief:
        """Neutral point, lift slope, efficiency and shares, by the lattice."""
        rows = [
            ("neutral point", said(self.neutral_point.value, "station", self.units)),
            ("its refinement difference", said(self.neutral_point.change, "fine_up", self.units)),
            ("lift slope", f"{self.lift_slope.value:.3f} per rad"),
            ("reference area", said(self.area, "area", self.units)),
            ("MAC", said(self.mac, "fine", self.units)),
            *(
                (f"share of {name}", said(s.value, "percent", self.units))
                for name, s in self.shares.items()
            ),
        ]
        return Brief("by the lattice, without body and propeller", tuple(rows))

    @property
    def without_by_name(self) -> dict[str, StationFigure]:
        """The neutral point without a surface, by its name."""
        return dict(self.without)


def reference_wing(airframe: Airframe) -> tuple[float, float, float]:
    """Area, MAC and LEMAC of the wing's true planform [m2, m, m]; InputError without a wing."""
    if not airframe.halves_in("wing"):
        problem = Problem("lifting", "no surface with the role wing", "give one")
        raise InputError(airframe.design.name, [problem])
    found = design_measures(airframe)
    return found["wing.area"], found["wing.mac"], found["wing.lemac_fs"]


def pair(
    surfaces: Sequence[Lifting],
    area: float,
    mac: float,
    strips: int = STRIPS,
    rows: int = ROWS,
) -> Pair:
    """Solve the lattice and one of half as many strips and rows."""
    return Pair(
        solve(surfaces, area, mac, strips, rows),
        solve(surfaces, area, mac, max(2, strips // 2), max(1, rows // 2)),
    )


def aerodynamics(airframe: Airframe, stage: Stage | None = None) -> Aerodynamics:
    """The lattice's figures of the surfaces on at a stage, or of all of them.

    Raises InputError where the surfaces cannot be solved.
    """
    area, mac, lemac = reference_wing(airframe)
    surfaces = lifting_surfaces(airframe, stage)
    both = pair(surfaces, area, mac)
    without = []
    for gone in surfaces if len(surfaces) > 1 else ():
        rest = [s for s in surfaces if s is not gone]
        if gone.role != "wing":
            without.append((gone.name, pair(rest, area, mac).figure(lambda f: f.neutral_point)))
    return Aerodynamics(
        reference="wing, true planform",
        area=area,
        mac=mac,
        lemac=lemac,
        pair=both,
        lift_slope=both.figure(lambda f: f.lift_slope),
        neutral_point=both.figure(lambda f: f.neutral_point),
        lift_at_zero=both.figure(lambda f: f.lift_at_zero),
        moment_at_zero=both.figure(lambda f: f.moment_at_zero),
        shares={
            s.name: both.figure(lambda f, name=s.name: f.share_of_slope[name])  # type: ignore[misc]
            for s in surfaces
        },
        efficiency=both.figure(lambda f: f.efficiency),
        without=tuple(without),
        units=airframe.design.units,
    )
