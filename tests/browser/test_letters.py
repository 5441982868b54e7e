"""The letters of the right hand on a drawing, switched off and on by the student."""

from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from tests.sites import build_pages

HALF_WRITTEN = """# Letters

```tab
id: half-written
title: Half written
---
[G] T3 I2 M1 5 3 2 1 5 | 3:2=2 2 1 5 3 2 1 5
```
"""


@pytest.fixture(scope="module")
def site(tmp_path_factory) -> Path:
    built = build_pages(tmp_path_factory.mktemp("letters"), {"index.md": HALF_WRITTEN})
    assert built.failure is None and built.log == ""
    return built.site


def test_written_letters_and_suggested_ones_go_and_come_with_their_cups(chromium: Browser, site):
    page = chromium.new_page()
    page.goto((site / "index.html").as_uri())
    drawing = page.locator("#fp-half-written .fp-drawing")
    letters = [drawing.locator(f".fp-{kind}").first for kind in ("finger", "chosen", "cup")]
    page.locator("#fp-half-written .fp-play").focus()
    for seen in (True, False, True):
        for letter in letters:
            expect(letter).to_be_visible() if seen else expect(letter).to_be_hidden()
        expect(drawing.locator(".fp-left").first).to_be_visible()
        page.keyboard.press("h")
    page.close()
