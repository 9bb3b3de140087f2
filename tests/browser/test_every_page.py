"""What holds of every page: nothing is wrong for a screen reader, nothing is cut off, nothing weighs too much."""

from __future__ import annotations

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser

from service.cli.child import Child
from tests.browser.conftest import watched
from tests.browser.pages import PAGES

WIDTHS = (360, 768, 1280)
_MOST_BYTES = 150_000


@pytest.mark.parametrize("path", PAGES.values(), ids=PAGES)
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing(browser: Browser, live: Child, path: str, scheme: str) -> None:
    # axe-core, the rules of Deque Systems for WCAG, through axe-playwright-python.
    tab = watched(browser, live, color_scheme=scheme)
    page = tab.open(path)
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": 900})
        found = Axe().run(page)
        assert found.violations_count == 0, found.generate_report()
    assert tab.faults == []


@pytest.mark.parametrize("path", PAGES.values(), ids=PAGES)
def test_nothing_sticks_out_sideways(browser: Browser, live: Child, path: str) -> None:
    page = watched(browser, live).open(path)
    for width in (320, *WIDTHS):
        page.set_viewport_size({"width": width, "height": 900})
        assert page.evaluate("document.documentElement.scrollWidth") <= width


@pytest.mark.parametrize("path", PAGES.values(), ids=PAGES)
def test_pages_are_light(browser: Browser, live: Child, path: str) -> None:
    tab = watched(browser, live)
    tab.open(path)
    assert 0 < tab.bytes < _MOST_BYTES, f"{tab.bytes} bytes"
