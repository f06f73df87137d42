"""Checks of what turns about a line: blades, folds, and what a stance has turned."""

from __future__ import annotations

import math
from collections.abc import Iterator

from planform.core.shape.blades import meeting
from planform.design.controls import WAYS, Control, ways
from planform.design.kinds import LYING, turning
from planform.design.models import Design, Stance
from planform.design.problems import Problem, unknown
from planform.design.propellers import Propeller
from planform.design.surfaces import Surface
from planform.design.units import like

JOINTS = ("lifting.*.cuts",)
"""What the names of folding panels come from."""

ROUNDING = 1e-9
"""What an angle may be over its limit [rad] is rounding."""

MOST_DEFLECTION = 0.5 * math.pi
LEAST_HINGE, MOST_HINGE = 0.1, 0.99

MOST_ROOT = 0.5
"""Blades that meet farther out than this share of the radius are asked about: no propeller's are;
common practice, no source."""


def check_turning(design: Design, written: Design) -> Iterator[Problem]:
    """Problems of what turns; `design` may lack what could not be read."""
    if design.propeller is not None:
        yield from _check_blades("propeller", design.propeller)
    for name, surface in design.lifting.items():
        yield from _check_folds(f"lifting.{name}", surface)
    for name, control in design.controls.items():
        yield from _check_control(f"controls.{name}", control, design, written)


def check_turns(path: str, stance: Stance, written: Design) -> Iterator[Problem]:
    """Problems of what a stance has folded or turned."""
    folding, controls = turning(written, "lifting"), turning(written, "controls")
    known = {name: ends for name, ends in turning(written).items() if name not in controls}
    for name in stance.folded:
        if name not in folding:
            yield unknown(f"{path}.folded", name, folding, JOINTS)
        elif name in stance.turned:
            allowed = "allowed: in folded, or in turned with its angle, not in both"
            yield Problem(f"{path}.folded", repr(name), allowed)
    for field, names in (("turned", known), ("deflected", controls)):
        for name, angle in getattr(stance, field).items():
            if name not in names:
                rests = (*JOINTS, "propeller") if name == "propeller" else JOINTS
                problem = unknown(f"{path}.{field}", name, names, rests)
                if name == "propeller" and written.propeller is not None:
                    allowed = "allowed: a propeller with blades; without them its whole disc counts"
                    problem = Problem(f"{path}.{field}", repr(name), allowed, rests)
                yield problem
                continue
            least, most = names[name]
            if not least - ROUNDING <= angle <= most + ROUNDING:
                ends = " to ".join(f"{math.degrees(end):g} deg" for end in (least, most))
                yield Problem(f"{path}.{field}.{name}", repr(angle.text), f"allowed: {ends}")


def _check_folds(path: str, surface: Surface) -> Iterator[Problem]:
    for k, cut in enumerate(surface.cuts):
        fold = cut.fold
        if fold is None:
            continue
        if not 0.0 < fold.angle <= math.pi + ROUNDING:
            allowed = "allowed: more than 0 and at most 180 deg, from spread"
            yield Problem(f"{path}.cuts[{k + 1}].fold.angle", repr(fold.angle.text), allowed)
        if k in (0, len(surface.cuts) - 1):
            allowed = "allowed: at a joint between the first cut and the last"
            yield Problem(f"{path}.cuts[{k + 1}].fold", "a fold at the end", allowed)


def _check_control(
    path: str, control: Control, design: Design, written: Design
) -> Iterator[Problem]:
    host = written.lifting.get(control.on) or written.winglets.get(control.on)
    if host is None:
        known = [*written.lifting, *written.winglets]
        yield unknown(f"{path}.on", control.on, known)
        return
    if host.side not in (None, "both", control.side):
        allowed = f"allowed: {host.side}, as its {control.on} is"
        yield Problem(f"{path}.side", repr(control.side), allowed, (f"{path}.on",))
    read = design.lifting.get(control.on)
    wanted = WAYS[0]
    if read is None or read.role not in LYING:
        wanted = WAYS[2] if host.side == "centre" else WAYS[1]
    given = ways(control)
    if given != wanted and (read is not None or control.on in design.winglets):
        allowed = f"allowed on {control.on}: {' and '.join(wanted)}"
        yield Problem(path, " and ".join(given), allowed, (f"{path}.on",))
    for field in given:
        angle = getattr(control, field)
        if not 0.0 <= angle <= MOST_DEFLECTION + ROUNDING:
            allowed = "allowed: 0 to 90 deg, how far it goes that way"
            yield Problem(f"{path}.{field}", repr(angle.text), allowed)
    for end in ("inner", "outer"):
        hinge = getattr(control, end).hinge
        if not LEAST_HINGE <= hinge <= MOST_HINGE:
            allowed = "allowed: 10 % to 99 % of the chord, from the leading edge"
            yield Problem(f"{path}.{end}.hinge", repr(hinge.text), allowed)


def _check_blades(path: str, propeller: Propeller) -> Iterator[Problem]:
    if propeller.blades is None or propeller.chord is None:
        return
    radius, hub = 0.5 * float(propeller.diameter), propeller.hub_diameter
    root = 0.5 * float(propeller.chord)
    tip = 0.5 * float(propeller.tip_chord or propeller.chord)
    if meeting(propeller.blades, root, tip, radius) > MOST_ROOT * radius:
        yield Problem(
            f"{path}.chord",
            repr(propeller.chord.text),
            f"{propeller.blades} blades this wide grow into one another half way out; allowed: "
            "narrower ones, or leave out blades and chord, and the whole disc counts",
            rests=(f"{path}.diameter", f"{path}.blades"),
        )
    most = MOST_ROOT * 2.0 * radius
    if hub is not None and hub > most:
        yield Problem(
            f"{path}.hub_diameter",
            repr(hub.text),
            f"allowed: at most half the diameter ({like(most, hub.text)})",
            rests=(f"{path}.diameter",),
        )
