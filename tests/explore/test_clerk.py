"""One thread for a page: the newest question only, nothing lost, nothing left behind."""

from __future__ import annotations

import threading

import pytest

from planform.core.halting import look
from planform.explore.asked import PageQuestion, Variant
from planform.explore.clerk import Clerk, Job


def question(ticket):
    return PageQuestion("p", ticket, Variant(), Variant(), frozenset())


class Desk:
    """Makes endless answers, and counts them."""

    def __init__(self):
        self.begun, self.asked = threading.Event(), []

    def work(self, one):
        self.asked.append(one.ticket)
        yield {"step": "first"}
        self.begun.set()
        while one.ticket % 2 == 0:
            look()
        yield {"step": "last"}


class Told:
    """What one question was told."""

    def __init__(self, ticket):
        self.lines, self.over = [], threading.Event()
        self.job = Job(question(ticket), self.take)

    def take(self, line):
        assert not self.over.is_set()  # nothing comes after the end
        if line is None:
            self.over.set()
        else:
            self.lines.append(line)

    def all(self):
        assert self.over.wait(30.0)
        return self.lines


@pytest.fixture
def desk():
    return Desk()


@pytest.fixture
def clerk(desk):
    one = Clerk(desk.work, lambda error: f"failed: {error}")
    yield one
    one.stop()
    one.join(10.0)
    assert not one._thread.is_alive()


def test_a_question_is_answered_in_lines_with_its_ticket(clerk):
    told = Told(1)
    clerk.take(told.job)
    assert told.all() == [{"ticket": 1, "step": "first"}, {"ticket": 1, "step": "last"}]


def test_a_newer_question_ends_the_one_at_work(clerk, desk):
    older, newer = Told(2), Told(3)
    clerk.take(older.job)
    assert desk.begun.wait(30.0)
    clerk.take(newer.job)
    assert older.all()[-1] == {"ticket": 2, "halted": True}
    assert newer.all()[-1] == {"ticket": 3, "step": "last"}


def test_of_a_hundred_at_once_the_newest_is_answered_and_every_one_is_told_its_end(clerk, desk):
    first = Told(2)
    clerk.take(first.job)
    assert desk.begun.wait(30.0)
    every = [Told(k) for k in range(3, 104)]
    for one in every:
        clerk.take(one.job)
    assert every[-1].all()[-1] == {"ticket": 103, "step": "last"}
    for one in [first, *every[:-1]]:
        last = one.all()[-1]
        assert last["ticket"] == one.job.question.ticket
        assert last.get("halted") or last["step"] == "last"
    assert desk.asked == sorted(desk.asked)


def test_a_question_that_comes_late_is_old(clerk):
    newest, late = Told(5), Told(4)
    clerk.take(newest.job)
    clerk.take(late.job)
    assert late.all() == [{"ticket": 4, "halted": True}]
    assert newest.all()[-1]["step"] == "last"


def test_a_failure_is_told_and_the_next_question_is_answered():
    def work(one):
        if one.ticket == 1:
            raise ZeroDivisionError("by nothing")
        yield {"step": "fine"}

    clerk = Clerk(work, lambda error: f"failed: {error}")
    first, second = Told(1), Told(2)
    clerk.take(first.job)
    assert first.all() == [{"ticket": 1, "failed": "failed: by nothing"}]
    clerk.take(second.job)
    assert second.all() == [{"ticket": 2, "step": "fine"}]
    clerk.stop()
    clerk.join(10.0)


def test_a_page_that_goes_away_ends_the_work(clerk, desk):
    told = Told(2)
    clerk.take(told.job)
    assert desk.begun.wait(30.0)
    told.job.halt.ask()
    assert told.all()[-1] == {"ticket": 2, "halted": True}


def test_what_is_asked_after_the_end_is_told_so(clerk):
    clerk.stop()
    told = Told(1)
    clerk.take(told.job)
    assert told.all() == [{"ticket": 1, "halted": True}]
