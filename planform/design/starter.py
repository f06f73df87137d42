"""The starter files and the JSON Schemas of the file formats."""

from __future__ import annotations

import json
from importlib.resources import files
from pathlib import Path

from pydantic import BaseModel

from planform.design.carrier import Carrier
from planform.design.models import Design
from planform.design.place import Place
from planform.design.problems import InputError, Problem

FILES = ("my-design.toml", "my-place.toml")
SCHEMAS: dict[str, type[BaseModel]] = {
    "planform-design.schema.json": Design,
    "planform-place.schema.json": Place,
    "planform-carrier.schema.json": Carrier,
}


def schema_text(name: str) -> str:
    """One published schema, as produced from the models."""
    schema = SCHEMAS[name].model_json_schema()
    schema["$schema"] = "https://json-schema.org/draft/2020-12/schema"
    return json.dumps(schema, indent=2, ensure_ascii=False) + "\n"


def starter_text(name: str) -> str:
    """One starter file."""
    return files("planform.design").joinpath("starter", name).read_text(encoding="utf-8")


def write_starter(folder: Path) -> list[Path]:
    """Write both starters and the schemas; nothing where one of them is there already."""
    texts = {name: starter_text(name) for name in FILES}
    texts |= {name: schema_text(name) for name in SCHEMAS}
    there = [name for name in FILES if (folder / name).exists()]
    if there:
        allowed = "already there and left alone; name another folder"
        raise InputError("new", [Problem("", str(folder / name), allowed) for name in there])
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name, text in texts.items():
            (folder / name).write_text(text, encoding="utf-8")
    except OSError as error:
        problem = Problem("", str(folder), f"this folder cannot be written ({error.strerror})")
        raise InputError("new", [problem]) from None
    return [folder / name for name in texts]
