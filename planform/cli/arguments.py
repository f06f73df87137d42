"""The app, and the arguments and options that several commands share."""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from planform.cli import completing
from planform.cli.helping import Command, Commands

if TYPE_CHECKING:
    from planform.design.models import Design
    from planform.design.place import Place

app = typer.Typer(
    cls=Commands,
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    help="Does the aircraft you are building fit your shop, and by how much?",
    epilog="Exit code: 0 fits or done, 1 does not fit or could not be judged, 2 bad input, "
    "3 planform itself failed or could not print its answer, 130 stopped.",
)


def _folder(named: Path | None) -> Path | None:
    """The folder to write into; what cannot take an answer is told before the work."""
    if named is not None:
        from planform.report.folder import checked

        checked(named)
    return named


def _folder_or_pdf(named: Path | None) -> Path | None:
    """The folder to write into, or one PDF."""
    if named is not None and named.suffix.lower() == ".pdf" and not named.is_dir():
        return named
    return _folder(named)


def output_option(words: str, *, printed: bool = True) -> Any:
    """The option that names the folder to write into; printed : or one PDF."""
    if not printed:
        return typer.Option("-o", "--output", metavar="FOLDER", callback=_folder, help=words)
    words = f"{words}; a name that ends in .pdf is one file to print"
    return typer.Option("-o", "--output", metavar="FOLDER", callback=_folder_or_pdf, help=words)


def none_of(allowed: str, options: Mapping[str, object]) -> None:
    """Raise InputError for each option, by its name, that is given where it may not be."""
    from planform.design.problems import InputError, Problem

    given = [
        Problem(name, repr(str(value)), allowed)
        for name, value in options.items()
        if value is not None
    ]
    if given:
        raise InputError("option", given)


def file_given(metavar: str, words: str, *sorts: str) -> Any:
    """An argument that names files of some sorts."""
    return typer.Argument(metavar=metavar, help=words, autocompletion=completing.files(*sorts))


def option_given(
    name: str, takes: str, words: str, offered: Callable[..., list[str]] | None = None
) -> Any:
    """An option with what is written behind it, and what the shell offers there."""
    return typer.Option(name, metavar=takes, help=words, autocompletion=offered)


command = partial(app.command, cls=Command)

DesignFile = Annotated[Path, file_given("DESIGN", "design file (.toml)", "design")]
PlaceFile = Annotated[Path, file_given("PLACE", "place file (.toml)", "place")]
PlaceFiles = Annotated[list[Path], file_given("PLACE", "place file (.toml), or several", "place")]
Units = Annotated[
    str | None,
    option_given(
        "--units",
        "UNITS",
        "ft-in, in, mm or m; the file's own where not given",
        completing.units,
    ),
]
Sheets = Annotated[
    str | None,
    option_given(
        "--paper",
        "PAPER",
        "of what is printed, A4 or letter; letter where lengths are in inches, if not given",
        completing.sheets,
    ),
]
Json = Annotated[bool, typer.Option("--json", help="answer as JSON (SI, units named)")]
Spot = Annotated[
    str | None,
    option_given(
        "--spot", "SPOT", "a spot of the place; its first where not given", completing.spots
    ),
]
Workers = Annotated[
    str | None,
    typer.Option(metavar="COUNT", help="processes on this machine; one a core where not given"),
]
Seconds = Annotated[
    str, option_given("--time", "SECONDS", "how long the search may take, at least 1")
]
ONE = "a build stage by name; the complete aircraft where not given"
SEVERAL = "a build stage by name, again for another, or all; the complete aircraft where not given"
Stages = Annotated[
    list[str] | None, option_given("--stage", "STAGE", SEVERAL, completing.stages_or_all)
]
OneStage = Annotated[str | None, option_given("--stage", "STAGE", ONE, completing.stages)]
StanceName = Annotated[
    str | None,
    option_given(
        "--stance",
        "STANCE",
        "a stance by name; the stage's own where not given",
        completing.stances,
    ),
]


def system_of(units: str | None, own: str) -> str:
    """The system of units to read in: as asked, else the file's own."""
    from planform.design.problems import InputError, Problem
    from planform.design.units import SYSTEMS

    if units is not None and units not in SYSTEMS:
        allowed = f"allowed: {', '.join(SYSTEMS)}"
        raise InputError("option", [Problem("--units", repr(units), allowed)])
    return units or own


def sheets_of(paper: str | None) -> str | None:
    """The paper that is printed on, as asked for."""
    from planform.design.problems import InputError, Problem

    named = {name.lower(): name for name in completing.SHEETS}
    if paper is not None and paper.lower() not in named:
        allowed = f"allowed: {', '.join(completing.SHEETS)}"
        raise InputError("option", [Problem("--paper", repr(paper), allowed)])
    return None if paper is None else named[paper.lower()]


def read_all(*readers: Any) -> list[Any]:
    """Run every reader, so that the mistakes of both files are told together."""
    from planform.design.problems import InputError

    out: list[Any] = []
    errors: list[str] = []
    for reader in readers:
        try:
            out.append(reader())
        except InputError as error:
            errors.append(str(error))
    if errors:
        print("\n".join(errors), file=sys.stderr)
        raise typer.Exit(2)
    return out


def design_and_place(design: Path, place: Path | None) -> tuple[Design, Place | None]:
    """Both files read, the place where one is named; the mistakes of both are told together."""
    from planform.design.load import load, load_place

    if place is None:
        return load(design), None
    loaded, shop = read_all(lambda: load(design), lambda: load_place(place))
    return loaded, shop
