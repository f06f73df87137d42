"""The facade names what is there, and the example of the README runs."""

from __future__ import annotations

import os
import re
import subprocess
import sys

import pytest

import planform as pf
from planform.fit import way_out
from tests.conftest import ROOT


def test_every_public_name_is_there():
    for name in pf.__all__:
        assert getattr(pf, name) is not None
    assert set(dir(pf)) == set(pf.__all__)
    verbs = [name for name in pf.__all__ if name[0].islower()]
    assert len(verbs) < 40  # a person finds what is wanted in one look


def test_a_name_that_is_not_there_is_told_with_the_nearest():
    with pytest.raises(AttributeError, match="did you mean 'design_measures'"):
        _ = pf.design_meassures


def test_mypy_finds_a_mistyped_name_and_nothing_in_a_right_one(tmp_path):
    text = "import planform as pf\n\nmeasured = pf.design_measures(pf.build(pf.load('a.toml')))\n"
    words = [sys.executable, "-m", "mypy", "--config-file=", "--follow-imports=skip"]
    words += [f"--cache-dir={tmp_path}", str(ROOT / "planform/__init__.pyi")]
    for wrong, code in (("design_measures", 0), ("design_meassures", 1)):
        file = tmp_path / "notebook.py"
        file.write_text(text.replace("design_measures", wrong), encoding="utf-8")
        done = subprocess.run([*words, str(file)], capture_output=True, text=True, check=False)
        assert done.returncode == code, done.stdout + done.stderr
        assert (f'"{wrong}"; maybe "design_measures"?' in done.stdout) == bool(code)


def test_bare_import_loads_nothing_heavy():
    code = "import sys, planform.cli.app; print([m for m in sys.modules if m in HEAVY])"
    heavy = {"numpy", "pydantic", "pint", "shapely", "trimesh", "pyvista", "scipy", "jinja2"}
    words = [sys.executable, "-c", f"HEAVY = {heavy!r}\n{code}"]
    done = subprocess.run(words, capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_readme_example_runs(capsys, monkeypatch):
    monkeypatch.setattr(way_out, "MORE", 1_000)  # how deep it jams is told roughly
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    example = re.search(r"```python\n(.*?)```", text, re.DOTALL).group(1)
    here = os.getcwd()
    os.chdir(ROOT)
    try:
        exec(compile(example, "README", "exec"), {})
    finally:
        os.chdir(here)
    lines = capsys.readouterr().out.splitlines()
    assert lines[0] == "5'-1 5/16\""
    assert len(lines) == 2


def test_setup_has_exactly_two_commands():
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    section = text.split("## Set-up")[1].split("\n## ")[0]
    assert section.count("```sh") == 2
