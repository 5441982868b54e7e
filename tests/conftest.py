"""The one headless Chromium of a test run."""

import os
import shutil
from collections.abc import Iterator

import pytest
from hypothesis import settings
from playwright.sync_api import Browser, sync_playwright

CANDIDATES = ("chromium-headless-shell", "chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
QUIET = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
         "--disable-background-networking", "--disable-component-update", "--disable-sync"]
"""No flag here relaxes what a page may do; file:// is tested as a reader's browser treats it."""

settings.register_profile("same everywhere", deadline=None, derandomize=True)
settings.load_profile("same everywhere")
"""Generated cases are the same in every run, and never failed for being slow, which depends on who else uses the
machine; ``make fuzz`` is where new ones are looked for."""


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    """Shared by all browser tests; each opens pages or contexts of its own. FIFTHPEG_BROWSER names another one."""
    program = os.environ.get("FIFTHPEG_BROWSER") or next(filter(None, map(shutil.which, CANDIDATES)), None)
    if program is None:
        pytest.fail("no Chromium or Chrome here: install one (Debian: apt-get install chromium), "
                    "or name it in FIFTHPEG_BROWSER")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=program, headless=True, args=QUIET)
        yield browser
        browser.close()


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--accept", action="store_true", help="write what the code gives now into the golden cases")


@pytest.fixture
def accept(request: pytest.FixtureRequest) -> bool:
    """Whether golden cases are to be rewritten; look at the difference before you commit it."""
    return request.config.getoption("--accept")
