"""The demo course, built as `make build` builds it, met in a browser: from a web server and from a folder."""

import json
import threading
from collections.abc import Callable, Iterator
from functools import cache, partial
from http.server import ThreadingHTTPServer
from pathlib import Path

import html5lib
import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page

from fifthpeg.model.lick import TEMPO_NAMES
from fifthpeg.pages.addresses import FILE_ENDINGS, wav_ending
from tests.demo import build_demo
from tests.browser.test_player import FOLLOW, LISTEN, SILENCE, Quiet
from tests.browser.whole_page import draw_whole

LESSON, LICK, CATALOGUE, TUNER, HOME = "lessons/06-a-first-tag/", "licks/sluice-tag/", "licks/", "tuner/", ""
PRACTICE, BENCH = "practice/", "bench/"
MAIN_PAGES = (HOME, LESSON, LICK, CATALOGUE, TUNER, PRACTICE, BENCH)
NARROW = {"width": 320, "height": 640}
"""WCAG 2.2, 1.4.10: no sideways scrolling at 320 CSS pixels."""
SETTLED_MS = 400
RULES = {"type": "tag", "values": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]}
"""axe-core's for WCAG 2.2 A and AA."""


@pytest.fixture(scope="module", params=["http", "file"])
def address_of(request: pytest.FixtureRequest, site: Path) -> Iterator[Callable[[str], str]]:
    """From a page's address below the site's root to one a browser can open."""
    if request.param == "file":
        yield lambda page: (site / page / "index.html").as_uri()
        return
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Quiet, directory=str(site)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield lambda page: f"http://127.0.0.1:{server.server_port}/{page}"
    server.shutdown()
    server.server_close()


@pytest.fixture
def reader(chromium: Browser) -> Iterator[Page]:
    """A fresh page that keeps what goes wrong on it and whatever it asks for."""
    context = chromium.new_context()
    yield watched(context.new_page())
    context.close()


def watched(page: Page) -> Page:
    page.complaints, page.asked = [], []
    page.on("console", lambda message: page.complaints.append(message.text) if message.type in ("error", "warning") else None)
    page.on("pageerror", lambda error: page.complaints.append(str(error)))
    page.on("requestfailed", lambda request: page.complaints.append(f"{request.url}: {request.failure}"))
    page.on("request", lambda request: page.asked.append(request.url))
    page.add_init_script(LISTEN)
    page.add_init_script(FOLLOW)
    return page


@cache
def parsed(page: Path):
    """By html5lib; read only, for several tests look at it."""
    return html5lib.parse(page.read_text(encoding="utf-8"), namespaceHTMLElements=False)


def elements(root, *names: str):
    return (element for element in root.iter() if element.tag in names)


def tree(site: Path) -> dict[str, bytes]:
    return {path.relative_to(site).as_posix(): path.read_bytes() for path in sorted(site.rglob("*")) if path.is_file()}


def test_two_builds_from_clean_caches_are_the_same_byte_for_byte(site, tmp_path):
    """Other hash seeds, so that no order of a set can creep in."""
    one, two = tree(site), tree(build_demo(tmp_path, hash_seed="2"))
    assert one.keys() == two.keys()
    assert [name for name in one if one[name] != two[name]] == []
    assert sum(name.endswith(".wav") for name in one) >= 60


def test_every_lick_has_every_file_and_a_page(site):
    licks = json.loads((site / "media/library.json").read_text())["licks"]
    endings = (*FILE_ENDINGS, *map(wav_ending, TEMPO_NAMES))
    wanted = [f"media/licks/{lick['id']}/{lick['id']}{ending}" for lick in licks for ending in endings]
    wanted += [f"licks/{lick['id']}/index.html" for lick in licks]
    assert len(licks) >= 20
    assert [name for name in wanted if not (site / name).is_file()] == []


WITHOUT_CHORDS = {"fret-check"}
"""An exercise that looks for buzzing frets: no chord belongs to it."""


def test_every_lick_is_recorded_over_its_backing_at_one_loudness(site):
    listed = {path.parent.name: json.loads(path.read_text()) for path in site.glob("media/licks/*/*.json")}
    assert {name for name, lick in listed.items() if not lick["backing"]} == WITHOUT_CHORDS
    tempos = [tempo for lick in listed.values() for tempo in lick["tempos"]]
    assert {tempo["name"]: tempo for tempo in tempos if abs(tempo["lufs"] + 21) > 0.5 or tempo["true_peak_dbtp"] > -1} == {}
    sounds = {"-".join([note["stem"], *map(str, note["pitches"])]) for lick in listed.values() for note in lick["backing"]}
    published = {path.stem for path in site.glob("media/bank/*/*.js")}
    assert sounds <= published


def test_every_link_of_every_page_leads_somewhere(site):
    missing = []
    for page in site.rglob("*.html"):
        root = parsed(page)
        ids = {element.get("id") for element in root.iter() if element.get("id")}
        for element in elements(root, "a", "audio", "link", "script", "img"):
            url = element.get("href") or element.get("src") or ""
            path, _, anchor = url.partition("#")
            if page.name == "404.html" or ":" in path or not url:
                continue
            target = (page.parent / path) if path else page
            if not (target / "index.html" if target.is_dir() else target).is_file() or (not path and anchor not in ids | {""}):
                missing.append((page.relative_to(site).as_posix(), url))
    assert missing == []


def test_the_first_tab_of_a_lesson_sounds_after_400_kb_of_notes(site):
    """What its bank notes weigh as they are fetched, before any tab of the page has been played."""
    (bank,) = (site / "media/bank").iterdir()
    weights = {}
    for page in (site / "lessons").glob("*/index.html"):
        root = parsed(page)
        tabs = [json.loads(script.text) for script in elements(root, "script") if script.get("class") == "fp-data"]
        if tabs:
            sounds = {note["sound"] for note in tabs[0]["notes"] if note["sound"]}
            weights[page.parent.name] = sum((bank / f"{sound}.js").stat().st_size for sound in sounds)
    assert len(weights) >= 10
    assert max(weights.values()) <= 400_000, weights


def test_nothing_in_any_page_names_a_place_outside(site):
    """Sources, style sheets and scripts: what a browser would fetch by itself."""
    named = set()
    for page in site.rglob("*.html"):
        root = parsed(page)
        named |= {element.get("src") or element.get("href") for element in elements(root, "script", "link", "img", "audio", "iframe")}
    assert {url for url in named if url and url.startswith(("http:", "https:", "//"))} == set()


def test_the_main_part_of_every_page_is_html_without_a_fault(site):
    """By html5lib in strict mode; the frame around it is the theme's."""
    faulty = {}
    for page in site.rglob("*.html"):
        article = page.read_text(encoding="utf-8").split("<article", 1)[-1].split("</article>")[0]
        try:
            html5lib.HTMLParser(strict=True).parse(
                f"<!doctype html><html><head><title>x</title></head><body><article{article}</article></body></html>")
        except html5lib.html5parser.ParseError as fault:
            faulty[page.relative_to(site).as_posix()] = str(fault)
    assert faulty == {}


def test_no_id_stands_twice_on_a_page(site):
    twice = {}
    for page in site.rglob("*.html"):
        article = page.read_text(encoding="utf-8").split("<article", 1)[-1].split("</article>")[0]
        root = html5lib.parse(f"<article{article}</article>", namespaceHTMLElements=False)
        ids = [element.get("id") for element in root.iter() if element.get("id")]
        if len(ids) != len(set(ids)):
            twice[page.relative_to(site).as_posix()] = sorted({name for name in ids if ids.count(name) > 1})
    assert twice == {}


@pytest.mark.parametrize("page", MAIN_PAGES)
def test_a_page_opens_without_a_complaint_and_asks_for_nothing_outside(reader, address_of, page):
    reader.goto(address_of(page))
    reader.wait_for_timeout(SETTLED_MS)
    home = address_of(HOME).removesuffix("index.html")
    assert reader.complaints == []
    assert [url for url in reader.asked if not url.startswith((home, "data:", "about:"))] == []


@pytest.mark.parametrize("page", [LESSON, LICK])
def test_a_press_starts_sound_and_the_cursor_moves(reader, address_of, page):
    reader.goto(address_of(page))
    reader.locator(".fp-play").first.click()
    reader.wait_for_function("window.player && player.state === 'running'")
    reader.wait_for_function(f"loudest() > {SILENCE}")
    reader.wait_for_function("lit.length > 3")
    assert reader.complaints == []


def test_a_recording_loads_by_itself(reader, address_of):
    reader.goto(address_of(LICK))
    seconds = reader.evaluate("""async () => {
        const audio = document.querySelector('.fp-recordings audio');
        audio.preload = 'metadata';
        audio.load();
        await new Promise((resolve, reject) => { audio.onloadedmetadata = resolve; audio.onerror = reject; });
        return audio.duration;
    }""")
    assert seconds > 1


def test_who_comes_to_an_address_without_a_page_is_shown_the_way_back(reader, site):
    reader.goto((site / "404.html").as_uri())
    reader.get_by_role("heading", name="No such page").wait_for()
    assert reader.get_by_role("link", name="Begin at the first page").get_attribute("href").startswith("/")


def test_with_scripts_off_the_page_reads_and_has_its_recordings(chromium, address_of):
    context = chromium.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(address_of(LICK))
    assert page.locator(".fp-bar").first.is_visible()
    assert page.locator("#fp-sluice-tag .fp-recordings audio").count() == 3
    assert page.locator(".fp-recordings audio").first.is_visible()
    assert not page.locator(".fp-play").count()
    context.close()


def test_choosing_a_role_narrows_the_catalogue_without_a_script(chromium, address_of):
    context = chromium.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(address_of(CATALOGUE))
    rows = page.locator(".fp-licks tbody tr")
    everything = rows.count()
    page.select_option("select[name=fp-role]", label="tag")
    shown = [row for row in rows.all() if row.is_visible()]
    assert 0 < len(shown) < everything
    assert {row.locator("[data-column=Role]").inner_text().split()[-1] for row in shown} == {"tag"}
    context.close()


def test_no_page_scrolls_sideways_on_the_narrowest_screen(chromium, site):
    context = chromium.new_context(viewport=NARROW)
    page = context.new_page()
    wide = []
    for path in sorted(site.rglob("index.html")):
        page.goto(path.as_uri())
        draw_whole(page)
        if page.evaluate("document.documentElement.scrollWidth > innerWidth"):
            wide.append(path.relative_to(site).as_posix())
    context.close()
    assert wide == []


@pytest.mark.parametrize("palette", ["light", "dark"])
@pytest.mark.parametrize("page", MAIN_PAGES)
def test_axe_finds_nothing_to_mend(chromium, site, page, palette):
    """axe-core's rules for WCAG 2.2 A and AA, on the page as it stands in the theme."""
    context = chromium.new_context(color_scheme=palette)
    opened = context.new_page()
    opened.goto((site / page / "index.html").as_uri())
    opened.wait_for_timeout(SETTLED_MS)
    draw_whole(opened)
    found = Axe().run(opened, options={"runOnly": RULES}).response["violations"]
    context.close()
    assert [(fault["id"], [node["html"][:160] for node in fault["nodes"]][:3]) for fault in found] == []


def test_titles_are_found_by_the_search_field_and_fret_digits_are_not(chromium, site):
    index = json.loads((site / "search/search_index.json").read_text())["docs"]
    assert any(entry["title"] == "Sluice tag" for entry in index)
    lesson = next(entry for entry in index if entry["location"] == f"{LESSON}#the-whole-of-it")
    assert not any(letter.isdigit() for letter in lesson["text"])


def test_the_search_field_keeps_the_words_of_a_table_apart(site):
    index = json.loads((site / "search/search_index.json").read_text())["docs"]
    facts = next(entry["text"] for entry in index if entry["location"] == LICK)
    assert " ".join(facts.split()).startswith("Role tag Key G Length 3 bars of 4/4 Full tempo 208 beats")


def test_the_search_field_leads_to_a_lick_s_own_page_and_not_to_its_row_in_the_list(site):
    index = json.loads((site / "search/search_index.json").read_text())["docs"]
    assert [entry["text"] for entry in index if entry["location"] == CATALOGUE] == [""]


@pytest.mark.parametrize("page", MAIN_PAGES)
def test_every_column_of_a_table_has_a_head_with_a_word_in_it(site, page):
    root = html5lib.parse((site / page / "index.html").read_text(encoding="utf-8"), namespaceHTMLElements=False)
    assert [head for head in elements(root, "th") if not "".join(head.itertext()).strip()] == []


def test_a_drawing_is_described_in_words_once_to_who_cannot_see_it(reader, address_of):
    """WCAG 2.2, 1.1.1: the browser's own accessibility tree, with the words folded away and opened."""
    reader.goto(address_of(LICK))
    for _ in range(2):
        tree = reader.context.new_cdp_session(reader).send("Accessibility.getFullAXTree")["nodes"]
        drawings = [node for node in tree if node.get("name", {}).get("value", "").startswith("Tab of Sluice tag")]
        assert [node["description"]["value"].startswith("Bar 1. Chord G. Beat 1: pinch") for node in drawings] == [True]
        reader.locator(".fp-words summary").first.click()
