"""An answer on its way to a reader: what is said, its record, its files, its exit code."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from planform.report.folder import Content, one_file, put, whole_folder
from planform.report.record import Record
from planform.report.table import Table

if TYPE_CHECKING:
    from planform.report.printed.pieces import Printed

Files = Mapping[str, Content]
"""What an answer writes, by the files' names in its folder."""


@dataclass(frozen=True)
class Headline:
    """What an answer is about, in one line."""

    text: str


Block = str | Headline | Table
"""A piece of what is said: a line, a headline, a table."""


@dataclass(frozen=True, eq=False, kw_only=True)
class Answer:
    """One answer; each capability has its own, which tells what it says, and in which form.

    questions : asked back beside the answer ; taken : what was not given, and taken as something
    """

    kind: ClassVar[str]
    """The answer's name in its JSON."""
    writes: ClassVar[str]
    """Whose files these are, one of `planform.report.swap.NAMES`."""

    tells_taken: ClassVar[bool] = True
    """Whether what was taken is said in a terminal too."""

    questions: tuple[str, ...] = ()
    taken: tuple[str, ...] = ()
    carried: tuple[str, ...] = ()
    """Files in the folder that belong to it and stay."""
    paper: str | None = None
    """What is printed is for 'A4' or 'letter'; where None, for letter if lengths are in inches."""

    @property
    def good(self) -> bool:
        """Whether it fits, is found or is done."""
        return True

    def said(self, system: str) -> Iterator[Block]:
        """What is said in a terminal, in order."""
        raise NotImplementedError

    def in_short(self, system: str) -> Iterator[Block]:
        """What is said where all of it goes into a folder."""
        return self.said(system)

    def record(self, system: str) -> Record:
        """The answer as JSON; system : of the sentences in it."""
        raise NotImplementedError

    def beside(self) -> Record:
        """What stands beside the record where the answer goes to a program."""
        return {"questions": self.questions, "assumed": self.taken}

    def files(self, system: str) -> Files:
        """Its page, pictures and data."""
        raise NotImplementedError

    def document(self, system: str) -> Printed:
        """The answer as a document to print."""
        from planform.report.printed.answers import document_of
        from planform.report.printed.pieces import HeadingText

        said = [HeadingText(b.text) if isinstance(b, Headline) else b for b in self.said(system)]
        notes = {"Questions back to you": self.questions, "Not given, and taken as": self.taken}
        contents = self.files(system).values()
        return document_of(self.kind, said, contents, notes, system, self.paper)


def write(answer: Answer, folder: str | Path, system: str) -> list[str]:
    """Write an answer's files into a folder; returns their names.

    system : one of 'ft-in', 'in', 'mm', 'm'
    Raises InputError where the folder cannot be written; then nothing is left behind.
    """
    return write_files(folder, answer.writes, lambda: answer.files(system), answer.carried)


def write_pdf(answer: Answer, target: str | Path, system: str) -> None:
    """Write an answer as one PDF.

    system : one of 'ft-in', 'in', 'mm', 'm'
    Raises InputError where the file cannot be written; then nothing is left behind.
    """
    from planform.report.printed.document import pdf

    one_file(Path(target), lambda: pdf(answer.document(system)))


def write_files(
    folder: str | Path, answer: str, files: Callable[[], Files], carried: tuple[str, ...] = ()
) -> list[str]:
    """Write files into a folder; returns the names in it.

    files : made once the folder is known to take them
    answer, carried : see `planform.report.folder.whole_folder`
    """
    with whole_folder(Path(folder), answer, carried) as workshop:
        put(workshop, files())
        return [*sorted(path.name for path in workshop.iterdir()), *carried]
