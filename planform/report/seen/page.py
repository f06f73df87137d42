"""The page around a look: one file that opens from disk, with all it needs inside it."""

from __future__ import annotations

import base64
import hashlib
import json
from collections.abc import Mapping, Sequence
from html import escape
from importlib.resources import files

from planform.report.record import Json, Record

BUILT = "built"
"""Where the scripts and the style are, as bundled from their sources."""

FALLBACK = "To turn the aircraft here, allow this page its scripts; what it tells stands below."


def built(name: str) -> str:
    """A bundled file of the page."""
    return files("planform.report.seen").joinpath(BUILT, name).read_text(encoding="utf-8")


def inline_json(record: Record, whole: bool = False) -> str:
    """A record as JSON that may stand in a page: no text in it can end its element.

    whole : its numbers to their last bit
    """
    short = record if whole else rounded(record)
    text = json.dumps(short, ensure_ascii=False, allow_nan=False, separators=(",", ":"))
    for mark in "<>&\u2028\u2029":
        text = text.replace(mark, f"\\u{ord(mark):04x}")
    return text


FINE = 6
"""Decimal places of a number in a page: micrometres, and some millionths of a degree."""


def rounded(node: Json) -> Json:
    """The same with its numbers as fine as a page needs them."""
    if isinstance(node, float):
        return round(node, FINE)
    if isinstance(node, Mapping):
        return {name: rounded(one) for name, one in node.items()}
    if isinstance(node, list | tuple):
        return [rounded(one) for one in node]
    return node


def seen_page(look: Record, title: str, plain: str) -> str:
    """The whole page.

    look : of `whole_look` ; plain : what stands in the page without its scripts, as HTML
    """
    body = (
        f'<div id="shop"></div><noscript><p>{FALLBACK}</p></noscript>\n'
        f'<main id="plain">{plain}</main>\n'
    )
    scripts = [built("three.js"), built("page.js")]
    return alone(title, built("page.css"), body, look, scripts)


def alone(
    title: str, style: str, body: str, look: Record, scripts: Sequence[str], whole: bool = False
) -> str:
    """A page that asks for nothing: its style and scripts inside it, no others allowed.

    body : HTML before the scripts ; look : what they read ; whole : its numbers to their last bit
    """
    allowed = {
        "default-src": "'none'",
        "script-src": " ".join(_allowed(text) for text in scripts),
        "style-src": "'unsafe-inline'",
        "img-src": "data: blob:",
        "base-uri": "'none'",
        "form-action": "'none'",
    }
    policy = "; ".join(f"{name} {sources}" for name, sources in allowed.items())
    return "".join(
        (
            '<!doctype html>\n<html lang="en"><head><meta charset="utf-8">',
            f'<meta http-equiv="Content-Security-Policy" content="{escape(policy)}">',
            '<meta name="viewport" content="width=device-width, initial-scale=1">',
            f"<title>{escape(title)}</title><style>{style}</style></head><body>\n",
            body,
            f'<script type="application/json" id="look">{inline_json(look, whole)}</script>\n',
            *(f"<script>{text}</script>\n" for text in scripts),
            "</body></html>\n",
        )
    )


def _allowed(script: str) -> str:
    """What names an inline script in a page's policy: its digest (CSP Level 2, hash-source)."""
    digest = hashlib.sha256(script.encode("utf-8")).digest()
    return f"'sha256-{base64.b64encode(digest).decode('ascii')}'"
