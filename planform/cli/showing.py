"""The commands that show the aircraft in its room: page and view."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from planform.cli import completing
from planform.cli.arguments import (
    DesignFile,
    OneStage,
    Spot,
    Stages,
    StanceName,
    Units,
    Workers,
    command,
    design_and_place,
    file_given,
    option_given,
    system_of,
)

MaybePlace = Annotated[
    Path | None, file_given("PLACE", "place file (.toml), to show it in", "place")
]


@command()
def page(
    design: DesignFile,
    output: Annotated[
        Path,
        typer.Option("-o", "--output", metavar="FILE", help="file to write, .html"),
    ],
    place: MaybePlace = None,
    stage: Stages = None,
    stance: StanceName = None,
    spot: Spot = None,
    workers: Workers = None,
    units: Units = None,
) -> None:
    """The aircraft and its room in 3D: one page that opens anywhere, without a network."""
    from planform.cli.options import count_given
    from planform.cli.seeing import PageAsked, show_page

    count = count_given("--workers", workers)
    loaded, shop = design_and_place(design, place)
    asked = PageAsked(tuple(stage or ()), stance, spot, count)
    system = system_of(units, loaded.units)
    raise typer.Exit(show_page(loaded, shop, asked, output, system))


@command()
def view(
    design: DesignFile,
    place: MaybePlace = None,
    output: Annotated[
        Path | None,
        typer.Option("-o", "--output", metavar="FOLDER", help="folder to write; else a window"),
    ] = None,
    stage: OneStage = None,
    stance: StanceName = None,
    spot: Spot = None,
    show: Annotated[
        list[str] | None,
        option_given(
            "--show",
            "WHAT",
            "room, heights, stages or way, again for another; all where not given",
            completing.stills,
        ),
    ] = None,
    units: Units = None,
) -> None:
    """Rendered pictures: in the room, how high, stage by stage, the way out; or a window."""
    from planform.cli.viewing import ViewAsked, show_view

    loaded, shop = design_and_place(design, place)
    asked = ViewAsked(stage, stance, spot, tuple(show or ()))
    system = system_of(units, loaded.units)
    raise typer.Exit(show_view(loaded, shop, asked, output, system))
