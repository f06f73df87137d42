"""A real browser for tests of pages: offline, with every request and error of a page kept."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
needs_browser = pytest.mark.skipif(CHROMIUM is None, reason="no chromium on this machine")
"""Marks a test that opens a page; skipped only where no browser is."""

FLAGS = (
    "--no-sandbox",
    "--use-gl=angle",
    "--use-angle=swiftshader",
    "--enable-unsafe-swiftshader",
)
"""Pixels without a graphics card."""

BARE = ("--no-sandbox", "--disable-gpu", "--disable-3d-apis")
"""A browser without WebGL."""

DESK, TABLET, PHONE = (1280, 800), (820, 1180), (390, 844)
"""Sizes of screens [px]."""


@dataclass
class Opened:
    """An open page, and what happened on it.

    requests : addresses asked for, the page's own apart ; errors : what its scripts threw
    """

    page: Any
    requests: list[str] = field(default_factory=list)
    errors: list[str] = field(default_factory=list)


Opener = Callable[..., Opened]


@pytest.fixture(scope="module")
def play() -> Iterator[Any]:
    """What drives browsers, ended with the module that asked for it."""
    if CHROMIUM is None:
        pytest.skip("no chromium on this machine")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        yield driver


def launched(play: Any, flags: tuple[str, ...] = FLAGS) -> Iterator[Any]:
    """A browser, ended with what asked for it."""
    browser = play.chromium.launch(executable_path=CHROMIUM, args=list(flags))
    yield browser
    browser.close()


def opener(browser: Any) -> Iterator[Opener]:
    """How a page is opened; its contexts are closed with the module."""
    contexts: list[Any] = []

    def open_at(
        address: Path | str,
        size: tuple[int, int] = DESK,
        touch: bool = False,
        offline: bool | None = None,
        **more: object,
    ) -> Opened:
        local = isinstance(address, Path)
        url = address.resolve().as_uri() if isinstance(address, Path) else address
        context = browser.new_context(
            viewport={"width": size[0], "height": size[1]},
            has_touch=touch,
            is_mobile=touch and size[0] < 700,
            offline=local if offline is None else offline,
            **more,
        )
        contexts.append(context)
        page = context.new_page()
        page.set_default_timeout(60_000)
        opened = Opened(page)
        own = url.split("#")[0]
        page.on(
            "request",
            lambda asked: (
                opened.requests.append(asked.url)
                if asked.url.split("#")[0] != own and not asked.url.startswith(("data:", "blob:"))
                else None
            ),
        )
        page.on("pageerror", lambda error: opened.errors.append(str(error)))
        page.on(
            "console",
            lambda told: opened.errors.append(told.text) if told.type == "error" else None,
        )
        page.goto(url)
        return opened

    yield open_at
    for context in contexts:
        context.close()


@pytest.fixture(scope="module")
def browser(play: Any) -> Iterator[Any]:
    """One browser for all tests of a module."""
    yield from launched(play)


@pytest.fixture(scope="module")
def page_at(browser: Any) -> Iterator[Opener]:
    """How the module's browser opens a page: a file (offline) or an address.

    page_at(path, size=(1280, 800), touch=False) -> Opened, with .page, .requests, .errors
    """
    yield from opener(browser)
