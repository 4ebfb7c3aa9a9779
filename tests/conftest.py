"""Sets up hypothesis, and shares slow fixtures."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import settings

from tests.helpers import cases

# By hand: `pytest tests/test_whole_way.py --hypothesis-profile=long`, for each kind of job.
settings.register_profile("long", max_examples=150, deadline=None, print_blob=True)

if TYPE_CHECKING:
    from tests.helpers.cases import Printed


@pytest.fixture(scope="session", params=list(cases.CASES.values()), ids=list(cases.CASES))
def printed(request: pytest.FixtureRequest) -> Printed:
    """Every hand-worked case in turn, made and measured once."""
    return cases.measured(request.param)
