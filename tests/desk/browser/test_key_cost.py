"""From a key to its new picture, over thirty edits of each sample, against what a request costs."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from statistics import median

import pytest
from playwright.sync_api import Browser

import drapetemplate
from tests.helpers.desk_page import a_desk, field_at, open_page, rest

SAMPLES = sorted((Path(drapetemplate.__file__).parent.parent / "sample_jobs").glob("*.toml"))
EDITS = 30
MEDIAN, WORST = 250.0, 500.0
"""Milliseconds that a key may take on a machine that answers with a small file in `USUAL`."""
USUAL = 2.0

FLOOR = """async () => {
    const taken = [];
    for (let n = 0; n < 30; n += 1) {
        const begun = performance.now();
        await (await fetch("icon.svg", {cache: "no-store"})).text();
        taken.push(performance.now() - begun);
    }
    return taken;
}"""
WATCH = """() => {
    window.taken = [];
    let begun = 0;
    document.addEventListener("input", () => { begun = performance.now(); }, true);
    new MutationObserver(() => {
        if (document.body.dataset.looked !== "yes" || !begun) return;
        const since = begun;
        begun = 0;
        requestAnimationFrame(() => window.taken.push(performance.now() - since));
    }).observe(document.body, {attributes: true, attributeFilter: ["data-looked"]});
}"""


@pytest.mark.long
@pytest.mark.parametrize("sample", SAMPLES, ids=lambda sample: sample.stem)
def test_key_to_new_picture(
    browser: Browser,
    tmp_path: Path,
    sample: Path,
    record_property: Callable[[str, object], None],
) -> None:
    """A key shows its picture in a quarter of a second, in half a second at the worst."""
    (tmp_path / sample.name).write_bytes(sample.read_bytes())
    with a_desk(tmp_path, sample.name) as desk:
        page = open_page(browser, desk.address).page
        floor = median(page.evaluate(FLOOR))
        slower = max(1.0, floor / USUAL)
        page.evaluate(WATCH)
        line = field_at(page, "window[1].return").locator("input")
        for edit in range(EDITS):
            line.fill(f"{4 + edit % 2} {edit % 7 + 1}/8 in")
            page.wait_for_function(f"() => window.taken.length === {edit + 1}")
        taken = page.evaluate("() => window.taken")
        rest(page)
    record_property("key to picture, ms", (median(taken), max(taken), floor))
    assert median(taken) <= MEDIAN * slower, taken
    assert max(taken) <= WORST * slower, taken


WIDEST = """units = "in"
[job]
name = "Heron Point, sea front"
[eyelet]
outside = "2 5/8"
opening = "1 9/16"
[pole]
projection = 4
[[window]]
width = 3900
length = 84
"""
WIDEST_EDITS, WORST_OF_WIDEST = 6, 1000.0


@pytest.mark.long
def test_a_panel_of_hundreds_of_eyelets_holds_nothing_up(browser: Browser, tmp_path: Path) -> None:
    """No key waits for more than a second, whatever is at work meanwhile."""
    (tmp_path / "widest.toml").write_text(WIDEST, encoding="utf-8")
    with a_desk(tmp_path, "widest.toml") as desk:
        page = open_page(browser, desk.address).page
        slower = max(1.0, median(page.evaluate(FLOOR)) / USUAL)
        page.evaluate(WATCH)
        line = field_at(page, "window[1].return").locator("input")
        for edit in range(WIDEST_EDITS):
            line.fill(f"4 {edit + 1}/8 in")
            page.wait_for_function(f"() => window.taken.length === {edit + 1}")
            page.wait_for_timeout(250)  # until the slider's table and the counts are asked for
        taken = page.evaluate("() => window.taken")
        elements = page.locator("#pictures svg *").count()
    assert 20 < elements < 1000
    assert max(taken) <= WORST_OF_WIDEST * slower, taken
