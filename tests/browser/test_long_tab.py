"""A tab taller than a phone's screen: stop stays at hand, the tab is not hidden, and the page moves only if asked."""

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.stage import tab_of, write_page
from tests.browser.test_player import FOLLOW, open_practice, play_button

PHONE = {"width": 360, "height": 640}
BAR = "M1 I2 T3 M1 T4 I3 M1 T4"
LONG = "id: long-way\ntitle: Long way\ntempo: 240\n---\n" + " | ".join([BAR] * 24)
SEEN = """selector => { const box = document.querySelector(selector).getBoundingClientRect();
    return box.width > 0 && box.top >= 0 && box.bottom <= innerHeight; }"""
UNCOVERED = """() => {
    const row = document.querySelector('.fp-dock > .fp-row');
    const foot = row.hasAttribute('data-away') ? row.getBoundingClientRect().top : innerHeight;
    const lit = document.querySelector('[data-sounding]');
    const box = lit && lit.getBoundingClientRect();
    return Boolean(box) && box.top >= 0 && box.bottom <= foot;
}"""
SCROLLED = """
window.asked = [];
const plainScroll = Element.prototype.scrollIntoView;
Element.prototype.scrollIntoView = function (how) { window.asked.push(how.behavior); return plainScroll.call(this, how); };
"""


@pytest.fixture(params=["no-preference", "reduce"])
def phone(request: pytest.FixtureRequest, chromium: Browser, tmp_path) -> Page:
    context = chromium.new_context(viewport=PHONE, has_touch=True, is_mobile=True, reduced_motion=request.param)
    page = context.new_page()
    page.motion = request.param
    page.add_init_script(FOLLOW)
    page.add_init_script(SCROLLED)
    page.goto(write_page(tmp_path, tab_of(LONG)).as_uri())
    yield page
    context.close()


def test_stop_is_in_reach_wherever_the_tab_is_read_and_the_page_stays(phone):
    assert phone.locator(".fp-drawing").bounding_box()["height"] > 2 * PHONE["height"]
    play_button(phone).tap()
    phone.evaluate("scrollTo(0, 0)")
    phone.wait_for_function(SEEN, arg=".fp-play")
    phone.wait_for_function("lit.length > 12")
    assert phone.evaluate("scrollY") == 0
    assert phone.evaluate("asked") == []
    assert phone.locator(".fp-dock > .fp-row").bounding_box()["height"] < PHONE["height"] / 4
    play_button(phone).tap()
    expect(play_button(phone)).to_have_text("Play")
    phone.wait_for_function(f"!({SEEN})('.fp-play')")
    assert phone.evaluate("scrollY") == 0


def test_beside_its_own_place_the_row_covers_nothing(phone):
    play_button(phone).tap()
    phone.locator(".fp-place").scroll_into_view_if_needed()
    phone.wait_for_function("!document.querySelector('.fp-dock > .fp-row').hasAttribute('data-away')")
    row, drawing = (phone.locator(name).bounding_box() for name in (".fp-dock > .fp-row", ".fp-drawing"))
    assert row["y"] >= drawing["y"] + drawing["height"]


def test_the_page_follows_the_cursor_when_asked_and_never_under_the_row(phone):
    open_practice(phone).get_by_label("Keep the cursor in view").check()
    phone.evaluate("scrollTo(0, 0)")
    phone.evaluate("document.querySelector('.fp-play').click()")
    for mark in ("p40", "p72"):
        phone.wait_for_function(f"lit.includes('{mark}')", timeout=40_000)
        phone.wait_for_function(UNCOVERED)
    assert phone.evaluate("scrollY") > 200
    wanted = "auto" if phone.motion == "reduce" else "smooth"
    assert set(phone.evaluate("asked")) == {wanted}


def test_paper_shows_the_tab_without_the_row(phone):
    play_button(phone).tap()
    phone.evaluate("scrollTo(0, 0)")
    phone.wait_for_function("document.querySelector('.fp-dock > .fp-row').hasAttribute('data-away')")
    phone.emulate_media(media="print")
    expect(phone.locator(".fp-dock > .fp-row")).to_be_hidden()
    expect(phone.locator(".fp-drawing")).to_be_visible()
