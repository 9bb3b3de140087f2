"""What holds of every page: nothing is wrong for a screen reader, nothing is cut off, nothing weighs too much."""

from __future__ import annotations

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page

from service.cli.child import Child
from tests.browser.conftest import watched
from tests.browser.pages import PAGES

_WIDTHS = (360, 768, 1280)
# Zoomed to 400 % a screen of 1280 pixels is as narrow as this (WCAG 1.4.10).
_NARROWEST = 320
_MOST_BYTES = 150_000


@pytest.mark.parametrize("path", PAGES.values(), ids=PAGES)
def test_a_page_is_light_fits_and_speaks(browser: Browser, live: Child, path: str) -> None:
    tab = watched(browser, live)
    page = tab.open(path)
    assert 0 < tab.bytes < _MOST_BYTES, f"{tab.bytes} bytes"
    assert_sound(page)
    page.emulate_media(color_scheme="dark")
    assert_axe_finds_nothing(page)
    assert tab.faults == []


def assert_sound(page: Page) -> None:
    """Hold a page at every width: nothing sticks out sideways, and axe-core finds nothing."""
    for width in (_NARROWEST, *_WIDTHS):
        page.set_viewport_size({"width": width, "height": 900})
        assert page.evaluate("document.documentElement.scrollWidth") <= width
        if width in _WIDTHS:
            assert_axe_finds_nothing(page)


def assert_axe_finds_nothing(page: Page) -> None:
    """Hold a page against axe-core, the rules of Deque Systems for WCAG, through axe-playwright-python."""
    found = Axe().run(page)
    assert found.violations_count == 0, found.generate_report()
