"""What a test run has once: a headless Chromium, and the demo course as a site."""

import os
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from filelock import FileLock
from hypothesis import settings
from playwright.sync_api import Browser, sync_playwright

from tests.demo import build_demo

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


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Where tests run side by side, who needs it first builds it for all of them; as deep as any test's own folder,
    for a page outside the course's folder is named by the way to it."""
    place = tmp_path_factory.getbasetemp()
    folder = (place.parent / "shared" if "PYTEST_XDIST_WORKER" in os.environ else place) / "demo"
    with FileLock(place.parent / "demo.lock"):
        if not folder.exists():
            folder.mkdir(parents=True)
            build_demo(folder, hash_seed="1")
    return folder / "site"


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--accept", action="store_true", help="write what the code gives now into the golden cases")


@pytest.fixture
def accept(request: pytest.FixtureRequest) -> bool:
    """Whether golden cases are to be rewritten; look at the difference before you commit it."""
    return request.config.getoption("--accept")
