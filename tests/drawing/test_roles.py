"""The roles of marks: each named as its value, and each drawn by some module."""

from __future__ import annotations

import re
from pathlib import Path

import drapetemplate
from drapetemplate.drawing.roles import LETTERS, Role


def test_named_as_their_values() -> None:
    """A role's name is its value in capitals."""
    assert {role.name: role.value.upper().replace("-", "_") for role in Role} == {
        role.name: role.name for role in Role
    }


def test_each_is_drawn() -> None:
    """Every role is given to a mark somewhere; the letters' two by way of their gaps."""
    house = Path(drapetemplate.__file__).parent
    sources = " ".join(
        path.read_text(encoding="utf-8") for path in house.rglob("*.py") if path.name != "roles.py"
    )
    for role in set(Role) - set(LETTERS.values()):
        assert re.search(rf"Role\.{role.name}\b", sources), role
