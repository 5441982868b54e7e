"""The demo course, built once for all browser tests that walk through it."""

from pathlib import Path

import pytest

from tests.browser.demo import build_demo


@pytest.fixture(scope="session")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return build_demo(tmp_path_factory.mktemp("demo"), hash_seed="1")
