"""A browser is led to the desk by a file, as the command does it; without its key it is shut."""

from __future__ import annotations

import os
import signal
import subprocess
import time
from pathlib import Path

from playwright.sync_api import Browser

from tests.helpers.commands import TOOL, around
from tests.helpers.desk_page import Desk, rest

OPENER = """#!/bin/sh
cp "${1#file://}" "$LED.part" && mv "$LED.part" "$LED"
"""


def test_the_file_that_leads_there(browser: Browser, tmp_path: Path) -> None:
    """What the command hands to the browser brings it to the page, with the run's key."""
    opener, led = tmp_path / "xdg-open", tmp_path / "led.html"
    opener.write_text(OPENER, encoding="utf-8")
    opener.chmod(0o755)
    path = os.pathsep.join([str(tmp_path), os.environ["PATH"]])
    with subprocess.Popen(
        [*TOOL, "desk"],
        cwd=tmp_path,
        env=around({"PATH": path, "LED": str(led)}),
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    ) as process:
        try:
            until = time.monotonic() + 20
            while not led.exists() and time.monotonic() < until:
                time.sleep(0.05)
            page = browser.new_context().new_page()
            page.goto(led.as_uri())
            page.wait_for_url("http://127.0.0.1:*/")
            rest(page)
            assert page.locator("#form .field").count() > 10
            assert page.evaluate("location.hash") == ""
        finally:
            process.send_signal(signal.SIGINT)


def test_without_the_key(browser: Browser, desk: Desk) -> None:
    """The address without its key shows nothing of the job, and says where the key is."""
    page = browser.new_context().new_page()
    page.goto(f"{desk.origin}/")
    page.locator("#lost").wait_for()
    assert "drapetemplate desk" in page.locator("#lost").inner_text()
    assert page.locator("#form .field").count() == 0
