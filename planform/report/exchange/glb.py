"""GLB, the binary form of glTF 2.0: one node a part; metres and y up, as that standard asks."""

from __future__ import annotations

import json

import numpy as np
from numpy.typing import NDArray

from planform.report.exchange.solids import PartSolid, SolidSet

ENDING = "glb"
ABOUT = "one node a part, metres and y up as its standard asks"

Y_UP = np.array([[1.0, 0.0, 0.0], [0.0, 0.0, 1.0], [0.0, -1.0, 0.0]])
"""Aft stays x, up becomes y, the left side z: rows of the turn."""
M = 1e-3
"""Metres in a millimetre."""
FLOAT, UNSIGNED = 5126, 5125
POINTS, INDICES = 34962, 34963
JSON_CHUNK, DATA_CHUNK = b"JSON", b"BIN\0"

Json = dict[str, object]


class _Data:
    """The binary chunk in the making, with its views and accessors."""

    def __init__(self) -> None:
        self.bytes = bytearray()
        self.views: list[Json] = []
        self.accessors: list[Json] = []

    def points(self, points: NDArray[np.float32]) -> int:
        """Take points, shape (n, 3); the accessor's number."""
        low, high = (ends.tolist() for ends in (points.min(axis=0), points.max(axis=0)))
        more: Json = {"componentType": FLOAT, "type": "VEC3", "min": low, "max": high}
        return self._taken(points.astype("<f4").tobytes(), POINTS, len(points), more)

    def indices(self, faces: NDArray[np.int64]) -> int:
        """Take faces, shape (m, 3); the accessor's number."""
        more: Json = {"componentType": UNSIGNED, "type": "SCALAR"}
        return self._taken(faces.astype("<u4").tobytes(), INDICES, faces.size, more)

    def _taken(self, data: bytes, target: int, count: int, more: Json) -> int:
        view = {"buffer": 0, "byteOffset": len(self.bytes), "byteLength": len(data)}
        self.views.append({**view, "target": target})
        self.accessors.append({"bufferView": len(self.views) - 1, "count": count, **more})
        self.bytes += data
        return len(self.accessors) - 1


def content(solids: SolidSet) -> bytes:
    """The bytes of the file.

    Points are held about the middle of their part, so that single precision keeps them to some
    hundred-thousandths of a millimetre.
    """
    data = _Data()
    looks = sorted({(part.colour, part.opacity) for part in solids.parts})
    parts = [part for part in solids.parts if len(part.faces)]
    meshes: list[Json] = []
    nodes: list[Json] = [{"name": solids.title}]
    for part in parts:
        mesh, middle = _mesh(part, data, looks.index((part.colour, part.opacity)))
        nodes.append({"name": part.name, "mesh": len(meshes), "translation": middle})
        meshes.append(mesh)
    whole: Json = {
        "asset": {"version": "2.0", "generator": "planform"},
        "scene": 0,
        "scenes": [{"nodes": [0]}],
        "nodes": nodes,
    }
    if parts:
        nodes[0]["children"] = list(range(1, len(nodes)))
        whole |= {"meshes": meshes, "materials": [_material(*look) for look in looks]}
        whole |= {"accessors": data.accessors, "bufferViews": data.views}
        whole |= {"buffers": [{"byteLength": len(data.bytes)}]}
    text = json.dumps(whole, ensure_ascii=False, separators=(",", ":")).encode("utf-8")
    chunks = _chunk(JSON_CHUNK, text, b" ")
    chunks += _chunk(DATA_CHUNK, bytes(data.bytes), b"\0") if parts else b""
    return b"glTF" + _numbers(2, 12 + len(chunks)) + chunks


def _mesh(part: PartSolid, data: _Data, look: int) -> tuple[Json, list[float]]:
    """A part's mesh, and where its middle is [m]; without normals, so it is shaded flat."""
    points = part.points @ Y_UP.T * M
    middle = np.round((points.min(axis=0) + points.max(axis=0)) / 2.0, 3) + 0.0
    corner = data.points((points - middle).astype(np.float32))
    piece = {"attributes": {"POSITION": corner}, "indices": data.indices(part.faces)}
    return {"name": part.name, "primitives": [{**piece, "material": look}]}, middle.tolist()


def _material(colour: str, opacity: float) -> Json:
    """A matt look; colours are made linear as the standard asks (sRGB, IEC 61966-2-1)."""
    seen = np.array([int(colour[k : k + 2], 16) / 255.0 for k in (1, 3, 5)])
    light = np.where(seen <= 0.04045, seen / 12.92, ((seen + 0.055) / 1.055) ** 2.4)
    factor = [*np.round(light, 4).tolist(), opacity]
    matt = {"baseColorFactor": factor, "metallicFactor": 0.0, "roughnessFactor": 0.9}
    more: Json = {"alphaMode": "BLEND"} if opacity < 1.0 else {}
    return {"pbrMetallicRoughness": matt, **more}


def _chunk(kind: bytes, content: bytes, filling: bytes) -> bytes:
    padded = content + filling * (-len(content) % 4)
    return _numbers(len(padded)) + kind + padded


def _numbers(*values: int) -> bytes:
    return np.array(values, "<u4").tobytes()
