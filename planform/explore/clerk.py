"""One thread that answers one page: the newest question only, older ones end at once."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from threading import Condition, Thread

from planform.core.halting import Halt, Halted, under
from planform.explore.asked import PageQuestion

Line = dict[str, object]
"""One line of an answer, as JSON has it."""

Work = Callable[[PageQuestion], Iterator[Line]]


class Job:
    """A question on its way: lines go out by `tell`, None last."""

    def __init__(self, question: PageQuestion, tell: Callable[[Line | None], None]) -> None:
        self.question = question
        self.halt = Halt()
        self._tell = tell

    def tell(self, line: Line | None) -> None:
        """One line more, None at the end."""
        self._tell(line if line is None else {"ticket": self.question.ticket, **line})

    def end_halted(self) -> None:
        """Tell that a newer question ended this one."""
        self.tell({"halted": True})
        self.tell(None)


class Clerk:
    """Works on the newest question of a page.

    work : makes the lines of an answer ; failed : what is said of a failure of planform itself
    """

    def __init__(self, work: Work, failed: Callable[[BaseException], str]) -> None:
        self._work, self._failed = work, failed
        self._changed = Condition()
        self._next: Job | None = None
        self._now: Job | None = None
        self._newest = -1
        self._over = False
        self._thread = Thread(target=self._run, name="explore", daemon=True)
        self._thread.start()

    def take(self, job: Job) -> None:
        """Have a question answered; what it makes old is told so."""
        with self._changed:
            late = self._over or job.question.ticket <= self._newest
            older = job if late else self._next
            if not late:
                self._newest, self._next = job.question.ticket, job
                if self._now is not None:
                    self._now.halt.ask()
                self._changed.notify()
        if older is not None:
            older.end_halted()

    def stop(self) -> None:
        """End the work and the thread; nothing is answered after it."""
        with self._changed:
            self._over = True
            waiting, self._next = self._next, None
            if self._now is not None:
                self._now.halt.ask()
            self._changed.notify()
        if waiting is not None:
            waiting.end_halted()

    def join(self, seconds: float) -> None:
        """Wait until the thread is gone."""
        self._thread.join(seconds)

    def _run(self) -> None:
        while True:
            with self._changed:
                self._now = None
                while self._next is None and not self._over:
                    self._changed.wait()
                if self._over:
                    return
                job = self._now = self._next
                self._next = None
            assert job is not None
            self._answer(job)

    def _answer(self, job: Job) -> None:
        try:
            lines = self._work(job.question)
            while True:
                with under(job.halt):
                    line = next(lines, None)
                if line is None:
                    break
                if job.halt.asked:
                    raise Halted
                job.tell(line)
        except Halted:
            job.tell({"halted": True})
        except Exception as error:
            job.tell({"failed": self._failed(error)})
        job.tell(None)
