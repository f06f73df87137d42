"""The commands that move, carry, load and hand over: rollout to report."""

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
    PlaceFile,
    Seconds,
    Sheets,
    Spot,
    StanceName,
    Units,
    Workers,
    command,
    design_and_place,
    file_given,
    option_given,
    output_option,
    read_all,
    sheets_of,
    system_of,
)


@command()
def rollout(
    design: DesignFile,
    place: PlaceFile,
    stage: OneStage = None,
    stance: StanceName = None,
    spot: Spot = None,
    keep: Annotated[
        str | None,
        option_given(
            "--keep", "LENGTH", "level clearance to keep, as '2 in'; else the place's wishes"
        ),
    ] = None,
    over: Annotated[
        str | None,
        option_given("--over", "LENGTH", "upright clearance to keep, as '1 in'"),
    ] = None,
    moving: Annotated[
        str,
        option_given(
            "--moving", "HOW", "dollies (any way) or wheels (no side-slip)", completing.moving
        ),
    ] = "dollies",
    seconds: Seconds = "120",
    output: Annotated[
        Path | None, output_option("write steps, floor marks and helpers' card here")
    ] = None,
    paper: Sheets = None,
    units: Units = None,
    as_json: Json = False,
) -> None:
    """Can it be moved out, turning as needed: the way, its clearance, or proof of none."""
    from planform.cli.options import seconds_given
    from planform.cli.rolling import WayOutAsked, show_roll_out
    from planform.design.load import load, load_place

    loaded, shop = read_all(lambda: load(design), lambda: load_place(place))
    asked = WayOutAsked(
        stage, stance, spot, keep, over, moving, seconds_given(seconds), sheets_of(paper)
    )
    system = system_of(units, loaded.units)
    raise typer.Exit(show_roll_out(loaded, shop, asked, output, system, as_json=as_json))


@command()
def changes(
    design: DesignFile,
    place: PlaceFile,
    stage: OneStage = None,
    stance: StanceName = None,
    spot: Spot = None,
    keep: Annotated[
        str | None,
        option_given(
            "--keep", "LENGTH", "level clearance to keep, as '2 in'; just not touching if not"
        ),
    ] = None,
    seconds: Seconds = "300",
    output: Annotated[
        Path | None,
        output_option("write page, plans and JSON here"),
    ] = None,
    workers: Workers = None,
    units: Units = None,
    as_json: Json = False,
) -> None:
    """What would make it fit: the least change of each kind that lets it out, with its price."""
    from planform.cli.changing import ChangesAsked, show_changes
    from planform.cli.options import count_given, seconds_given
    from planform.design.load import load, load_place

    count = count_given("--workers", workers)
    loaded, shop = read_all(lambda: load(design), lambda: load_place(place))
    asked = ChangesAsked(stage, stance, spot, keep, seconds_given(seconds), count)
    system = system_of(units, loaded.units)
    raise typer.Exit(show_changes(loaded, shop, asked, output, system, as_json=as_json))


@command()
def pack(
    place: PlaceFile,
    designs: Annotated[
        list[Path],
        file_given("DESIGN", "design files (.toml); one may be named more than once", "design"),
    ],
    stage: Annotated[
        list[str] | None,
        option_given(
            "--stage",
            "STAGE",
            "as 'aircraft: stage', again for another; complete where not given",
            completing.staged,
        ),
    ] = None,
    gap: Annotated[
        str | None,
        option_given(
            "--gap", "LENGTH", "to keep between aircraft across, as '6 in'; else the place's"
        ),
    ] = None,
    over: Annotated[
        str | None,
        option_given("--over", "LENGTH", "to keep between aircraft upright, as '4 in'"),
    ] = None,
    seconds: Seconds = "300",
    output: Annotated[
        Path | None,
        output_option("write page, plan and each one's way in here"),
    ] = None,
    units: Units = None,
    as_json: Json = False,
) -> None:
    """Several aircraft in one hangar: places, an order that works, a flat tyre's reserve."""
    from planform.cli.options import seconds_given
    from planform.cli.packing import PackingAsked, show_packing
    from planform.design.load import load, load_place

    files = dict.fromkeys(designs)
    shop, *loaded = read_all(partial(load_place, place), *(partial(load, path) for path in files))
    by_file = dict(zip(files, loaded, strict=True))
    system = system_of(units, shop.units)
    asked = PackingAsked(stage or (), gap, over, seconds_given(seconds))
    parked = [by_file[path] for path in designs]
    code = show_packing(shop, parked, asked, output, system, as_json=as_json)
    raise typer.Exit(code)


@command()
def carry(
    design: DesignFile,
    place: Annotated[
        Path | None, file_given("PLACE", "place file (.toml), for its doors", "place")
    ] = None,
    part: Annotated[
        list[str] | None,
        option_given(
            "--part",
            "PIECE",
            "the piece: a part or group, or several that stay joined, as 'wing + winglet'",
            completing.parts,
        ),
    ] = None,
    output: Annotated[
        Path | None,
        output_option("write page, pictures and JSON here"),
    ] = None,
    units: Units = None,
    as_json: Json = False,
) -> None:
    """A part carried out by hand: how to tilt it, and the least opening it passes."""
    from planform.cli.carrying import show_carrying

    loaded, shop = design_and_place(design, place)
    system = system_of(units, loaded.units)
    raise typer.Exit(show_carrying(loaded, shop, part or (), output, system, as_json=as_json))


@command()
def haul(
    design: DesignFile,
    carrier: Annotated[Path, file_given("CARRIER", "trailer or container file (.toml)", "carrier")],
    part: Annotated[
        list[str] | None,
        option_given(
            "--part",
            "PIECE",
            "a piece: a part or group, or several that stay joined, as 'wing + winglet'; "
            "again for another piece",
            completing.parts,
        ),
    ] = None,
    output: Annotated[
        Path | None,
        output_option("write page, drawings and JSON here"),
    ] = None,
    units: Units = None,
    as_json: Json = False,
) -> None:
    """Parts on a trailer or in a container: places, end door, road, load on the hitch."""
    from planform.cli.hauling import show_haul
    from planform.design.load import load, load_carrier

    loaded, taken = read_all(lambda: load(design), lambda: load_carrier(carrier))
    system = system_of(units, loaded.units)
    raise typer.Exit(show_haul(loaded, taken, part or (), output, system, as_json=as_json))


Folder = Annotated[Path, output_option("the folder to write into", printed=False)]
ReportOut = Annotated[Path, output_option("the folder to write into")]


@command()
def preview(
    design: DesignFile,
    output: Annotated[
        Path,
        typer.Option(
            "-o",
            "--output",
            metavar="FILE",
            help="file to write: .png or .svg for a picture, .3mf, .glb, .obj, .step or .stl for "
            "solids; a folder (no ending) gets all",
        ),
    ],
    stage: OneStage = None,
    stance: StanceName = None,
    axes: Annotated[
        str | None,
        option_given(
            "--axes",
            "AXES",
            "aircraft (FS, BL, WL) or floor (as it stands), for solids; aircraft",
            completing.axes,
        ),
    ] = None,
    view: Annotated[
        str | None,
        option_given(
            "--view",
            "VIEW",
            "three-quarter, side, front or above, for one picture; three-quarter",
            completing.views,
        ),
    ] = None,
    curved: Annotated[
        bool,
        typer.Option(
            "--curved",
            help="curved faces instead of facets, for one .step file (the step extra)",
        ),
    ] = False,
) -> None:
    """Pictures of the aircraft (PNG, SVG) and its solids (3MF, GLB, OBJ, STEP, STL)."""
    from planform.cli.previewing import PreviewAsked, asked_for, write_preview
    from planform.design.load import load

    asked = asked_for(PreviewAsked(output, stage, stance, axes, view, curved))
    write_preview(load(design), asked)


PagesOut = Annotated[
    Path,
    typer.Option(
        "-o",
        "--output",
        metavar="FILE",
        help="file to write, .pdf, .svg, .dxf or .png; a folder (no ending) gets all drawings",
    ),
]
PaperName = Annotated[
    str | None,
    option_given(
        "--paper",
        "PAPER",
        "A4 to A0, letter, tabloid, ANSI C to ANSI E; letter or A4 by the units where not given",
        completing.papers,
    ),
]
ScaleText = Annotated[
    str | None,
    typer.Option(
        "--scale",
        metavar="SCALE",
        help="as 1:50 or '1/4 in'; the largest that fits where not given",
    ),
]
Projection = Annotated[
    str | None, typer.Option("--projection", metavar="ANGLE", help="first or third angle; third")
]


@command()
def sheet(
    design: DesignFile,
    output: PagesOut,
    place: Annotated[
        Path | None, file_given("PLACE", "place file (.toml), whose margins count", "place")
    ] = None,
    stage: OneStage = None,
    stance: StanceName = None,
    paper: PaperName = None,
    scale: ScaleText = None,
    projection: Projection = None,
    hidden: Annotated[bool, typer.Option("--hidden", help="draw what lies behind, dashed")] = False,
    units: Units = None,
) -> None:
    """The dimension sheet for hangar planning (PDF, SVG, DXF, PNG); a folder gets all drawings."""
    from planform.cli.drawing import PagesAsked, write_drawings

    loaded, shop = design_and_place(design, place)
    asked = PagesAsked(stage, stance, paper, scale, projection, hidden)
    system = system_of(units, loaded.units)
    raise typer.Exit(write_drawings(loaded, shop, asked, output, system))


@command()
def report(
    design: DesignFile,
    place: PlaceFile,
    output: ReportOut,
    paper: Sheets = None,
    units: Units = None,
) -> None:
    """The whole answer in a folder (report, sheet, pictures, solids, data), or as one PDF."""
    from planform.cli.fitting import write_whole_report
    from planform.design.load import load, load_place

    sheets = sheets_of(paper)
    loaded, shop = read_all(lambda: load(design), lambda: load_place(place))
    write_whole_report(loaded, shop, output, system_of(units, loaded.units), sheets)
