"""A long search in the terminal: shown on one line, ended by its time or by Ctrl-C."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import AbstractContextManager, nullcontext
from time import monotonic
from typing import TYPE_CHECKING

from planform.cli.show import console

if TYPE_CHECKING:
    from rich.status import Status


def watching(seconds: float) -> AbstractContextManager[Callable[[str, int, float], bool]]:
    """A watch with a bar on a terminal; each search ends with the time, and with Ctrl-C."""
    return _Watch(seconds) if seconds > 0.0 else nullcontext(lambda step, boxes, gone: True)


class _Watch:
    """Shows what is searched, and ends it; an interrupt ends the search, not the command."""

    def __init__(self, seconds: float) -> None:
        self.until = monotonic() + seconds
        self.console = console(stderr=True)
        self.stopped = False
        self.status: Status | None = None

    def __enter__(self) -> Callable[[str, int, float], bool]:
        import signal

        def stop(*_: object) -> None:
            self.stopped = True

        self.before = signal.signal(signal.SIGINT, stop)
        if self.console.is_terminal:
            self.status = self.console.status("searching for the way out")
            self.status.start()
        return self.told

    def told(self, step: str, boxes: int, gone: float) -> bool:
        """Whether to go on."""
        if self.status is not None:
            left = max(0.0, self.until - monotonic())
            self.status.update(f"{step}: {boxes} looked at, {left:.0f} s to go; Ctrl-C ends it")
        return not self.stopped and monotonic() < self.until

    def __exit__(self, *_: object) -> None:
        import signal

        signal.signal(signal.SIGINT, self.before)
        if self.status is not None:
            self.status.stop()
        if self.stopped:
            self.console.print("stopped: what had been found until then follows")
