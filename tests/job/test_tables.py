"""The tables of a job file: every key, its units, and the JSON Schema of it all."""

from __future__ import annotations

import json
from fractions import Fraction
from typing import Any

import pytest

from drapetemplate.job.tables import TABLES, JobFile, field_of, keys_of

CLOTH_KEYS = """
    name width seam side_hem heading bottom_hem repeat_down repeat_across railroad weight shrinkage
    allowance
"""
WINDOW_KEYS = """
    name quantity panels width covers glass fullness widths length leading return count gap
    stack_each extra_seams pattern motif_below
    eyelet band pole fabric lining
"""


def _least() -> dict[str, Any]:
    return {"job": {"name": "Heron Point"}, "window": [{"return": 75}]}


@pytest.mark.parametrize(
    ("units", "millimetres"), [("in", Fraction(1905)), ("cm", Fraction(750)), ("mm", Fraction(75))]
)
def test_context_units(units: str, millimetres: Fraction) -> None:
    """Bare numbers are read in the units of the validation context."""
    file = JobFile.model_validate(_least(), context={"units": units})
    assert millimetres == file.window[0].return_


def test_not_given() -> None:
    """A key that isn't given is None, and a cloth's table too."""
    file = JobFile.model_validate(_least())
    actual = (file.eyelet.hole, file.fabric, file.window[0].pole.top)
    assert all(value is None for value in actual)


@pytest.mark.parametrize(
    ("table", "keys"),
    [
        ("", "units job paper eyelet band pole fabric lining window"),
        ("job", "name number client room due notes"),
        ("paper", "size orientation margin overlap joins view strips style letters printer"),
        ("eyelet", "outside opening hole thickness hung weight pack spares"),
        ("band", "height above roll"),
        ("pole", "diameter projection wall_clearance top off_floor length supports span"),
        ("fabric", f"{CLOTH_KEYS} motif mirrored motif_down"),
        ("lining", f"{CLOTH_KEYS} joined set_in short"),
        ("window", WINDOW_KEYS),
    ],
)
def test_keys_of(table: str, keys: str) -> None:
    """Each table knows its keys, spelled as in a file."""
    assert keys.split() == keys_of(table)


def test_schema() -> None:
    """The JSON Schema lets keys be left out, not null, and refuses unknown ones."""
    schema = JobFile.model_json_schema()
    tables = [schema, *schema["$defs"].values()]
    described = {table["additionalProperties"] for table in tables}
    assert (False, {False}, ["job", "window"]) == (
        "null" in json.dumps(schema),
        described,
        schema["required"],
    )


def test_schema_length() -> None:
    """A length is a number over 0 or text in the JSON Schema."""
    gap = JobFile.model_json_schema()["$defs"]["WindowTable"]["properties"]["gap"]
    assert (gap["type"], gap["exclusiveMinimum"]) == (["number", "string"], 0)


def test_every_key_is_described() -> None:
    """Every key of every table but the tables themselves has a description."""
    missing = [
        f"{table}.{name}"
        for table, model in TABLES.items()
        for name, field in model.model_fields.items()
        if not field.description and name not in TABLES
    ]
    assert not missing


@pytest.mark.parametrize(
    ("table", "titles"),
    [
        (
            "window",
            {
                "panels": "Panels",
                "width": "Finished width",
                "covers": "Pole covered",
                "length": "Finished length",
                "leading": "Leading",
                "return": "Return",
                "count": "Eyelets a panel",
                "gap": "Gap aimed at",
                "stack_each": "Stack, each eyelet",
                "motif_below": "Motif below the top",
            },
        ),
        ("eyelet", {"outside": "Eyelet outside", "opening": "Opening", "hole": "Hole to cut"}),
        ("band", {"height": "Band height", "above": "Top to eyelet"}),
        (
            "pole",
            {
                "projection": "Projection",
                "wall_clearance": "Kept off the wall",
                "top": "Floor to pole top",
                "off_floor": "Off the floor",
                "length": "Usable pole",
            },
        ),
        ("fabric", {"repeat_down": "vertical repeat", "repeat_across": "horizontal repeat"}),
        ("lining", {"set_in": "set in", "short": "short of the face"}),
        ("paper", {"view": "Template shows", "strips": "Strip", "style": "Template"}),
    ],
)
def test_what_measures_are_called(table: str, titles: dict[str, str]) -> None:
    """A measure is read back, listed and blamed by this name: by another one it is another edge."""
    assert {key: field_of(table, key).title for key in titles} == titles
