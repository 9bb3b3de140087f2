"""The care note on paper and for a screen reader."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from service.cli.child import Child
from service.demo import care_note_body
from tests.browser.conftest import watched
from tests.browser.test_every_page import assert_sound

_PAGE = re.compile(rb"/Type\s*/Page\b")


def _sheet(browser: Browser, live: Child) -> Page:
    page = watched(browser, live).page
    page.goto(live.url + "/care-note")
    page.get_by_label("The note as JSON").fill(json.dumps(care_note_body()))
    page.get_by_role("button", name="Make the sheet").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Bramble")
    return page


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_an_ordinary_note_is_one_sheet(browser: Browser, live: Child, paper: str, tmp_path: Path) -> None:
    file = tmp_path / "note.pdf"
    _sheet(browser, live).pdf(path=str(file), format=paper)
    assert len(_PAGE.findall(file.read_bytes())) == 1


def test_axe_finds_nothing_on_it(browser: Browser, live: Child) -> None:
    assert_sound(_sheet(browser, live))


def test_a_note_that_cannot_be_read_keeps_what_was_typed(browser: Browser, live: Child) -> None:
    page = watched(browser, live).page
    page.goto(live.url + "/care-note")
    page.get_by_label("The note as JSON").fill('{"animal": {}')
    page.get_by_role("button", name="Make the sheet").click()
    expect(page.get_by_role("alert").first).to_contain_text("could not be written")
    expect(page.get_by_label("The note as JSON")).to_have_value('{"animal": {}')


def test_the_workbench_makes_one(browser: Browser, live: Child) -> None:
    page = watched(browser, live).page
    page.goto(live.url + "/workbench")
    page.get_by_role("link", name="See an invented example").click()
    page.get_by_role("button", name="Invented tablet", exact=True).click()
    expect(page.locator("main")).to_contain_text("Invented tablet")
    expect(page.locator("main")).to_contain_text("carprofen")
