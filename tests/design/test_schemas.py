"""The published schemas are those of the models, and they take the demo files."""

from __future__ import annotations

import json
import tomllib

import pytest

from planform.design.starter import FILES, SCHEMAS, schema_text, starter_text
from tests.conftest import DESIGNS


@pytest.mark.parametrize("name", SCHEMAS)
def test_published_schema_is_that_of_the_model(name):
    assert (DESIGNS / "schemas" / name).read_text(encoding="utf-8") == schema_text(name)


@pytest.mark.parametrize("name", SCHEMAS)
def test_schema_describes_every_field_and_refuses_others(name):
    schema = json.loads(schema_text(name))
    assert schema["additionalProperties"] is False
    assert set(schema["properties"]) == set(SCHEMAS[name].model_fields)


@pytest.mark.parametrize("name", FILES)
def test_starters_name_their_schema_and_are_toml(name):
    text = starter_text(name)
    assert tomllib.loads(text)["format"].startswith("planform ")
    assert text.splitlines()[0].removeprefix("#:schema ./") in SCHEMAS
