"""What is told of work that takes long, where no terminal shows it: a line for each change."""

from __future__ import annotations

import sys
from collections.abc import Callable


def told_on_change() -> Callable[[str], None]:
    """What prints words on stderr once for each change of them; on a terminal nothing."""
    last: list[str] = []

    def tell(words: str) -> None:
        if not sys.stderr.isatty() and last != [words]:
            last[:] = [words]
            print(words, file=sys.stderr)

    return tell
