"""The real commands, run as a user runs them."""

from __future__ import annotations

import csv
import io
import json
import os
import subprocess
import sys
from contextlib import redirect_stderr, redirect_stdout
from unittest import mock

import pytest

from planform.cli import ending
from planform.cli.app import app
from planform.report.swap import RECORD
from tests.conftest import DESIGNS

MARRAM, SHED = str(DESIGNS / "marram.toml"), str(DESIGNS / "boatshed.toml")


def run(*words, cwd=None, env=None):
    """Run the installed command; returns code, stdout, stderr."""
    command = [sys.executable, "-c", "from planform.cli.app import main; main()", *map(str, words)]
    done = subprocess.run(
        command,
        cwd=cwd,
        capture_output=True,
        text=True,
        timeout=180,
        env={**os.environ, "PLANFORM_NO_GL": "1", **(env or {})},
        check=False,
    )
    assert "Traceback" not in done.stderr
    return done.returncode, done.stdout, done.stderr


def called(*words):
    """The same command in this process: much quicker, for all that needs no process of its own."""
    out, err = io.StringIO(), io.StringIO()
    with (
        mock.patch.object(sys, "argv", ["planform", *map(str, words)]),
        mock.patch.dict(os.environ, {"PLANFORM_NO_GL": "1"}),
        redirect_stdout(out),
        redirect_stderr(err),
    ):
        code = ending.ended(app)
    assert "internal failure" not in err.getvalue()
    return code, out.getvalue(), err.getvalue()


def names_in(folder):
    """What an answer's folder holds, but for its record."""
    return {path.name for path in folder.iterdir()} - {RECORD}


def test_help_names_every_command():
    code, out, _ = run("--help")
    assert code == 0
    for name in ("new", "check", "measure", "fit", "preview", "sheet", "report"):
        assert name in out


def test_starter_is_good_and_is_not_overwritten(tmp_path):
    code, out, _ = run("new", tmp_path / "mine")
    assert code == 0
    assert "my-design.toml" in out
    files = [tmp_path / "mine" / name for name in ("my-design.toml", "my-place.toml")]
    code, out, err = called("check", *files)
    assert (code, out.count(": good\n")) == (0, 2)
    assert called("fit", *files, "--stage", "outer panels off")[0] == 0
    before = files[0].read_text()
    code, _, err = called("new", tmp_path / "mine")
    assert code == 2
    assert "already there" in err
    assert files[0].read_text() == before


def test_measure_json_is_si_with_units():
    code, out, _ = called("measure", MARRAM, "--json", "--stage", "all")
    answer = json.loads(out)
    assert code == 0
    assert answer["schema"] == "planform answer 1"
    area = answer["measures"]["wing.area"]
    assert area["unit"] == "m2"
    assert area["value"] == pytest.approx(127.64 * 0.09290304, rel=1e-4)
    assert [stage["stage"] for stage in answer["stages"]][-1] == "complete"


def test_measure_table_speaks_both_unit_systems():
    assert "29'" in called("measure", MARRAM)[1]
    assert "8839 mm" in called("measure", MARRAM, "--units", "mm")[1]


def test_unknown_names_get_the_nearest():
    code, _, err = called("measure", MARRAM, "--stage", "complte")
    assert code == 2
    assert "did you mean 'complete'" in err
    code, _, err = called("fit", MARRAM, SHED, "--spot", "building bey")
    assert code == 2
    assert "did you mean 'building bay'" in err
    assert called("measure", MARRAM, "--units", "feet")[0] == 2


def test_design_in_the_place_of_a_place():
    code, _, err = called("fit", MARRAM, MARRAM)
    assert code == 2
    assert "this is a design file; a place file is wanted here" in err


def test_report_writes_everything(quillwort_report):
    names = names_in(quillwort_report)
    wanted = {"report.html", "in-3d.html", "sheet.html", "dimensions.csv", "answer.json"}
    assert wanted | {"airframe.glb", "airframe.stl"} <= names
    assert [path.name for path in quillwort_report.parent.iterdir()] == [quillwort_report.name]
    page = (quillwort_report / "report.html").read_text(encoding="utf-8")
    assert "does not fit" in page
    assert "http" not in page.replace("http://www.w3.org", "")
    answer = json.loads((quillwort_report / "answer.json").read_text(encoding="utf-8"))
    assert [s["verdict"] for s in answer["stages"]] == ["fits", "does not fit", "does not fit"]
    text = (quillwort_report / "dimensions.csv").read_text(encoding="utf-8")
    rows = list(csv.DictReader(text.splitlines()))
    stood = "complete, kneeling"
    tip = next(r for r in rows if (r["what"], r["stage and stance"]) == ("tip height", stood))
    assert float(tip["value"]) == pytest.approx(2.245, abs=0.01)


def test_solids_read_back(tmp_path):
    import trimesh

    assert called("preview", MARRAM, "-o", tmp_path)[0] == 0
    scene = trimesh.load_scene(tmp_path / "airframe.glb")
    solid = trimesh.load_mesh(tmp_path / "airframe.stl")
    names = {f"airframe.{end}" for end in ("3mf", "glb", "obj", "step", "stl")}
    assert names <= names_in(tmp_path)
    assert {"right wing", "hull"} <= set(scene.geometry)
    spread = solid.extents / 25.4
    assert spread[1] == pytest.approx(374.2, abs=0.3)


def test_output_that_is_a_file_or_cannot_be_written(tmp_path):
    (tmp_path / "file").write_text("mine")
    code, _, err = called("sheet", MARRAM, "-o", tmp_path / "file")
    assert code == 2
    assert "name a folder" in err
    assert (tmp_path / "file").read_text() == "mine"
    code, _, err = called("sheet", MARRAM, "-o", "/proc/planform")
    assert code == 2
    assert "cannot be written" in err


def test_what_cannot_be_built_is_told_with_its_file(tmp_path):
    """As `check` tells it, also where it is in an included file."""
    own, part = tmp_path / "own.toml", tmp_path / "part.toml"
    text = (DESIGNS / "quillwort.toml").read_text(encoding="utf-8")
    own.write_text('include = ["part.toml"]\n' + text, encoding="utf-8")
    part.write_text(
        '[bulkheads.frame]\non = "pod"\nfs = "9000 mm"\nthickness = "5 mm"\n', encoding="utf-8"
    )
    told = set()
    for command in ("check", "measure", "balance"):
        code, _, err = called(command, own)
        assert code == 2
        told.add(err)
    (same,) = told
    assert same.startswith(f"{own}: 1 problem")
    assert "bulkheads.frame.fs (in part.toml): given '9000 mm'" in same


def test_bad_input_writes_nothing(tmp_path):
    bad = tmp_path / "bad.toml"
    bad.write_text('format = "planform design 1"\n')
    code, _, err = called("report", bad, SHED, "-o", tmp_path / "out")
    assert code == 2
    assert "needed" in err
    assert not (tmp_path / "out").exists()
