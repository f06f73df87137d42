"""3MF, core specification 1: three XML files in a zip; one object a part, all in one assembly."""

from __future__ import annotations

import io
import zipfile
from xml.sax.saxutils import escape, quoteattr

from planform.report.exchange.solids import PartSolid, SolidSet

ENDING = "3mf"
ABOUT = "one object a part, millimetres"

HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n'
PACKAGE = "http://schemas.openxmlformats.org/package/2006"
CORE = "http://schemas.microsoft.com/3dmanufacturing"
MODEL = "3D/3dmodel.model"

TYPES = (
    f'{HEAD}<Types xmlns="{PACKAGE}/content-types">'
    '<Default Extension="rels" '
    'ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
    '<Default Extension="model" '
    'ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>\n'
)
RELATIONS = (
    f'{HEAD}<Relationships xmlns="{PACKAGE}/relationships"><Relationship Id="model" '
    f'Type="{CORE}/2013/01/3dmodel" Target="/{MODEL}"/></Relationships>\n'
)
NO_DATE = (1980, 1, 1, 0, 0, 0)
"""The earliest that a zip can say; no clock is read, so the bytes are the same every time."""


def content(solids: SolidSet) -> bytes:
    """The bytes of the file."""
    out = io.BytesIO()
    files = {"[Content_Types].xml": TYPES, "_rels/.rels": RELATIONS, MODEL: model(solids)}
    with zipfile.ZipFile(out, "w") as package:
        for name, text in files.items():
            entry = zipfile.ZipInfo(name, NO_DATE)
            entry.create_system = 3
            entry.compress_type = zipfile.ZIP_DEFLATED
            package.writestr(entry, text.encode("utf-8"))
    return out.getvalue()


def model(solids: SolidSet) -> str:
    """The model's XML: an object for each part, and one that holds them all in their places."""
    whole = len(solids.parts) + 1
    objects = "".join(_object(k + 1, part) for k, part in enumerate(solids.parts))
    held = "".join(f'<component objectid="{k + 1}"/>' for k in range(len(solids.parts)))
    return (
        f'{HEAD}<model unit="millimeter" xml:lang="en-US" xmlns="{CORE}/core/2015/02">'
        f'<metadata name="Title">{escape(solids.title)}</metadata>'
        '<metadata name="Application">planform</metadata>'
        f"\n<resources>\n{objects}"
        f'<object id="{whole}" type="model" name={quoteattr(solids.title)}>'
        f"<components>{held}</components></object>\n</resources>\n"
        f'<build><item objectid="{whole}"/></build></model>\n'
    )


def _object(number: int, part: PartSolid) -> str:
    points = "".join(
        f'<vertex x="{x:.6f}" y="{y:.6f}" z="{z:.6f}"/>' for x, y, z in part.points.tolist()
    )
    facets = "".join(f'<triangle v1="{a}" v2="{b}" v3="{c}"/>' for a, b, c in part.faces.tolist())
    return (
        f'<object id="{number}" type="model" name={quoteattr(part.name)}><mesh>'
        f"<vertices>{points}</vertices><triangles>{facets}</triangles></mesh></object>\n"
    )
