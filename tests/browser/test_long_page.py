"""A page of many tabs: those far below cost nothing until they are near, and nothing is lost by it."""

import pytest
from playwright.sync_api import expect

from tests.browser.test_player import play_button
from tests.browser.test_site import LESSON, NARROW, SETTLED_MS, address_of, reader  # noqa: F401

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
