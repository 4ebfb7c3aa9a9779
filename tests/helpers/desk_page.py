"""A desk started as its user starts it, and its page in a real Chromium, driven by Playwright.

Chromium is the distribution's: `apt install chromium`, or CHROMIUM names another one.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import signal
import subprocess
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Literal
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Browser, Locator, Page, Request, sync_playwright

from tests.helpers.commands import TOOL, around

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

    process: subprocess.Popen[str]
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
        self.process.wait()


@contextmanager
def a_desk(folder: Path, *words: str) -> Iterator[Desk]:
    """A desk started in a folder, with what is typed behind `drapetemplate desk`."""
    process = subprocess.Popen(
        [*TOOL, "desk", *words, "--no-open"],
        cwd=folder,
        env=around({"PYTHONUNBUFFERED": "1"}),
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    )
    assert process.stdout is not None
    try:
        told = ""
        for line in process.stdout:
            told += line
            if address := re.search(r"http://127\.0\.0\.1:\d+/#[\w-]+", line):
                yield Desk(process, folder, address[0])
                break
        else:
            pytest.fail(f"the desk said no address:\n{told}")
    finally:
        if process.poll() is None:
            process.send_signal(signal.SIGINT)
        process.wait(10)
        process.stdout.close()


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
    """A new page of the desk, loaded and at rest, which shares nothing with others."""
    context = browser.new_context(
        viewport={"width": width, "height": height}, color_scheme=scheme, reduced_motion="reduce"
    )
    context.set_default_timeout(WAIT)
    page = context.new_page()
    parts = urlsplit(address)
    watched = watch(page, f"{parts.scheme}://{parts.netloc}")
    page.goto(address)
    rest(page)
    return watched


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
            place.locator("input").fill(text)
    rest(page)
