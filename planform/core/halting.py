"""Work that can be ended from outside: a halt that long work looks at between its steps.

Work is done `under` a halt, which may be in work under another; deep inside, `look` raises `Halted`
once one of them was asked for. Where nothing was said, nothing halts.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar


class Halted(Exception):
    """The work was ended from outside; nothing of what it was making is to be used."""


class Halt:
    """Asked for from any thread, once; the work under it then ends at its next look."""

    def __init__(self) -> None:
        self.asked = False

    def ask(self) -> None:
        """End the work under this halt."""
        self.asked = True


_now: ContextVar[tuple[Halt, ...]] = ContextVar("halt", default=())


@contextmanager
def under(halt: Halt | None) -> Iterator[None]:
    """Have what is done inside end when the halt is asked for."""
    before = _now.set(_now.get() if halt is None else (*_now.get(), halt))
    try:
        look()
        yield
    finally:
        _now.reset(before)


def look() -> None:
    """Raise Halted where the work was asked to end."""
    for halt in _now.get():
        if halt.asked:
            raise Halted
