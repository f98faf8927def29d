"""A real browser for tests of the page: Debian's Chromium, driven by Playwright."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from playwright.sync_api import BrowserContext, Page, sync_playwright

from generator.base.outside import environment
from tests.page.served import Served

CHROMIUM = next(
    (path for name in ("chromium", "chromium-browser", "google-chrome") if (path := shutil.which(name))), None
)
GIVEN_UP = ("htmx:sendAbort", "htmx:afterRequest")
"""What htmx writes when it gives up a request that was overtaken; any other end of one it names besides."""
ON_CI = bool(os.environ.get("CI"))


def chromium() -> str:
    """Where it is. Where there is none, a test is left out, but never where everything is checked."""
    if CHROMIUM is None:
        if ON_CI:
            pytest.fail("there is no Chromium here: run .ci/browser first")
        pytest.skip("there is no Chromium here: .ci/browser installs Debian's")
    return CHROMIUM


@contextmanager
def windows(served: Served, count: int = 1, **wishes: object) -> Iterator[list[Page]]:
    """Windows of one browser that has come in; what goes wrong in them fails the test."""
    with sync_playwright() as playwright:
        variables: dict[str, str | float | bool] = {**environment()}
        browser = playwright.chromium.launch(executable_path=chromium(), args=["--no-sandbox"], env=variables)
        try:
            context = browser.new_context(**{"viewport": {"width": 1280, "height": 900}, **wishes})  # type: ignore[arg-type]
            context.set_default_timeout(60_000)
            wrong: list[str] = []
            elsewhere: list[str] = []
            _listen(context, served, wrong, elsewhere)
            pages = [context.new_page() for _ in range(count)]
            pages[0].goto(f"{served.origin}/enter?key={served.key}")
            yield pages
            assert wrong == []
            assert elsewhere == []
        finally:
            browser.close()


def _listen(context: BrowserContext, served: Served, wrong: list[str], elsewhere: list[str]) -> None:
    context.on("weberror", lambda error: wrong.append(str(error.error)))
    context.on(
        "console",
        lambda line: (
            wrong.append(line.text)
            if line.type == "error" and "status of 4" not in line.text and not line.text.startswith(GIVEN_UP)
            else None
        ),
    )
    context.on(
        "request",
        lambda request: (
            elsewhere.append(request.url)
            if not request.url.startswith((served.origin, "data:", "blob:"))
            else None
        ),
    )
