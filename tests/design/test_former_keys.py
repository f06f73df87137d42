"""Keys that were renamed are refused, each told with its new name, all of a file at once."""

from __future__ import annotations

import copy

import pytest
from hypothesis import given
from hypothesis import strategies as st

import planform as pf
from planform.design.load import design_from
from planform.study.options import changed_design
from tests.commands.test_commands import called
from tests.fuzz.changes import written
from tests.laws.worlds import world

NOW = {
    "surfaces": "lifting",
    "sections": "cuts",
    "stations": "cuts",
    "exponent": "boxiness",
    "plane_fs": "disc_fs",
}


def renamed_back(table, chosen):
    """The table with these former keys in it, and those of them that it has a place for."""
    table = copy.deepcopy(table)
    used = set()

    def back(item, old):
        if old in chosen and NOW[old] in item:
            item[old] = item.pop(NOW[old])
            used.add(old)

    for surface in table["lifting"].values():
        back(surface, "sections")
    for body in table["bodies"].values():
        for cut in body["cuts"]:
            cut.setdefault("boxiness", 2.5)
            back(cut, "exponent")
        back(body, "stations")
    back(table.get("propeller", {}), "plane_fs")
    back(table, "surfaces")
    return table, used


@given(st.integers(0, 60), st.sets(st.sampled_from(sorted(NOW)), min_size=1), st.booleans())
def test_every_former_key_is_told_with_its_new_name(seed, chosen, wrong):
    design = world(seed).design
    table, used = renamed_back(design, chosen)
    if wrong:
        table["winglets"] = {"winglet": {"on": "nothing"}}
    if not used:
        return
    with pytest.raises(pf.InputError) as error:
        design_from(table)
    first, *others = error.value.problems
    assert set(first.given.split(", ")) == used
    for old in used:
        assert f"{NOW[old]} for " in first.allowed
        assert old in first.allowed
    assert bool(others) == wrong  # the rest of the file is checked in the same go
    design_from(design)


def test_a_command_ends_with_two_and_one_sentence(tmp_path):
    table, _ = renamed_back(world(1).design, set(NOW))
    (tmp_path / "mine.toml").write_text(written(table), encoding="utf-8")
    code, _, err = called("measure", tmp_path / "mine.toml")
    assert (code, len(err.splitlines())) == (2, 2)
    assert "these keys have new names; write lifting for surfaces, cuts for sections" in err


@pytest.mark.parametrize(
    ("path", "now"),
    [
        ("surfaces.wing.sections[2].chord", "lifting.wing.cuts[2].chord"),
        ("surfaces.*.sections[2].chord", "lifting.*.cuts[2].chord"),
        ("bodies.pod.stations[1].exponent", "bodies.pod.cuts[1].boxiness"),
        ("propeller.plane_fs", "propeller.disc_fs"),
    ],
)
def test_a_path_of_former_keys_is_told_as_it_is_now(plain, path, now):
    design = design_from(plain)
    with pytest.raises(pf.InputError, match="no such field; its name is now") as error:
        changed_design(design, [(path, "1 m")])
    assert now in str(error.value)
    if "*" not in path:
        with pytest.raises(pf.InputError, match="its name is now"):
            pf.changed(design, path, "1 m")
