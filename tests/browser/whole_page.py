"""A page as it is when a reader has been everywhere on it: every tab with its player, and drawn."""

from playwright.sync_api import Page

ALL_READY = "document.querySelectorAll('figure.fp-tab:not([data-fp-ready]) > .fp-player').length === 0"
DRAWN = "figure.fp-tab { content-visibility: visible !important; }"
"""Without it a tab far from the window is passed over, and so are its faults."""


def draw_whole(page: Page) -> None:
    page.wait_for_function(ALL_READY)
    page.add_style_tag(content=DRAWN)
