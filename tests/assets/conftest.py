"""The player's arithmetic, loaded into an empty page: plain functions, called from Python."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

import fifthpeg

ASSETS = Path(fifthpeg.__file__).parent / "assets"
ARITHMETIC = ("time.js", "voices.js", "cursor.js", "bank.js", "mixer.js", "output.js", "drawing.js", "panel.js")


@pytest.fixture(scope="module")
def scripts(chromium: Browser) -> Iterator[Page]:
    """A blank page with every script but the player's own start."""
    page = chromium.new_page()
    for name in ARITHMETIC:
        page.add_script_tag(path=ASSETS / name)
    yield page
    page.close()
