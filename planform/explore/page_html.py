"""The page that is served, with what it begins with."""

from __future__ import annotations

from html import escape

from planform.report.record import Record
from planform.report.seen.page import built, inline_json

SERVED = {
    "three.js": "text/javascript",
    "explore.js": "text/javascript",
    "explore.css": "text/css",
}
"""What the page loads from beside it, with its type."""

NO_SCRIPTS = (
    "This page moves values by its scripts; allow them, or use planform report, whose pages have "
    "none."
)


def page(look: Record, asked: Record, title: str) -> str:
    """The page as HTML.

    look : what it begins with ; asked : the stage, stance and spot that it begins with
    """
    return "".join(
        (
            '<!doctype html>\n<html lang="en"><head><meta charset="utf-8">',
            '<meta name="viewport" content="width=device-width, initial-scale=1">',
            f'<title>{escape(title)}</title><link rel="icon" href="data:,">',
            '<link rel="stylesheet" href="explore.css"></head><body>\n',
            f'<div id="shop"></div><noscript><p>{NO_SCRIPTS}</p></noscript>\n',
            '<aside id="live"></aside><main id="plain"></main>\n',
            f'<script type="application/json" id="look">{inline_json(look)}</script>\n',
            f'<script type="application/json" id="asked">{inline_json(asked)}</script>\n',
            '<script src="three.js"></script><script src="explore.js"></script>\n',
            "</body></html>\n",
        )
    )


def served(name: str) -> bytes:
    """A file that the page loads."""
    return built(name).encode("utf-8")
