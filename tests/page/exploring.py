"""A running `planform explore` for the tests, with the page that it serves in a browser."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from tests.conftest import ROOT
from tests.fuzz.changes import written

COMMAND = (sys.executable, "-c", "from planform.cli.app import main; main()", "explore")
LONG = 60_000
"""How long a test waits for the page at the most [ms]; no test measures time."""


class Served:
    """A server with its files, its address and its process."""

    def __init__(self, folder: Path, design: dict[str, Any], place: dict[str, Any]) -> None:
        self.folder = folder
        self.design, self.place = folder / "plain.toml", folder / "box.toml"
        self.write(design, place)
        words = (*COMMAND, str(self.design), str(self.place), "--address")
        env = {**os.environ, "PYTHONPATH": str(ROOT)}
        self.process = subprocess.Popen(
            words, env=env, stdout=subprocess.PIPE, text=True, encoding="utf-8"
        )
        assert self.process.stdout is not None
        found = re.search(r"http://\S+", self.process.stdout.readline())
        assert found is not None
        self.address = found[0]

    def write(self, design: dict[str, Any], place: dict[str, Any] | None = None) -> None:
        """Writes the files as an editor would."""
        for path, table in ((self.design, design), (self.place, place)):
            if table is not None:
                path.write_text(written(table), encoding="utf-8")

    def kill(self) -> None:
        """The server is gone without a word."""
        self.process.send_signal(signal.SIGKILL)
        self.process.wait()

    def end(self) -> None:
        """Ends the server, where it did not end by itself."""
        self.process.terminate()
        self.process.communicate(timeout=20)


@contextmanager
def serving(folder: Path, design: dict[str, Any], place: dict[str, Any]) -> Iterator[Served]:
    """A server of two files, ended after."""
    served = Served(folder, design, place)
    try:
        yield served
    finally:
        served.end()


def opened(page: Any, address: str) -> Any:
    """The page at an address, once its first answer is whole; what goes wrong in it is kept."""
    page.wrong = []
    page.on("pageerror", lambda error: page.wrong.append(str(error)))
    page.on("dialog", lambda dialog: page.wrong.append(dialog.message) or dialog.dismiss())
    page.set_default_timeout(LONG)
    page.goto(address)
    answered(page)
    return page


def answered(page: Any) -> None:
    """Waits until all of the newest answer is there."""
    page.wait_for_selector('body[data-answer="whole"]')


def strip(page: Any, key: str) -> str:
    """What the strip tells of now."""
    return page.locator(f'#live tr[data-key="{key}"] td[data-of="now"]').inner_text()


def field(page: Any, path: str) -> Any:
    """A value at hand, by its path."""
    return page.locator(f".hand [data-path='{path}']")
