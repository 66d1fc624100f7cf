"""The shapes as JSON Schemas, for editors that complete and check what a teacher types."""

import json
import re
from typing import Any

from witnessmark.files.shapes.relation_shapes import TopicRelationsShape
from witnessmark.files.shapes.shapes import (
    MisconceptionShape,
    QuestionShape,
    TableShape,
    schema_of,
)
from witnessmark.files.shapes.task_shapes import TaskShape
from witnessmark.files.shapes.values import (
    Shape,
)

DRAFT = "https://json-schema.org/draft/2020-12/schema"


def schemas() -> dict[str, dict[str, Any]]:
    """The JSON Schema (draft 2020-12) of each kind of file, by its name."""
    files: dict[str, type[Shape]] = {"question": QuestionShape, "table": TableShape, "task": TaskShape}
    found = {name: schema_of(shape) for name, shape in files.items()}
    by_key: dict[str, type[Shape]] = {"misconceptions": MisconceptionShape, "relations": TopicRelationsShape}
    found |= {name: _each_key(schema_of(shape)) for name, shape in by_key.items()}
    return {name: {"$schema": DRAFT, **_plain(schema)} for name, schema in found.items()}


def _each_key(schema: dict[str, Any]) -> dict[str, Any]:
    """The schema of a file with such a thing below each of its keys; what it refers to stands at the top."""
    shared = schema.pop("$defs", None)
    return {"type": "object", "additionalProperties": schema} | ({"$defs": shared} if shared else {})


NUMBER = re.compile(r"[0-9.]+")


def _plain(schema: Any) -> Any:
    """The schema without what editors would offer for nothing: made-up titles, empty values; numbers are numbers."""
    if isinstance(schema, list):
        return [_plain(item) for item in schema]
    if not isinstance(schema, dict):
        return schema
    kept = {key: _plain(value) for key, value in schema.items() if not (key == "title" and isinstance(value, str))}
    default = kept.pop("default", None)
    if isinstance(default, str) and NUMBER.fullmatch(default):
        default = json.loads(default)
    if isinstance(default, bool | int | float):
        kept["default"] = default
    return kept
