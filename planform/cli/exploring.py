"""The explore command: a page on this machine through which values are moved."""

from __future__ import annotations

import os
import shlex
import signal
import sys
from collections.abc import Callable
from pathlib import Path
from threading import Thread
from typing import Annotated

import typer

from planform.cli.arguments import (
    OneStage,
    Spot,
    StanceName,
    Units,
    command,
    file_given,
    system_of,
)


@command()
def explore(
    design: Annotated[
        Path | None,
        file_given("DESIGN", "design file (.toml); a folder to begin in where not given", "design"),
    ] = None,
    place: Annotated[
        Path | None, file_given("PLACE", "place file (.toml), to stand in", "place")
    ] = None,
    stage: OneStage = None,
    stance: StanceName = None,
    spot: Spot = None,
    units: Units = None,
    address_only: Annotated[
        bool, typer.Option("--address", help="print the address and open no browser")
    ] = False,
) -> None:
    """What if: a page on this machine where values move and answers follow.

    Without a design it begins with some questions, and writes the files of the answers.

    It ends with this terminal, with Ctrl-C, or half a minute after its last page was closed. The
    files stay as they are; what is kept goes into new ones.
    """
    from planform.cli.ending import internal

    def ready(address: str) -> None:
        print(f"the page: {address}", flush=True)
        print("Ctrl-C ends it", flush=True)
        if not address_only:  # a browser may keep who opens it waiting
            Thread(target=_open, args=(address,), daemon=True).start()

    if design is None or design.is_dir():
        words, number = _from_questions(design or Path(), place, units, internal, ready)
    else:
        from planform.explore.asked import Variant
        from planform.explore.serve import Explored, serve

        system = None if units is None else system_of(units, units)
        first = Variant({}, stage, stance, spot)
        explored = Explored(design, place, first, system, _again())
        words, number = serve(explored, internal, ready)
    print(f"ended: {words}")
    raise typer.Exit(0 if number in (0, signal.SIGINT) else 128 + number)


def _from_questions(
    folder: Path,
    place: Path | None,
    units: str | None,
    failed: Callable[[BaseException], str],
    ready: Callable[[str], None],
) -> tuple[str, int]:
    """Begin with the questions of a first evening; the files go into the folder."""
    from planform.design.problems import InputError, Problem
    from planform.explore.beginning import serve_first

    if place is not None:
        allowed = (
            "the questions ask for the place too; name a design file before it, or leave it out"
        )
        raise InputError("explore", [Problem("PLACE", str(place), allowed)])
    system = system_of(units, "ft-in")
    return serve_first(folder, system, "planform explore", failed, ready)  # type: ignore[arg-type]


def _again() -> str:
    """The command as it was given, for a shell."""
    return shlex.join(["planform", *sys.argv[1:]])


def _open(address: str) -> None:
    """Open the address in a browser, or say that none could be."""
    import webbrowser

    try:
        opened = _with_display() and webbrowser.open(address)
    except (webbrowser.Error, OSError):
        opened = False
    if not opened:
        print("no browser could be opened; open this address in yours", file=sys.stderr, flush=True)


def _with_display() -> bool:
    """Whether a browser would have a screen; what runs in a terminal would take this one."""
    named = ("BROWSER", "DISPLAY", "WAYLAND_DISPLAY")
    return not sys.platform.startswith("linux") or any(os.environ.get(name) for name in named)
