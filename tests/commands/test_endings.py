"""However a command ends: one line on stderr where it went wrong, and the exit code of what it was.

Run as a user runs them, in real processes: full devices, closed pipes, terminals of other letters,
interrupts, kills.
"""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys

import pytest

from planform.cli import ending
from planform.report.folder import whole_folder
from tests.commands.test_commands import MARRAM, run
from tests.conftest import DESIGNS
from tests.processes import below, running, waited

MAIN = "from planform.cli.app import main; main()"
QUILLWORT = str(DESIGNS / "quillwort.toml")
QUICK = [("--help",), ("check", QUILLWORT), ("measure", QUILLWORT, "--json")]


def begun(*words, code=MAIN, **more):
    return subprocess.Popen(
        [sys.executable, "-c", code, *map(str, words)],
        stderr=subprocess.PIPE,
        env={**os.environ, "PLANFORM_NO_GL": "1", **more.pop("env", {})},
        **more,
    )


def lines_of(child):
    return child.communicate(timeout=60)[1].decode().splitlines()


@pytest.mark.parametrize("words", QUICK)
def test_a_full_device_is_no_answer(words):
    with open("/dev/full", "w") as full:
        child = begun(*words, stdout=full)
        told = [line for line in lines_of(child) if not line.startswith("question")]
    assert told == ["planform: the answer could not be printed: No space left on device"]
    assert child.returncode == 3


@pytest.mark.parametrize("words", QUICK)
def test_a_reader_that_closes_changes_no_verdict(words):
    read, write = os.pipe()
    os.close(read)
    child = begun(*words, stdout=write)
    os.close(write)
    told = [line for line in lines_of(child) if not line.startswith("question")]
    assert told == [
        "note: the reader closed the output; the rest of the answer was not printed"
    ]  # fmt: skip
    assert child.returncode == 0


def test_a_terminal_without_utf_8_reads_the_same(tmp_path):
    plain = {"PYTHONIOENCODING": "ascii"}
    design = tmp_path / "d.toml"
    text = (DESIGNS / "quillwort.toml").read_text()
    design.write_text(text.replace('name = "Quillwort 2"', 'name = "Möwe ½ 鶴"'))
    code, out, _ = run("measure", design, env=plain)
    assert (code, out.isascii()) == (0, True)
    assert "Mowe 1/2 ?" in out
    assert "+/- " in out
    _, out, _ = run("measure", design, "--json", env=plain)
    assert out.isascii()
    assert json.loads(out) == json.loads(run("measure", design, "--json")[1])


def test_closed_outputs_change_no_verdict():
    command = f'exec {sys.executable} -c "{MAIN}" check {QUILLWORT}'
    for closed in (">&-", "2>&- >/dev/null"):
        assert subprocess.run(["bash", "-c", f"{command} {closed}"], check=False).returncode == 0


BROKEN = """
import planform.design.load
def load(path):
    {what}
planform.design.load.load = load
"""


@pytest.mark.parametrize(
    ("what", "code", "told"),
    [
        ("return 1 / 0", 3, "planform: internal failure, no answer about your files (Zero"),
        ("raise KeyError('a\\nb')", 3, "Please report this line, version 0.1.0, the command"),
        ("raise MemoryError", 3, "(MemoryError, "),
        ("raise KeyboardInterrupt", 130, "planform: stopped before it was done"),
        ("raise OSError(32, 'Broken pipe')", 3, "Broken pipe"),
    ],
)
def test_what_no_file_can_mend_never_looks_like_a_verdict(what, code, told):
    child = begun("measure", MARRAM, code=BROKEN.format(what=what) + MAIN, stdout=subprocess.PIPE)
    out, err = child.communicate(timeout=60)
    assert (child.returncode, out) == (code, b"")
    assert err.decode().count("\n") == 1
    assert told in err.decode()


def test_a_failure_in_a_worker_is_told_by_the_parent(tmp_path):
    (tmp_path / "sitecustomize.py").write_text(
        "import planform.study.run\nplanform.study.run.evaluate = None\n"
    )
    code, out, err = run(
        "compare", QUILLWORT, "--cant", "0 deg, 5 deg", "--workers", "2",
        env={"PYTHONPATH": os.pathsep.join([str(tmp_path), *sys.path])},
    )  # fmt: skip
    assert (code, out) == (3, "")
    assert "internal failure" in err
    assert err.count("\n") == 1


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_a_signal_leaves_nothing_and_says_so(tmp_path, number):
    child = begun("report", QUILLWORT, DESIGNS / "garden-shed.toml", "-o", tmp_path / "a" / "out")
    waited(lambda: list(tmp_path.glob("a/.planform*")))
    child.send_signal(number)
    told = [line for line in lines_of(child) if line.strip()]
    assert child.returncode == 128 + number
    assert len(told) == 1
    assert "before it was done" in told[0]
    assert list(tmp_path.iterdir()) == []


def test_the_renderer_ends_with_a_killed_report(tmp_path):
    slow = (
        "import planform.drawing.pictures as p, time\n"
        "p.Run.finish = lambda self: time.sleep(60)\n"
        "import planform_viewer.stills\n"
    )
    hanging = tmp_path / "fake" / "planform_viewer"
    hanging.mkdir(parents=True)
    (hanging / "__init__.py").touch()
    real = (DESIGNS.parent / "viewer/planform_viewer/__main__.py").read_text()
    (hanging / "stills.py").write_text("import time\ndef write_stills(*_):\n    time.sleep(60)\n")
    (hanging / "__main__.py").write_text(real)
    paths = os.pathsep.join([str(hanging.parent), *sys.path])
    child = begun(
        "preview", QUILLWORT, "-o", tmp_path / "out", code=slow + MAIN,
        env={"PYTHONPATH": paths, "PLANFORM_NO_GL": ""}, stdout=subprocess.DEVNULL,
    )  # fmt: skip
    children = waited(lambda: below(child.pid))
    child.kill()
    child.wait()
    child.stderr.close()
    waited(lambda: not any(running(pid) for pid in children), 10.0)
    assert not (tmp_path / "out").exists()
    with whole_folder(tmp_path / "out", "preview"):
        pass
    assert {path.name for path in tmp_path.iterdir()} == {"fake", "out"}


def test_a_folder_that_cannot_be_swapped_is_told_before_the_search(tmp_path):
    barn = DESIGNS / "barn.toml"
    code, out, err = run("rollout", QUILLWORT, barn, "--time", "90", "-o", tmp_path, cwd=tmp_path)
    assert (code, out) == (2, "")
    assert "name one inside it" in err
    assert list(tmp_path.iterdir()) == []


def test_letters_for_those_that_an_output_does_not_take():
    text = "3½° ± 1′ “×” ─ é 鶴"
    assert text.encode("ascii", "planform.plain") == b'31/2 deg +/- 1\' "x" - e ?'
    assert json.loads(f'"{text}"') == json.loads(
        b'"' + text.encode("ascii", "planform.json") + b'"'
    )
    with pytest.raises(UnicodeDecodeError):
        b"\xff".decode("ascii", "planform.plain")
    assert ending.FAILED not in (0, 1, ending.BAD_INPUT)
