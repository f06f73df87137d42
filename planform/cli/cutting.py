"""The commands of what is made by hand: templates, mock-ups, and cards that joints are set by."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from planform.cli import completing
from planform.cli.arguments import (
    DesignFile,
    Json,
    OneStage,
    Sheets,
    StanceName,
    Units,
    command,
    option_given,
    sheets_of,
    system_of,
)
from planform.cli.moving import PaperName

File = Annotated[
    Path, typer.Option("-o", "--output", metavar="FILE", help="the file to write, by its ending")
]


@command()
def template(
    design: DesignFile,
    output: File,
    part: Annotated[
        str, typer.Option(metavar="PART", help="a surface, winglet, panel, rib or body, by name")
    ],
    of: Annotated[
        str | None,
        typer.Option(
            metavar="WHAT",
            help="section, rib, incidence, joint or cradle; by the part where not given",
        ),
    ] = None,
    at: Annotated[
        str | None,
        typer.Option(
            metavar="PLACE",
            help="'BL 60 in', '20 in' from the root, '40 %' of the span; 'FS 112 in'",
        ),
    ] = None,
    skin: Annotated[
        str | None, typer.Option(metavar="LENGTH", help="thickness to take off a section")
    ] = None,
    contact: Annotated[
        str | None,
        typer.Option(
            metavar="SHARES", help="of the chord, where an incidence board stands; '10 %, 70 %'"
        ),
    ] = None,
    height: Annotated[
        str | None,
        typer.Option(metavar="LENGTH", help="of a cradle over the body's bottom; 10 in"),
    ] = None,
    padding: Annotated[
        str | None, typer.Option(metavar="LENGTH", help="between cradle and body; 1 in")
    ] = None,
    paper: PaperName = None,
    units: Units = None,
) -> None:
    """A template in true size, tiled over pages (PDF), or whole for a cutter (SVG, DXF)."""
    from planform.cli.patterns import Written, write_template
    from planform.design.load import load
    from planform.report.sheets.templates.asked import TemplateAsked

    loaded = load(design)
    asked = TemplateAsked(part, of, at, skin, contact, height, padding)
    to = Written(output, paper, system_of(units, loaded.units))
    raise typer.Exit(write_template(loaded, asked, to))


@command()
def mockup(
    design: DesignFile,
    output: File,
    part: Annotated[
        list[str] | None,
        typer.Option(
            metavar="PART", help="by name, again for another; the whole aircraft where not given"
        ),
    ] = None,
    view: Annotated[str, typer.Option(metavar="VIEW", help="ahead, above or side")] = "ahead",
    corners: Annotated[
        str | None, typer.Option(metavar="COUNT", help="of the outline, 3 to 16; 6")
    ] = None,
    stock: Annotated[
        str | None,
        typer.Option(metavar="LENGTHS", help="of sticks that can be bought, as '8 ft, 10 ft'"),
    ] = None,
    kerf: Annotated[
        str | None, typer.Option(metavar="LENGTH", help="what the saw takes; 1/8 in or 3 mm")
    ] = None,
    stage: OneStage = None,
    stance: StanceName = None,
    paper: PaperName = None,
    units: Units = None,
) -> None:
    """Lumber for a mock-up of a part's outline: lengths, angles, what to buy and how to cut it."""
    from planform.cli.options import count_given
    from planform.cli.patterns import Written, write_mockup
    from planform.design.load import load
    from planform.report.sheets.mockup import MockupAsked

    loaded = load(design)
    count = count_given("--corners", corners)
    asked = MockupAsked(tuple(part or ()), view, count, stock, kerf)
    to = Written(output, paper, system_of(units, loaded.units))
    raise typer.Exit(write_mockup(loaded, asked, (stage, stance), to))


@command()
def rig(
    design: DesignFile,
    joint: Annotated[
        str | None,
        option_given(
            "--joint", "JOINT", "a joint by name; all are listed where not given", completing.joints
        ),
    ] = None,
    stage: Annotated[
        str | None,
        option_given(
            "--stage",
            "STAGE",
            "a build stage by name; the joint's own if not given",
            completing.stages,
        ),
    ] = None,
    stance: StanceName = None,
    found: Annotated[
        list[str] | None,
        option_given(
            "--found",
            "TURN",
            "how it stands, as 'tilt = 0.2 deg', again for another: which shims take it out",
        ),
    ] = None,
    output: Annotated[
        Path | None,
        typer.Option(
            "-o",
            "--output",
            metavar="FILE",
            help="card.pdf to print, card.html for a telephone, .svg or .json; or a folder for all",
        ),
    ] = None,
    paper: Sheets = None,
    units: Units = None,
    as_json: Json = False,
) -> None:
    """The card that a joint is set by: what to read, where, with what, and when it is GO.

    It approves no drilling.
    """
    from planform.cli.rigging import RigAsked, show_rig
    from planform.design.load import load

    sheets = sheets_of(paper)
    loaded = load(design)
    asked = RigAsked(joint, stage, stance, tuple(found or ()), output, sheets)
    system = system_of(units, loaded.units)
    raise typer.Exit(show_rig(loaded, asked, system, as_json=as_json))
