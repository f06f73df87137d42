"""The commands: read, call one function, print, exit code. Heavy imports wait for their use."""

from __future__ import annotations

import sys
from functools import partial
from pathlib import Path
from typing import Annotated, Any

import typer

from planform.cli import completing
from planform.cli.helping import Command, Commands

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


def _output(words: str) -> Any:
    """The option that names the folder to write into."""
    return typer.Option("-o", "--output", metavar="FOLDER", callback=_folder, help=words)


def _file(metavar: str, words: str, *sorts: str) -> Any:
    """An argument that names files of some sorts."""
    return typer.Argument(metavar=metavar, help=words, autocompletion=completing.files(*sorts))


_command = partial(app.command, cls=Command)

DesignFile = Annotated[Path, _file("DESIGN", "design file (.toml)", "design")]
PlaceFile = Annotated[Path, _file("PLACE", "place file (.toml)", "place")]
PlaceFiles = Annotated[list[Path], _file("PLACE", "place file (.toml), or several", "place")]
Units = Annotated[
    str | None,
    typer.Option(
        "--units",
        metavar="UNITS",
        autocompletion=completing.units,
        help="ft-in, in, mm or m; the file's own where not given",
    ),
]
Json = Annotated[bool, typer.Option("--json", help="answer as JSON (SI, units named)")]
Spot = Annotated[
    str | None,
    typer.Option(
        "--spot",
        metavar="SPOT",
        autocompletion=completing.spots,
        help="a spot of the place; its first where not given",
    ),
]
Seconds = Annotated[
    str,
    typer.Option("--time", metavar="SECONDS", help="how long the search may take, at least 1"),
]
Stages = Annotated[
    list[str] | None,
    typer.Option(
        "--stage",
        metavar="STAGE",
        autocompletion=completing.stages_or_all,
        help="a build stage by name, again for another, or all; the complete aircraft where not "
        "given",
    ),
]
OneStage = Annotated[
    str | None,
    typer.Option(
        "--stage",
        metavar="STAGE",
        autocompletion=completing.stages,
        help="a build stage by name; the complete aircraft where not given",
    ),
]
StanceName = Annotated[
    str | None,
    typer.Option(
        "--stance",
        metavar="STANCE",
        autocompletion=completing.stances,
        help="a stance by name; the stage's own where not given",
    ),
]


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


def _system(units: str | None, own: str) -> str:
    from planform.design.problems import InputError, Problem
    from planform.design.units import SYSTEMS

    if units is not None and units not in SYSTEMS:
        allowed = f"allowed: {', '.join(SYSTEMS)}"
        raise InputError("option", [Problem("--units", repr(units), allowed)])
    return units or own


@_command()
def new(
    folder: Annotated[
        Path, typer.Argument(metavar="FOLDER", help="where the two files go; here where not given")
    ] = Path(),
) -> None:
    """Write a commented starter design and place, and their schemas for your editor."""
    from planform.design.starter import FILES, starter
    from planform.report.folder import written

    for path in written(folder, starter(), FILES):
        print(f"wrote {path}")
    print("next: planform report my-design.toml my-place.toml -o my-report")


@_command()
def check(
    files: Annotated[
        list[Path],
        _file("FILE", "design, place and carrier files (.toml)", "design", "place", "carrier"),
    ],
    as_json: Json = False,
) -> None:
    """Check design and place files; every mistake of a file is told at once."""
    from planform.cli.checking import check_files

    raise typer.Exit(check_files(files, as_json=as_json))


@_command()
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
    system = _system(units, loaded.units)
    raise typer.Exit(show_measures(loaded, stage or (), stance, system, as_json=as_json))


@_command()
def fit(
    design: DesignFile,
    places: PlaceFiles,
    stage: Stages = None,
    stance: StanceName = None,
    spot: Spot = None,
    units: Units = None,
    as_json: Json = False,
) -> None:
    """Does it fit: parked in the room, and straight out of the door.

    With --stage all and several places also the last chance to come out of each.
    """
    from planform.cli.fitting import show_fit, show_stages
    from planform.design.load import load, load_place

    loaded, *shops = _both(lambda: load(design), *(partial(load_place, path) for path in places))
    system = _system(units, loaded.units)
    if len(shops) > 1:
        _one_place_only(stance=stance, spot=spot)
        raise typer.Exit(show_stages(loaded, shops, stage or (), system, as_json=as_json))
    code = show_fit(loaded, shops[0], stage or (), stance, spot, system, as_json=as_json)
    raise typer.Exit(code)


def _one_place_only(**options: str | None) -> None:
    from planform.design.problems import InputError, Problem

    allowed = "allowed with one place; in several, each stage stands as it does, on the first spot"
    given = [Problem(f"--{name}", repr(v), allowed) for name, v in options.items() if v is not None]
    if given:
        raise InputError("option", given)


def _both(*readers: Any) -> list[Any]:
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


@_command()
def balance(
    design: DesignFile,
    stage: Stages = None,
    output: Annotated[
        Path | None, _output("write sheet, plots, CSV and JSON into this folder")
    ] = None,
    units: Units = None,
    as_json: Json = False,
) -> None:
    """Weighing, CG as a station and in % MAC, loading cases, limits, tip-back."""
    from planform.cli.balancing import show_balance
    from planform.design.load import load

    loaded = load(design)
    code = show_balance(loaded, stage or (), output, _system(units, loaded.units), as_json=as_json)
    raise typer.Exit(code)


Angles = Annotated[
    str | None,
    typer.Option(metavar="ANGLES", help="of every winglet, as '0 deg, 15 deg'"),
]


@_command()
def compare(
    design: DesignFile,
    place: Annotated[
        Path | None, _file("PLACE", "place file (.toml), to fit into", "place")
    ] = None,
    cant: Angles = None,
    length: Annotated[
        str | None,
        typer.Option(metavar="LENGTHS", help="of every winglet, as '50 in, 60 in, none'"),
    ] = None,
    toe: Angles = None,
    sweep: Angles = None,
    span: Annotated[
        str | None, typer.Option(metavar="LENGTHS", help="of the wing, as '28 ft, 30 ft'")
    ] = None,
    vary: Annotated[
        list[str] | None,
        typer.Option(
            metavar="FIELD",
            help="any field of the file, as 'lifting.wing.cuts[4].chord = 24 in, 26 in'; again for "
            "another",
        ),
    ] = None,
    stage: OneStage = None,
    stance: StanceName = None,
    lift: Annotated[
        str | None,
        typer.Option(
            metavar="COEFFICIENT", help="lift coefficient on the base design's wing area, as 0.4"
        ),
    ] = None,
    cg: Annotated[
        str | None, typer.Option(metavar="STATION", help="station of the CG, as 'FS 170 in'")
    ] = None,
    skin: Annotated[
        str | None,
        typer.Option(
            metavar="WEIGHT",
            help="weight of wing and winglets by wetted area, as '0.3 lb/ft2'",
        ),
    ] = None,
    output: Annotated[
        Path | None,
        _output("write page, plots and data here"),
    ] = None,
    workers: Annotated[
        str | None,
        typer.Option(metavar="COUNT", help="processes on this machine; one a core where not given"),
    ] = None,
    scheduler: Annotated[
        str | None,
        typer.Option(metavar="ADDRESS", help="of a dask scheduler that shall do the work"),
    ] = None,
    yes: Annotated[bool, typer.Option("--yes", help="a very large grid is meant")] = False,
    units: Units = None,
    as_json: Json = False,
) -> None:
    """Options side by side: tip height, span, area, trim, drag, bending, fit."""
    from planform.cli.comparing import Asked, show_comparison
    from planform.cli.options import count_given, number_given
    from planform.design.load import load, load_place

    readers = [lambda: load(design)]
    if place is not None:
        readers.append(lambda: load_place(place))  # type: ignore[arg-type,return-value]
    loaded, *rest = _both(*readers)
    varied = {"cant": cant, "length": length, "toe": toe, "sweep": sweep, "span": span}
    asked = Asked(
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
    system = _system(units, loaded.units)
    shop = rest[0] if rest else None
    raise typer.Exit(show_comparison(loaded, shop, asked, output, system, as_json=as_json))


@_command()
def rollout(
    design: DesignFile,
    place: PlaceFile,
    stage: OneStage = None,
    stance: StanceName = None,
    spot: Spot = None,
    keep: Annotated[
        str | None,
        typer.Option(
            "--keep",
            metavar="LENGTH",
            help="level clearance to keep, as '2 in'; else the place's wishes",
        ),
    ] = None,
    over: Annotated[
        str | None,
        typer.Option("--over", metavar="LENGTH", help="upright clearance to keep, as '1 in'"),
    ] = None,
    moving: Annotated[
        str,
        typer.Option(
            "--moving",
            metavar="HOW",
            autocompletion=completing.moving,
            help="dollies (any way) or wheels (no side-slip)",
        ),
    ] = "dollies",
    seconds: Seconds = "120",
    output: Annotated[
        Path | None, _output("write steps, floor marks and helpers' card here")
    ] = None,
    units: Units = None,
    as_json: Json = False,
) -> None:
    """Can it be moved out, turning as needed: the way, its clearance, or proof of none."""
    from planform.cli.options import seconds_given
    from planform.cli.rolling import Asked, show_roll_out
    from planform.design.load import load, load_place

    loaded, shop = _both(lambda: load(design), lambda: load_place(place))
    asked = Asked(stage, stance, spot, keep, over, moving, seconds_given(seconds))
    system = _system(units, loaded.units)
    raise typer.Exit(show_roll_out(loaded, shop, asked, output, system, as_json=as_json))


@_command()
def changes(
    design: DesignFile,
    place: PlaceFile,
    stage: OneStage = None,
    stance: StanceName = None,
    spot: Spot = None,
    keep: Annotated[
        str | None,
        typer.Option(
            "--keep",
            metavar="LENGTH",
            help="level clearance to keep, as '2 in'; just not touching if not",
        ),
    ] = None,
    seconds: Seconds = "300",
    output: Annotated[
        Path | None,
        _output("write page, plans and JSON here"),
    ] = None,
    units: Units = None,
    as_json: Json = False,
) -> None:
    """What would make it fit: the least change of each kind that lets it out, with its price."""
    from planform.cli.changing import Asked, show_changes
    from planform.cli.options import seconds_given
    from planform.design.load import load, load_place

    loaded, shop = _both(lambda: load(design), lambda: load_place(place))
    asked = Asked(stage, stance, spot, keep, seconds_given(seconds))
    system = _system(units, loaded.units)
    raise typer.Exit(show_changes(loaded, shop, asked, output, system, as_json=as_json))


@_command()
def pack(
    place: PlaceFile,
    designs: Annotated[
        list[Path],
        _file("DESIGN", "design files (.toml); one may be named more than once", "design"),
    ],
    stage: Annotated[
        list[str] | None,
        typer.Option(
            "--stage",
            metavar="STAGE",
            autocompletion=completing.staged,
            help="as 'aircraft: stage', again for another; complete where not given",
        ),
    ] = None,
    gap: Annotated[
        str | None,
        typer.Option(
            "--gap",
            metavar="LENGTH",
            help="to keep between aircraft across, as '6 in'; else the place's",
        ),
    ] = None,
    over: Annotated[
        str | None,
        typer.Option(
            "--over", metavar="LENGTH", help="to keep between aircraft upright, as '4 in'"
        ),
    ] = None,
    seconds: Seconds = "300",
    output: Annotated[
        Path | None,
        _output("write page, plan and each one's way in here"),
    ] = None,
    units: Units = None,
    as_json: Json = False,
) -> None:
    """Several aircraft in one hangar: places, an order that works, a flat tyre's reserve."""
    from planform.cli.options import seconds_given
    from planform.cli.packing import show_packing
    from planform.design.load import load, load_place

    files = dict.fromkeys(designs)
    shop, *loaded = _both(partial(load_place, place), *(partial(load, path) for path in files))
    by_file = dict(zip(files, loaded, strict=True))
    system = _system(units, shop.units)
    code = show_packing(
        shop, [by_file[path] for path in designs], stage or (), gap, over, seconds_given(seconds),
        output, system, as_json=as_json,
    )  # fmt: skip
    raise typer.Exit(code)


@_command()
def carry(
    design: DesignFile,
    place: Annotated[
        Path | None, _file("PLACE", "place file (.toml), for its doors", "place")
    ] = None,
    part: Annotated[
        list[str] | None,
        typer.Option(
            "--part",
            metavar="PIECE",
            autocompletion=completing.parts,
            help="the piece: a part or group, or several that stay joined, as 'wing + winglet'",
        ),
    ] = None,
    output: Annotated[
        Path | None,
        _output("write page, pictures and JSON here"),
    ] = None,
    units: Units = None,
    as_json: Json = False,
) -> None:
    """A part carried out by hand: how to tilt it, and the least opening it passes."""
    from planform.cli.carrying import show_carrying
    from planform.design.load import load, load_place

    loaded, *rest = _both(
        lambda: load(design), *([partial(load_place, place)] if place is not None else [])
    )
    shop = rest[0] if rest else None
    system = _system(units, loaded.units)
    raise typer.Exit(show_carrying(loaded, shop, part or (), output, system, as_json=as_json))


@_command()
def haul(
    design: DesignFile,
    carrier: Annotated[Path, _file("CARRIER", "trailer or container file (.toml)", "carrier")],
    part: Annotated[
        list[str] | None,
        typer.Option(
            "--part",
            metavar="PIECE",
            autocompletion=completing.parts,
            help="a piece: a part or group, or several that stay joined, as 'wing + winglet'; "
            "again for another piece",
        ),
    ] = None,
    output: Annotated[
        Path | None,
        _output("write page, drawings and JSON here"),
    ] = None,
    units: Units = None,
    as_json: Json = False,
) -> None:
    """Parts on a trailer or in a container: places, end door, road, load on the hitch."""
    from planform.cli.hauling import show_haul
    from planform.design.load import load, load_carrier

    loaded, taken = _both(lambda: load(design), lambda: load_carrier(carrier))
    system = _system(units, loaded.units)
    raise typer.Exit(show_haul(loaded, taken, part or (), output, system, as_json=as_json))


Folder = Annotated[Path, _output("the folder to write into")]


@_command()
def preview(
    design: DesignFile,
    output: Folder,
    stage: OneStage = None,
    stance: StanceName = None,
) -> None:
    """Pictures of the aircraft (PNG) and its solids (GLB, STL)."""
    from planform.cli.measuring import write_preview
    from planform.design.load import load

    write_preview(load(design), stage, stance, output)


@_command()
def sheet(
    design: DesignFile,
    output: Folder,
    stage: Stages = None,
    stance: StanceName = None,
    units: Units = None,
) -> None:
    """The dimension sheet for hangar planning (print page and CSV)."""
    from planform.cli.measuring import write_sheet
    from planform.design.load import load

    loaded = load(design)
    write_sheet(loaded, stage or (), stance, output, _system(units, loaded.units))


@_command()
def report(design: DesignFile, place: PlaceFile, output: Folder, units: Units = None) -> None:
    """The whole answer in a folder: report, sheet, pictures, solids, data."""
    from planform.cli.fitting import write_whole_report
    from planform.design.load import load, load_place

    loaded, shop = _both(lambda: load(design), lambda: load_place(place))
    write_whole_report(loaded, shop, output, _system(units, loaded.units))
