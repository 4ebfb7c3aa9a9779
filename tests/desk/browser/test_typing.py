"""A job typed in the page is the job that the commands make: its figures, its file, its PDF."""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests.helpers.commands import typed
from tests.helpers.desk_page import LEAST, Desk, field_at, open_page, rest, type_in


@pytest.fixture
def page(browser: Browser, desk: Desk) -> Page:
    """The page of a desk without a job file."""
    return open_page(browser, desk.address).page


def figure(page: Page, name: str) -> str:
    """The value beside a figure's name, among all figures under the pictures."""
    row = page.locator("#all-figures dl div").filter(
        has=page.get_by_text(name, exact=True),
    )
    return row.locator("dd").inner_text()


def inches(text: str) -> float:
    """The first measure of a figure: "≈ 2 3/16 in, edge to edge" is 2.1875."""
    number = text.removeprefix("≈ ").split(" in")[0]
    return float(sum(map(Fraction, number.split())))


def save_as(page: Page, name: str) -> None:
    """Save the job file, under a name that the page asks for."""
    page.get_by_role("button", name="Save the job file").click()
    page.get_by_label("Name of the file").fill(name)
    page.get_by_role("button", name="Save", exact=True).click()
    page.get_by_text(f"Saved as {name}.").wait_for()


def test_the_five_answers(page: Page, desk: Desk) -> None:
    """The least job's answers typed show what `plan` says, and save what `make` makes."""
    type_in(page, {"units": "in", **LEAST})
    save_as(page, "least.toml")
    told = typed("plan", "least.toml", "--json", cwd=desk.folder)
    panel = json.loads(told.stdout)["windows"][0]["panels"][0]
    shown = [inches(figure(page, name)) for name in ("finished width", "gap, edge to edge")]
    assert figure(page, "eyelets").split(",")[0] == str(panel["count"])
    assert [panel["width_mm"] / 25.4, panel["gap_mm"] / 25.4] == pytest.approx(shown, abs=1 / 32)

    with page.expect_download() as coming:
        page.get_by_role("button", name="Save the PDF").click()
    from_page = desk.folder / "from_page.pdf"
    coming.value.save_as(from_page)
    made = typed("make", "least.toml", "--out", "made.pdf", cwd=desk.folder)
    assert made.returncode == 0, made.stderr
    assert from_page.read_bytes() == (desk.folder / "made.pdf").read_bytes()
    assert b": true: " in typed("measure", from_page, cwd=desk.folder).stdout
    assert coming.value.suggested_filename == "least.pdf"


def test_on_a_roll_the_ticket_is_saved_by_itself(page: Page, desk: Desk) -> None:
    """A roll's two PDFs are those of `make`, the second saved when it is asked for."""
    type_in(page, {**LEAST, "paper.size": "24 in roll"})
    save_as(page, "roll.toml")
    for number, name in enumerate(("Save the PDF", "Save the ticket's PDF too")):
        with page.expect_download() as coming:
            page.get_by_role("button", name=name).click()
        coming.value.save_as(desk.folder / f"page{number}.pdf")
    (desk.folder / "made").mkdir()
    made = typed("make", "roll.toml", "--out", "made/", cwd=desk.folder)
    assert made.returncode == 0, made.stderr
    saved = {(desk.folder / f"page{number}.pdf").read_bytes() for number in (0, 1)}
    assert saved == {path.read_bytes() for path in (desk.folder / "made").iterdir()}


def test_caret_stays_while_typing(page: Page) -> None:
    """Typing in the middle of a text, at whatever speed, lands where the caret is."""
    type_in(page, LEAST)
    line = field_at(page, "job.name").locator("input")
    line.fill("Heron room")
    line.evaluate("line => { window.kept = line; line.setSelectionRange(5, 5); }")
    for pause, letters in ((0, " Point"), (120, ", writing")):
        line.press_sequentially(letters, delay=pause)
        rest(page)
    assert line.input_value() == "Heron Point, writing room"
    assert line.evaluate("line => line === window.kept && document.activeElement === line")
    assert line.evaluate("line => line.selectionStart") == len("Heron Point, writing")


def test_fields_come_and_go_around_the_one_typed_in(page: Page) -> None:
    """An answer that brings up questions before and after it keeps its own field's focus."""
    type_in(page, {**LEAST, "pole.projection": "3"})
    line = field_at(page, "pole.projection").locator("input")
    line.focus()
    line.press("End")
    line.press_sequentially(" 1/2")
    rest(page)
    assert line.evaluate("line => document.activeElement === line")
    choice = field_at(page, "window[1].?pole").locator("input[value=yes]")
    choice.focus()
    choice.press("Space")
    rest(page)
    field_at(page, "pole.length").wait_for()
    assert choice.evaluate("choice => document.activeElement === choice")


def test_what_is_understood_and_assumed_stands_at_the_field(page: Page) -> None:
    """A measure is read back beside its field; an empty one shows what is taken; ? explains."""
    type_in(page, {**LEAST, "pole.diameter": "35 mm"})
    assert "1 3/8 in" in field_at(page, "pole.diameter").locator(".back").inner_text()
    leading = field_at(page, "window[1].leading")
    assert leading.locator("input").get_attribute("placeholder") == "1 1/2 in (38.1 mm)"
    why = leading.get_by_role("button", name="Explain")
    explained = leading.locator(".help")
    assert not explained.is_visible()
    why.click()
    assert explained.is_visible()
    assert why.get_attribute("aria-expanded") == "true"
    why.click()
    assert not explained.is_visible()


def test_half_a_measure_is_no_fault_until_typing_rests(page: Page) -> None:
    """While one types, a field doesn't say that it is wrong; at rest it does, once it is."""
    type_in(page, LEAST)
    width = field_at(page, "window[1].width")
    line, fault = width.locator("input"), width.locator(".fault")
    line.fill("")
    for letter in "88 1/":
        line.press_sequentially(letter)
        assert not fault.is_visible()
    rest(page)
    assert fault.is_visible()
    assert line.get_attribute("aria-invalid") == "true"
    line.press_sequentially("2")
    rest(page)
    assert not fault.is_visible()
    assert line.get_attribute("aria-invalid") is None


def test_undo_and_redo(page: Page) -> None:
    """Every change goes back a step and forth again, by button and, outside a field, by key."""
    type_in(page, LEAST)
    type_in(page, {"window[1].width": "90", "window[1].panels": "single"})
    undo, redo = (page.get_by_role("button", name=name) for name in ("Undo", "Redo"))
    width = field_at(page, "window[1].width").locator("input")
    undo.click()
    rest(page)
    assert field_at(page, "window[1].panels").locator("input[value=pair]").is_checked()
    page.locator("#panel").focus()
    page.keyboard.press("Control+z")
    rest(page)
    assert width.input_value() == "88"
    page.keyboard.press("Control+Shift+Z")
    redo.click()
    rest(page)
    assert width.input_value() == "90"
    assert figure(page, "finished width") == "90 in"
    assert field_at(page, "window[1].panels").locator("input[value=single]").is_checked()
    assert redo.is_disabled()


def test_a_remedy_is_pressed(page: Page) -> None:
    """A finding's remedy is a button that makes its change, in the field where it belongs."""
    type_in(page, {**LEAST, "pole.diameter": "1 3/8"})
    page.get_by_role("button", name="Change to: pole of 3/4 in").click()
    rest(page)
    assert field_at(page, "pole.diameter").locator("input").input_value() == "3/4"
    assert page.locator("[data-code=tight-turn]").count() == 0


def test_key_leaves_the_address(page: Page, desk: Desk) -> None:
    """The run's key is on no screen and in no history, and the page can still be loaded again."""
    key = desk.address.partition("#")[2]
    assert page.url == f"{desk.origin}/"
    type_in(page, LEAST)
    page.reload()
    rest(page)
    assert key not in page.url
    assert field_at(page, "window[1].width").locator("input").input_value() == "88"
    assert key not in page.content()


def test_printed_page_has_no_strip(page: Page) -> None:
    """Printed by the browser, the page says where the template is, and nothing else."""
    type_in(page, LEAST)
    page.emulate_media(media="print")
    assert page.locator("main").is_hidden()
    assert page.locator("#on-paper").is_visible()
    assert "Save the PDF" in page.locator("#on-paper").inner_text().replace("\n", " ")


def test_drafts_are_kept(page: Page, desk: Desk) -> None:
    """What is typed is kept beside the job file to come, before anyone saves."""
    type_in(page, LEAST)
    kept = [path for path in Path(desk.folder).iterdir() if path.name.endswith(".draft")]
    assert len(kept) == 1
