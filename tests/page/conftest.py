"""The browser, for every test of pages."""

from tests.page.browser import browser, page_at, play

__all__ = ["browser", "page_at", "play"]
