"""The kit of the demo course as a student opens it: by a double click, with no server, no network and no relaxed rule."""

import os
import shutil
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page

from fifthpeg.command import main
from tests.browser.test_player import SILENCE
from tests.browser.test_site import NARROW, SETTLED_MS, watched
from tests.browser.test_tuner import RECORD, STRING_3, button

NAME = "millrace-banjo-workshop"
LESSON, LICK, TUNER = "course/lessons/06-a-first-tag.html", "course/licks/sluice-tag.html", "course/tuner.html"
CUT_SHORT = "net::ERR_ABORTED"
"""What Chromium says of a request that was under way when its page was left; a file that isn't there is another error."""
WITHOUT_NETWORK = {"offline": True}


@pytest.fixture(scope="module")
def kit(site, tmp_path_factory) -> Path:
    """Of the demo course. Unpacked from the zip, in a folder with a blank and an accent in its name, as a student's may have."""
    place = tmp_path_factory.mktemp("kit")
    before = os.environ.get("SOURCE_DATE_EPOCH")
    os.environ["SOURCE_DATE_EPOCH"] = "1700000000"
    try:
        assert main(["kit", "--course", str(site.parent / "mkdocs.yml"), "--to", str(place)]) == 0
    finally:
        os.environ.pop("SOURCE_DATE_EPOCH")
        os.environ.update({"SOURCE_DATE_EPOCH": before} if before else {})
    unpacked = place / "My café stick"
    with zipfile.ZipFile(place / f"{NAME}.zip") as packed:
        packed.extractall(unpacked)
    shutil.rmtree(place / NAME)
    return unpacked / NAME


@pytest.fixture
def reader(chromium: Browser, kit: Path) -> Iterator[Page]:
    """Every test ends with nothing complained of and nothing asked for outside the folder."""
    context = chromium.new_context(**WITHOUT_NETWORK)
    page = watched(context.new_page())
    page.add_init_script(RECORD)
    yield page
    page.wait_for_timeout(SETTLED_MS)
    assert page.complaints == []
    assert [url for url in page.asked if not url.startswith((kit.as_uri(), "data:", "about:", "blob:"))] == []
    context.close()


def opened(page: Page, kit: Path, address: str) -> Page:
    page.goto((kit / address).as_uri())
    return page


def test_from_the_cover_into_a_lesson(reader, kit):
    opened(reader, kit, "start.html").get_by_role("link", name="Open the course").click()
    reader.get_by_role("heading", name="Millrace Banjo Workshop", level=1).wait_for()
    reader.get_by_role("link", name="A first tag, bit by bit").last.click()
    reader.locator(".fp-play").first.wait_for()
    assert reader.url == (kit / LESSON).as_uri()


@pytest.mark.parametrize("address", [LESSON, LICK])
def test_the_player_is_heard_and_the_notes_light_up(reader, kit, address):
    opened(reader, kit, address).locator(".fp-play").first.click()
    reader.wait_for_function("window.player && player.state === 'running'")
    reader.wait_for_function(f"loudest() > {SILENCE}")
    reader.wait_for_function("lit.length > 3")


def test_the_search_finds_a_lesson_and_leads_to_it(reader, kit):
    opened(reader, kit, "course/index.html").locator("input[name=query]").click()
    reader.keyboard.type("darker")
    found = reader.locator(".md-search-result__link", has_text="The same tag, darker").first
    found.wait_for()
    found.click()
    reader.wait_for_url("**/course/lessons/07-the-darker-tag.html*")


def test_the_search_finds_a_lesson_where_the_browser_keeps_nothing(reader, kit):
    """As where a student, or a school, has forbidden pages to keep anything: nothing is complained of either."""
    reader.add_init_script("Object.defineProperty(window, 'localStorage', { get() { throw new DOMException('no', 'SecurityError'); } });")
    opened(reader, kit, "course/index.html").locator("input[name=query]").click()
    reader.keyboard.type("darker")
    reader.locator(".md-search-result__link", has_text="The same tag, darker").first.wait_for()


def test_the_tuner_sounds(reader, kit):
    button(opened(reader, kit, TUNER), STRING_3).click()
    reader.wait_for_function("sounding().length === 1")
    reader.wait_for_function(f"loudest() > {SILENCE}")


def test_pages_of_every_kind_open_without_a_complaint(reader, kit):
    """All but most of the licks, whose pages are alike."""
    licks = sorted((kit / "course/licks").glob("*.html"))
    pages = [*kit.glob("*.html"), *kit.glob("course/*.html"), *kit.glob("course/lessons/*.html"), *licks[::8]]
    assert len(pages) >= 20
    for page in pages:
        reader.goto(page.as_uri())
    reader.complaints[:] = [complaint for complaint in reader.complaints if CUT_SHORT not in complaint]


def test_the_cover_fits_the_narrowest_phone(chromium, kit):
    context = chromium.new_context(viewport=NARROW)
    page = opened(context.new_page(), kit, "start.html")
    assert not page.evaluate("document.documentElement.scrollWidth > innerWidth")
    context.close()


@pytest.mark.parametrize("palette", ["light", "dark"])
def test_axe_finds_nothing_to_mend_on_the_cover(chromium, kit, palette):
    """axe-core's rules for WCAG 2.2 A and AA, with colours of the page's own: a browser's are not measured."""
    context = chromium.new_context(color_scheme=palette, viewport=NARROW)
    page = opened(context.new_page(), kit, "start.html")
    rules = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
    found = Axe().run(page, options={"runOnly": {"type": "tag", "values": rules}}).response["violations"]
    context.close()
    assert [(fault["id"], [node["html"][:160] for node in fault["nodes"]][:3]) for fault in found] == []
