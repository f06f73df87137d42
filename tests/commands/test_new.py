"""`planform new` as it is used: with answers, in a terminal, and with what cannot be."""

from __future__ import annotations

import os
import pty
import select
import signal
import subprocess
import sys
import time
from contextlib import suppress

import planform as pf
from tests.commands.test_commands import called

MAIN = "from planform.cli.app import main; main()"


def test_answers_on_the_line_make_files_that_build(tmp_path):
    words = ("--known", "span = 26 ft 4 in", "--known", "root chord=60 in", "--units", "in")
    code, out, _ = called("new", tmp_path / "mine", *words)
    assert code == 0
    assert "24 of 26 values are taken, not measured" in out
    design = pf.load(tmp_path / "mine" / "my-design.toml")
    assert design.units == "in"
    assert called("check", *(tmp_path / "mine").glob("my-*.toml"))[0] == 0
    code, out, _ = called("measure", tmp_path / "mine" / "my-design.toml")
    assert code == 0
    assert "316 in" in out
    code, _, err = called("new", tmp_path / "mine", "--known", "span=8 m")
    assert code == 2
    assert "already there and not touched" in err


def test_what_cannot_be_is_told_and_nothing_is_written(tmp_path):
    for words, told in (
        (("--known", "span"), "allowed: a question and its answer"),
        (("--known", "spann=8 m"), "did you mean 'span'"),
        (("--known", "span=8"), "unit"),
        (("--known", "span=8 m", "--known", "span=9 m"), "answered twice"),
        (("--known", "root chord=2 m", "--known", "root_chord=2 m"), "answered twice"),
        (("--known", "span=8 m", "--starter"), "leave one of the two out"),
        (("--known", "span=8 m", "--units", "feet"), "allowed"),
        (("--known", "tip_chord=3 m"), "at most the root chord"),
    ):
        code, _, err = called("new", tmp_path / "mine", *words)
        assert code == 2, words
        assert told in err
        assert not (tmp_path / "mine").exists()


def test_the_starter_comes_without_a_terminal_and_by_its_option(tmp_path):
    for name, words in (("a", ()), ("b", ("--starter",))):
        code, out, _ = called("new", tmp_path / name, *words)
        assert code == 0
        assert "wrote" in out
    first, second = ((tmp_path / n / "my-design.toml").read_bytes() for n in "ab")
    assert first == second


class Terminal:
    """A command at a terminal of its own."""

    def __init__(self, *words, cwd):
        self.near, far = pty.openpty()
        command = [sys.executable, "-c", MAIN, *words]
        self.child = subprocess.Popen(
            command,
            cwd=cwd,
            stdin=far,
            stdout=far,
            stderr=far,
            start_new_session=True,
            preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),
        )
        os.close(far)
        self.seen = ""

    def until(self, words):
        """Read until these words are there; what was read since the last time."""
        start, end = len(self.seen), time.monotonic() + 60.0
        while words not in self.seen[start:]:
            assert time.monotonic() < end, self.seen
            if select.select([self.near], [], [], 1.0)[0]:
                try:
                    self.seen += os.read(self.near, 4096).decode()
                except OSError:  # the other end is closed
                    break
        assert words in self.seen[start:], self.seen
        return self.seen[start:]

    def type(self, text):
        os.write(self.near, text.encode() + b"\n")

    def interrupted(self):
        """Press Ctrl-C until it ends: one that comes right before a read waits for a key."""
        for _ in range(60):
            os.killpg(self.child.pid, signal.SIGINT)
            with suppress(subprocess.TimeoutExpired):
                self.child.wait(1)
                break
        return self.ended()

    def ended(self):
        try:
            return self.child.wait(60)
        finally:
            self.child.kill()
            self.child.wait()
            os.close(self.near)


def test_a_session_in_a_terminal(tmp_path):
    shell = Terminal("new", "mine", cwd=tmp_path)
    shell.until("[ft-in]: ")
    shell.type("mm")
    shell.until("[My aircraft]: ")
    shell.type("Goldcrest")
    shell.until("span of the wing")
    shell.type("8,2 m")  # a comma is asked about, and the question comes again
    assert "8,2" in shell.until("]: ")
    shell.type("8.2 m ± 5 mm")
    shell.until("chord of the wing on the centre line")
    shell.type("?")
    shell.until("a level along the root rib")
    shell.type("1600 mm")
    shell.until("chord of the wing at its tip")
    shell.type("1700 mm")
    shell.until("at most the root chord")
    for _ in range(40):
        shell.type("")
    shell.until("next: planform fit")
    assert shell.ended() == 0
    design = pf.load(tmp_path / "mine" / "my-design.toml")
    assert design.name == "Goldcrest"
    assert float(design.lifting["wing"].cuts[-1].bl) == 4.1
    assert design.lifting["wing"].cuts[0].chord.source == "measured"


def test_a_session_that_is_broken_off_writes_nothing(tmp_path):
    shell = Terminal("new", "mine", cwd=tmp_path)
    shell.until("[ft-in]: ")
    assert shell.interrupted() == 130
    assert not (tmp_path / "mine").exists()
    shell = Terminal("new", "mine", cwd=tmp_path)
    shell.until("[ft-in]: ")
    os.write(shell.near, b"\x04")  # the end of what is typed
    shell.until("nothing was written")
    assert shell.ended() == 2
    assert not (tmp_path / "mine").exists()
