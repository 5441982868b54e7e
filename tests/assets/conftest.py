"""The player's arithmetic, loaded into an empty page: plain functions, called from Python."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

import fifthpeg
from fifthpeg.pages.assets import OWN_SCRIPTS, SCRIPTS

ASSETS = Path(fifthpeg.__file__).parent / "assets"


@pytest.fixture(scope="module")
def scripts(chromium: Browser) -> Iterator[Page]:
    """A blank page with every script but the player's own start."""
    page = chromium.new_page()
    own = [name for names in OWN_SCRIPTS.values() for name in names]
    for name in (*SCRIPTS[:-1], *own):
        page.add_script_tag(path=ASSETS / name)
    yield page
    page.close()
