"""Sets up long searches and what processes started here run, and shares slow fixtures."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from tests.helpers import cases, searching

if TYPE_CHECKING:
    from tests.helpers.cases import Printed

searching.register()

# A process that a test starts runs this checkout too, whatever folder it is started in.
ROOT = Path(__file__).parent.parent
os.environ["PYTHONPATH"] = os.pathsep.join(
    [str(ROOT), *filter(None, [os.environ.get("PYTHONPATH")])]
)
# It finds modules compiled: a third of the time that it takes to start.
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)


@pytest.fixture(scope="session", params=list(cases.CASES.values()), ids=list(cases.CASES))
def printed(request: pytest.FixtureRequest) -> Printed:
    """Every hand-worked case in turn, made and measured once."""
    return cases.measured(request.param)
