"""Puts the tests' own helper modules where every test can import them, and shares slow fixtures.

Under importlib mode no test folder is on the path, and mypy takes no two files named conftest.
"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from hypothesis import settings

sys.path.insert(0, str(Path(__file__).parent / "helpers"))

import cases

# By hand: `pytest tests/test_whole_way.py --hypothesis-profile=long`, for each kind of job.
settings.register_profile("long", max_examples=150, deadline=None, print_blob=True)

if TYPE_CHECKING:
    from cases import Printed


@pytest.fixture(scope="session", params=list(cases.CASES.values()), ids=list(cases.CASES))
def printed(request: pytest.FixtureRequest) -> Printed:
    """Every hand-worked case in turn, made and measured once."""
    return cases.measured(request.param)
