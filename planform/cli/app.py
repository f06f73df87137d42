"""The commands: read, call one function, show, exit code. Heavy imports wait for their use."""

from __future__ import annotations

from typing import Annotated

import typer

from planform.cli import completing, cutting, exploring, looking, moving, showing, surveying
from planform.cli.arguments import app

COMMANDS = (looking, exploring, moving, cutting, surveying, showing)
"""The modules of the commands, in the order of the help."""


def main() -> None:
    """Run a command; however it ends, one line says so and the exit code is the right one."""
    import gc
    import os

    if completing.VARIABLE in os.environ:
        raise SystemExit(completing.complete(app))

    from planform.cli.ending import run

    gc.set_threshold(100_000)  # commands are short: collecting while modules load only costs time
    raise SystemExit(run(app))


@app.callback(invoke_without_command=True)
def _version(
    version: Annotated[bool, typer.Option("--version", help="print the version")] = False,
    completion: Annotated[
        str | None,
        typer.Option(
            "--completion",
            metavar="SHELL",
            help="print what makes bash, zsh or fish complete commands, files and names",
        ),
    ] = None,
) -> None:
    if version:
        from planform import __version__

        print(f"planform {__version__}")
        raise typer.Exit
    if completion is not None:
        print(completing.script(completion))
        raise typer.Exit
