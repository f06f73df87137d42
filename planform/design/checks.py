"""Checks between the fields of a design: names that must exist, orders, what cannot stand."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from planform.core.motion.contacts import CannotStand, rest_on
from planform.design.as_built_checks import check_as_built
from planform.design.balance_checks import check_balance
from planform.design.bodies import check_bodies, skins_of
from planform.design.drawings import check_drawings
from planform.design.fittings import check_fittings
from planform.design.gear_checks import check_gear, check_strokes
from planform.design.joint_checks import check_joints
from planform.design.kinds import (
    KINDS,
    contact_names,
    expand,
    panel_names,
    part_names,
    skin_names,
    supports,
)
from planform.design.models import Design, Stance
from planform.design.panel_checks import check_panels
from planform.design.points import check_points
from planform.design.problems import Problem, unknown
from planform.design.profiles import check_profile_name, check_profiles
from planform.design.shape_checks import check_shapes
from planform.design.side_checks import on_each_side
from planform.design.standing import contacts_of, support_of
from planform.design.structure import check_structure
from planform.design.struts import check_struts
from planform.design.surfaces import AFT_WAYS, LiftingCut
from planform.design.turning_checks import check_turning, check_turns
from planform.design.weighing_checks import CONTACTS

PARTS = ("lifting.*.joint", *(f"{k.field}.*.side" for k in KINDS if "side" in k.model.model_fields))
"""What the names of parts come from, besides the names of their tables."""
NEEDS = {
    "stances": "name what the aircraft stands on, such as its wheels",
    "stages": "name at least one build stage",
}


def check_design(design: Design, written: Design) -> Iterator[Problem]:
    """Problems between the fields of a design.

    design : what could be read, without the parts, stances and stages that could not
    written : every one of them, with nothing in place of the fields that could not be read
    """
    yield from _check_whole(written)
    yield from _unique_parts(written)
    yield from check_profiles(design.profiles)
    yield from on_each_side(design, partial(_check_parts, written=written))
    yield from _check_stances(design, written)
    yield from _check_stages(design, written)
    yield from check_as_built(written)
    yield from check_joints(design.joints, written)
    yield from check_points(design.points, part_names(written), _lofted(written))
    parts = part_names(written)
    for k, item in enumerate(design.masses):
        if item.part is not None and item.part not in parts:
            yield unknown(f"masses[{k + 1}].part", item.part, parts, PARTS)
    if design.balance is not None:
        known = contact_names(written)
        pairs = [n for n in supports(design) if expand(n, known) != [n]]
        yield from check_balance(
            design.balance,
            [n for n in known if n not in pairs],
            pairs,
            any(surface.role == "wing" for surface in written.lifting.values()),
            bool(design.masses),
        )


def _lofted(design: Design) -> list[str]:
    """The names of surfaces, of their panels and of winglets."""
    joints = [c.joint for s in design.lifting.values() for c in s.cuts if c.joint is not None]
    return [*design.lifting, *joints, *design.winglets]


def _check_parts(design: Design, written: Design) -> Iterator[Problem]:
    """Problems of the parts themselves, as they are on one side."""
    yield from check_shapes(design)
    yield from check_gear(design)
    yield from _check_surfaces(design, written)
    yield from check_bodies(design.bodies)
    yield from check_struts(design.struts, part_names(written))
    inner = {kind.field: kind.of(design) for kind in KINDS if kind.inner}
    yield from check_structure(inner, {**written.lifting, **written.winglets}, written.bodies)
    yield from check_fittings(design.fittings, part_names(written))
    yield from check_panels(design.panels, skins_of(written.bodies))
    yield from check_turning(design, written)
    yield from check_drawings(written.drawings)


def _check_whole(written: Design) -> Iterator[Problem]:
    """A design with a shape and nothing to stand in, or with nothing at all."""
    if _has_shape(written):
        for field in ("stances", "stages"):
            if not getattr(written, field):
                yield Problem(field, "nothing", f"this field is needed; {NEEDS[field]}")
    elif written.balance is None and not written.masses:
        yield Problem(
            "lifting",
            "nothing",
            "a design needs at least one surface or body (or a balance part to be weighed by)",
        )


def _has_shape(written: Design) -> bool:
    return bool(written.lifting or written.bodies)


def _check_surfaces(design: Design, written: Design) -> Iterator[Problem]:
    for name, surface in design.lifting.items():
        yield from _check_cuts(f"lifting.{name}.cuts", surface.cuts)
        named = [(f"lifting.{name}.profile", surface.profile)]
        named += [
            (f"lifting.{name}.cuts[{k + 1}].profile", cut.profile)
            for k, cut in enumerate(surface.cuts)
            if cut.profile is not None
        ]
        if surface.cuts[0].profile is not None and "profile" not in surface.model_fields_set:
            named = named[1:]
        for path, profile in named:
            yield from check_profile_name(
                path, profile, written.profiles, closed=surface.closed_trailing_edge
            )
    for name, winglet in written.winglets.items():
        if winglet.on is not None and winglet.on not in written.lifting:
            yield unknown(f"winglets.{name}.on", winglet.on, written.lifting)
    for name, winglet in design.winglets.items():
        path, closed = f"winglets.{name}.profile", winglet.closed_trailing_edge
        yield from check_profile_name(path, winglet.profile, written.profiles, closed=closed)
        turn = abs(winglet.cant)
        if turn > 1.5707963267948966:
            yield Problem(
                f"winglets.{name}.cant",
                repr(winglet.cant.text),
                "allowed: -90 deg to 90 deg from the vertical",
            )


def _unique_parts(written: Design) -> Iterator[Problem]:
    seen: set[str] = set()
    for name in part_names(written):
        if name in seen:
            yield Problem(name, repr(name), "two parts have this name; each needs its own")
        seen.add(name)


def _check_cuts(path: str, cuts: tuple[LiftingCut, ...]) -> Iterator[Problem]:
    first = cuts[0]
    missing = [name for name in ("fs", "bl", "wl") if getattr(first, name) is None]
    if missing:
        yield Problem(
            f"{path}[1]", f"no {' and no '.join(missing)}", "the first cut names fs, bl and wl"
        )
    for k, cut in enumerate(cuts[1:], start=2):
        here = f"{path}[{k}]"
        out = [n for n in ("bl", "length") if getattr(cut, n) is not None]
        if not out:
            yield Problem(here, "neither bl nor length", "say how far out this cut stands")
        before = cuts[k - 2].bl
        if cut.bl is not None and before is not None:
            upright = cut.wl is not None and cut.bl == before
            if not cut.bl > before and not upright:
                yield Problem(
                    f"{here}.bl",
                    repr(cut.bl.text),
                    f"allowed: further out than the cut before it ({before.text})",
                    (f"{path}[{k - 1}].bl",),
                )
        if cut.bl is not None and cut.cant is not None:
            yield Problem(f"{here}.cant", "bl and cant", "allowed: cant goes with length, not bl")
        if cut.length is not None and cut.wl is not None:
            yield Problem(
                f"{here}.wl", "length and wl", "allowed: length goes with dihedral or cant, not wl"
            )
        if all(getattr(cut, name) is None for name in AFT_WAYS):
            yield Problem(here, "neither fs nor a sweep", f"name one of {', '.join(AFT_WAYS)}")


def _check_stances(design: Design, written: Design) -> Iterator[Problem]:
    known = contact_names(written)
    fallen: dict[str, set[str]] = {}
    all_readable = set(supports(design)) == set(supports(written))
    for name, stance in design.stances.items():
        path = f"stances.{name}"
        bad = False
        for field in ("on", "flat", "retracted", "heights", "compressed"):
            for contact in getattr(stance, field):
                if contact not in known:
                    bad = True
                    yield unknown(f"{path}.{field}", contact, known, CONTACTS)
        yield from check_turns(path, stance, written)
        yield from check_strokes(path, design, stance)
        for problem in _lifted(path, stance, known):
            bad = True
            yield problem
        if bad or not all_readable:
            continue
        reason = _why_not(design, stance)
        if reason is None:
            continue
        under = _standing_on(design, stance)
        rests = [path, *(f"{kind.field}.{one}" for kind in KINDS if kind.stands for one in under)]
        bare = stance.model_copy(update={"flat": (), "heights": {}, "compressed": {}})
        if _why_not(design, bare) is not None:  # the wheels' or pads' own mistake
            rests += [f"stances.{other}.on" for other in fallen if fallen[other] & under]
            fallen[name] = under
        yield Problem(f"{path}.on", ", ".join(stance.on) or "nothing", reason, tuple(rests))


def _lifted(path: str, stance: Stance, known: list[str]) -> Iterator[Problem]:
    """Wheels that a stance stands on and yet has retracted, or turned about their hinge."""
    carrying = {one for contact in stance.on for one in expand(contact, known)}
    for field in ("retracted", "turned"):
        for contact in getattr(stance, field):
            if carrying.intersection(expand(contact, known)):
                yield Problem(f"{path}.{field}", repr(contact), "it also stands on this wheel")


def _standing_on(design: Design, stance: Stance) -> set[str]:
    """The wheels and pads of a stance as the file names them, without their side."""
    found = {name: support_of(design, name) for name in stance.on}
    return {one[0] if one else name for name, one in found.items()}


def _why_not(design: Design, stance: Stance) -> str | None:
    """Why nothing can stand so; None where it stands."""
    try:
        rest_on(contacts_of(design, stance))
    except CannotStand as error:
        return str(error)
    return None


def _check_bare(
    path: str, bare: tuple[str, ...], parts: list[str], skins: list[str]
) -> Iterator[Problem]:
    for name in bare:
        if name in parts and name not in skins:
            yield Problem(path, repr(name), "allowed: a surface, winglet or body, that has a skin")
        elif name not in parts:
            yield unknown(path, name, skins, PARTS)


def _check_stages(design: Design, written: Design) -> Iterator[Problem]:
    parts = part_names(written)
    panels = panel_names(written)
    needed = not written.stances and _has_shape(written)  # which is told already
    seen: set[str] = set()
    for k, stage in enumerate(design.stages):
        path = f"stages[{k + 1}]"
        if stage.name in seen:
            yield Problem(f"{path}.name", repr(stage.name), "two stages have this name")
        seen.add(stage.name)
        for field in ("parts", "without"):
            for name in getattr(stage, field) or ():
                if name not in parts:
                    yield unknown(f"{path}.{field}", name, parts, PARTS)
        yield from _check_bare(f"{path}.bare", stage.bare, parts, skin_names(written))
        for name in stage.open:
            if name not in panels:
                yield unknown(f"{path}.open", name, panels)
            elif stage.parts is not None and not set(panels[name]) & set(stage.parts):
                allowed = "open, but not among this stage's parts"
                yield Problem(f"{path}.open", repr(name), allowed, (f"{path}.parts",))
        if stage.stance not in written.stances and not needed:
            yield unknown(f"{path}.stance", stage.stance, written.stances)
