"""A second reader of ISO 10303-21 text, for tests: entities, their attributes' kinds, and solids.

The attributes of each entity are those of ISO 10303-41, -42, -43 and -44, from memory; a general
reader (a boundary representation kernel) takes files of this form without a complaint.
"""

from __future__ import annotations

import math
import re
from collections import defaultdict

import numpy as np

PIECE = re.compile(
    r"\s*('(?:[^']|'')*'|#\d+|[-+]?\d+\.\d*(?:E[-+]?\d+)?|[-+]?\d+|\.\w+\.|[A-Z_0-9]+|[()$*,;=])"
)

AXES, POINT, WAY = "AXIS2_PLACEMENT_3D", "CARTESIAN_POINT", "DIRECTION"
KINDS = {
    "CARTESIAN_POINT": ["text", ["real"]],
    "DIRECTION": ["text", ["real"]],
    "VECTOR": ["text", WAY, "real"],
    "LINE": ["text", POINT, "VECTOR"],
    AXES: ["text", POINT, WAY, WAY],
    "PLANE": ["text", AXES],
    "VERTEX_POINT": ["text", POINT],
    "EDGE_CURVE": ["text", "VERTEX_POINT", "VERTEX_POINT", "LINE", "sense"],
    "ORIENTED_EDGE": ["text", "*", "*", "EDGE_CURVE", "sense"],
    "EDGE_LOOP": ["text", ["ORIENTED_EDGE"]],
    "FACE_OUTER_BOUND": ["text", "EDGE_LOOP", "sense"],
    "ADVANCED_FACE": ["text", ["FACE_OUTER_BOUND"], "PLANE", "sense"],
    "CLOSED_SHELL": ["text", ["ADVANCED_FACE"]],
    "MANIFOLD_SOLID_BREP": ["text", "CLOSED_SHELL"],
    "ADVANCED_BREP_SHAPE_REPRESENTATION": ["text", [(AXES, "MANIFOLD_SOLID_BREP")], "()"],
    "SHAPE_REPRESENTATION": ["text", [AXES], "()"],
    "APPLICATION_CONTEXT": ["text"],
    "APPLICATION_PROTOCOL_DEFINITION": ["text", "text", "whole", "APPLICATION_CONTEXT"],
    "PRODUCT_CONTEXT": ["text", "APPLICATION_CONTEXT", "text"],
    "PRODUCT_DEFINITION_CONTEXT": ["text", "APPLICATION_CONTEXT", "text"],
    "PRODUCT": ["text", "text", "text", ["PRODUCT_CONTEXT"]],
    "PRODUCT_RELATED_PRODUCT_CATEGORY": ["text", "$", ["PRODUCT"]],
    "PRODUCT_DEFINITION_FORMATION": ["text", "text", "PRODUCT"],
    "PRODUCT_DEFINITION": [
        "text", "text", "PRODUCT_DEFINITION_FORMATION", "PRODUCT_DEFINITION_CONTEXT"],
    "PRODUCT_DEFINITION_SHAPE": [
        "text", "text", ("PRODUCT_DEFINITION", "NEXT_ASSEMBLY_USAGE_OCCURRENCE")],
    "SHAPE_DEFINITION_REPRESENTATION": [
        "PRODUCT_DEFINITION_SHAPE", ("ADVANCED_BREP_SHAPE_REPRESENTATION", "SHAPE_REPRESENTATION")],
    "NEXT_ASSEMBLY_USAGE_OCCURRENCE": [
        "text", "text", "text", "PRODUCT_DEFINITION", "PRODUCT_DEFINITION", "$"],
    "ITEM_DEFINED_TRANSFORMATION": ["text", "text", AXES, AXES],
    "CONTEXT_DEPENDENT_SHAPE_REPRESENTATION": ["()", "PRODUCT_DEFINITION_SHAPE"],
    "UNCERTAINTY_MEASURE_WITH_UNIT": ["(LENGTH_MEASURE)", "()", "text", "text"],
}  # fmt: skip
"""Entities and the kinds of their attributes; '()' is one of several entities in one."""


class Step:
    """What a file holds: header, and entities by number as (keyword, attributes)."""

    def __init__(self, data: bytes) -> None:
        text = data.decode("ascii")
        assert text.startswith("ISO-10303-21;\nHEADER;\n")
        assert text.endswith("ENDSEC;\nEND-ISO-10303-21;\n")
        self.header, rest = text.split("\nDATA;\n")
        body = rest[: rest.rindex("ENDSEC;\nEND-ISO")]
        self.pieces = PIECE.findall(body)
        self.at = 0
        self.entities: dict[str, tuple[str, list]] = {}
        self.points: dict[str, np.ndarray] = {}
        while self.at < len(self.pieces):
            number = self._next()
            self._expect("=")
            assert number.startswith("#")
            assert number not in self.entities
            if self.pieces[self.at] == "(":
                self.entities[number] = ("()", self._complex())
            else:
                self.entities[number] = (self._next(), self._list())
            self._expect(";")

    def _next(self) -> str:
        self.at += 1
        return self.pieces[self.at - 1]

    def _expect(self, mark: str) -> None:
        found = self._next()
        assert found == mark, (found, self.pieces[self.at - 5 : self.at + 3])

    def _complex(self) -> list:
        self._expect("(")
        out = []
        while self.pieces[self.at] != ")":
            out.append((self._next(), self._list()))
        self._expect(")")
        return out

    def _list(self) -> list:
        self._expect("(")
        out: list = []
        while self.pieces[self.at] != ")":
            if self.pieces[self.at] == "(":
                out.append(self._list())
            else:
                piece = self._next()
                known = piece[0].isalpha() and self.pieces[self.at] == "("
                out.append((piece, self._list()) if known else piece)
            if self.pieces[self.at] == ",":
                self.at += 1
        self._expect(")")
        return out

    def of(self, keyword: str) -> list[tuple[str, list]]:
        return [(n, held) for n, (kind, held) in self.entities.items() if kind == keyword]

    def __getitem__(self, number: str) -> list:
        return self.entities[number][1]

    def mistakes(self) -> list[str]:
        """Entities that are not known, or whose attributes are not of the kind that is wanted."""
        out = []
        for number, (kind, held) in self.entities.items():
            if kind == "()":
                continue
            wanted = KINDS.get(kind)
            if wanted is None or len(wanted) != len(held):
                out.append(f"{number} {kind}")
                continue
            out += [
                f"{number} {kind}: {one} is no {want}"
                for one, want in zip(held, wanted, strict=True)
                if not self._fits(one, want)
            ]
        return out

    def _fits(self, one, want) -> bool:
        if isinstance(want, list):
            return isinstance(one, list) and bool(one) and all(self._fits(x, want[0]) for x in one)
        if isinstance(want, tuple):
            return any(self._fits(one, each) for each in want)
        if isinstance(one, tuple):
            return want == f"({one[0]})"
        if one.startswith("#"):
            return one in self.entities and self.entities[one][0] == want
        patterns = {
            "text": r"'.*'", "real": r"[-+]?\d+\.\d*(E[-+]?\d+)?", "whole": r"\d+",
            "sense": r"\.[TF]\.", "$": r"\$", "*": r"\*",
        }  # fmt: skip
        return want in patterns and re.fullmatch(patterns[want], one, re.DOTALL) is not None

    def lengths(self) -> list[list[str]]:
        """The units of length, as prefix and name."""
        made = [dict(held) for _, held in self.of("()")]
        return [parts["SI_UNIT"] for parts in made if "LENGTH_UNIT" in parts]

    def products(self) -> dict[str, list[str]]:
        """Names of products, and the numbers of the solids of each."""
        shape_of = {}
        for _, (whole, shape) in self.of("SHAPE_DEFINITION_REPRESENTATION"):
            definition = self[whole][2]
            product = self[self[definition][2]][2]
            shape_of[decoded(self[product][1])] = [
                item for item in self[shape][1] if self.entities[item][0] == "MANIFOLD_SOLID_BREP"
            ]
        return shape_of

    def solid(self, number: str) -> tuple[float, float, int]:
        """Volume, area and Euler characteristic of a solid, each facet fanned from its loop.

        AssertionError where a loop is not closed, an edge has not two opposite faces, a point is
        off its line or plane, or a plane's normal is not the loop's.
        """
        corners, sides, points = [], defaultdict(list), set()
        for face in self[self[number][1]][1]:
            bounds, plane, sense = self[face][1:]
            assert sense == ".T."
            loop, way = self[bounds[0]][1:]
            assert way == ".T."
            ring = self._ring(loop, sides)
            points |= {p for p, _ in ring}
            at = np.array([where for _, where in ring])
            self._on_plane(plane, at)
            corners += [(at[0], at[k], at[k + 1]) for k in range(1, len(at) - 1)]
        assert all(sorted(senses) == [".F.", ".T."] for senses in sides.values())
        a, b, c = np.array(corners).transpose(1, 0, 2)
        middle = a.mean(axis=0)
        a, b, c = a - middle, b - middle, c - middle
        volume = float(np.einsum("ij,ij->i", a, np.cross(b, c)).sum() / 6.0)
        area = float(np.linalg.norm(np.cross(b - a, c - a), axis=1).sum() / 2.0)
        faces = len(self[self[number][1]][1])
        return volume, area, len(points) - len(sides) + faces

    def _ring(self, loop: str, sides) -> list[tuple[str, np.ndarray]]:
        ring, ends = [], []
        for oriented in self[loop][1]:
            curve, sense = self[oriented][3:]
            sides[curve].append(sense)
            first, last, line, same = self[curve][1:]
            assert same == ".T."
            if sense == ".T.":  # every edge is run along once so
                self._on_line(line, self.point(self[first][1]), self.point(self[last][1]))
            first, last = (first, last) if sense == ".T." else (last, first)
            ring.append((first, self.point(self[first][1])))
            ends.append(last)
        assert ends == [name for name, _ in ring[1:] + ring[:1]]
        return ring

    def point(self, number: str) -> np.ndarray:
        if number not in self.points:
            self.points[number] = np.array([float(x) for x in self[number][1]])
        return self.points[number]

    def _on_line(self, line: str, first: np.ndarray, last: np.ndarray) -> None:
        origin, vector = self[line][1:]
        way = self.point(self[vector][1])
        assert abs(math.hypot(*way) - 1.0) < 1e-12
        assert (last - first) @ way > 0.0
        for at in (first, last):
            off = at - self.point(origin)
            assert math.hypot(*(off - (off @ way) * way)) < 1e-8

    def _on_plane(self, plane: str, at: np.ndarray) -> None:
        origin, up, ahead = self[self[plane][1]][1:]
        normal, x = self.point(up), self.point(ahead)
        assert abs(normal @ x) < 1e-9
        assert abs((at - self.point(origin)) @ normal).max() < 1e-8
        (a, b, c), (d, e, f) = at[1] - at[0], at[2] - at[0]
        assert normal @ (b * f - c * e, c * d - a * f, a * e - b * d) > 0.0


def decoded(text: str) -> str:
    """A string of the file as it was given."""

    def letters(found: re.Match) -> str:
        step = int(found[1]) * 2
        return "".join(chr(int(found[2][k : k + step], 16)) for k in range(0, len(found[2]), step))

    plain = text[1:-1].replace("''", "'")
    parts = re.split(r"(\\\\)", plain)
    return "".join(
        "\\" if part == "\\\\" else re.sub(r"\\X([24])\\([0-9A-F]+)\\X0\\", letters, part)
        for part in parts
    )
