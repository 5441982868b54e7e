"""The practice page met in a browser, from a web server and from a double-clicked folder: what is kept, carried, forgotten."""

import json
import threading
from collections.abc import Iterator
from functools import partial
from http.server import ThreadingHTTPServer
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page

from tests.browser.test_player import Quiet
from tests.browser.test_site import NARROW, watched
from tests.sites import ONE_LICK, build_pages

HOSTILE = '</script><img src=x onerror="window.struck = 1"><b>'
SHORT = f"\n```tab\nid: short\ntitle: {HOSTILE}\ntempo: 400\n---\nT3 I2 M1 T5\n```\n".replace("400\n", "400\nmeter: 2/4\n")
WEIR = {"id": "weir-run", "title": "Weir run", "full": 208, "best": 150, "played": 12, "day": "2026-11-20"}
FILE = {"kind": "practice on the five-string banjo", "version": 1, "licks": [WEIR]}
TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
FILL = """
for (let size = 1 << 20; size >= 1; size >>= 1) {
  try { for (let n = 0; ; n++) localStorage.setItem(`filler ${size} ${n}`, 'x'.repeat(size)); } catch { /* the next smaller */ }
}
"""


@pytest.fixture(scope="module")
def site(tmp_path_factory) -> Path:
    built = build_pages(tmp_path_factory.mktemp("course"), {"index.md": ONE_LICK + SHORT})
    assert built.failure is None
    return built.site


@pytest.fixture(scope="module", params=["http", "file"])
def root(request: pytest.FixtureRequest, site: Path) -> Iterator[str]:
    if request.param == "file":
        yield site.as_uri()
        return
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Quiet, directory=str(site)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}"
    server.shutdown()
    server.server_close()


@pytest.fixture
def page(chromium: Browser, root: str) -> Iterator[Page]:
    context = chromium.new_context()
    opened = watched(context.new_page())
    opened.goto(f"{root}/practice/index.html")
    yield opened
    assert opened.complaints == []
    assert opened.evaluate("window.struck") is None
    context.close()


def choose(page: Page, content: str) -> str:
    """Takes in a file with this content; gives what is said."""
    page.locator(".fp-practised input[type=file]").set_input_files(
        {"name": "practice.json", "mimeType": "application/json", "buffer": content.encode()})
    said = page.locator(".fp-practised .fp-said")
    said.filter(has_text=".").wait_for()
    return said.inner_text()


def rows(page: Page) -> list[str]:
    return [" ".join(row.split()) for row in page.locator(".fp-practised tbody tr").all_inner_texts()]


def test_a_pass_played_on_a_licks_page_stands_on_the_practice_page(chromium, root):
    context = chromium.new_context()
    page = watched(context.new_page())
    page.goto(f"{root}/licks/short/index.html")
    page.get_by_role("button", name="Play", exact=True).first.click()
    page.get_by_role("button", name="Stop", exact=True).first.wait_for()
    page.get_by_role("button", name="Play", exact=True).first.wait_for(timeout=20_000)
    today = page.evaluate("fifthpeg.progress.dayOf(new Date())")
    assert page.evaluate("Object.entries(localStorage).filter(([key]) => key.endsWith('lick/short')).map(([, own]) => JSON.parse(own))[0].day") == today
    page.goto(f"{root}/practice/index.html")
    (row,) = rows(page)
    assert row.startswith(HOSTILE) and "400 of 400 beats a minute, 100 %" in row
    assert page.evaluate("window.struck") is None and page.complaints == []
    page.locator(".fp-practised tbody a").click()
    page.wait_for_url("**/licks/short/**")
    context.close()


def test_practice_is_taken_in_from_a_file_joined_and_saved_again(page):
    assert "Nothing has been practised here yet" in page.locator(".fp-practised").inner_text()
    assert choose(page, json.dumps(FILE)).startswith("Taken in: 1 lick.")
    choose(page, json.dumps(FILE | {"licks": [{**WEIR, "best": 90, "played": 3, "day": "2026-11-25"}]}))
    (row,) = rows(page)
    assert all(words in row for words in ("Weir run", "25 November 2026", "12", "150 of 208 beats a minute, 72 %"))
    with page.expect_download() as download:
        page.get_by_role("button", name="Save as a file").click()
    saved = json.loads(Path(download.value.path()).read_text())
    assert saved == FILE | {"licks": [{**WEIR, "day": "2026-11-25"}]}


@pytest.mark.parametrize("content", [
    "{", HOSTILE, json.dumps(FILE | {"licks": [WEIR, {**WEIR, "id": HOSTILE}]}),
    json.dumps(FILE | {"licks": [{**WEIR, "best": 10**9}]}),
], ids=["no JSON", "markup", "an id with markup", "a best no hand can reach"])
def test_a_bad_file_is_a_sentence_and_loses_nothing(page, content):
    choose(page, json.dumps(FILE))
    before = rows(page)
    assert "Nothing has been changed here." in choose(page, content)
    assert rows(page) == before


def test_a_title_from_a_file_runs_no_script(page):
    choose(page, json.dumps(FILE | {"licks": [{**WEIR, "id": "from-elsewhere", "title": HOSTILE}]}))
    assert rows(page)[0].startswith(HOSTILE + " (not in this course)")
    assert page.locator(".fp-practised tbody :is(img, b, script, a)").count() == 0


def test_forgetting_asks_first_and_goes_by_keyboard_alone(page):
    choose(page, json.dumps(FILE))
    ask = page.get_by_role("button", name="Forget all practice …")
    ask.focus()
    page.keyboard.press("Enter")
    page.keyboard.press("Escape")
    assert len(rows(page)) == 1
    page.keyboard.press("Enter")
    page.keyboard.press("Enter")  # "Keep it" has the focus
    assert len(rows(page)) == 1
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    assert rows(page) == []
    assert page.get_by_text("All practice is forgotten.").is_visible()


def test_a_browser_without_room_says_so_and_keeps_what_it_has(page):
    choose(page, json.dumps(FILE))
    page.evaluate(FILL)
    page.reload()
    assert "no room left" in page.locator(".fp-practice-trouble").inner_text()
    more = [{**WEIR, "id": f"lick-{number}"} for number in range(30)]
    assert "There was room for 0 of the file's 30 licks" in choose(page, json.dumps(FILE | {"licks": more}))
    assert len(rows(page)) == 1


def test_a_browser_that_keeps_nothing_says_so(chromium, root):
    context = chromium.new_context()
    page, errors = context.new_page(), []
    page.on("pageerror", lambda error: errors.append(error))
    page.add_init_script("Object.defineProperty(window, 'localStorage', { get() { throw new Error('storage is forbidden'); } });")
    page.goto(f"{root}/practice/index.html")
    assert "lets these pages keep nothing" in page.locator(".fp-practice-trouble").inner_text()
    assert "room for 0 of" in choose(page, json.dumps(FILE))
    assert [error.stack for error in errors if "fifthpeg" in (error.stack or "")] == []  # the theme's own may stumble
    context.close()


def test_without_scripts_the_page_says_what_it_would_hold(chromium, site):
    context = chromium.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((site / "practice/index.html").as_uri())
    assert page.get_by_text("This list needs scripts").is_visible()
    assert page.get_by_text("Stop at the first pain").is_visible()
    context.close()


@pytest.mark.parametrize("palette", ["light", "dark"])
def test_axe_finds_nothing_and_nothing_scrolls_sideways(chromium, site, palette):
    """axe-core's rules for WCAG 2.2 A and AA on what the page holds, at 320 px; targets of 24 px (2.5.8), the question open and shut."""
    context = chromium.new_context(color_scheme=palette, viewport=NARROW)
    page = context.new_page()
    page.goto((site / "practice/index.html").as_uri())
    choose(page, json.dumps(FILE))
    assert axe(page) == []
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    boxes = [each.bounding_box() for each in page.locator(".fp-practised :is(button, input)").all() if each.is_visible()]
    assert len(boxes) == 3 and all(box["width"] >= 24 and box["height"] >= 24 for box in boxes)
    page.get_by_role("button", name="Forget all practice …").click()
    assert axe(page) == []
    context.close()


def axe(page: Page) -> list:
    found = Axe().run(page, context="article", options={"runOnly": {"type": "tag", "values": TAGS}}).response["violations"]
    return [(fault["id"], [node["html"][:160] for node in fault["nodes"]][:3]) for fault in found]
