"""Light and dark paper: as the reader's machine has it, or as the reader chose, whatever becomes of the theme's script."""

import re

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from tests.browser.test_site import HOME, LESSON, address_of, watched  # noqa: F401

DARK, LIGHT = "slate", "default"
PAPER = "document.body.dataset.mdColorScheme"
LIGHT_CHOICE, DARK_CHOICE = "__palette_0", "__palette_1"
NO_STORAGE = "Object.defineProperty(window, 'localStorage', { get: () => { throw new DOMException('forbidden'); } });"


@pytest.fixture
def context(chromium):
    made = chromium.new_context(color_scheme="dark")
    yield made
    made.close()


def switch(page: Page):
    """The label that is shown of the two."""
    return page.locator("label[for^=__palette]:visible")


def opened(context: BrowserContext, address: str) -> Page:
    page = watched(context.new_page())
    page.goto(address)
    return page


def test_the_paper_is_the_machine_s_own_before_any_script_of_the_theme_has_come(context, address_of):
    page = context.new_page()
    page.route(re.compile(r"/assets/javascripts/"), lambda route: route.abort())
    page.goto(address_of(LESSON))
    assert page.evaluate(PAPER) == DARK
    assert page.evaluate("getComputedStyle(document.documentElement).colorScheme") == "dark"
    page.emulate_media(color_scheme="light")
    page.wait_for_function(f"{PAPER} === '{LIGHT}'")


def test_a_choice_holds_on_every_page_and_against_the_machine_s_own(context, address_of):
    page = opened(context, address_of(LESSON))
    expect(switch(page)).to_have_attribute("for", LIGHT_CHOICE)
    switch(page).click()
    assert page.evaluate(PAPER) == LIGHT
    expect(switch(page)).to_have_attribute("for", DARK_CHOICE)
    page.emulate_media(color_scheme="light")
    page.emulate_media(color_scheme="dark")
    assert page.evaluate(PAPER) == LIGHT
    page.goto(address_of(HOME))
    assert page.evaluate(PAPER) == LIGHT
    assert page.complaints == []


def test_by_key_too(context, address_of):
    page = opened(context, address_of(LESSON))
    page.locator("input[name=__palette]:checked").focus()
    page.keyboard.press("Enter")
    assert page.evaluate(PAPER) == LIGHT
    page.keyboard.press("Enter")
    assert page.evaluate(PAPER) == DARK
    page.keyboard.press("ArrowDown")
    assert page.evaluate(PAPER) == LIGHT


def test_with_storage_forbidden_it_still_turns(context, address_of):
    context.add_init_script(NO_STORAGE)
    page = opened(context, address_of(LESSON))
    assert page.evaluate(PAPER) == DARK
    switch(page).click()
    assert page.evaluate(PAPER) == LIGHT


def test_the_browser_s_own_bar_is_of_the_page_s_bar_s_colour_on_either_paper(context, address_of):
    page = opened(context, address_of(LESSON))
    wanted = page.locator("meta[name=theme-color]").get_attribute("content")
    for _ in (DARK, LIGHT):
        red, green, blue = map(int, re.findall(r"\d+", page.locator(".md-header").evaluate(
            "(bar) => { bar.style.transition = 'none'; return getComputedStyle(bar).backgroundColor; }")))
        assert f"#{red:02x}{green:02x}{blue:02x}" == wanted
        switch(page).click()
