"""Files changed at random never break `check`, and what it calls good breaks no command.

A small share of the long run, `python -m tests.fuzz`, with seeds that are always the same.
"""

from __future__ import annotations

from tests.fuzz.drive import trial

FOUND = (73, 171)
"""Seeds that once showed a fault."""
CHECKED = 25
COMMANDED = ("measure", "balance", "sheet", "carry", "haul")


def test_changed_files_are_read_or_refused_in_words():
    seeds = (*FOUND, *range(1_000, 1_000 + CHECKED))
    faults = [fault for seed in seeds for fault in trial(seed, (), 0.0)]
    assert not [fault for fault in faults if fault.kind != "slow"]


def test_good_files_go_through_the_commands():
    faults = [fault for seed in range(10) for fault in trial(3_000 + seed, COMMANDED, 1.0)]
    assert not [fault for fault in faults if fault.kind != "slow"]
