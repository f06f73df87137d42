"""Loops that an installation brings: taken where they serve, else compiled as ever."""

from __future__ import annotations

import importlib
import os
import shutil
import subprocess
import sys
from pathlib import Path
from types import SimpleNamespace

import pytest

from planform.core.compiled import LOOPS, NAMED, PACKED, stamp
from planform.core.kept_loops import Folders, KeptLoop
from tests.conftest import ROOT

TURNED = """
import numpy as np
from planform.core.motion.planar import turned
out = np.zeros((1, 2))
turned(np.ones((1, 2)), 0, 1, 0.0, 1.0, 2.0, 3.0, out)
assert out.tolist() == [[3.0, 2.0]], out
print(sum(turned.stats.cache_hits.values()))
"""


def run(code, site, kept, **given):
    """What a process prints that finds packed loops in `site`, and keeps its own in `kept`."""
    env = {name: value for name, value in os.environ.items() if not name.startswith("NUMBA_")}
    env |= {"PYTHONPATH": os.pathsep.join([str(site), *sys.path]), NAMED: str(kept), **given}
    words = [sys.executable, "-c", code]
    return subprocess.run(
        words, capture_output=True, text=True, check=True, env=env, cwd=ROOT
    ).stdout


@pytest.fixture(scope="module")
def installed(tmp_path_factory):
    """A folder of packages with one loop in it, compiled as an installation does."""
    site = tmp_path_factory.mktemp("site")
    (site / PACKED).mkdir()
    (site / PACKED / "__init__.py").write_text("")
    hits = run(TURNED, site, site / PACKED, NUMBA_CPU_NAME="generic", NUMBA_CPU_FEATURES="")
    assert int(hits) == 0
    return site


@pytest.fixture
def site(installed, tmp_path):
    """A copy to spoil."""
    return Path(shutil.copytree(installed, tmp_path / "site"))


def files(folder):
    """The loops kept in a folder."""
    return [path for path in Path(folder).rglob("*.nb?")]


def test_packed_loops_are_taken_and_nothing_is_kept(site, tmp_path):
    assert int(run(TURNED, site, tmp_path / "kept")) == 1
    assert files(tmp_path / "kept") == []


def test_packed_loops_are_taken_where_nothing_can_be_kept(site):
    for kept in ("none", "/dev/null/below"):
        assert int(run(TURNED, site, kept)) == 1


def test_packed_loops_of_other_content_are_left(site, tmp_path):
    (site / PACKED / stamp()).rename(site / PACKED / "loops-0123456789abcdef")
    assert int(run(TURNED, site, tmp_path / "kept")) == 0
    assert len(files(tmp_path / "kept" / stamp())) == 2
    assert int(run(TURNED, site, tmp_path / "kept")) == 1


def test_a_broken_packed_loop_is_compiled_and_kept(site, tmp_path):
    for number, path in enumerate(files(site)):
        whole = path.read_bytes()
        path.write_bytes(whole[: len(whole) // 2])
        assert int(run(TURNED, site, tmp_path / f"kept{number}")) == 0
        assert len(files(tmp_path / f"kept{number}")) == 2
        path.write_bytes(whole)


def test_a_loop_kept_on_one_cpu_is_left_on_another(site, tmp_path):
    shutil.rmtree(site / PACKED / stamp())
    own = {"NUMBA_CPU_NAME": "generic", "NUMBA_CPU_FEATURES": ""}
    assert int(run(TURNED, site, tmp_path, **own)) == 0
    assert int(run(TURNED, site, tmp_path)) == 0  # what `own` kept is not for this one
    assert int(run(TURNED, site, tmp_path)) == 1
    assert int(run(TURNED, site, tmp_path, **own)) == 1


def test_packed_loops_serve_every_cpu_of_a_kind_and_no_other_kind(tmp_path, monkeypatch):
    loop = KeptLoop(_nothing, Folders(tmp_path, None, lambda: None))
    monkeypatch.setattr("planform.core.kept_loops.CompileResult._rebuild", lambda _, *parts: parts)

    def found(*machine):
        codegen = SimpleNamespace(magic_tuple=lambda: machine)
        return loop.load_overload(("int64",), SimpleNamespace(refresh=int, codegen=lambda: codegen))

    loop._file(tmp_path).save((("int64",), ("one-kind", "generic", "")), ("made",))
    assert found("one-kind", "an old one", "+a") == ("made",)
    assert found("one-kind", "a new one", "+a,+b") == ("made",)
    assert found("another-kind", "a new one", "+a,+b") is None


def _nothing():
    return None


REHEARSED = """
from planform.core.rehearsal import rehearse
rehearse()
"""

SEARCHED = """
import planform as pf
from planform.fit.on_wheels import roll_out
from planform.fit.push import push_through
from planform.fit.question import question_for
from planform.fit.way_out import greatest_clearance, way_out
standing = pf.stand_all(pf.build(pf.load("designs/quillwort.toml")))[-1]
column, wide = (
    question_for(standing, pf.build_room(pf.load_place(f"benchmarks/rooms/{name}.toml")))
    for name in ("column", "wide-door")
)
way_out(column)
greatest_clearance(wide)
roll_out(wide)
marram = pf.stand_all(pf.build(pf.load("designs/marram.toml")))[-1]
room = pf.build_room(pf.load_place("designs/boatshed.toml"))
push_through(marram, room, room.place.doors[0])
"""

TOLD = """
from tests.core.test_packed_loops import signatures
print(repr(signatures()))
"""


def signatures():
    """The signatures of each loop that Python itself has called, or what was compiled called."""
    out = {}
    for name in LOOPS:
        if "/" not in name:
            continue
        module = importlib.import_module(f"planform.core.{name[:-3].replace('/', '.')}")
        for value in vars(module).values():
            if getattr(value, "__module__", "") == module.__name__ and hasattr(value, "py_func"):
                out[f"{name}:{value.__name__}"] = sorted(map(str, value.signatures))
    return out


def test_the_rehearsal_compiles_whatever_a_search_calls():
    """Else the first search after an installation would compile the rest."""
    kept = os.environ.get(NAMED, "")
    rehearsed, searched = (eval(run(code + TOLD, ROOT, kept)) for code in (REHEARSED, SEARCHED))
    called = {name for name, found in searched.items() if found}
    used = {name.partition(":")[0] for name in called}
    assert {"motion/box_tree.py", "motion/gear.py", "shape/slab.py"} <= used
    for name in called:
        assert set(searched[name]) <= set(rehearsed[name]), name


def test_every_file_with_a_loop_is_named():
    """Else loops of an older content would be taken."""
    core = ROOT / "planform/core"
    sources = {path: path.read_text(encoding="utf-8") for path in core.parent.rglob("*.py")}
    found = {
        path.relative_to(core).as_posix()
        for path, text in sources.items()
        if "import compiled\n" in text
    }
    assert found == {name for name in LOOPS if "/" in name}
