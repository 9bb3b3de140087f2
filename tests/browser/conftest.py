"""A headless Chromium (Debian's package) and a service of its own process, for tests of what people see.

Without Chromium these tests are skipped; with ``REQUIRE_CHROMIUM`` in the environment that is an error instead.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, ViewportSize, sync_playwright

from service.cli.child import Child, serving

CHROMIUM = shutil.which("chromium")
_QUIET = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)


@pytest.fixture(scope="session")
def live() -> Iterator[Child]:
    """Serve as ``fabella serve`` does."""
    with serving(arguments=("--workers", "1")) as child:
        yield child


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Start Chromium once."""
    if CHROMIUM is None:
        if os.environ.get("REQUIRE_CHROMIUM"):
            pytest.fail("chromium is not installed, and REQUIRE_CHROMIUM is set")
        pytest.skip("chromium is not installed")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=list(_QUIET))
        yield browser
        browser.close()


class Watched:
    """A page that remembers what went wrong on it and what it loaded.

    Parameters
    ----------
    context
        Where the page is opened.
    url
        Address of the service; any request elsewhere is a fault.
    """

    def __init__(self, context: BrowserContext, url: str) -> None:
        self.page: Page = context.new_page()
        self.url, self.faults, self.bytes = url, list[str](), 0
        self.page.on("console", lambda message: self._say(message.type, message.text))
        self.page.on("pageerror", lambda error: self.faults.append(str(error)))
        self.page.on("request", lambda request: self._ask(request.url))
        self.page.on("requestfinished", lambda request: self._add(request.sizes()["responseBodySize"]))

    def open(self, path: str) -> Page:
        """Open a path and wait until everything is there, pictures further down included."""
        self.bytes = 0
        response = self.page.goto(self.url + path)
        assert response is not None
        assert response.status == 200, f"{path} answers {response.status}"
        self.page.evaluate("document.querySelectorAll('img').forEach(image => { image.loading = 'eager' })")
        self.page.wait_for_load_state("networkidle")
        return self.page

    def _say(self, kind: str, text: str) -> None:
        if kind in ("error", "warning"):
            self.faults.append(text)

    def _ask(self, url: str) -> None:
        if not url.startswith((self.url, "data:", "blob:")):
            self.faults.append(f"asked elsewhere: {url}")

    def _add(self, size: int) -> None:
        self.bytes += size


def watched(browser: Browser, live: Child, width: int = 1280, **options: object) -> Watched:
    """Open a page in a context of its own: no cache, no cookies."""
    viewport: ViewportSize = {"width": width, "height": 900}
    context = browser.new_context(viewport=viewport, **options)  # type: ignore[arg-type]
    context.set_default_timeout(15_000)
    return Watched(context, live.url)
