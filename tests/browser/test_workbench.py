"""The workbench from end to end: paste, compare, print, share; without a script, by keyboard alone, on a telephone."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from service.cli.child import Child
from service.demo import label, product
from tests.browser.conftest import watched

TABLET, CHEW = product("invented-tablet"), product("invented-chew")


def _paste(page: Page, number: int, entry: dict[str, object]) -> None:
    page.get_by_label("The label").nth(number - 1).fill(label(str(entry["id"])))
    page.locator(f"#p{number}_name").fill(str(entry["name"]))
    page.locator(f"#p{number}_price").fill(str(entry["price"]))
    page.locator(f"#p{number}_currency").fill(str(entry["currency"]))


def _compare_two(page: Page) -> None:
    page.get_by_label("Body weight").fill("34 kg")
    page.get_by_label("Medicines").fill("carprofen")
    _paste(page, 1, TABLET)
    page.get_by_role("button", name="Add another label").click()
    _paste(page, 2, CHEW)
    page.get_by_role("button", name="Compare").click()
    page.wait_for_url("**/workbench?state=*")


@pytest.mark.parametrize("script", [True, False])
def test_paste_compare_share(browser: Browser, live: Child, script: bool) -> None:
    tab = watched(browser, live, java_script_enabled=script)
    page = tab.page
    page.goto(live.url + "/workbench")
    _compare_two(page)
    table = page.get_by_role("region", name="Comparison")
    expect(table).to_contain_text(str(TABLET["name"]))
    expect(table).to_contain_text("Stop")
    expect(page.locator("#screens ~ .screened").first).to_be_visible()
    other = watched(browser, live, java_script_enabled=script).page
    other.goto(page.url)
    assert other.locator("main").inner_text() == page.locator("main").inner_text()
    assert tab.faults == []


@pytest.mark.parametrize("script", [True, False])
def test_a_number_tells_where_it_comes_from(browser: Browser, live: Child, script: bool) -> None:
    page = watched(browser, live, java_script_enabled=script).page
    page.goto(live.url + "/workbench")
    _compare_two(page)
    number = page.get_by_role("region", name="Comparison").locator("button.why").nth(1)
    told = page.locator(f"#{number.get_attribute('popovertarget')}")
    expect(told).to_be_hidden()
    number.click()
    expect(told).to_be_visible()
    expect(told).to_contain_text("of the lower end")
    page.keyboard.press("Escape")
    expect(told).to_be_hidden()


def test_charts_are_drawn(browser: Browser, live: Child) -> None:
    page = watched(browser, live).page
    page.goto(live.url + "/workbench")
    _compare_two(page)
    page.evaluate("document.querySelectorAll('img').forEach(image => { image.loading = 'eager' })")
    page.wait_for_load_state("networkidle")
    widths = page.evaluate("[...document.querySelectorAll('.chart img')].map(image => image.naturalWidth)")
    assert len(widths) == 3
    assert all(width > 300 for width in widths)


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_it_prints(browser: Browser, live: Child, paper: str, tmp_path: Path) -> None:
    page = watched(browser, live).page
    page.goto(live.url + "/workbench")
    _compare_two(page)
    file = tmp_path / "workbench.pdf"
    page.pdf(path=str(file), format=paper)
    assert file.read_bytes().startswith(b"%PDF-")
    page.emulate_media(media="print")
    expect(page.locator("form.told")).to_be_hidden()
    expect(page.get_by_role("region", name="Comparison")).to_be_visible()


def test_by_keyboard_alone(browser: Browser, live: Child) -> None:
    page = watched(browser, live).page
    page.goto(live.url + "/workbench")
    page.keyboard.press("Tab")
    expect(page.locator(":focus")).to_have_text("Skip to the content")
    page.keyboard.press("Enter")
    for text in ("", "34 kg"):
        page.keyboard.press("Tab")
        if text:
            page.keyboard.type(text)
    expect(page.locator("#weight")).to_have_value("34 kg")
    while page.evaluate("document.activeElement.id") != "p1_label":
        page.keyboard.press("Tab")
    page.keyboard.type("Serving size: 1 tablet")
    page.keyboard.press("Enter")
    page.keyboard.type("Glucosamine HCl 500 mg")
    while page.evaluate("document.activeElement.textContent") != "Compare":
        page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    page.wait_for_url("**/workbench?state=*")
    expect(page.locator("#results")).to_contain_text("1 tablet")


def test_a_wrong_entry_leads_to_its_field(browser: Browser, live: Child) -> None:
    page = watched(browser, live).page
    page.goto(live.url + "/workbench")
    page.get_by_label("Body weight").fill("34")
    page.get_by_label("The label").fill("Glucosamine HCl 500 mg")
    page.get_by_role("button", name="Compare").click()
    page.wait_for_url("**/workbench?state=*")
    page.get_by_role("alert").get_by_role("link").first.click()
    expect(page.locator("#weight")).to_be_in_viewport()
    expect(page.locator("#weight")).to_have_attribute("aria-invalid", "true")
    expect(page.locator("#weight")).to_have_value("34")
