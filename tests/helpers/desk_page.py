"""A desk's command run in a fork of the tests, and its page in a real Chromium, by Playwright.

Chromium is the distribution's: `apt install chromium`, or CHROMIUM names another one.
"""

from __future__ import annotations

import json
import multiprocessing
import os
import re
import shutil
import signal
import sys
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from multiprocessing.context import ForkProcess
from pathlib import Path
from typing import Literal
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, BrowserContext, Locator, Page, Request, sync_playwright

from drapetemplate.cli import main
from drapetemplate.desk import app, server  # loaded here, for every desk that is forked

MUST_HAVE = "DRAPETEMPLATE_MUST_HAVE_BROWSER"
"""Set where a missing browser is a fault of the machine's set-up, not a reason to skip."""
NAMES = ("chromium", "chromium-browser", "google-chrome")
ALONE = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
"""Chromium by itself: it asks nothing of the network on its own."""
LEAST = {
    "job.name": "Heron Point, writing room",
    "window[1].width": "88",
    "eyelet.outside": "2 5/8",
    "eyelet.opening": "1 9/16",
}
"""The answers that a template needs at the least, beside the units."""
RESTING = "body[data-resting=yes]"
LOOKED = "body[data-looked=yes]"
FORKED_WITH = (app, server)
WAIT = 20_000.0
"""Milliseconds that a busy machine may take for what takes a tenth of a second."""


def chromium() -> str | None:
    """Where this machine has a Chromium, if it has one."""
    named = os.environ.get("CHROMIUM")
    return named or next(filter(None, map(shutil.which, NAMES)), None)


@contextmanager
def a_browser() -> Iterator[Browser]:
    """A Chromium without windows; the test is skipped, or fails, where there is none."""
    program = chromium()
    if program is None:
        reason = "no Chromium here: apt install chromium, or set CHROMIUM to its path"
        if os.environ.get(MUST_HAVE):
            pytest.fail(reason)
        pytest.skip(reason)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=program, args=list(ALONE))
        yield browser
        browser.close()


@dataclass
class Desk:
    """A desk that runs: its process, its folder and the address of its page, key and all."""

    process: ForkProcess
    folder: Path
    address: str

    @property
    def origin(self) -> str:
        """The address without path and key."""
        parts = urlsplit(self.address)
        return f"{parts.scheme}://{parts.netloc}"

    def kill(self) -> None:
        """End it as a crash does."""
        self.process.kill()
        self.process.join()

    def signal(self, number: int) -> None:
        """Send it a signal."""
        os.kill(self.process.pid or 0, number)


@contextmanager
def a_desk(folder: Path, *words: str) -> Iterator[Desk]:
    """A desk in a folder, with what is typed behind `drapetemplate desk`.

    It is a fork of the tests' process, where all is imported already: a twentieth of the time that
    it takes to start, which `tests/desk/test_server.py` does as a user would.
    """
    reading, writing = os.pipe()
    process = multiprocessing.get_context("fork").Process(
        target=_desk, args=(folder, words, writing), daemon=True
    )
    process.start()
    os.close(writing)
    try:
        with os.fdopen(reading, encoding="utf-8") as said:
            told = ""
            for line in said:
                told += line
                if address := re.search(r"http://127\.0\.0\.1:\d+/#[\w-]+", line):
                    yield Desk(process, folder, address[0])
                    break
            else:
                pytest.fail(f"the desk said no address:\n{told}")
    finally:
        if process.is_alive():
            os.kill(process.pid or 0, signal.SIGINT)
        process.join(10)


def _desk(folder: Path, words: tuple[str, ...], said: int) -> None:
    """A forked desk's whole life; what it says goes to a pipe."""
    for stream in (1, 2):
        os.dup2(said, stream)
    sys.stdout = os.fdopen(1, "w", buffering=1, encoding="utf-8", closefd=False)
    sys.stderr = os.fdopen(2, "w", buffering=1, encoding="utf-8", closefd=False)
    os.chdir(folder)
    sys.argv = ["drapetemplate", "desk", *words, "--no-open"]
    main()


@dataclass
class Watched:
    """A page, and what went on in it that nobody should see: errors, and requests elsewhere."""

    page: Page
    errors: list[str] = field(default_factory=list)
    elsewhere: list[str] = field(default_factory=list)


def watch(page: Page, origin: str) -> Watched:
    """A page watched from before its first request."""
    watched = Watched(page)

    def asked(request: Request) -> None:
        if not request.url.startswith((f"{origin}/", f"blob:{origin}/")):
            watched.elsewhere.append(request.url)

    page.on("request", asked)
    page.on("pageerror", lambda error: watched.errors.append(str(error)))
    page.on(
        "console",
        lambda said: (
            watched.errors.append(said.text) if said.type in {"error", "warning"} else None
        ),
    )
    return watched


def open_page(
    browser: Browser,
    address: str,
    *,
    width: int = 1280,
    height: int = 800,
    scheme: Literal["light", "dark"] = "light",
) -> Watched:
    """A new page of the desk, loaded and at rest, that knows nothing of others.

    All pages are of one context, as tabs are, and of one process: a third of the time of a new one.
    """
    page = the_context(browser).new_page()
    page.set_viewport_size({"width": width, "height": height})
    page.emulate_media(color_scheme=scheme, reduced_motion="reduce")
    parts = urlsplit(address)
    watched = watch(page, f"{parts.scheme}://{parts.netloc}")
    page.goto(address)
    rest(page)
    return watched


def the_context(browser: Browser) -> BrowserContext:
    """What holds all pages."""
    if not browser.contexts:
        browser.new_context().set_default_timeout(WAIT)
    return browser.contexts[0]


def rest(page: Page) -> None:
    """Wait until all that was typed has been answered."""
    page.wait_for_selector(RESTING)


def look(page: Page) -> None:
    """Wait until the fields and pictures are those of what was typed last."""
    page.wait_for_selector(LOOKED)


def field_at(page: Page, path: str) -> Locator:
    """The question whose answer goes to `path`, with all that stands about it."""
    return page.locator(f'[data-path="{path}"]')


def type_in(page: Page, answers: Mapping[str, str]) -> None:
    """Answer questions as someone does: a line is typed, a choice is pressed; each as it comes."""
    for path, text in answers.items():
        place = field_at(page, path)
        place.wait_for()
        choice = place.locator(f"input[type=radio][value={json.dumps(text)}]")
        if choice.count():
            choice.check()
        elif place.locator("select").count():
            place.locator("select").select_option(text)
        else:
            line = place.locator("input")
            line.fill(text)
            line.press("Enter")  # no more is to come, so nothing waits for it
    rest(page)
