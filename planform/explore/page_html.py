"""The page that is served, with what it begins with."""

from __future__ import annotations

import json
from importlib.resources import files

BUILT = files("planform.report") / "seen" / "built"
SERVED = {
    "three.js": "text/javascript",
    "explore.js": "text/javascript",
    "explore.css": "text/css",
}
"""What the page loads from beside it, with its type."""


def served(name: str) -> bytes | None:
    """A file that the page loads; None for any other name."""
    return (BUILT / name).read_bytes() if name in SERVED else None


def as_json(held: object) -> str:
    """JSON that may stand in a page: nothing in it ends its element."""
    text = json.dumps(held, ensure_ascii=False, allow_nan=False)
    return text.replace("<", "\\u003c").replace("\u2028", "\\u2028").replace("\u2029", "\\u2029")


def page(look: object, asked: object) -> str:
    """The page as HTML."""
    return f"""<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>planform explore</title><link rel="icon" href="data:,">
<link rel="stylesheet" href="explore.css"></head>
<body><main id="page"></main><aside id="live"></aside>
<noscript>This page needs JavaScript; planform report writes pages that do not.</noscript>
<script type="application/json" id="look">{as_json(look)}</script>
<script type="application/json" id="asked">{as_json(asked)}</script>
<script src="three.js"></script><script src="explore.js"></script></body></html>
"""
