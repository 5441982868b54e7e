"""The demo course, built once for all browser tests that walk through it."""

import os
from pathlib import Path

import pytest
from filelock import FileLock

from tests.browser.demo import build_demo


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
