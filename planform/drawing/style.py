"""How things are drawn, as one table: colours, line weights, dashes, sizes of letters."""

from __future__ import annotations

PAPER = "#fbfaf6"
"""The ground of every drawing and picture."""
