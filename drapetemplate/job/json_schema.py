"""The JSON Schema of the job file (draft 2020-12), for editors that check TOML as it is written.

It comes from the tables that read the file, so the two can't part. It refuses nothing the reader
takes; of what the reader refuses it knows keys, types, words, spellings and what can't go together
by name, but no arithmetic: only `read_job` says that a job is right.
"""

from __future__ import annotations

import json
from typing import Any

from drapetemplate.job.fields import LENGTH_SCHEMA, POSITIVE_SCHEMA
from drapetemplate.job.tables import JobFile

SCHEMA_NAME = "job.schema.json"
"""What the schema's file is called, beside the job files it is for."""

SCHEMA_LINE = f"#:schema ./{SCHEMA_NAME}"
"""The first line of a job file, by which editors of TOML find its schema."""

# What many keys hold is written out once, under these names.
_SHARED = {"length": LENGTH_SCHEMA, "length_over_0": POSITIVE_SCHEMA}


def job_schema() -> dict[str, Any]:
    """Return the schema of a whole job file, as JSON values; dates are text there."""
    schema = JobFile.model_json_schema()
    tables = schema["$defs"]
    for table in (schema, *tables.values()):
        table.pop("title", None)
        table["properties"] = {
            key: _key(described) for key, described in table["properties"].items()
        }
    tables |= {name: dict(shared) for name, shared in _SHARED.items()}
    window = tables["WindowTable"]
    window["anyOf"] = [{"required": [key]} for key in ("width", "widths", "fullness")]
    twice = (["width", "widths"], *([key, "covers", "fullness"] for key in ("width", "widths")))
    window["not"] = {"anyOf": [{"required": keys} for keys in twice]}
    schema["allOf"] = [_somewhere("eyelet", key) for key in ("outside", "opening")]
    schema["$schema"] = "https://json-schema.org/draft/2020-12/schema"
    schema["title"] = "A job file of drapetemplate"
    return schema


def schema_text() -> str:
    """Return the schema as the text of its file: the same each time, and ASCII alone."""
    return json.dumps(job_schema(), indent=2, sort_keys=True, ensure_ascii=True) + "\n"


def _key(schema: dict[str, Any]) -> dict[str, Any]:
    """Return a key's schema without a title, and what it shares with others as a reference.

    A reference stands in a list of its own: editors of older drafts pass over what is beside one.
    """
    reference = _reference(schema)
    if reference is not None:
        return {"description": schema["description"], "allOf": [{"$ref": reference}]}
    described = {word: value for word, value in schema.items() if word != "title"}
    choices = described.get("anyOf")
    if choices is not None:
        references = map(_reference, choices)
        described["anyOf"] = [
            choice if reference is None else {"$ref": reference}
            for choice, reference in zip(choices, references, strict=True)
        ]
    return described


def _reference(schema: dict[str, Any]) -> str | None:
    """Return where what a schema says is written out once; None where it is only here."""
    for name, shared in _SHARED.items():
        if all(schema.get(word) == value for word, value in shared.items()):
            return f"#/$defs/{name}"
    return schema.get("$ref")


def _somewhere(table: str, key: str) -> dict[str, Any]:
    """Return the rule that a key is in the file's own table, or in that of every window."""
    given = {"properties": {table: {"required": [key]}}, "required": [table]}
    return {"anyOf": [given, {"properties": {"window": {"items": given}}}]}
