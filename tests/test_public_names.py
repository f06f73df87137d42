"""The facade names what is there, and the example of the README runs."""

from __future__ import annotations

import os
import re
import subprocess
import sys

import planform as pf
from tests.conftest import ROOT


def test_every_public_name_is_there():
    for name in pf.__all__:
        assert getattr(pf, name) is not None
    assert set(dir(pf)) == set(pf.__all__)


def test_bare_import_loads_nothing_heavy():
    code = "import sys, planform.cli.app; print([m for m in sys.modules if m in HEAVY])"
    heavy = {"numpy", "pydantic", "pint", "shapely", "trimesh", "pyvista", "scipy", "jinja2"}
    words = [sys.executable, "-c", f"HEAVY = {heavy!r}\n{code}"]
    done = subprocess.run(words, capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_readme_example_runs(capsys):
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
    assert lines[2].startswith("does not fit propeller chain hoist")


def test_setup_has_exactly_two_commands():
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    section = text.split("## Set-up")[1].split("\n## ")[0]
    assert section.count("```sh") == 2
