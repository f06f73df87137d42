"""The starter files and the JSON Schemas of the file formats."""

from __future__ import annotations

import json
from collections.abc import Mapping
from importlib.resources import files

from pydantic import BaseModel

from planform.design.carrier import Carrier
from planform.design.models import Design
from planform.design.place import Place
from planform.design.side_schema import with_sides

FILES = ("my-design.toml", "my-place.toml")
SCHEMAS: dict[str, type[BaseModel]] = {
    "planform-design.schema.json": Design,
    "planform-place.schema.json": Place,
    "planform-carrier.schema.json": Carrier,
}


def schema_text(name: str) -> str:
    """One published schema, as produced from the models."""
    schema = with_sides(SCHEMAS[name].model_json_schema())
    schema["$schema"] = "https://json-schema.org/draft/2020-12/schema"
    return json.dumps(schema, indent=2, ensure_ascii=False) + "\n"


def starter_text(name: str) -> str:
    """One starter file."""
    return files("planform.design").joinpath("starter", name).read_text(encoding="utf-8")


def with_schemas(texts: Mapping[str, str]) -> dict[str, str]:
    """Texts of files with the schemas beside them, by file name."""
    return {name: schema_text(name) for name in SCHEMAS} | dict(texts)


def starter() -> dict[str, str]:
    """The schemas and both starters, by file name."""
    return with_schemas({name: starter_text(name) for name in FILES})
