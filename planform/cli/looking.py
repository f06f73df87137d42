"""The commands that look at a design: new, check, measure, fit, balance, compare."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import Annotated

import typer

from planform.cli import completing
from planform.cli.arguments import (
    DesignFile,
    Json,
    OneStage,
    PlaceFiles,
    Sheets,
    Spot,
    Stages,
    StanceName,
    Units,
    Workers,
    command,
    design_and_place,
    file_given,
    none_of,
    option_given,
    output_option,
    read_all,
    sheets_of,
    system_of,
)


@command()
def new(
    folder: Annotated[
        Path, typer.Argument(metavar="FOLDER", help="where the two files go; here where not given")
    ] = Path(),
    known: Annotated[
        list[str] | None,
        option_given(
            "--known",
            "ANSWER",
            "an answer, as 'span = 26 ft 8 in', again for another; the rest is taken, and marked",
            completing.first_answers,
        ),
    ] = None,
    starter: Annotated[
        bool, typer.Option("--starter", help="the commented starter, asking nothing")
    ] = False,
    units: Units = None,
) -> None:
    """Write a first design and place: asked for in a terminal, or a commented starter.

    Their schemas for your editor come with them.
    """
    from planform.cli.beginning import write_new

    write_new(folder, known or (), units, starter=starter)


@command()
def check(
    files: Annotated[
        list[Path],
        file_given("FILE", "design, place and carrier files (.toml)", "design", "place", "carrier"),
    ],
    as_json: Json = False,
) -> None:
    """Check design and place files; every mistake of a file is told at once."""
    from planform.cli.checking import check_files

    raise typer.Exit(check_files(files, as_json=as_json))


@command()
def measure(
    design: DesignFile,
    stage: Stages = None,
    stance: StanceName = None,
    units: Units = None,
    as_json: Json = False,
) -> None:
    """Areas, chords, MAC, heights, overall size and footprint."""
    from planform.cli.measuring import show_measures
    from planform.design.load import load

    loaded = load(design)
    system = system_of(units, loaded.units)
    raise typer.Exit(show_measures(loaded, stage or (), stance, system, as_json=as_json))


@command()
def fit(
    design: DesignFile,
    places: PlaceFiles,
    stage: Stages = None,
    stance: StanceName = None,
    spot: Spot = None,
    units: Units = None,
    as_json: Json = False,
) -> None:
    """Does it fit: parked in the room, and out of it.

    With --stage all and several places also the last chance to come out of each.
    """
    from planform.cli.fitting import FitAsked, show_fit, show_stages
    from planform.design.load import load, load_place

    loaded, *shops = read_all(lambda: load(design), *(partial(load_place, path) for path in places))
    system = system_of(units, loaded.units)
    if len(shops) > 1:
        none_of(
            "allowed with one place; in several, each stage stands as it does, on the first spot",
            {"--stance": stance, "--spot": spot},
        )
        raise typer.Exit(show_stages(loaded, shops, stage or (), system, as_json=as_json))
    code = show_fit(loaded, shops[0], FitAsked(stage or (), stance, spot), system, as_json=as_json)
    raise typer.Exit(code)


@command()
def balance(
    design: DesignFile,
    stage: Stages = None,
    output: Annotated[
        Path | None, output_option("write sheet, plots, CSV and JSON into this folder")
    ] = None,
    paper: Sheets = None,
    units: Units = None,
    as_json: Json = False,
) -> None:
    """Weighing, CG as a station and in % MAC, loading cases, limits, tip-back."""
    from planform.cli.balancing import BalanceAsked, show_balance
    from planform.design.load import load

    sheets = sheets_of(paper)
    loaded = load(design)
    asked = BalanceAsked(stage or (), output, sheets)
    code = show_balance(loaded, asked, system_of(units, loaded.units), as_json=as_json)
    raise typer.Exit(code)


@command()
def points(
    design: DesignFile,
    of: Annotated[
        list[str] | None,
        option_given(
            "--of", "PART", "of one part by name, again for another; of all where not given"
        ),
    ] = None,
    stage: OneStage = None,
    stance: StanceName = None,
    output: Annotated[
        Path | None,
        output_option("write pictures, names and an empty table of readings", printed=False),
    ] = None,
    units: Units = None,
    as_json: Json = False,
) -> None:
    """Named points that a tape, a level or a plumb bob can be put to, on pictures with numbers."""
    from planform.cli.pointing import PointsAsked, show_points
    from planform.design.load import load

    loaded = load(design)
    asked = PointsAsked(stage, stance, of or (), output)
    system = system_of(units, loaded.units)
    raise typer.Exit(show_points(loaded, asked, system, as_json=as_json))


Angles = Annotated[
    str | None,
    typer.Option(metavar="ANGLES", help="of every winglet, as '0 deg, 15 deg'"),
]


Lengths = Annotated[
    str | None,
    typer.Option(metavar="LENGTHS", help="of every winglet, as '50 in, 60 in, none'"),
]
Spans = Annotated[
    str | None, typer.Option(metavar="LENGTHS", help="of the wing, as '28 ft, 30 ft'")
]
Fields = Annotated[
    list[str] | None,
    typer.Option(
        metavar="FIELD",
        help="any field of the file, as 'lifting.wing.cuts[4].chord = 24 in, 26 in'; again for "
        "another",
    ),
]
Lift = Annotated[
    str | None,
    typer.Option(
        metavar="COEFFICIENT", help="lift coefficient on the base design's wing area, as 0.4"
    ),
]
Cg = Annotated[
    str | None, typer.Option(metavar="STATION", help="station of the CG, as 'FS 170 in'")
]
Skin = Annotated[
    str | None,
    typer.Option(
        metavar="WEIGHT",
        help="weight of wing and winglets by wetted area, as '0.3 lb/ft2'",
    ),
]
Scheduler = Annotated[
    str | None,
    typer.Option(metavar="ADDRESS", help="of a dask scheduler that shall do the work"),
]


@command()
def compare(
    design: DesignFile,
    place: Annotated[
        Path | None, file_given("PLACE", "place file (.toml), to fit into", "place")
    ] = None,
    cant: Angles = None,
    length: Lengths = None,
    toe: Angles = None,
    sweep: Angles = None,
    span: Spans = None,
    vary: Fields = None,
    stage: OneStage = None,
    stance: StanceName = None,
    lift: Lift = None,
    cg: Cg = None,
    skin: Skin = None,
    output: Annotated[
        Path | None,
        output_option("write page, plots and data here"),
    ] = None,
    workers: Workers = None,
    scheduler: Scheduler = None,
    yes: Annotated[bool, typer.Option("--yes", help="a very large grid is meant")] = False,
    units: Units = None,
    as_json: Json = False,
) -> None:
    """Options side by side: tip height, span, area, trim, drag, bending, fit."""
    from planform.cli.comparing import ComparisonAsked, show_comparison
    from planform.cli.options import count_given, number_given

    loaded, shop = design_and_place(design, place)
    varied = {"cant": cant, "length": length, "toe": toe, "sweep": sweep, "span": span}
    asked = ComparisonAsked(
        varied={name: text for name, text in varied.items() if text is not None},
        fields=tuple(vary or ()),
        stage=stage,
        stance=stance,
        lift=number_given("--lift", lift),
        cg=cg,
        skin=skin,
        workers=count_given("--workers", workers),
        scheduler=scheduler,
        yes=yes,
    )
    system = system_of(units, loaded.units)
    raise typer.Exit(show_comparison(loaded, shop, asked, output, system, as_json=as_json))
