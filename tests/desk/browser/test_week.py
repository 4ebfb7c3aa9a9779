"""The week's order on the page: opened by a press, narrowed to a day, saved, closed again."""

from __future__ import annotations

from pathlib import Path

from playwright.sync_api import Browser, expect

from tests.desk.browser.test_for_everyone import violations
from tests.helpers.desk_page import a_desk, open_page
from tests.helpers.ordered import LINEN, order_toml

STUDY = order_toml("study", job='number = "2041"\ndue = 2027-03-12')
HALL = order_toml("hall", job="due = 2027-03-05", tables=LINEN.replace("54", "118"))


def test_order_of_the_folder(browser: Browser, tmp_path: Path) -> None:
    """What the page shows follows the day, and what is saved is what it shows."""
    (tmp_path / "study.toml").write_text(STUDY)
    (tmp_path / "hall.toml").write_text(HALL)
    with a_desk(tmp_path) as desk:
        watched = open_page(browser, desk.address)
        page = watched.page
        press = page.get_by_role("button", name="Add up what to buy")
        press.click()
        title, rows = page.locator("#dialog-title"), page.locator("#order-shown tbody tr")
        expect(title).to_have_text("Order for 2 jobs, due 2027-03-05 to 2027-03-12")
        expect(rows).to_have_count(4)  # one cloth at two widths, an eyelet, a band
        expect(page.locator("#order-doubts")).to_contain_text("several widths")
        assert violations(page) == []
        due = page.get_by_label("Only jobs due before")
        due.fill("2027-01-01")
        expect(page.locator("#order-shown")).to_contain_text("none of 2 jobs is due before")
        save = page.get_by_role("button", name="table")
        expect(save).to_be_disabled()
        due.fill("2027-03-12")
        expect(rows).to_have_count(3)
        expect(title).to_have_text("Order for 1 job, due 2027-03-05")
        with page.expect_download() as table:
            save.click()
        saved = Path(table.value.path()).read_text()
        assert (table.value.suggested_filename, saved.count("Heron Point, hall")) == (
            "order.csv",
            3,
        )
        assert "2041" not in saved
        page.get_by_role("button", name="Close", exact=True).click()
        expect(page.locator("#dialog")).to_be_hidden()
        expect(press).to_be_focused()
        assert (watched.errors, watched.elsewhere) == ([], [])
