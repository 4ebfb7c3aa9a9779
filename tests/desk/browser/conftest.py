"""One Chromium for all tests of the page, and desks without a job file."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser

from tests.helpers.desk_page import Desk, a_browser, a_desk, the_context


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """A Chromium without windows."""
    with a_browser() as browser:
        yield browser


@pytest.fixture(autouse=True)
def _closed(browser: Browser) -> Iterator[None]:
    """Close the pages that a test opens, and leave the browser as it was."""
    context = the_context(browser)
    before = context.pages
    yield
    context.set_offline(offline=False)
    for page in context.pages:
        if page not in before:
            page.close()


@pytest.fixture
def desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    """A desk without a job file, in an empty folder."""
    with a_desk(tmp_path_factory.mktemp("desk")) as desk:
        yield desk


@pytest.fixture(scope="module")
def module_desk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Desk]:
    """A desk without a job file for all of a module's tests."""
    with a_desk(tmp_path_factory.mktemp("desk")) as desk:
        yield desk


@pytest.fixture
def shared_desk(module_desk: Desk) -> Desk:
    """A desk without a job file, for tests that save none: what was typed before is forgotten."""
    for draft in module_desk.folder.iterdir():
        draft.unlink()
    return module_desk
