"""The chain bench met in a browser, from a web server and from a double-clicked folder: picked, judged, heard, kept, linked."""

import threading
from collections.abc import Iterator
from functools import partial
from http.server import ThreadingHTTPServer
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.test_player import Quiet
from tests.browser.test_practice_page import axe
from tests.browser.test_site import NARROW, watched
from tests.sites import build_pages

HOSTILE = '</script><img src=x onerror="window.struck = 1"><b>'
COURSE = f"""# Licks

```tab
id: run
title: Run
tempo: 208
---
[G] T3 I2 M1 T5 I2 M1 T3 M1
```

```tab
id: tag
title: Tag
tempo: 208
role: tag
exit: 1
---
[G] M1 I2 T3 M1 T4 I3 T4 I2 | T3 - - - - - - -
```

```tab
id: waltz
title: {HOSTILE}
labels: '{HOSTILE}'
meter: 3/4
---
[G] T3 I2 M1 T5 I2 M1
```
"""
"""Tag after run: the middle finger picks twice in a row, a clash; run after tag is clean; the waltz goes with neither."""


SOUNDS = "() => { try { return loudest() > 0.02; } catch { return false; } }"
"""Nothing can be measured before the first sound is on its way."""


@pytest.fixture(scope="module")
def site(tmp_path_factory) -> Path:
    built = build_pages(tmp_path_factory.mktemp("course"), {"index.md": COURSE})
    assert built.failure is None
    return built.site


@pytest.fixture(scope="module", params=["http", "file"])
def bench(request: pytest.FixtureRequest, site: Path) -> Iterator[str]:
    if request.param == "file":
        yield (site / "bench/index.html").as_uri()
        return
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Quiet, directory=str(site)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}/bench/"
    server.shutdown()
    server.server_close()


@pytest.fixture
def page(chromium: Browser, bench: str) -> Iterator[Page]:
    context = chromium.new_context()
    opened = watched(context.new_page())
    opened.goto(bench)
    yield opened
    assert [each for each in opened.complaints if "net::ERR_ABORTED" not in each] == []  # left while it was on its way
    assert opened.evaluate("window.struck") is None
    assert [url for url in opened.asked if not url.startswith(bench.split("/bench/")[0]) and not url.startswith("data:")] == []
    context.close()


def add(page: Page, title: str) -> None:
    page.get_by_role("button", name=f"Add {title}", exact=True).click()


def links(page: Page) -> list[str]:
    return page.locator(".fp-bench-link a").all_inner_texts()


def verdicts(page: Page) -> list[str]:
    return page.eval_on_selector_all(".fp-bench-seam", "all => all.map((one) => one.dataset.verdict)")


def test_licks_are_picked_and_their_seams_said_with_repairs(page):
    add(page, "Run")
    add(page, "Tag")
    add(page, "Run")
    assert links(page) == ["Run", "Tag", "Run"] and verdicts(page) == ["clash", "clean"]
    clash = page.locator(".fp-bench-seam").first.inner_text()
    assert "middle picks twice in a row" in clash and "Any one of these makes it clean" in clash
    assert "3 links, 3 bars, at the tempo of the first: 208 beats a minute. Seams: 1 clean, 1 clash." in page.locator(".fp-bench").inner_text()


def test_the_chain_sounds_and_says_which_link_is_on(page):
    add(page, "Tag")
    add(page, "Run")
    page.locator(".fp-bench figure .fp-play").click()
    page.wait_for_function(SOUNDS)
    page.get_by_text("link 2 of 2, Run").wait_for(timeout=20_000)
    add(page, "Run")  # a change ends the playing
    assert page.get_by_role("button", name="Play", exact=True).first.is_visible()


def test_with_the_keyboard_the_place_is_not_lost_when_the_bench_is_emptied(page):
    """WCAG 2.2, 2.4.3: the button pressed is gone, so the focus goes to where the chain was."""
    add(page, "Run")
    page.get_by_role("button", name="Empty the bench").press("Enter")
    page.get_by_text("The bench is empty. Pick a lick").wait_for()
    assert "The bench is empty" in page.evaluate("document.activeElement === document.body ? '' : document.activeElement.innerText")


def test_paper_has_the_chain_with_its_seams_and_nothing_to_press(page):
    add(page, "Run")
    add(page, "Tag")
    page.locator(".fp-bench figure .fp-play").wait_for()
    page.emulate_media(media="print")
    assert [one.inner_text() for one in page.locator("button, input, select").all() if one.is_visible()] == []
    assert [head.inner_text() for head in page.locator(".fp-bench h2").all() if head.is_visible()] == ["Your chain"]
    assert page.get_by_text("Any one of these makes it clean").is_visible() and page.locator(".fp-bench figure .fp-bar").first.is_visible()


def test_a_dropped_exit_is_neither_drawn_nor_counted(page):
    add(page, "Tag")
    page.locator(".fp-bench .fp-bar").nth(1).wait_for()
    assert page.locator(".fp-bench .fp-bar").count() == 2
    page.get_by_label("Keep the last exit").uncheck()
    page.wait_for_function("document.querySelectorAll('.fp-bench .fp-bar').length === 1")
    assert "1 link, 1 bar," in page.locator(".fp-bench").inner_text()
    assert page.url.endswith("#chain=tag&exit=no")


def test_the_chain_is_kept_and_the_address_carries_it(page, bench):
    add(page, "Run")
    add(page, "Tag")
    assert page.url.endswith("#chain=run,tag")
    page.locator(".fp-bench .fp-play").wait_for()
    page.goto("about:blank")
    page.goto(bench)
    assert links(page) == ["Run", "Tag"]
    page.goto(f"{bench}#chain=tag,tag")
    page.wait_for_function("document.querySelectorAll('.fp-bench-link').length === 2")
    assert links(page) == ["Tag", "Tag"]


@pytest.mark.parametrize("hostile", [
    "chain=run,<img src=x onerror=window.struck=1>,tag", "chain=run,__proto__,constructor,tag", "chain=run,%3Cscript%3E,tag",
], ids=["markup", "names of objects", "escaped markup"])
def test_an_address_with_other_words_than_known_ids_leaves_them_out(page, bench, hostile):
    page.goto(f"{bench}#{hostile}")
    page.get_by_text("could not be laid on the bench").wait_for()
    assert links(page) == ["Run", "Tag"]


def test_what_has_been_altered_in_the_store_counts_for_nothing(page, bench):
    add(page, "Run")
    page.evaluate("Object.keys(localStorage).filter((key) => key.endsWith('bench')).forEach((key) => localStorage.setItem(key, '{\"ids\": [7, null, {}, \"run\"]}'))")
    page.locator(".fp-bench .fp-play").wait_for()
    page.goto("about:blank")
    page.goto(bench)
    assert links(page) == ["Run"]


def test_a_title_with_markup_stays_a_title_and_what_cannot_be_chained_is_said(page):
    add(page, HOSTILE)
    add(page, "Run")
    assert links(page) == [HOSTILE, "Run"] and verdicts(page) == ["apart"]
    assert page.get_by_text("this row is no chain").is_visible()
    assert page.locator(".fp-bench figure").count() == 0


def test_the_list_is_narrowed_by_role_and_by_how_it_would_follow(page):
    add(page, "Run")
    page.get_by_label("Would follow").select_option("clash")
    assert page.locator(".fp-bench-licks button").all_inner_texts() == ["Add Tag"]
    page.get_by_label("Would follow").select_option("any")
    page.get_by_label("Role").select_option("tag")
    assert page.locator(".fp-bench-licks button").all_inner_texts() == ["Add Tag"]
    page.get_by_label("Title").fill("nothing")
    assert page.get_by_text("No lick is all of that").is_visible()


def test_it_goes_by_keyboard_alone_and_the_focus_is_never_lost(page):
    page.get_by_role("button", name="Add Run").focus()
    page.keyboard.press("Enter")
    page.keyboard.press("Enter")
    assert links(page) == ["Run", "Run"]
    page.get_by_role("button", name="Add Tag").focus()
    page.keyboard.press("Enter")
    page.get_by_role("button", name="Move Tag earlier").focus()
    page.keyboard.press("Enter")
    page.keyboard.press("Enter")
    assert links(page) == ["Tag", "Run", "Run"]
    assert page.evaluate("document.activeElement.getAttribute('aria-label')") == "Take out Tag"
    page.keyboard.press("Enter")
    assert links(page) == ["Run", "Run"]
    assert page.evaluate("document.activeElement.getAttribute('aria-label')") == "Take out Run"


def test_bars_are_dealt_over_a_vamp_and_the_chain_is_held_against_them(page):
    """Over G: the run has one bar, the tag one, or two with its exit; so every number of bars up to the most is dealt."""
    page.get_by_role("button", name="Deal bars").click()
    asked = page.locator(".fp-bench-asked")
    asked.filter(has_text="over G").wait_for()
    wanted = int(asked.inner_text().split("in ")[1].split()[0])
    answer = page.locator(".fp-bench-answer")
    page.locator(".fp-bench section [data-playing]").wait_for()
    page.wait_for_function(SOUNDS)
    for filled in range(1, wanted):
        add(page, "Run")
        assert answer.inner_text() == f"{filled} of {wanted} bars so far."
    assert page.locator(".fp-bench section [data-playing]").count() == 1  # the vamp goes on meanwhile
    add(page, "Run")
    assert answer.inner_text() == f"It fills the {wanted} {'bar' if wanted == 1 else 'bars'} over G, and every seam is clean."
    add(page, "Run")
    assert answer.inner_text() == f"{wanted + 1} bars, 1 too many."
    page.locator(".fp-bench figure").first.locator(".fp-play").wait_for()


def test_without_scripts_the_page_says_where_else_to_look(chromium, site):
    context = chromium.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((site / "bench/index.html").as_uri())
    assert page.get_by_text("The bench needs scripts").is_visible()
    context.close()


def test_notes_that_do_not_come_are_told_of(chromium, site):
    context = chromium.new_context()
    page = context.new_page()
    page.route("**/bench/licks/tag.js", lambda route: route.abort())
    page.goto((site / "bench/index.html").as_uri())
    add(page, "Tag")
    page.get_by_text("The notes of one of these licks did not come").wait_for()
    context.close()


@pytest.mark.parametrize("palette", ["light", "dark"])
def test_axe_finds_nothing_and_nothing_scrolls_sideways(chromium, site, palette):
    """WCAG 2.2 A and AA on what the page holds, at 320 px; targets of 24 px (2.5.8)."""
    context = chromium.new_context(color_scheme=palette, viewport=NARROW)
    page = context.new_page()
    page.goto((site / "bench/index.html").as_uri() + "#chain=run,tag,run")
    page.locator(".fp-bench .fp-play").wait_for()
    assert axe(page) == []
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    boxes = [each.bounding_box() for each in page.locator(".fp-bench :is(button, select, input[type=search])").all() if each.is_visible()]
    assert len(boxes) > 12 and all(box["width"] >= 24 and box["height"] >= 24 for box in boxes)
    context.close()
