"""Pages from the templates, in the reader's units."""

from __future__ import annotations

import base64
import datetime
from functools import partial
from typing import TYPE_CHECKING

from planform.design.texts import bracketed
from planform.design.told import plus_minus, said
from planform.drawing.drawing import Drawing
from planform.drawing.writers import svg
from planform.report.table import cell
from planform.report.table_html import to_html
from planform.report.words import CAUTIONS, ROOM_SIDES

if TYPE_CHECKING:
    from markupsafe import Markup


Content = dict[str, object]
"""What a template is filled with, by name."""


def words_for(system: str, level: int = 3) -> Content:
    """What every page needs to speak the reader's units; level : of its tables' headings."""
    return {
        "system": system,
        "said": partial(_said, system),
        "metric": partial(_said, "mm"),
        "bracketed": bracketed,
        "both": system != "mm",
        "sheet": lambda table: markup(to_html(table, system, level)),
        "cell": lambda one: cell(one, system),
        "pm": lambda value, kind="length": plus_minus(value, kind, system),
        "cautions": CAUTIONS,
        "room_sides": ROOM_SIDES,
    }


def _said(system: str, value: float, kind: str) -> str:
    return said(value, kind, system)


def markup(text: str) -> Markup:
    """A drawing that goes into a page as it is; its own writer has escaped every text in it."""
    from markupsafe import Markup

    return Markup(text)


def drawn(drawing: Drawing | None) -> Markup | None:
    """A drawing inside the page; None where there is none."""
    return None if drawing is None else markup(svg.text(drawing))


def image(kind: str, content: bytes, words: str) -> Markup:
    """A picture inside the page, with words for who cannot see it."""
    from markupsafe import Markup

    data = base64.b64encode(content).decode("ascii")
    return Markup('<img alt="{}" src="data:image/{};base64,{}">').format(words, kind, data)


def page(name: str, **content: object) -> str:
    """One template filled in; anything it asks for and does not get is an error."""
    from jinja2 import Environment, PackageLoader, StrictUndefined

    from planform import __version__

    pages = Environment(
        loader=PackageLoader("planform.report", "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
    )
    css = pages.get_template("look.css").render()
    return pages.get_template(name).render(
        css=markup(css),
        version=__version__,
        date=datetime.date.today().isoformat(),
        **content,
    )
