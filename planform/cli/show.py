"""An answer in the terminal: its lines and tables, or its JSON, and its files."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Protocol

from planform.cli.terminal import to_lines
from planform.report.answer import Answer, Block, Headline, write, write_pdf
from planform.report.record import document
from planform.report.table import Table

if TYPE_CHECKING:
    from rich.console import Console

PIPED_WIDTH = 130
"""Columns of a table that goes to a file or another program."""


def show(answer: Answer, folder: Path | None, system: str, *, as_json: bool = False) -> int:
    """Print an answer, and write it where a folder is named; 0 where it is good, else 1.

    What is written, taken and asked back is told beside it.
    """
    if folder is None:
        written = []
    elif printed(folder):
        write_pdf(answer, folder, system)
        written = [folder.name]
    else:
        written = write(answer, folder, system)
    if as_json:
        print(document(answer.kind, {**answer.record(system), **answer.beside()}))
    else:
        for block in answer.said(system) if folder is None else answer.in_short(system):
            say(block, system)
    if written:
        told = f"wrote {', '.join(written)} to {folder}"
        if folder is not None and written == [folder.name] and not folder.is_dir():
            told = f"wrote {folder}"
        print(told, file=sys.stderr if as_json else sys.stdout)
    if not as_json:
        for line in answer.taken if answer.tells_taken else ():
            print(f"taken: {line}")
        ask(*answer.questions)
    return 0 if answer.good else 1


def printed(target: Path) -> bool:
    """Whether what is named is one PDF and no folder."""
    return target.suffix.lower() == ".pdf" and not target.is_dir()


def say(block: Block, system: str) -> None:
    """Print one piece of an answer."""
    if isinstance(block, Headline):
        console().print(block.text, style="bold")
    elif isinstance(block, Table):
        _table(block, system)
    else:
        print(block)


def _table(table: Table, system: str) -> None:
    """A table as wide as the screen lets it be, its title in bold, its remarks under it."""
    screen = console()
    title, *lines = to_lines(table, screen.width, system)
    screen.print(title, style="bold", soft_wrap=True)
    for line in lines:
        screen.print(line, soft_wrap=True)
    screen.print()
    for remark in table.remarks:
        screen.print(f"  {remark}", soft_wrap=True)
    if table.remarks:
        screen.print()


def ask(*questions: str) -> None:
    """Ask questions back, beside the answer."""
    for question in questions:
        print(f"question: {question}", file=sys.stderr)


def console(*, stderr: bool = False) -> Console:
    """Where answers go; every text is shown as it is, brackets and colons too."""
    from rich.console import Console

    console = Console(stderr=stderr, highlight=False, markup=False, emoji=False)
    if not console.is_terminal:
        console.width = PIPED_WIDTH
    return console


class Stepping(Protocol):
    """Told words, and how far it is or one step more."""

    def __call__(self, words: str, done: int | None = None) -> None:
        """One step."""


@contextmanager
def progress_bar(total: int) -> Iterator[Stepping]:
    """A bar on a terminal."""
    from rich.progress import BarColumn, Progress, TextColumn, TimeElapsedColumn

    words = TextColumn("{task.description:<44}", markup=False)
    columns = (words, BarColumn(), TimeElapsedColumn())
    screen = console(stderr=True)
    if not screen.is_terminal:
        yield lambda words, done=None: None
        return
    with Progress(*columns, transient=True, console=screen) as bar:
        task = bar.add_task("reading", total=total)

        def step(words: str, done: int | None = None) -> None:
            if done is None:
                bar.update(task, description=words, advance=1)
            else:
                bar.update(task, description=words, completed=done)

        yield step
