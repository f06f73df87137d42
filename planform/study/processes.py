"""Processes that work for this one, and end with it."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

from planform.design.problems import Failure

if TYPE_CHECKING:
    from concurrent.futures import ProcessPoolExecutor


def bound_to_parent() -> None:
    """In a worker: end when the parent ends, however it ends; Ctrl-C is the parent's to answer."""
    import signal
    from multiprocessing import parent_process
    from threading import Thread

    def watch() -> None:
        parent = parent_process()
        if parent is not None:
            parent.join()
            os._exit(1)

    signal.signal(signal.SIGINT, signal.SIG_IGN)
    Thread(target=watch, daemon=True).start()


@contextmanager
def processes(
    count: int, what: str, instead: str, ready: Callable[..., None] = bound_to_parent, *words: Any
) -> Iterator[ProcessPoolExecutor]:
    """So many processes; what they still do when this is left is of no use, and ends at once.

    what, instead : what they do and what to try without them, for the Failure where one is stopped
        from outside
    ready : what each calls first, with these words
    """
    from concurrent.futures.process import BrokenProcessPool, ProcessPoolExecutor
    from multiprocessing import active_children, get_context

    before = set(active_children())
    pool = ProcessPoolExecutor(count, get_context("spawn"), ready, words)
    try:
        yield pool
    except BrokenProcessPool:
        raise Failure(
            f"a process that {what} was stopped, by another program or for want of memory; "
            f"{instead}"
        ) from None
    finally:
        pool.shutdown(wait=False, cancel_futures=True)
        for child in set(active_children()) - before:
            child.terminate()
