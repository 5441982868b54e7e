"""A page of many tabs: those far below cost nothing until they are near, and nothing is lost by it."""

import pytest
from playwright.sync_api import expect

from tests.browser.test_player import play_button
from tests.browser.test_site import CATALOGUE, LESSON, NARROW, SETTLED_MS, address_of, reader  # noqa: F401
from tests.browser.whole_page import ALL_READY

CHAINS_LESSON = "lessons/08-two-tags-in-a-row/"
HOW_DRAWN = "(figure) => getComputedStyle(figure).contentVisibility"
LAST_PLACE = "h2[id]"
TOP_BARS_PX = 130
"""The theme's bar stands over the text; a place that is led to lies right under it."""


def test_every_tab_gets_its_player_though_nobody_scrolls(reader, address_of):
    reader.goto(address_of(LESSON))
    tabs = reader.locator("figure.fp-tab").count()
    expect(reader.locator("figure.fp-tab .fp-play")).to_have_count(tabs)
    assert tabs > 8
    assert reader.complaints == []


def test_a_tab_out_of_sight_may_be_passed_over_but_not_while_it_plays_nor_on_paper(reader, address_of):
    reader.goto(address_of(LESSON))
    first = reader.locator("figure.fp-tab").first
    assert first.evaluate(HOW_DRAWN) == "auto"
    play_button(first).click()
    expect(play_button(first)).to_have_text("Stop")
    assert first.evaluate(HOW_DRAWN) == "visible"
    reader.keyboard.press("Escape")
    expect(play_button(first)).to_have_text("Play")
    assert first.evaluate(HOW_DRAWN) == "auto"
    reader.emulate_media(media="print")
    assert {one.evaluate(HOW_DRAWN) for one in reader.locator("figure.fp-tab").all()} == {"visible"}


@pytest.mark.parametrize("width", [NARROW["width"], 1280])
def test_an_address_with_a_place_in_it_leads_there_past_tabs_not_yet_drawn(reader, address_of, width):
    reader.set_viewport_size({"width": width, "height": 800})
    reader.goto(address_of(LESSON))
    place = reader.locator(LAST_PLACE).last.get_attribute("id")
    reader.goto("about:blank")
    reader.goto(f"{address_of(LESSON)}#{place}")
    reader.wait_for_timeout(SETTLED_MS)
    heading = reader.locator(f"#{place}")
    box, foot = heading.bounding_box(), reader.evaluate("document.documentElement.scrollHeight - scrollY - innerHeight")
    assert 0 <= box["y"] <= TOP_BARS_PX or foot < 2


def test_a_browser_that_makes_no_sound_of_its_own_has_the_recordings_laid_open(reader, address_of):
    reader.add_init_script("delete window.AudioContext;")
    reader.goto(address_of(LESSON))
    expect(reader.locator(".fp-recordings audio").first).to_be_visible()
    expect(reader.locator(".fp-heard:not([open])")).to_have_count(0)
    assert reader.locator(".fp-play").count() == 0


@pytest.mark.parametrize("width", [360, 1280])
@pytest.mark.parametrize("how", ["reload", "back"])
def test_who_comes_back_to_a_long_page_finds_the_place(reader, address_of, how, width):
    reader.set_viewport_size({"width": width, "height": 740})
    reader.goto(address_of(LESSON))
    tab = reader.locator("figure.fp-tab:visible").nth(6)
    for _ in range(2):  # the first time past tabs that have guessed heights
        tab.evaluate("(tab) => scrollBy({ top: tab.getBoundingClientRect().top - 120, behavior: 'instant' })")
        reader.wait_for_timeout(SETTLED_MS)
    before = tab.bounding_box()["y"]
    if how == "reload":
        reader.reload()
    else:
        reader.goto(address_of(CATALOGUE), wait_until="networkidle")
        reader.go_back()
    reader.wait_for_timeout(SETTLED_MS)
    assert abs(tab.bounding_box()["y"] - before) <= 2
    assert reader.complaints == []


def test_the_row_at_the_foot_hides_nothing_at_the_page_s_end(reader, address_of):
    reader.set_viewport_size({"width": 360, "height": 740})
    reader.goto(address_of(LESSON))
    reader.get_by_role("button", name="Loop").first.click()
    play_button(reader).click()
    reader.evaluate("scrollTo({ top: document.documentElement.scrollHeight, behavior: 'instant' })")
    row = reader.locator(".fp-row[data-away]")
    row.wait_for()
    reader.evaluate("scrollTo({ top: document.documentElement.scrollHeight, behavior: 'instant' })")
    reader.wait_for_timeout(SETTLED_MS)
    last = reader.locator(".md-footer__link").last.bounding_box()
    assert last["y"] + last["height"] <= row.bounding_box()["y"]


def test_what_holds_for_all_tabs_holds_at_once_and_no_tab_takes_it_back(reader, address_of):
    reader.goto(address_of(LESSON))
    tabs = reader.locator("figure.fp-tab")
    expect(reader.locator(".fp-play")).to_have_count(tabs.count())
    play_button(reader).focus()
    reader.keyboard.press("h")
    expect(reader.locator("figure.fp-tab[data-letters-hidden]")).to_have_count(tabs.count())
    play_button(reader, 1).focus()
    reader.keyboard.press("l")
    reader.reload()
    expect(reader.locator("figure.fp-tab[data-letters-hidden]")).to_have_count(tabs.count())


def test_a_tab_that_comes_later_is_told_too_where_nothing_can_be_kept(reader, address_of):
    """With storage forbidden the tabs themselves are all that knows."""
    reader.add_init_script("Object.defineProperty(window, 'localStorage', { get() { throw new Error('forbidden'); } });")
    reader.goto(address_of(LESSON))
    tabs = reader.locator("figure.fp-tab").count()
    expect(reader.locator(".fp-play")).to_have_count(tabs)
    play_button(reader).focus()
    reader.keyboard.press("h")
    reader.evaluate("""() => {
        const late = document.querySelector('figure.fp-tab').cloneNode(true);
        late.removeAttribute('data-fp-ready');
        late.removeAttribute('data-letters-hidden');
        late.id = 'late';
        document.querySelector('article').append(late);
        fifthpeg.player.start(document);
    }""")
    expect(reader.locator("#late[data-letters-hidden]")).to_have_count(1)
    reader.keyboard.press("l")
    expect(reader.locator("figure.fp-tab[data-letters-hidden]")).to_have_count(tabs + 1)


UNDER_THE_BAR = """() => {
    const one = document.activeElement, box = one.getBoundingClientRect();
    const bar = document.querySelector('.md-header').getBoundingClientRect();
    const seen = one.closest('article') && box.width > 1 && box.height > 1 && getComputedStyle(one).opacity > 0;
    return [one.tagName, Boolean(seen), seen && box.top < bar.bottom - 1 ? one.outerHTML.slice(0, 120) : ''];
}"""


@pytest.mark.parametrize("width", [NARROW["width"], 1280])
def test_going_back_by_key_nothing_focused_hides_under_the_theme_s_bar(reader, address_of, width):
    """WCAG 2.2, 2.4.11, from the foot of the page to its top; a leaf's radio has no room of its own on the screen."""
    reader.set_viewport_size({"width": width, "height": 800})
    reader.goto(address_of(CHAINS_LESSON))
    reader.wait_for_function(ALL_READY)
    reader.locator(".md-footer__link").last.focus()
    stops = []
    for _ in range(400):
        reader.keyboard.press("Shift+Tab")
        stops.append(reader.evaluate(UNDER_THE_BAR))
        if stops[-1][0] == "BODY":
            break
    assert len([stop for stop in stops if stop[1]]) > 60
    assert [hidden for _, _, hidden in stops if hidden] == []
