"""The one table of part kinds: complete, and what is built keeps to it."""

from __future__ import annotations

from typing import get_args

import pytest

from planform.airframe.build import build
from planform.airframe.drawn import BUILDERS
from planform.airframe.stance import covers
from planform.airframe.weight.weighing import weigh
from planform.design.kinds import KINDS, ROLES, contact_names, kind_of, part_names, roles_in
from planform.design.load import design_from
from planform.design.models import Design
from planform.design.standing import contacts_of, support_of
from tests.laws.worlds import world

NO_PARTS = {
    *("format", "name", "units", "datum", "story", "spot_station", "profiles", "masses"),
    *(
        "balance",
        "as_built",
        "points",
        "joints",
        "drawings",
        "stances",
        "stages",
        "values",
        "include",
    ),
}


def test_the_table_holds_every_kind_of_a_design_and_its_builder():
    assert [kind.field for kind in KINDS] == [n for n in Design.model_fields if n not in NO_PARTS]
    for kind in KINDS:
        annotation = Design.model_fields[kind.field].annotation
        assert kind.model in get_args(annotation)
        if "role" in kind.model.model_fields:
            assert roles_in(kind.field) == get_args(kind.model.model_fields["role"].annotation)
    assert set(BUILDERS) == {kind.field for kind in KINDS if kind.roles}
    assert len(ROLES) == sum(len(kind.roles) for kind in KINDS)


@pytest.mark.parametrize("seed", range(4))
def test_what_is_built_keeps_to_the_table(seed):
    design = design_from(world(seed).design)
    parts = build(design).parts
    by_group = {
        own: kind.field
        for kind in KINDS
        for name, item in kind.of(design).items()
        for own in (name, *kind.extras(name, item))
    }
    for part in parts:
        field = by_group.get(part.group, "lifting")  # a part from a joint on has a name of its own
        assert part.role in roles_in(field)
    names = part_names(design)
    for name in names:
        assert any(covers(name, part) for part in parts)
    assert {part.group for part in parts} <= set(names)
    for name in contact_names(design):
        group, item = support_of(design, name)
        assert item is kind_of("wheels").of(design).get(group, design.pads.get(group))


def _written(plain, how):
    """The main wheels as one pair, as one on each side, or as two by their butt lines."""
    main = plain["wheels"].pop("main")
    if how == "pair":
        plain["wheels"]["main"] = main
    for side, sign in (("left", "-"), ("right", "")):
        if how == "sides":
            plain["wheels"][f"{side} main"] = {**main, "side": side}
        if how == "butt lines":
            plain["wheels"][f"{side} main"] = {**main, "side": "centre", "bl": sign + main["bl"]}
    plain["stances"]["gear"]["on"] = ["nose", "left main", "right main"]
    scales = (("nose", "50 kg"), ("left main", "180 kg"), ("right main", "120 kg"))
    plain["balance"] = {"weighing": {"scales": [{"at": at, "reading": r} for at, r in scales]}}
    return design_from(plain)


@pytest.mark.parametrize("how", ["pair", "sides", "butt lines"])
def test_a_pair_of_wheels_stands_and_weighs_alike_however_it_is_written(plain, how):
    design = _written(plain, how)
    points = {c.name: c.point[1] for c in contacts_of(design, design.stances["gear"])}
    assert points == {"nose": 0.0, "left main": -1.0, "right main": 1.0}
    weighed = weigh(design)
    assert {s.at: s.bl for s in weighed.scales} == points
    assert weighed.levelled.bl == pytest.approx(-60.0 / 350.0)
