"""What a page tells without its scripts: verdicts, drawings and tables of each stage, as HTML."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from html import escape

from planform.airframe.measure import Measures
from planform.airframe.stance import Standing
from planform.drawing.drawing import Drawing
from planform.drawing.scenes import aircraft_scene
from planform.drawing.vector import scene_drawing
from planform.drawing.views import front_view, plan_view
from planform.drawing.writers import svg
from planform.fit.room import Room
from planform.report.fit.tables import checks_table, verdicts_table
from planform.report.measures.tables import blocks
from planform.report.table import Table
from planform.report.table_html import to_html
from planform.report.way_out.words import summary
from planform.report.words import CAUTIONS
from planform.study.judging import SoFar

ALONE = ("side", "above")
"""Views of an aircraft without a room."""
SIZE = (900, 560)


def plain_page(
    title: str,
    standing: Standing,
    room: Room | None,
    answers: Iterable[SoFar],
    system: str,
    sizes: Iterable[tuple[str, Measures]],
) -> str:
    """All that a page tells in words, tables and drawings.

    standing : what is drawn where there is no room ; sizes : measures, each under its title
    """
    found = list(answers)
    parts = [f"<h1>{escape(title)}</h1>"]
    if room is not None:
        parts.append(to_html(verdicts_table([one.answer for one in found], system), system))
        for one in found:
            parts += _judged(one, room, system)
    else:
        parts += [_figure(drawing, words) for drawing, words in _alone(standing)]
    for name, measures in sizes:
        parts += _tables(blocks(name, measures, {}), system)
    parts.append(f"<h2>Cautions</h2><ul>{_items(CAUTIONS)}</ul>")
    return "\n".join(parts)


def _judged(so_far: SoFar, room: Room, system: str) -> Iterator[str]:
    answer = so_far.answer
    yield f"<section><h2>{escape(answer.standing.title)}</h2>"
    if answer.spot is not None:
        yield _figure(plan_view(answer, room, system), "From above.")
    front = front_view(answer, room, system)
    if front is not None:
        yield _figure(front, "From ahead, over the door opening.")
    yield to_html(checks_table(answer, room.place, system), system)
    if answer.way is not None:
        yield f"<p>{escape(' '.join(summary(answer.way, system)))}</p>"
    yield "</section>"


def _alone(standing: Standing) -> Iterator[tuple[Drawing, str]]:
    scene = aircraft_scene(standing)
    for camera in scene.cameras:
        if camera.name in ALONE:
            yield scene_drawing(scene, camera, SIZE), f"{standing.title}, {camera.title}."


def _figure(drawing: Drawing, words: str) -> str:
    return f"<figure>{svg.text(drawing)}<figcaption>{escape(words)}</figcaption></figure>"


def _tables(tables: Iterable[Table], system: str) -> list[str]:
    return [to_html(table, system) for table in tables]


def _items(lines: Iterable[str]) -> str:
    return "".join(f"<li>{escape(line)}</li>" for line in lines)
