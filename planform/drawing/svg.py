"""A small SVG sheet in metres: shapes, lines and words to one scale."""

from __future__ import annotations

import re
from html import escape
from typing import Any

import numpy as np
from numpy.typing import NDArray

from planform.drawing.style import PAPER

Array = NDArray[np.float64]


class Drawing:
    """Collects shapes given in metres (y up) and writes them as one SVG."""

    def __init__(self, low: Array, high: Array, width: int = 640, margin: float = 0.6) -> None:
        self.low = np.asarray(low, float) - margin
        self.high = np.asarray(high, float) + margin
        self.scale = width / float(self.high[0] - self.low[0])
        self.width = width
        self.height = round(float(self.high[1] - self.low[1]) * self.scale)
        self.body: list[str] = []

    def at(self, point: Any) -> tuple[float, float]:
        """Sheet position of a point [px]."""
        x = (float(point[0]) - self.low[0]) * self.scale
        y = (self.high[1] - float(point[1])) * self.scale
        return round(float(x), 1), round(float(y), 1)

    def _ring(self, points: Any) -> str:
        return "M" + "L".join(f"{x} {y}" for x, y in map(self.at, points)) + "Z"

    def shape(self, geometry: Any, css: str, title: str = "") -> None:
        """A shapely polygon or collection of them, with holes."""
        import shapely

        for polygon in shapely.get_parts(geometry):
            if polygon.geom_type != "Polygon" or polygon.is_empty:
                continue
            simple = polygon.simplify(0.001)
            rings = [simple.exterior, *simple.interiors]
            path = "".join(self._ring(list(ring.coords)[:-1]) for ring in rings)
            hover = f"<title>{escape(title)}</title>" if title else ""
            self.body.append(f'<path class="{css}" d="{path}">{hover}</path>')

    def polygon(self, points: Any, css: str) -> None:
        """A closed outline of points."""
        self.body.append(f'<path class="{css}" d="{self._ring(points)}"/>')

    def line(self, points: Any, css: str) -> None:
        """An open line through points."""
        text = " ".join(f"{x},{y}" for x, y in map(self.at, points))
        self.body.append(f'<polyline class="{css}" points="{text}"/>')

    def dot(self, point: Any, css: str, radius: float = 3.0) -> None:
        """A dot of so many px."""
        x, y = self.at(point)
        self.body.append(f'<circle class="{css}" cx="{x}" cy="{y}" r="{radius}"/>')

    def words(self, point: Any, text: str, css: str = "", anchor: str = "middle") -> None:
        """Words at a point, on a light backing so that lines do not run through them."""
        x, y = self.at(point)
        x = min(max(x, 8.0), self.width - 8.0)
        self.body.append(
            f'<text class="{css}" x="{x}" y="{y}" text-anchor="{anchor}">{escape(text)}</text>'
        )

    def text(self, title: str) -> str:
        """The whole SVG."""
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {self.width} {self.height}" '
            f'width="{self.width}" height="{self.height}" class="drawn" role="img" '
            f'aria-label="{escape(title)}"><title>{escape(title)}</title><style>{OWN_STYLE}</style>'
            f'<rect width="100%" height="100%" fill="{PAPER}"/>{"".join(self.body)}</svg>'
        )


STYLE = (
    "text{font:13px 'DejaVu Sans',Verdana,sans-serif;fill:#2b3a42;"
    "paint-order:stroke;stroke:#fbfaf6;stroke-width:4px;stroke-linejoin:round}"
    ".small{font-size:11px;fill:#5d6b70}.strong{font-weight:bold;fill:#8c2f1b}"
    ".floor{fill:#f1ece0;stroke:none}.outside{fill:none;stroke:none}"
    ".wall{fill:#6b6459;stroke:#4b463e;stroke-width:.6}"
    ".opening{fill:none;stroke:#2f6f73;stroke-width:2;stroke-dasharray:7 4}"
    ".hanging{fill:#c9b458;fill-opacity:.35;stroke:#8a7622;stroke-dasharray:5 3}"
    ".standing{fill:#b9a58a;stroke:#6d5a3f}"
    ".part{fill:#7fa3ad;fill-opacity:.8;stroke:#1f3f4a;stroke-width:.9}"
    ".disc{fill:#9a8fb0;fill-opacity:.55;stroke:#4d4266}"
    ".panel{fill:#d7a35b;fill-opacity:.7;stroke:#7a5215}"
    ".parked{fill:#a9a79f;fill-opacity:.6;stroke:#57554e;stroke-width:.9}"
    ".leader{stroke:#b3361b;stroke-width:2;fill:none}.end{fill:#b3361b}"
    ".earth{fill:#e4dccb;stroke:none}.surface{fill:none;stroke:#6b5a3c;stroke-width:1.8}"
    ".bend{fill:none;stroke:#4b463e;stroke-width:.9;stroke-dasharray:12 3 2 3}"
    ".roof{fill:none;stroke:#4b463e;stroke-width:1.4}"
    ".sight{fill:none;stroke:#2f6f73;stroke-width:1;stroke-dasharray:5 4}"
    ".thin{stroke:#7a8387;stroke-width:1;fill:none}"
    ".hatch{stroke:#8a7622;stroke-width:.7;fill:none}"
    ".sweep{fill:#dba35f;fill-opacity:.16;stroke:#a8641e;stroke-width:1.2;stroke-dasharray:2 3}"
    ".ghost{fill:#7fa3ad;fill-opacity:.1;stroke:#6d8c95;stroke-width:.9;stroke-dasharray:4 3}"
    ".between{fill:none;stroke:#a9bcc2;stroke-width:.7}"
    ".motion{fill:none;stroke:#1f5f4d;stroke-width:2.6}.head{fill:#1f5f4d}"
    ".pivot{fill:#fbfaf6;stroke:#1f5f4d;stroke-width:2.4}"
    ".arc{fill:none;stroke:#1f5f4d;stroke-width:1;stroke-dasharray:3 3}"
    ".walker{fill:#f3d36b;stroke:#4a3a08;stroke-width:1.4}"
    ".keepoff{fill:#fbfaf6;stroke:#b3361b;stroke-width:2}"
    ".person{font-size:11px;font-weight:bold;fill:#4a3a08}"
    ".called{font-weight:bold;fill:#1f5f4d}"
    ".tape{fill:none;stroke:#6b4f8f;stroke-width:.8;stroke-dasharray:6 3}"
    ".chalk{fill:none;stroke:#a8641e;stroke-width:1.8;stroke-dasharray:7 4}"
    ".spot{fill:#6b4f8f;stroke:#fbfaf6;stroke-width:1}"
    ".board{fill:none;stroke:#8c2f1b;stroke-width:4}"
)

OWN_STYLE = re.sub(r"([^{}]+)\{", r".drawn \1{", STYLE)
"""The looks for what stands in such a drawing alone, whatever page it is in."""
