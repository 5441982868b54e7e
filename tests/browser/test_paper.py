"""What a printer gets of a lesson and of a lick's page, and what a reader without scripts has of them."""

import threading
from collections.abc import Callable, Iterator
from functools import partial
from http.server import ThreadingHTTPServer
from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest
from playwright.sync_api import Browser, Locator, Page

from tests.browser.test_kit import CUT_SHORT
from tests.browser.test_player import Quiet
from tests.sites import ONE_LICK, build_pages

LESSON = ONE_LICK + """
## And the other way

Two frets higher:

```tab
id: weir-run-high
from: weir-run
change:
  - 1:4 -> 1:5
```

=== "Slow"

    ```tab
    show: weir-run
    tempo: 100
    ```

=== "Whole"

    ```tab
    title: Nine bars
    ---
    |: [G] T3 I2 M1 T5 I2 M1 T3 M1 :|x2
    T3 I2 M1 T5 I2 M1 T3 M1 | T3 I2 M1 T5 I2 M1 T3 M1 | T3 I2 M1 T5 I2 M1 T3 M1 | T3 I2 M1 T5 I2 M1 T3 M1
    T3 I2 M1 T5 I2 M1 T3 M1 | T3 I2 M1 T5 I2 M1 T3 M1 | T3 I2 M1 T5 I2 M1 T3 M1 | T3 I2 M1 T5 I2 M1 T3 M1
    ```

Read [more of it](https://banjo.example/more).
"""
PAGES = {"index.md": "# Welcome\n\nGo to [the lesson](lessons/weir.md).\n", "lessons/weir.md": LESSON}
LESSON_PAGE, LICK_PAGE = "lessons/weir/", "licks/weir-run-high/"
LOOKS, BETWEEN_LOOKS_MS = 100, 100
A4_AT_96_DPI = {"width": 794, "height": 1123}


@pytest.fixture(scope="module")
def site(tmp_path_factory) -> Path:
    built = build_pages(tmp_path_factory.mktemp("course"), PAGES, site_url="https://banjo.example/mill/")
    assert built.failure is None and built.log == ""
    return built.site


@pytest.fixture(scope="module")
def folder_site(tmp_path_factory) -> Path:
    """With links that name files, as the kit has them: on file:// a folder is no page."""
    built = build_pages(tmp_path_factory.mktemp("folder"), PAGES, use_directory_urls=False)
    assert built.failure is None and built.log == ""
    return built.site


@pytest.fixture(scope="module", params=["http", "file"])
def address_of(request: pytest.FixtureRequest, site: Path, folder_site: Path) -> Iterator[Callable[[str], str]]:
    if request.param == "file":
        yield lambda page: (folder_site / f"{page.rstrip('/') or 'index'}.html").as_uri()
        return
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Quiet, directory=str(site)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield lambda page: f"http://127.0.0.1:{server.server_port}/{page}"
    server.shutdown()
    server.server_close()


@pytest.fixture(params=[LESSON_PAGE, LICK_PAGE])
def sheet(request: pytest.FixtureRequest, chromium: Browser, site: Path) -> Iterator[Page]:
    """The page as a printer lays it out."""
    yield from printed(chromium, site, request.param)


@pytest.fixture
def lesson_sheet(chromium: Browser, site: Path) -> Iterator[Page]:
    yield from printed(chromium, site, LESSON_PAGE)


def printed(chromium: Browser, site: Path, address: str) -> Iterator[Page]:
    context = chromium.new_context(viewport=A4_AT_96_DPI)
    page = context.new_page()
    page.goto((site / address / "index.html").as_uri())
    page.locator(".fp-play").first.wait_for(state="attached")
    page.emulate_media(media="print")
    yield page
    context.close()


@pytest.fixture(params=[LESSON_PAGE, LICK_PAGE])
def without_scripts(request: pytest.FixtureRequest, chromium: Browser, address_of) -> Iterator[Page]:
    context = chromium.new_context(java_script_enabled=False)
    page = context.new_page()
    page.missing = []
    page.on("requestfailed", lambda failed: page.missing.append(failed.url) if failed.failure != CUT_SHORT else None)
    page.on("response", lambda answer: page.missing.append(answer.url) if answer.status >= 400 else None)
    page.goto(address_of(request.param))
    yield page
    assert page.missing == []
    context.close()


def seen(page: Page, selector: str) -> list[str]:
    """What of it takes up room; HTML as far as it helps to tell."""
    return [one.evaluate("one => one.outerHTML.slice(0, 90)") for one in page.locator(selector).all() if one.is_visible()]


def duration_seconds(audio: Locator) -> float:
    """Asked for again and again: with scripts off, no page tells of an event."""
    for _ in range(LOOKS):
        if found := audio.evaluate("one => one.duration || 0"):
            return found
        audio.page.wait_for_timeout(BETWEEN_LOOKS_MS)
    return 0.0


def style(page: Page, selector: str, name: str, pseudo: str | None = None) -> str:
    return page.locator(selector).first.evaluate("(one, [name, pseudo]) => getComputedStyle(one, pseudo)[name]", [name, pseudo])


def test_paper_has_no_controls_and_no_navigation(sheet):
    assert seen(sheet, "button, input, select, audio, .fp-player, .fp-downloads") == []
    assert seen(sheet, "nav, header.md-header, footer, .md-sidebar, .md-search, .headerlink, .md-top") == []


def test_paper_shows_every_tab_with_its_bars_counted(sheet):
    drawings = sheet.locator("figure.fp-tab .fp-drawing")
    assert drawings.count() >= 2
    assert all(drawing.is_visible() for drawing in drawings.all())
    first_bars = sheet.locator("figure.fp-tab .fp-bar:first-child .fp-number")
    assert first_bars.count() == drawings.count()


def test_no_bar_is_cut_through_and_no_short_tab_divided(lesson_sheet):
    assert style(lesson_sheet, ".fp-bar", "breakInside") == "avoid"
    assert style(lesson_sheet, "figure.fp-tab", "breakInside") == "avoid"
    long = lesson_sheet.locator("figure.fp-tab", has_text="Nine bars")
    assert long.evaluate("one => getComputedStyle(one).breakInside") == "auto"
    assert style(lesson_sheet, "h2", "breakAfter") == "avoid"


def test_words_that_lead_to_a_tab_stay_with_it(lesson_sheet):
    leading = lesson_sheet.locator("p", has_text="Two frets higher:")
    assert leading.evaluate("one => getComputedStyle(one).breakAfter") == "avoid"
    assert style(lesson_sheet, "p:has(> a[href^='https://banjo.example/more'])", "breakAfter") == "auto"


def test_paper_says_in_words_what_the_letters_of_the_hands_mean(sheet):
    said = style(sheet, ".md-content__inner > h1", "content", "::after")
    assert "T thumb, I index, M middle" in said and "left hand" in said


def test_paper_says_where_the_page_stands_in_the_web_and_where_a_link_leads(lesson_sheet):
    assert lesson_sheet.get_by_text("Online: https://banjo.example/mill/lessons/weir/").is_visible()
    assert style(lesson_sheet, "a[href^='https://banjo.example/more']", "content", "::after").count("https://banjo.example/more")


def test_the_screen_has_no_line_for_paper(chromium, site):
    page = chromium.new_page()
    page.goto((site / LESSON_PAGE / "index.html").as_uri())
    assert not page.get_by_text("Online: ").is_visible()
    page.close()


def test_without_scripts_every_drawing_is_there_and_said_in_words(without_scripts):
    figures = without_scripts.locator("figure.fp-tab:visible")
    assert figures.count() >= 2
    for figure in figures.all():
        assert figure.locator(".fp-bar").first.is_visible()
        figure.locator(".fp-words summary").first.click()
        assert figure.locator(".fp-words p").first.is_visible()
        assert figure.locator(".fp-words p").first.inner_text().startswith("Bar 1.")


def test_without_scripts_recordings_play_by_the_browser_s_own_means(without_scripts):
    audio = without_scripts.locator("figure.fp-tab:visible .fp-recordings audio")
    assert audio.count() >= 3
    for one in audio.all():
        assert one.is_visible() and one.get_attribute("controls") is not None
    audio.first.evaluate("one => { one.preload = 'metadata'; one.load(); }")
    assert duration_seconds(audio.first) > 0.5


def test_without_scripts_files_download(without_scripts):
    fold = without_scripts.locator("figure.fp-tab").first
    fold.locator("summary", has_text="Files to keep").click()
    for kind, holds in (("MIDI", b"MThd"), ("MusicXML", b"<score-partwise"), ("Tab as a picture (SVG)", b"<svg ")):
        file = fold.get_by_role("link", name=kind, exact=True)
        assert file.is_visible()
        if without_scripts.url.startswith("file:"):  # the browser opens what it can show instead of keeping a copy
            target = Path(unquote(urlsplit(file.evaluate("one => one.href")).path))
        else:
            with without_scripts.expect_download() as waiting:
                file.click()
            target = Path(waiting.value.path())
        assert holds in target.read_bytes()


def test_without_scripts_no_dead_control_is_seen(without_scripts):
    """A control that only a script could answer; a label or a fold works by itself."""
    assert seen(without_scripts, ".fp-player, .fp-play, main button") == []


def test_without_scripts_one_gets_from_page_to_page(without_scripts, address_of):
    without_scripts.goto(address_of(""))
    without_scripts.get_by_role("link", name="the lesson", exact=True).click()
    without_scripts.locator("figure.fp-tab .fp-caption a").first.click()
    assert "licks/weir-run" in without_scripts.url
    without_scripts.locator("article h1").wait_for()
