"""The lattice solved: lift slope, neutral point, shares, loading, trim, induced drag, bending."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from planform.aero.lifting import Lifting
from planform.core.flow.farfield import (
    bending_row,
    energy,
    least_drag,
    lift_row,
    span_efficiency,
)
from planform.core.flow.lattice import Chain, Coincident, by_strip, influence, weights
from planform.core.flow.strips import ROWS, STRIPS, strip_up
from planform.design.problems import InputError, Problem

Array = NDArray[np.float64]

MOST_PANELS = 6000
"""Panels of a lattice; its matrix then takes 0.3 GB, and assembling it some five times that.
Assumption; a wing, a foreplane and winglets of a few cuts have under 800."""

TRIMMERS = ("foreplane", "tailplane")
"""Roles whose incidence trims, the first that is there."""


LINEAR = np.radians(15.0)
"""Angle to the stream beyond which no trim is told: the sine and the tangent of an angle differ
from it by 1 and 2 % there, and common sections have stalled (common practice, no source)."""


@dataclass(frozen=True)
class Trimmed:
    """A state in trim: angles [rad], coefficients on the reference area and chord.

    nose_up_angle : the angle of attack, of the reference line to the stream
    turned_by : what the trimming surface is turned from as designed; None where there is none
    set_to : the angle of its root then, to the reference line; None likewise
    section_lift, section_on, section_bl : the largest section lift coefficient, the name of the
        surface that has it, and the butt line where [m]
    bending : moment about `Flow.root` of one half wing and what stands on it, over the whole
        lift [m]
    share : lift of each surface over the whole
    """

    lift: float
    nose_up_angle: float
    turned_by: float | None
    set_to: float | None
    drag: float
    bending: float
    share: dict[str, float]
    section_lift: float
    section_on: str
    section_bl: float
    circulation: Array


@dataclass(frozen=True, eq=False)
class Flow:
    """A set of surfaces with its factorised lattice; everything else is read off it.

    area, chord : the reference [m2, m]; span : tip to tip of everything [m]
    """

    surfaces: tuple[Lifting, ...]
    chains: tuple[Chain, ...]
    area: float
    chord: float
    unit: Array

    @property
    def span(self) -> float:
        """Projected span over everything [m]."""
        return 2.0 * max(float(chain.edge[:, 1].max()) for chain in self.chains)

    @cached_property
    def _trimming(self) -> Lifting | None:
        return trimming(self.surfaces)

    @property
    def trimmer(self) -> str | None:
        """The surface whose incidence trims, by name."""
        return None if self._trimming is None else self._trimming.name

    @property
    def lift_at_zero(self) -> float:
        """Lift coefficient at no angle of attack, every surface as it is set."""
        return float(4.0 * self._forces[0, 1] / self.area)

    @property
    def moment_at_zero(self) -> float:
        """Moment coefficient about the neutral point, nose up; the same at every angle."""
        about = self._forces[1, 1] + self.neutral_point * self._forces[0, 1]
        return float(4.0 * about / (self.area * self.chord))

    @property
    def root(self) -> tuple[float, float]:
        """Butt line and waterline of the leading edge of the wing's root [m].

        Bending is taken about the line along x there; of several wings, that of the widest.
        """
        wings = [c for c, s in zip(self.chains, self.surfaces, strict=True) if s.role == "wing"]
        widest = max(wings or self.chains, key=lambda chain: float(chain.edge[:, 1].max()))
        return float(widest.edge[0, 1]), float(widest.edge[0, 2])

    def _on_the_wing(self, counts: Sequence[int]) -> NDArray[np.bool_]:
        """Which panels, or strips, bend the wing's root; counts : how many each surface has."""
        return np.repeat([surface.loads_the_wing for surface in self.surfaces], counts)

    @cached_property
    def _weights(self) -> Array:
        w = weights(self.chains, self.root)
        own = self._on_the_wing([chain.panels for chain in self.chains])
        return np.array([w.lift, w.pitch, np.where(own, w.bend, 0.0)])

    @cached_property
    def _forces(self) -> Array:
        """Lift, pitching moment and bending, shape (3, 3), of alpha, setting and control."""
        return np.asarray(self._weights @ self.unit)

    @cached_property
    def _energy(self) -> Array:
        return energy(self.chains)

    @cached_property
    def _strips(self) -> Array:
        """Strip circulations of alpha, setting and control, shape (strips, 3)."""
        return by_strip(self.chains, self.unit)

    @property
    def lift_slope(self) -> float:
        """dCL/dalpha [1/rad]."""
        return float(4.0 * self._forces[0, 0] / self.area)

    @property
    def neutral_point(self) -> float:
        """Station about which the moment does not change with alpha [m]."""
        return float(-self._forces[1, 0] / self._forces[0, 0])

    def shares(self, strips: Array) -> dict[str, float]:
        """Lift of each surface over the whole lift."""
        lift = lift_row(self.chains) * strips
        out, start = {}, 0
        for chain in self.chains:
            part = float(lift[start : start + chain.strips].sum())
            out[chain.name] = part / float(lift.sum())
            start += chain.strips
        return out

    @property
    def share_of_slope(self) -> dict[str, float]:
        """Each surface's share of the lift that alpha adds."""
        return self.shares(self._strips[:, 0])

    @property
    def efficiency(self) -> float:
        """Span efficiency on the projected span of the loading that alpha gives."""
        g = self._strips[:, 0]
        return span_efficiency(2.0 * self._forces[0, 0], float(g @ self._energy @ g), self.span)

    @property
    def bending_of_slope(self) -> float:
        """Bending at the wing's root over the whole lift, of the loading that alpha gives [m]."""
        return float(self._forces[2, 0] / (2.0 * self._forces[0, 0]))

    def trim(self, lift: float, station: float) -> Trimmed:
        """Alpha and the trimming surface's incidence for a lift coefficient and no moment.

        station : of the CG [m]. Without a trimming surface alpha alone makes the lift, and the
        moment stays. Raises InputError where nothing makes that lift, or only angles beyond
        `LINEAR` do.
        """
        per = 4.0 / self.area
        rows = [per * self._forces[0]]
        wanted = [lift - rows[0][1]]
        columns = [0]
        if self.trimmer is not None:
            about = self._forces[1] + station * self._forces[0]
            rows.append(per * about / self.chord)
            wanted.append(-rows[1][1])
            columns.append(2)
        system = np.array([[row[c] for c in columns] for row in rows])
        if abs(np.linalg.det(system)) < 1e-9 * np.abs(system).max() ** len(columns):
            allowed = "no surface here can trim that about this CG; move the CG"
            raise InputError("trim", [Problem("", f"a lift coefficient of {lift:.3g}", allowed)])
        angles = np.linalg.solve(system, np.array(wanted))
        alpha, control = float(angles[0]), float(angles[1]) if len(angles) > 1 else None
        incidence = None
        if self._trimming is not None and control is not None:
            incidence = float(self._trimming.incidence[0]) + control
        self._refuse_steep(alpha, incidence)
        mix = np.array([alpha, 1.0, control or 0.0])
        strips = self._strips @ mix
        largest, where, butt_line = self._largest_section(strips)
        return Trimmed(
            lift=lift,
            nose_up_angle=alpha,
            turned_by=control,
            set_to=incidence,
            drag=2.0 * float(strips @ self._energy @ strips) / self.area,
            bending=float((self._forces[2] @ mix) / (2.0 * self._forces[0] @ mix)),
            share=self.shares(strips),
            section_lift=largest,
            section_on=where,
            section_bl=butt_line,
            circulation=strips,
        )

    def _refuse_steep(self, alpha: float, incidence: float | None) -> None:
        """InputError where an angle to the stream is beyond `LINEAR`."""
        steep = {"a nose-up angle": alpha}
        if incidence is not None:
            told = f"the {self.trimmer} set to {np.degrees(incidence):.0f}°, an angle"
            steep[f"{told} to the stream"] = alpha + incidence
        for words, angle in steep.items():
            if abs(angle) > LINEAR:
                told = (
                    f"trim would take {words} of {np.degrees(angle):.0f}°; the lattice is linear "
                    f"and tells no trim beyond {np.degrees(LINEAR):.0f}°; move the CG, or ask for "
                    "less lift"
                )
                raise InputError("trim", [Problem("", "", told)])

    def _largest_section(self, circulation: Array) -> tuple[float, str, float]:
        """The section lift coefficient that is largest in size, its surface and butt line [m]."""
        chord = np.concatenate([chain.middle_chord() for chain in self.chains])
        of = [chain.name for chain in self.chains for _ in range(chain.strips)]
        butt_line = np.concatenate([chain.middle()[:, 1] for chain in self.chains])
        local = 2.0 * circulation / chord
        k = int(np.abs(local).argmax())
        return float(local[k]), of[k], float(butt_line[k])

    def loading(self, circulation: Array) -> list[tuple[str, Array, Array, Array]]:
        """Spanwise loading: name, butt line and distance along [m], and chord times cl [m]."""
        out, start = [], 0
        for chain in self.chains:
            width = chain.width()
            along = np.concatenate([[0.0], np.cumsum(width)[:-1]]) + chain.share * width
            part = circulation[start : start + chain.strips]
            out.append((chain.name, chain.middle()[:, 1], along, 2.0 * part))
            start += chain.strips
        return out

    def least_drag(
        self,
        lift: float,
        bending: float | None = None,
        share: tuple[str, float] | None = None,
    ) -> tuple[float, Array]:
        """The least induced drag of this shape, and the strip circulations that have it [m].

        lift : coefficient on the reference area
        bending : at the wing's root over the whole lift [m], held where given
        share : a surface and its part of the lift, held where given
        Twist and trim are free: it is what the best twisted surfaces of this outline could do.
        """
        total = 0.5 * lift * self.area
        row = lift_row(self.chains)
        of = np.repeat([c.name for c in self.chains], [c.strips for c in self.chains])
        rows, wanted = [row], [total]
        if bending is not None:
            own = self._on_the_wing([chain.strips for chain in self.chains])
            rows.append(np.where(own, bending_row(self.chains, self.root), 0.0))
            wanted.append(bending * total)
        if share is not None:
            rows.append(np.where(of == share[0], row, 0.0))
            wanted.append(share[1] * total)
        best = least_drag(self._energy, rows, wanted)
        return 2.0 * float(best @ self._energy @ best) / self.area, best


def trimming(surfaces: Sequence[Lifting]) -> Lifting | None:
    """The surface whose incidence trims: of the first role of `TRIMMERS` that is there."""
    return next((s for role in TRIMMERS for s in surfaces if s.role == role), None)


def solve(
    surfaces: Sequence[Lifting],
    area: float,
    chord: float,
    strips: int = STRIPS,
    rows: int = ROWS,
) -> Flow:
    """Assemble and factorise the lattice of some surfaces.

    area, chord : the reference [m2, m]. Raises InputError where a wake meets another surface.
    """
    chains = strip_up([surface.line for surface in surfaces], strips, rows)
    panels = sum(chain.panels for chain in chains)
    if panels > MOST_PANELS:
        allowed = f"allowed: at most {MOST_PANELS}; give the surfaces fewer cuts"
        raise InputError("lifting", [Problem("cuts", f"{panels} panels", allowed)])
    try:
        matrix = influence(chains)
    except Coincident as error:
        words = (
            f"the {error.control} lies in the wake of the {error.vortex}; allowed: surfaces whose "
            "wakes pass each other; move one in waterline"
        )
        raise InputError("lifting", [Problem("", "", words)]) from None
    trimmer = trimming(surfaces)
    right = np.concatenate(
        [
            np.column_stack(
                [
                    np.tile(np.cos(chain.angle()), chain.rows),
                    surface.setting(chain).ravel(),
                    np.full(chain.panels, 1.0 if surface is trimmer else 0.0),
                ]
            )
            for surface, chain in zip(surfaces, chains, strict=True)
        ]
    )
    try:
        unit = np.linalg.solve(matrix, -right)
    except np.linalg.LinAlgError:
        words = (
            "they lie so near to one another that the lattice cannot tell them apart; move one in "
            "station or waterline"
        )
        raise InputError("lifting", [Problem("", "", words)]) from None
    return Flow(tuple(surfaces), chains, area, chord, unit)
