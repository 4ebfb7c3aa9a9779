"""One Chromium for the tests of a module, and one desk without a job file."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser

from tests.helpers.desk_page import Desk, a_browser, a_desk


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """A Chromium without windows."""
    with a_browser() as browser:
        yield browser


@pytest.fixture(scope="module")
def module_desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    """A desk without a job file, for all of a module's tests."""
    with a_desk(tmp_path_factory.mktemp("desk")) as desk:
        yield desk


@pytest.fixture
def desk(module_desk: Desk) -> Desk:
    """A desk without a job file in an empty folder, which is all that it remembers."""
    for left in module_desk.folder.iterdir():
        left.unlink()
    return module_desk
