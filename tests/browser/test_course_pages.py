"""Every kind of page of the demo course: for who uses the keyboard alone, a finger, a screen reader or a dark room."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect

from tests.browser.test_player import FOLLOW
from tests.browser.test_site import RULES
from tests.browser.whole_page import ALL_READY, draw_whole

LESSON, LICK = "lessons/06-a-first-tag/", "licks/sluice-tag/"
VARIANT, CHAIN = "licks/sluice-tag-dark/", "licks/weir-sluice-tailrace/"
FIT_LESSON, SONG_LESSON = "lessons/08-two-tags-in-a-row/", "lessons/10-auld-lang-syne/"
MORE_KINDS = (VARIANT, CHAIN, FIT_LESSON, SONG_LESSON, "licks/goes-with/", "techniques/", "about/")
"""Beside the five kinds that test_site.py holds in the same way."""
OPENED = (LICK, CHAIN)
"""Here every fold is opened first."""
OPEN_ALL = """() => {
    for (let closed = true; closed; ) {
        closed = [...document.querySelectorAll('article details:not([open]) > summary')];
        closed.forEach(summary => summary.click());
        closed = closed.length > 0 && document.querySelector('article details:not([open])');
    }
}"""
FOCUSED = """() => {
    const one = document.activeElement;
    if (!one || one === document.body || one === document.documentElement) return null;
    // The theme's switches and tabs of text are seen by the label beside, or the row of labels.
    const sign = one.matches('.md-option') ? one.nextElementSibling : one.matches('[type=radio]') ? one.labels[0].parentElement : one;
    const box = sign.getBoundingClientRect();
    const style = getComputedStyle(sign);
    const labels = [...(one.labels || [])].map(label => label.textContent).join(' ');
    const seen = box.right > 0 && box.bottom > 0 && box.left < innerWidth && box.top < innerHeight && box.width > 0;
    one.dataset.met = 'yes';
    return {
        html: one.outerHTML.slice(0, 120),
        inArticle: Boolean(one.closest('article')),
        named: Boolean((one.getAttribute('aria-label') || one.title || labels || one.textContent || one.placeholder || '').trim()),
        seen,
        shown: style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) > 0 || style.boxShadow !== 'none',
    };
}"""
PASSED_OVER = """() => [...document.querySelectorAll('article :is(a[href], button, input, select, summary, textarea)')]
    .filter(one => one.checkVisibility({ visibilityProperty: true }) && !one.disabled && one.tabIndex >= 0 && !one.dataset.met)
    .filter(one => one.type !== 'radio').map(one => one.outerHTML.slice(0, 120))"""
SMALL = """() => [...document.querySelectorAll(
    'article :is(button, input:not([type=checkbox], [type=radio]), select, summary, .fp-switch, .fp-downloads a)')]
    .filter(one => one.checkVisibility({ visibilityProperty: true }) && !one.closest('[aria-hidden=true]'))
    .map(one => [one.getBoundingClientRect(), one.outerHTML.slice(0, 100)])
    .filter(([box]) => box.width < 24 || box.height < 24).map(([, html]) => html)"""


@pytest.fixture
def reader(chromium: Browser) -> Iterator[Page]:
    context = chromium.new_context()
    page = context.new_page()
    page.complaints = []
    page.on("pageerror", lambda error: page.complaints.append(str(error)))
    page.add_init_script(FOLLOW)
    yield page
    context.close()
    assert page.complaints == []


def address(site: Path, page: str) -> str:
    return (site / page / "index.html").as_uri()


@pytest.mark.parametrize("palette", ["light", "dark"])
def test_axe_finds_nothing_to_mend_on_the_other_kinds_of_page_nor_with_every_fold_open(chromium, site, palette):
    """axe-core's rules for WCAG 2.2 A and AA."""
    context = chromium.new_context(color_scheme=palette, reduced_motion="reduce")
    page = context.new_page()
    found = {}
    for name in (*MORE_KINDS, LICK):
        page.goto(address(site, name))
        draw_whole(page)
        if name in OPENED:
            page.evaluate(OPEN_ALL)
        faults = Axe().run(page, options={"runOnly": RULES}).response["violations"]
        found[name] = [(fault["id"], [node["html"][:160] for node in fault["nodes"]][:3]) for fault in faults]
    context.close()
    assert {name: faults for name, faults in found.items() if faults} == {}


@pytest.mark.parametrize("name", [LESSON, LICK])
def test_the_keyboard_alone_reaches_everything_seen_and_named(reader, site, name):
    """WCAG 2.2, 2.1.1, 2.1.2, 2.4.7 and 4.1.2: the tab key from the top of the page to its end."""
    reader.goto(address(site, name))
    reader.wait_for_function(ALL_READY)
    reader.locator("figure.fp-tab .fp-practice > summary").first.click()
    reader.evaluate("document.activeElement.blur(); scrollTo(0, 0)")
    reader.evaluate("document.body.tabIndex = -1; document.body.focus()")
    stops = []
    for _ in range(600):
        reader.keyboard.press("Tab")
        stop = reader.evaluate(FOCUSED)
        if stop is None or (stops and stop["html"] == stops[0]["html"]):
            break
        stops.append(stop)
    assert len([stop for stop in stops if stop["inArticle"]]) > 40
    assert reader.evaluate(PASSED_OVER) == []
    for quality in ("seen", "shown"):
        assert [stop["html"] for stop in stops if not stop[quality]] == [], quality
    assert [stop["html"] for stop in stops if stop["inArticle"] and not stop["named"]] == []


def test_everything_that_can_be_pressed_is_at_least_24_pixels_each_way_with_every_fold_open(chromium, site):
    """WCAG 2.2, 2.5.8, at phone size; links within a sentence are exempt."""
    context = chromium.new_context(viewport={"width": 320, "height": 640}, has_touch=True)
    page = context.new_page()
    small, wide = {}, []
    for name in (LESSON, LICK, VARIANT, CHAIN, FIT_LESSON, "licks/", "licks/goes-with/", "tuner/"):
        page.goto(address(site, name))
        draw_whole(page)
        page.evaluate(OPEN_ALL)
        small[name] = page.evaluate(SMALL)
        if page.evaluate("document.documentElement.scrollWidth") > 320:
            wide.append(name)
    context.close()
    assert {name: found for name, found in small.items() if found} == {}
    assert wide == []


def test_no_table_reaches_beyond_the_paper(chromium, site):
    """A4 between margins of 15 mm: 680 CSS pixels at 96 an inch."""
    context = chromium.new_context(viewport={"width": 680, "height": 1009})
    page = context.new_page()
    page.emulate_media(media="print")
    wide = []
    for name in ("", "about/", LESSON, "licks/", CHAIN):
        page.goto(address(site, name))
        if page.evaluate("document.documentElement.scrollWidth > innerWidth"):
            wide.append(name)
    context.close()
    assert wide == []


def test_a_list_in_a_table_of_facts_leaves_the_room_to_its_words(chromium, site):
    """On the narrowest phone a step of one letter's width or two, not the theme's two steps one upon the other."""
    context = chromium.new_context(viewport={"width": 320, "height": 640})
    page = context.new_page()
    page.goto(address(site, CHAIN))
    steps = page.eval_on_selector_all("table.fp-facts td li", """items => items.map(item =>
        item.getBoundingClientRect().left - item.closest('td').getBoundingClientRect().left)""")
    letters = page.eval_on_selector_all("table.fp-facts td li", "items => items.map(item => parseFloat(getComputedStyle(item).fontSize))")
    context.close()
    assert len(steps) >= 3
    assert all(0 < step <= 1.5 * letter for step, letter in zip(steps, letters, strict=True)), steps


def test_the_right_hand_s_letters_go_and_come_on_the_drawing(reader, site):
    reader.goto(address(site, LICK))
    letter = reader.locator("#fp-sluice-tag .fp-finger").first
    expect(letter).to_be_visible()
    reader.locator("#fp-sluice-tag .fp-play").focus()
    reader.keyboard.press("h")
    expect(letter).to_be_hidden()
    reader.keyboard.press("h")
    expect(letter).to_be_visible()


def test_a_variant_s_page_changes_over_to_its_parent_while_looping(reader, site):
    reader.goto(address(site, VARIANT))
    reader.locator("#fp-sluice-tag-dark .fp-play").focus()
    for key in ("b", "p"):  # the theme turns the page at p, and must not hear it
        reader.keyboard.press(key)
    reader.wait_for_function("lit.length > 2")
    reader.locator("#fp-sluice-tag-dark").get_by_role("button", name="Change over to Sluice tag", exact=True).click()
    expect(reader.locator("#fp-sluice-tag .fp-play")).to_have_text("Stop")
    expect(reader.locator("#fp-sluice-tag .fp-loop")).to_have_attribute("aria-pressed", "true")
    reader.wait_for_function("document.querySelector('#fp-sluice-tag [data-sounding]')")
    back = reader.locator("#fp-sluice-tag").get_by_role("button", name="Change over to", exact=False)
    expect(back).to_be_focused()


def test_a_chain_says_which_link_is_on(reader, site):
    reader.goto(address(site, CHAIN))
    figure = reader.locator("#fp-weir-sluice-tailrace")
    figure.locator(".fp-play").click()
    for number in (1, 2, 3):
        reader.wait_for_function(
            f"document.querySelector('#fp-weir-sluice-tailrace .fp-now').textContent.startsWith('link {number} of 3, ')",
            timeout=60_000)


def test_a_fit_s_chains_follow_one_another_on_a_lesson(reader, site):
    reader.goto(address(site, FIT_LESSON))
    fit = reader.locator(".fp-fit").first
    chains = fit.locator(".fp-fit-chain > figure")
    count = chains.count()
    assert count > 1
    chains.first.locator(".fp-play").click()
    for nth in range(1, count):
        chains.nth(nth - 1).get_by_role("button", name="The next chain").click()
        expect(chains.nth(nth).locator(".fp-play")).to_have_text("Stop")
        assert fit.locator(".fp-fit-chain[open]").count() == 1
    expect(chains.nth(count - 1).get_by_role("button", name="The next chain")).to_have_count(0)
