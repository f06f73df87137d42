"""The kinds of parts of an aircraft: one table, from which all that goes over kinds is read.

A new kind is a model and its field in `models.py`, a row here, and a builder in
`airframe/drawn.py`.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any

from planform.design.bodies import Body, bulge_of
from planform.design.controls import Control, ways
from planform.design.fields import Model
from planform.design.fittings import Fitting
from planform.design.gear import Pad, Wheel, retracting
from planform.design.models import Design
from planform.design.panels import Panel
from planform.design.propellers import Propeller
from planform.design.sided import SIDES, on_side
from planform.design.structure import Bulkhead, Rib, Spar
from planform.design.struts import LiftStrut
from planform.design.surfaces import Surface, Winglet


@dataclass(frozen=True)
class Role:
    """What a part is on the aircraft, and how it is shown.

    colour : in pictures ; opacity : 1 hides what is behind it
    line : the kind of shape that it is in drawings
    of_host : it goes on and off, and is weighed, with what it stands on
    of_skin : it stands on a skin, and is off where that is
    """

    name: str
    colour: str
    opacity: float = 1.0
    line: str = "part"
    of_host: bool = False
    of_skin: bool = False


def _nothing(*_: object) -> tuple[str, ...]:
    return ()


Limits = dict[str, tuple[float, float]]
"""The least and the most that parts turn [rad], by name."""


def _still(*_: object) -> Limits:
    return {}


def _never(_: object) -> bool:
    return False


def _always(_: object) -> bool:
    return True


@dataclass(frozen=True)
class PartKind:
    """One kind of part, by the field of a design that holds it: a table by name, or a single one.

    roles : what the parts built from it may be; none: nothing is built
    joints : names of the parts of their own that begin further out on one
    extras : names of the parts of their own that stand on one, from its name
    hosts : names of what one stands on
    drawn_by : fields of a design that its shape is looked up in
    shaped_by : the field of its host where its shape begins at that of the host
    laid_on : its shape begins on the built skin of its host
    cut_out : it is cut out of its host
    skinned : it is a skin, which may be off while what stands inside it is on
    inner : it stands inside built skins, and is shaped by them
    stands : the aircraft may stand on it
    comes_off : whether one may come off as a whole
    along : roles of the parts of other kinds that come off along with it
    turns : the names of its parts that have a hinge, with how far they turn [rad]
    """

    field: str
    model: type[Model]
    roles: tuple[Role, ...]
    joints: Callable[[Any], tuple[str, ...]] = _nothing
    extras: Callable[[str, Any], tuple[str, ...]] = _nothing
    hosts: Callable[[Design, Any], tuple[str, ...]] = _nothing
    drawn_by: tuple[str, ...] = ()
    shaped_by: str = ""
    laid_on: bool = False
    cut_out: bool = False
    skinned: bool = False
    inner: bool = False
    stands: bool = False
    comes_off: Callable[[Any], bool] = _never
    along: tuple[str, ...] = ()
    turns: Callable[[str, Any], Limits] = _still

    def of(self, design: Design) -> dict[str, Any]:
        """What a design has of this kind, by name; a single one is named by its field."""
        found = getattr(design, self.field)
        if found is None:
            return {}
        return {self.field: found} if isinstance(found, Model) else found


def _joints(surface: Surface) -> tuple[str, ...]:
    return tuple(cut.joint for cut in surface.cuts if cut.joint is not None)


def _whole_surface(surface: Surface) -> bool:
    """A wing comes off where its joints are, or as a whole where it has none."""
    if surface.role == "wing":
        return not _joints(surface)
    return surface.role in ("foreplane", "tailplane")


def _fairing_of(name: str, wheel: Wheel) -> tuple[str, ...]:
    return () if wheel.fairing is None else (f"{name} fairing",)


def _surface_of(_: Design, winglet: Winglet) -> tuple[str, ...]:
    return (winglet.on,)


def _part_of(_: Design, item: Fitting | Rib | Bulkhead) -> tuple[str, ...]:
    return (item.on,)


def _surface_of_spar(_: Design, spar: Spar) -> tuple[str, ...]:
    return (spar.on,) if spar.carried_by is None else (spar.carried_by, spar.on)


def _both_ends(_: Design, strut: LiftStrut) -> tuple[str, ...]:
    return (strut.inner_end.on, strut.outer_end.on)


def _body_of(design: Design, panel: Panel) -> tuple[str, ...]:
    """The body that a panel names, else the one fuselage; of several, none.

    Of a canopy bulge that it names, the body first: the panel comes off with both.
    """
    if panel.body is not None:
        under = [name for name, one in design.bodies.items() if panel.body in bulge_of(name, one)]
        return (*under, panel.body)
    hulls = [name for name, body in design.bodies.items() if body.role == "fuselage"]
    return tuple(hulls) if len(hulls) == 1 else ()


def _opens(name: str, _: Panel) -> Limits:
    return {name: (0.0, math.pi)}


def _blades(name: str, propeller: Propeller) -> Limits:
    return {} if propeller.blades is None else {name: (-2.0 * math.pi, 2.0 * math.pi)}


def _folds(_: str, surface: Surface) -> Limits:
    folding = [(cut.joint, cut.fold) for cut in surface.cuts if cut.joint and cut.fold]
    most = [math.pi if fold.angle is None else float(fold.angle) for _, fold in folding]
    return {joint: (0.0, angle) for (joint, _), angle in zip(folding, most, strict=True)}


def _surface_under(_: Design, control: Control) -> tuple[str, ...]:
    return (control.on,)


def _deflections(name: str, control: Control) -> Limits:
    most, least = (getattr(control, field) for field in ways(control))
    return {name: (-float(least or 0.0), float(most or 0.0))}


def _retracts(name: str, wheel: Wheel) -> Limits:
    if wheel.retraction is None:
        return {}
    ends = [retracting(on_side(wheel, side)) for side in SIDES]
    return {name: (min(low for low, _ in ends), max(high for _, high in ends))}


KINDS = (
    PartKind(
        "lifting",
        Surface,
        (
            Role("wing", "#e9e4d4"),
            Role("foreplane", "#e9e4d4"),
            Role("tailplane", "#e9e4d4"),
            Role("fin", "#dcd3ba"),
        ),
        joints=_joints,
        drawn_by=("profiles",),
        skinned=True,
        comes_off=_whole_surface,
        turns=_folds,
    ),
    PartKind(
        "winglets",
        Winglet,
        (Role("winglet", "#c96f3b"),),
        hosts=_surface_of,
        drawn_by=("profiles",),
        shaped_by="lifting",
        skinned=True,
        comes_off=_always,
    ),
    PartKind(
        "controls",
        Control,
        (Role("control", "#d8b35c"),),
        hosts=_surface_under,
        cut_out=True,
        comes_off=_always,
        turns=_deflections,
    ),
    PartKind(
        "bodies",
        Body,
        (
            Role("fuselage", "#d9e2e3"),
            Role("cowl", "#b9c7ca"),
            Role("spinner", "#8e9ea3"),
            Role("boom", "#cfd8d6"),
        ),
        extras=bulge_of,
        skinned=True,
    ),
    PartKind("spars", Spar, (Role("spar", "#b08a52"),), hosts=_surface_of_spar, inner=True),
    PartKind(
        "ribs",
        Rib,
        (Role("rib", "#c7a76c"), Role("core", "#c3d6e6")),
        hosts=_part_of,
        inner=True,
    ),
    PartKind(
        "bulkheads",
        Bulkhead,
        (Role("bulkhead", "#a9825a"), Role("firewall", "#9aa0a3")),
        hosts=_part_of,
        inner=True,
    ),
    PartKind(
        "propeller",
        Propeller,
        (Role("propeller", "#8d7fae", 0.35, "disc"),),
        comes_off=_always,
        along=("spinner",),
        turns=_blades,
    ),
    PartKind(
        "wheels",
        Wheel,
        (
            Role("wheel", "#3a3f43"),
            Role("leg", "#6a7278", of_host=True),
            Role("brake", "#9a6a5a", of_host=True),
            Role("fairing", "#d3dadb"),
            Role("tow bar", "#8a6d3b", of_host=True),
        ),
        extras=_fairing_of,
        turns=_retracts,
        stands=True,
    ),
    PartKind("pads", Pad, (), stands=True),
    PartKind(
        "panels",
        Panel,
        (Role("panel", "#6fa8b8", 0.75, "panel"),),
        hosts=_body_of,
        laid_on=True,
        turns=_opens,
    ),
    PartKind(
        "struts",
        LiftStrut,
        (Role("strut", "#8a8f7a"),),
        hosts=_both_ends,
        laid_on=True,
        comes_off=_always,
    ),
    PartKind(
        "fittings",
        Fitting,
        (Role("fitting", "#7a6a5a", of_skin=True),),
        hosts=_part_of,
        laid_on=True,
        comes_off=_always,
    ),
)
"""In the order in which an aircraft is built."""

ROLES = {role.name: role for kind in KINDS for role in kind.roles}
"""Every role of a part, by name."""

OF_HOST = frozenset(role.name for role in ROLES.values() if role.of_host)
"""Roles of parts that go on and off, and are weighed, with what they stand on."""

LAID_ON = frozenset(role.name for role in ROLES.values() if role.of_skin)
"""Roles of parts that stand on a skin."""

INNER = frozenset(role.name for kind in KINDS if kind.inner for role in kind.roles)
"""Roles of parts that stand inside a skin."""

LYING = ("wing", "foreplane", "tailplane")
"""Roles of surfaces that carry upward."""


def kind_of(field: str) -> PartKind:
    """The kind that a field of a design holds."""
    return next(kind for kind in KINDS if kind.field == field)


def roles_in(field: str) -> tuple[str, ...]:
    """What the parts of a field of a design may be."""
    return tuple(role.name for role in kind_of(field).roles)


def _with_sides(name: str, item: object) -> list[str]:
    """The name of a part and, of a pair, those of its two sides."""
    paired = getattr(item, "side", None) == "both"
    return [name, *(f"{side} {name}" for side in SIDES if paired)]


def skin_names(design: Design) -> list[str]:
    """Every name a stage may use for a skin, groups and single sides alike."""
    return part_names(design, [kind for kind in KINDS if kind.skinned])


def part_names(design: Design, kinds: Iterable[PartKind] = KINDS) -> list[str]:
    """Every name a stage may use for a part, groups and single sides alike."""
    names: list[str] = []
    for kind in kinds:
        if kind.roles:
            found = kind.of(design)
            names += [one for name, item in found.items() for one in _with_sides(name, item)]
            for item in found.values():
                names += [one for joint in kind.joints(item) for one in _with_sides(joint, item)]
            for name, item in found.items():
                names += [one for own in kind.extras(name, item) for one in _with_sides(own, item)]
    return names


def turning(design: Design, *fields: str) -> Limits:
    """Every name of a part with a hinge, of a pair also its sides, with how far it turns [rad].

    fields : of the design, where only the parts of some kinds are meant
    """
    out: Limits = {}
    for kind in KINDS:
        if fields and kind.field not in fields:
            continue
        for name, item in kind.of(design).items():
            sides = {side: kind.turns(name, on_side(item, side)) for side in SIDES}
            for one, (least, most) in sides["left"].items():
                other = sides["right"][one]
                out[one] = max(least, other[0]), min(most, other[1])
                if getattr(item, "side", None) == "both":
                    out |= {f"{side} {one}": sides[side][one] for side in SIDES}
    return out


def panel_names(design: Design) -> dict[str, tuple[str, ...]]:
    """Every name a stage may open, with the names that it is listed by: its own and its pair's."""
    out: dict[str, tuple[str, ...]] = {}
    for name, panel in design.panels.items():
        both = _with_sides(name, panel)
        out |= {one: tuple({one, name}) if one != name else tuple(both) for one in both}
    return out


def supports(design: Design) -> dict[str, Any]:
    """All that the aircraft may stand on, by name; a pair by one."""
    return {name: item for kind in KINDS if kind.stands for name, item in kind.of(design).items()}


def contact_names(design: Design) -> list[str]:
    """Every name a stance may stand on."""
    return [one for name, item in supports(design).items() for one in _with_sides(name, item)]


def expand(name: str, names: Iterable[str]) -> list[str]:
    """The single-sided names that a group name stands for."""
    known = set(names)
    sided = [f"{side} {name}" for side in SIDES if f"{side} {name}" in known]
    return sided or [name]
