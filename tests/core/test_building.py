"""What an installation packs: a wheel with compiled loops says so, and for whom it is."""

from __future__ import annotations

import base64
import csv
import hashlib
import importlib.util
import os
import re
import subprocess
import sys
import tomllib
import zipfile
from importlib.metadata import metadata, version
from types import SimpleNamespace

import pytest

from planform.core.compiled import PACKED
from planform.core.kept_loops import GENERIC
from tests.conftest import ROOT

SPEC = importlib.util.spec_from_file_location("compiled_loops", ROOT / "building/compiled_loops.py")
assert SPEC is not None
assert SPEC.loader is not None
building = importlib.util.module_from_spec(SPEC)
SPEC.loader.exec_module(building)


@pytest.fixture
def wheel(tmp_path):
    """A wheel for every machine, as setuptools makes it."""
    path = tmp_path / "planform-0.1.0-py3-none-any.whl"
    held = {
        "planform/__init__.py": "",
        "planform-0.1.0.dist-info/WHEEL": "Wheel-Version: 1.0\nRoot-Is-Purelib: true\n"
        "Tag: py3-none-any\n\n",
    }
    lines = [building.recorded(name, text.encode()) for name, text in held.items()]
    record = "planform-0.1.0.dist-info/RECORD"
    with zipfile.ZipFile(path, "w") as made:
        for name, text in held.items():
            made.writestr(name, text)
        made.writestr(record, "\n".join([*lines, f"{record},,"]))
    return path


def test_a_packed_wheel_records_every_file_and_is_for_this_machine(wheel):
    loops = {f"{PACKED}/__init__.py": b"", f"{PACKED}/loops-1/a.nbi": b"index"}
    out = building.packed(wheel, loops)
    assert not wheel.exists()
    assert out.name == f"planform-0.1.0-{building.this_machine()}.whl"
    with zipfile.ZipFile(out) as made:
        held = {name: made.read(name) for name in made.namelist()}
    assert len(held) == len(made.namelist()) == 5
    told = held["planform-0.1.0.dist-info/WHEEL"].decode()
    assert f"\nTag: {building.this_machine()}\n" in told
    assert "Root-Is-Purelib: false" in told
    assert "py3-none-any" not in told
    record = held.pop("planform-0.1.0.dist-info/RECORD").decode()
    rows = {name: (digest, size) for name, digest, size in csv.reader(record.splitlines())}
    assert rows.pop("planform-0.1.0.dist-info/RECORD") == ("", "")
    assert set(rows) == set(held)
    for name, content in held.items():  # PEP 376, PEP 427: URL-safe base64 without padding
        digest = base64.urlsafe_b64encode(hashlib.sha256(content).digest()).decode().rstrip("=")
        assert rows[name] == (f"sha256={digest}", str(len(content)))


def test_the_tag_is_one_that_this_python_installs():
    tags = pytest.importorskip("packaging.tags")
    assert building.this_machine() in map(str, tags.sys_tags())


def test_where_the_loops_cannot_be_compiled_the_wheel_stays_as_it_is(
    wheel, tmp_path, monkeypatch, capsys
):
    before = wheel.read_bytes()
    for ended, told in (
        (SimpleNamespace(returncode=1, stderr=b"a\nImportError: no compiler"), "no compiler"),
        (SimpleNamespace(returncode=0, stderr=b""), "nothing was kept"),
    ):
        monkeypatch.setattr(building.subprocess, "run", lambda *_, ended=ended, **__: ended)
        assert building.with_loops(wheel) == wheel
        assert told in capsys.readouterr().err
    assert wheel.read_bytes() == before


def test_the_loops_are_compiled_for_every_machine_of_the_kind(tmp_path, monkeypatch):
    given = {}

    def ran(words, env, **_):
        given.update(env)
        (tmp_path / PACKED / "a.nbi").write_bytes(b"")
        return SimpleNamespace(returncode=0, stderr=b"")

    monkeypatch.setenv("NUMBA_OPT", "0")
    monkeypatch.setattr(building.subprocess, "run", ran)
    assert building.compile_loops(tmp_path) == ""
    assert (given["NUMBA_CPU_NAME"], given["NUMBA_CPU_FEATURES"]) == GENERIC
    assert "NUMBA_OPT" not in given
    assert given["PLANFORM_CACHE"] == str(tmp_path / PACKED)
    paths = given["PYTHONPATH"].split(os.pathsep)
    assert paths[:2] == [str(tmp_path), str(ROOT)]  # before loops of an earlier installation
    assert (tmp_path / PACKED / "__init__.py").is_file()


def test_the_compilers_are_those_that_the_set_up_command_installs():
    pins = dict(line.split("==") for line in building.compilers())
    assert set(pins) == {"llvmlite", "numba", "numpy"}
    project = tomllib.loads((ROOT / "pyproject.toml").read_text())
    assert project["build-system"]["backend-path"] == ["building"]
    assert building.PACKED == PACKED
    if version("numba") == pins["numba"]:
        kinds = metadata("numba").get_all("Classifier")
        made_for = [re.fullmatch(r"Programming Language :: Python :: 3\.(\d+)", k) for k in kinds]
        assert max(int(found[1]) for found in made_for if found) == building.NEWEST[1]


def test_a_newer_python_asks_for_no_compilers(monkeypatch):
    monkeypatch.setattr(building.sys, "version_info", (3, building.NEWEST[1] + 1))
    assert building.compilers() == []
    monkeypatch.setattr(building.sys, "version_info", (3, building.NEWEST[1]))
    assert len(building.compilers()) == 3


def test_the_hooks_of_the_build_are_whole():
    pytest.importorskip("setuptools.build_meta")
    code = (
        "import backend\n"
        "for kind in ('wheel', 'editable'):\n"
        "    assert callable(getattr(backend, f'build_{kind}'))\n"
        "    assert callable(getattr(backend, f'prepare_metadata_for_build_{kind}'))\n"
        "assert callable(backend.build_sdist)\n"
        "assert backend.build_wheel.__module__ == 'backend'\n"
    )
    subprocess.run([sys.executable, "-c", code], check=True, cwd=ROOT / "building")
