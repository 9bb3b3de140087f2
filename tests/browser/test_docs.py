"""The documentation in a browser: every page for a screen reader, and the console that really asks."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser

from service.cli.child import Child
from tests.browser.conftest import Watched, watched
from tests.browser.test_every_page import assert_sound
from tests.web.site.docs_pages import GUIDE_PATHS

# Told by the browser for every style, script, picture or address that the content security policy forbids.
_LISTEN = """
window.forbidden = [];
document.addEventListener("securitypolicyviolation", (event) => {
  window.forbidden.push(`${event.violatedDirective}: ${event.blockedURI} ${event.sample}`);
});
"""
# All parts of the reference are made by one template.
_PATHS = ("/docs/reference", "/docs/reference/dose", *GUIDE_PATHS)
_DOSE = "#operations-dose-get_dose"


@pytest.mark.parametrize("path", _PATHS)
def test_axe_finds_nothing_and_nothing_sticks_out(browser: Browser, live: Child, path: str) -> None:
    tab = watched(browser, live)
    assert_sound(tab.open(path))
    assert tab.faults == []


def _console(browser: Browser, live: Child, **options: object) -> Watched:
    tab = watched(browser, live, **options)  # type: ignore[arg-type]
    tab.page.add_init_script(_LISTEN)
    tab.open("/docs/console")
    tab.page.wait_for_selector(_DOSE)
    return tab


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_console_asks_and_shows_the_answer(browser: Browser, live: Child, scheme: str) -> None:
    tab = _console(browser, live, color_scheme=scheme)
    block = tab.page.locator(_DOSE)
    block.locator("button").first.click()
    with tab.page.expect_response(lambda response: "/v1/dose?" in response.url) as asked:
        block.locator("button.execute").click()
    # The invented example of the document fills the fields in, so that the first press is answered.
    assert asked.value.status == 200
    assert asked.value.request.url.endswith("/v1/dose?species=dog&weight=34%20kg&ingredient=glucosamine")
    live_answer = block.locator(".live-responses-table tbody")
    live_answer.get_by_text('"glucosamine-hydrochloride"').first.wait_for()
    assert live_answer.locator(".response-col_status").first.inner_text().startswith("200")
    assert_sound(tab.page)
    assert tab.page.evaluate("window.forbidden") == []
    assert tab.faults == []


def test_console_sends_a_body(browser: Browser, live: Child) -> None:
    tab = _console(browser, live)
    block = tab.page.locator("#operations-products-normalise_product")
    block.locator("button").first.click()
    with tab.page.expect_response("**/v1/normalise") as asked:
        block.locator("button.execute").click()
    assert asked.value.status == 200
    assert asked.value.request.method == "POST"
    assert tab.page.evaluate("window.forbidden") == []
    assert tab.faults == []


def test_console_names_its_choices_and_is_one_part_of_the_page(browser: Browser, live: Child) -> None:
    tab = _console(browser, live)
    tab.page.locator(_DOSE).locator("button").first.click()
    assert tab.page.get_by_role("region", name="Operations").count() == 1
    tab.page.get_by_role("combobox", name="species").wait_for()
    assert tab.page.get_by_role("main").count() == 1
    assert not tab.page.locator("#console-instead").count()


def test_console_without_script_points_elsewhere(browser: Browser, live: Child) -> None:
    tab = watched(browser, live, java_script_enabled=False)
    tab.page.goto(f"{live.url}/docs/console")
    assert tab.page.locator("#console-instead").get_by_role("link", name="reference").get_attribute("href") == (
        "/docs/reference"
    )
