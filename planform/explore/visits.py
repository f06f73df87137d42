"""The pages that are open: each with its thread, its answers and its stream of events."""

from __future__ import annotations

import asyncio
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass, field

from planform.explore.answering import Answering
from planform.explore.asked import PageQuestion
from planform.explore.clerk import Clerk, Job, Line
from planform.explore.read import Files

MOST_PAGES = 8
"""Pages whose answers are kept; of more, the one that asked longest ago is forgotten."""

Event = tuple[str, object]
"""The name of an event, and what it tells, as JSON has it."""


@dataclass
class Visit:
    """One page.

    streams : its open streams of events
    """

    clerk: Clerk
    streams: list[asyncio.Queue[Event | None]] = field(default_factory=list)


class Visits:
    """All pages; its methods are called in the server's loop alone."""

    def __init__(self, files: Callable[[], Files], failed: Callable[[BaseException], str]) -> None:
        self._files, self._failed = files, failed
        self._visits: OrderedDict[str, Visit] = OrderedDict()
        self.ever = False

    @property
    def streams(self) -> list[asyncio.Queue[Event | None]]:
        """All open streams of events."""
        return [one for visit in self._visits.values() for one in visit.streams]

    def of(self, page: str) -> Visit:
        """A page, new where it is not known."""
        if page not in self._visits:
            answering = Answering()
            work = lambda question: answering.lines(self._files(), question)  # noqa: E731
            self._visits[page] = Visit(Clerk(work, self._failed))
        self._visits.move_to_end(page)
        for old in [name for name, one in self._visits.items() if not one.streams][:-MOST_PAGES]:
            self._visits.pop(old).clerk.stop()
        return self._visits[page]

    def ask(self, question: PageQuestion) -> tuple[Job, asyncio.Queue[Line | None]]:
        """Have a question answered; its lines come into the queue, None last."""
        loop = asyncio.get_running_loop()
        lines: asyncio.Queue[Line | None] = asyncio.Queue()

        def tell(line: Line | None) -> None:
            if not loop.is_closed():
                loop.call_soon_threadsafe(lines.put_nowait, line)

        job = Job(question, tell)
        self.of(question.page).clerk.take(job)
        return job, lines

    def open(self, page: str) -> asyncio.Queue[Event | None]:
        """A stream of events of a page."""
        stream: asyncio.Queue[Event | None] = asyncio.Queue()
        self.of(page).streams.append(stream)
        self.ever = True
        return stream

    def close(self, page: str, stream: asyncio.Queue[Event | None]) -> None:
        """The end of a stream; a page without one works on nothing."""
        visit = self._visits.get(page)
        if visit is not None and stream in visit.streams:
            visit.streams.remove(stream)

    def tell(self, event: Event | None) -> None:
        """Tell every page; None ends its stream."""
        for stream in self.streams:
            stream.put_nowait(event)

    def stop(self) -> None:
        """End all work."""
        for visit in self._visits.values():
            visit.clerk.stop()

    def join(self, seconds: float) -> None:
        """Wait until the threads are gone."""
        for visit in self._visits.values():
            visit.clerk.join(seconds)
