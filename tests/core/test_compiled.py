"""Where the compiled loops are kept: a named folder, the user's, or nowhere; never the package."""

from __future__ import annotations

import logging
import os
import subprocess
import sys
from pathlib import Path

import pytest

from planform.core import compiled
from planform.core.compiled import (
    NAMED,
    PACKED,
    folder,
    packed_folder,
    told_once,
    wanted_folder,
    writable,
)
from planform.core.compiled import compiled as compiling

PACKAGE = Path(compiled.__file__).parents[1]


@pytest.fixture(autouse=True)
def anew(monkeypatch, tmp_path_factory):
    """Nothing packed, nothing looked for yet."""
    empty = tmp_path_factory.mktemp("empty")
    (empty / PACKED).mkdir()
    (empty / PACKED / "__init__.py").write_text("")
    monkeypatch.syspath_prepend(str(empty))
    for found in (folder, packed_folder, told_once):
        found.cache_clear()
    yield
    folder.cache_clear()
    packed_folder.cache_clear()


def test_a_named_folder_is_taken_and_keyed_by_content(tmp_path, monkeypatch):
    monkeypatch.setenv(NAMED, str(tmp_path / "kept"))
    found = folder()
    assert found is not None
    assert found.parent == tmp_path / "kept"
    assert found.is_dir()
    monkeypatch.setattr(compiled, "LOOPS", ("motion/planar.py",))
    folder.cache_clear()
    assert folder() != found  # other loops, another folder


def test_none_keeps_nothing_and_says_nothing(monkeypatch, caplog):
    monkeypatch.setenv(NAMED, "none")
    assert folder() is None
    assert caplog.records == []


def test_the_users_cache_folder_is_outside_the_package(monkeypatch, tmp_path):
    monkeypatch.delenv(NAMED, raising=False)
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    wanted = wanted_folder()
    assert wanted is not None
    assert PACKAGE not in wanted.parents


def test_a_folder_that_cannot_be_written_is_told_once(monkeypatch, caplog, tmp_path):
    blocked = tmp_path / "file"
    blocked.write_text("in the way")
    monkeypatch.setenv(NAMED, str(blocked / "below"))
    with caplog.at_level(logging.WARNING):
        assert folder() is None
        assert folder() is None
    assert [record.getMessage().count("cannot be written") for record in caplog.records] == [1]
    assert os.environ[NAMED] == "none"  # so the processes that this one starts say nothing
    assert not writable(blocked / "below")


def test_loops_run_and_are_kept_where_they_are_said_to_be(tmp_path):
    code = (
        "import numpy as np; from planform.core.motion.planar import turned;"
        "out = np.zeros((1, 2)); turned(np.ones((1, 2)), 0, 1, 0.0, 1.0, 2.0, 3.0, out);"
        "print(out.tolist())"
    )
    before = {path for path in PACKAGE.rglob("*.nb?")}
    for kept, files in ((str(tmp_path / "kept"), True), ("none", False), ("/dev/null/x", False)):
        done = subprocess.run(
            [sys.executable, "-c", code],
            capture_output=True,
            text=True,
            check=True,
            env={"PYTHONPATH": ":".join(sys.path), NAMED: kept},
        )
        assert done.stdout.strip() == "[[3.0, 2.0]]"
        assert ("cannot be written" in done.stderr) == kept.startswith("/dev")
        assert (
            bool(list(tmp_path.rglob("turned*")) or list(tmp_path.rglob("*turned*.nbi")))
            or not files
        )
    assert {path for path in PACKAGE.rglob("*.nb?")} == before


def test_a_broken_or_full_cache_compiles_all_the_same(tmp_path, monkeypatch, caplog):
    monkeypatch.setenv(NAMED, str(tmp_path))

    def anew():
        return compiling(_doubled)

    assert anew()(2.0) == 4.0
    files = [path for path in tmp_path.rglob("*.nb?")]
    assert len(files) == 2
    for broken in files:
        whole = broken.read_bytes()
        broken.write_bytes(whole[: len(whole) // 2])
        assert anew()(2.0) == 4.0
        broken.write_bytes(whole)
    for path in files:
        path.unlink()

    def full(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("numba.core.caching.IndexDataCacheFile.save", full)
    assert anew()(2.0) == 4.0
    assert anew()(2.0) == 4.0
    assert caplog.text.count("cannot be written") == 1


def _doubled(x):
    return 2.0 * x
