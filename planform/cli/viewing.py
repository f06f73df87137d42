"""The view command: stills of the aircraft and its room in a folder, or a window to turn it in."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from planform.airframe.stages import stage_meant
from planform.airframe.stance import Standing, shaped, stand_all, stand_on
from planform.design.models import Design
from planform.design.place import Place
from planform.design.problems import InputError, Problem, unknown

if TYPE_CHECKING:
    from planform.drawing.scene import Scene
    from planform.drawing.stills import Tile
    from planform.fit.answer import FitAnswer
    from planform.fit.room import Room

ROOM, HEIGHTS, STAGES, WAY = SHOWN = ("room", "heights", "stages", "way")
"""What stills are made of."""
OF_PLACE = (ROOM, WAY)

NO_DISPLAY = (
    "there is no display here to open a window on; name a folder with -o for pictures, or write "
    "the page with planform page"
)
UNANSWERED = "the display does not answer, or no GL library could render"
ENDED = "the window could not be opened: {}; name a folder with -o for pictures"


@dataclass(frozen=True)
class ViewAsked:
    """The options as they were given."""

    stage: str | None
    stance: str | None
    spot: str | None
    shown: Sequence[str]


@dataclass(frozen=True, eq=False)
class _Seen:
    """What there is to see."""

    standing: Standing
    all_stages: tuple[Standing, ...]
    room: Room | None
    answer: FitAnswer | None
    system: str


def show_view(
    design: Design, place: Place | None, asked: ViewAsked, folder: Path | None, system: str
) -> int:
    """Write the stills, or open the window; 0 where that is done."""
    shown = _checked(asked, place)
    if folder is None and not _display():
        raise InputError("view", [Problem("-o", "", NO_DISPLAY)])
    found = _seen(design, place, asked, shown, system)
    if folder is None:
        return _window(found)
    return _stills(found, shown, folder)


def _checked(asked: ViewAsked, place: Place | None) -> tuple[str, ...]:
    problems = [unknown("--show", name, SHOWN) for name in asked.shown if name not in SHOWN]
    if place is None:
        allowed = "this is of a place; name a place file behind the design"
        given = [("--show", name) for name in asked.shown if name in OF_PLACE]
        given += [("--spot", asked.spot)] if asked.spot is not None else []
        problems += [Problem(option, repr(name), allowed) for option, name in given]
    if problems:
        raise InputError("option", problems)
    usual = SHOWN if place is not None else tuple(one for one in SHOWN if one not in OF_PLACE)
    return tuple(asked.shown) or usual


def _seen(
    design: Design, place: Place | None, asked: ViewAsked, shown: Sequence[str], system: str
) -> _Seen:
    from planform.airframe.build import build

    airframe = build(shaped(design))
    stage, _ = stage_meant(airframe, asked.stage)
    standing = stand_on(airframe, stage, asked.stance)
    stages = stand_all(airframe) if STAGES in shown else ()
    if place is None:
        return _Seen(standing, stages, None, None, system)
    from planform.fit.room import build_room
    from planform.fit.straight import Straight
    from planform.study.judging import SPARING, judged_way, searching
    from planform.study.roll_out import USUAL

    room = build_room(place)
    straight = Straight(standing, room, asked.spot)
    if WAY in shown:
        answer = judged_way(straight, searching(straight, asked.spot, USUAL, SPARING))
    else:
        answer = straight.without_way(doors=False)
    return _Seen(standing, stages, room, answer, system)


def _stills(found: _Seen, shown: Sequence[str], folder: Path) -> int:
    """Every picture asked for, in one run, and the strips that some of them make."""
    from planform.drawing.pictures import start
    from planform.drawing.strips import strip
    from planform.report.folder import whole_folder

    scenes = _scenes(found, shown)
    if ROOM in shown and found.answer is not None and found.answer.spot is None:
        allowed = "the place has no spot to show it on; give one: a name, at and a heading"
        raise InputError(found.answer.place, [Problem("spots", "none", allowed)])
    strips = {kind: (title, tiles) for kind, title, tiles in _strips(found, shown) if tiles}
    with whole_folder(folder, "view") as workshop, tempfile.TemporaryDirectory() as beside:
        tiled = [tile.scene for _, tiles in strips.values() for tile in tiles]
        pictures = start((*scenes, *tiled), Path(beside)).finish()
        for camera in (camera for scene in scenes for camera in scene.cameras):
            made = pictures.files[camera.name]
            (workshop / made.name).write_bytes(made.read_bytes())
        for kind, (title, tiles) in strips.items():
            drawn = [(_pixels(one, pictures.files), one.words) for one in tiles]
            (workshop / f"{kind}.png").write_bytes(strip(title, drawn))
        names = sorted(path.name for path in workshop.iterdir())
    print(f"wrote {', '.join(names)} in {folder}")
    if WAY in shown and WAY not in strips:
        print("no strip of the way out: there is none from this spot at this stage")
    if pictures.remark:
        print(pictures.remark)
    return 0


def _scenes(found: _Seen, shown: Sequence[str]) -> list[Scene]:
    """What is one picture each."""
    from planform.drawing.stills import heights_scene, room_stills

    scenes: list[Scene] = []
    if found.room is not None and found.answer is not None and ROOM in shown:
        scenes += room_stills(found.answer, found.room, found.system)
    if HEIGHTS in shown:
        scenes.append(heights_scene(found.standing, found.system))
    return scenes


def _strips(found: _Seen, shown: Sequence[str]) -> Iterator[tuple[str, str, list[Tile]]]:
    """What is several pictures in one: its name, its title, its pictures."""
    from planform.drawing.stills import stages_tiles

    name = found.standing.airframe.design.name
    if STAGES in shown:
        tiles = stages_tiles(found.all_stages, found.system)
        yield STAGES, f"{name}, stage by stage, all to one scale", tiles
    if WAY in shown and found.answer is not None:
        title = f"{name}, {found.standing.title}: out of {found.answer.place}"
        yield WAY, title, _way(found)


def _way(found: _Seen) -> list[Tile]:
    from planform.drawing.stills import way_tiles
    from planform.fit.steps import steps_of
    from planform.fit.swept import corners_of, plan_outline
    from planform.report.way_out.instructions import instruction

    assert found.answer is not None
    assert found.room is not None
    way = found.answer.way
    if way is None or way.route is None:
        return []
    steps = steps_of(way.route, corners_of(plan_outline(found.standing)))
    told = [instruction(found.standing, found.room, step, found.system) for step in steps]
    return way_tiles(found.answer, found.room, steps, told, found.system)


def _pixels(tile: Tile, files: dict[str, Path]) -> bytes:
    """A picture of a strip as PNG: rendered, or its vector drawing as pixels."""
    from planform.drawing.vector import scene_drawing
    from planform.drawing.writers import pixels

    camera = tile.scene.cameras[0]
    path = files[camera.name]
    if path.suffix == ".png":
        return path.read_bytes()
    return pixels.written(scene_drawing(tile.scene, camera, (1400, 900)))


def _display() -> bool:
    if sys.platform in ("win32", "darwin"):
        return True
    return bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))


def _window(found: _Seen) -> int:
    """A window in a process of its own, which ends when it is closed."""
    from planform.drawing.scene import save
    from planform.drawing.stills import heights_scene, room_stills

    scenes = []
    if found.room is not None and found.answer is not None:
        scenes = room_stills(found.answer, found.room, found.system)
    scene = scenes[0] if scenes else heights_scene(found.standing, found.system)
    with tempfile.TemporaryDirectory(prefix="planform-") as beside:
        path = Path(beside) / "scene.npz"
        save(replace(scene, cameras=scene.cameras[:1]), path)
        paths = os.pathsep.join(one or os.getcwd() for one in sys.path)
        command = [sys.executable, "-P", "-m", "planform_viewer", str(path), beside, "--window"]
        with subprocess.Popen(
            [*command, "--bound"],
            env={**os.environ, "PYTHONPATH": paths},
            stdin=subprocess.PIPE,  # it ends with this process
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            text=True,
        ) as child:
            assert child.stderr is not None
            told = child.stderr.read().strip().splitlines()
            code = child.wait()
    if code:
        why = told[-1].removeprefix("planform_viewer: ") if told else UNANSWERED
        raise InputError("view", [Problem("-o", "", ENDED.format(why))])
    return 0
