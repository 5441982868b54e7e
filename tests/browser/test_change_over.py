"""From one tab to another without a stop: a variant and its parent, and the chains of a fit."""

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.stage import figure_of, tab_of, write_page
from tests.browser.test_player import FOLLOW, play_button

PARENT = "id: lock-gate\ntitle: Lock gate\ntempo: 160\n---\nT3 I2 M1 T5 I2 M1 T3 M1 | T4 I3 M1 T5 I2 M1 T3 M1"
VARIANT = PARENT.replace("lock-gate", "lock-gate-low").replace("Lock gate", "Lock gate, low").replace("T3 I2", "T4 I3", 1)
CHAINS = [f"id: way-{number}\ntitle: Way {number}\ntempo: 160\n---\nT3 I2 M1 T5 I2 M1 T3 M1 | T4 I3 M1 T5 I2 M1 T3 M1"
          for number in (1, 2, 3)]


@pytest.fixture
def reader(chromium: Browser) -> Page:
    context = chromium.new_context()
    page = context.new_page()
    page.complaints = []
    page.on("pageerror", lambda error: page.complaints.append(str(error)))
    page.add_init_script(FOLLOW)
    yield page
    context.close()
    assert page.complaints == []


def show_pair(reader: Page, folder) -> None:
    page = write_page(folder, tab_of(PARENT), tab_of(VARIANT))
    page.write_text(page.read_text().replace('id="lock-gate"', 'id="lock-gate" data-fp-lick="lock-gate"')
                    .replace('id="lock-gate-low"', 'id="lock-gate-low" data-fp-varies="lock-gate"'))
    reader.goto(page.as_uri())


def show_fit(reader: Page, folder) -> None:
    tabs = [tab_of(chain) for chain in CHAINS]
    page = write_page(folder, *tabs)
    text = page.read_text()
    for number, tab in enumerate(tabs):
        text = text.replace(figure_of(tab), f'<details class="fp-fold fp-fit-chain"{"" if number else " open"}>'
                            f"<summary>{number + 1}. {tab.lick.title}</summary>{figure_of(tab)}</details>")
    page.write_text(text.replace("<main>", '<main><section class="fp-fit">').replace("</main>", "</section></main>"))
    reader.goto(page.as_uri())


def kept_of(page: Page, lick_id: str) -> tuple[str, str, int]:
    """Tempo, loop button and the number of bars shaded by the loop."""
    figure = page.locator(f"#{lick_id}")
    return (figure.get_by_label("Tempo", exact=True).input_value(), figure.locator(".fp-loop").get_attribute("aria-pressed"),
            figure.locator(".fp-loop-shade").count())


def loop_bar_two(page: Page, lick_id: str) -> None:
    place = page.locator(f"#{lick_id} .fp-place")
    place.focus()
    page.keyboard.press("PageUp")
    page.keyboard.press("b")
    page.keyboard.press("-")


def test_a_variant_takes_over_from_its_parent_within_the_loop_and_gives_back(reader, tmp_path):
    show_pair(reader, tmp_path)
    loop_bar_two(reader, "lock-gate")
    reader.keyboard.press("p")
    reader.wait_for_function("lit.length > 2")
    reader.keyboard.press("o")
    expect(play_button(reader, 1)).to_have_text("Stop")
    expect(play_button(reader, 0)).to_have_text("Play")
    assert kept_of(reader, "lock-gate-low") == kept_of(reader, "lock-gate") == ("155", "true", 1)
    expect(reader.locator("#lock-gate-low").get_by_role("button", name="Change over to Lock gate", exact=True)).to_be_focused()
    reader.wait_for_function("document.querySelector('#lock-gate-low [data-sounding]')")
    assert reader.locator("#lock-gate [data-sounding]").count() == 0
    bars = "[...document.querySelectorAll('#lock-gate-low [data-sounding]')].map(g => g.closest('svg').dataset.bar)"
    assert set(reader.evaluate(bars)) <= {"2"}
    reader.keyboard.press("Enter")
    expect(play_button(reader, 0)).to_have_text("Stop")


def test_a_tab_alone_offers_no_other(reader, tmp_path):
    reader.goto(write_page(tmp_path, tab_of(PARENT), tab_of(CHAINS[0])).as_uri())
    expect(reader.get_by_role("button", name="Change over")).to_have_count(0)
    expect(reader.get_by_role("button", name="chain")).to_have_count(0)


def test_the_chains_of_a_fit_are_gone_through_by_button_keeping_tempo_and_loop(reader, tmp_path):
    show_fit(reader, tmp_path)
    loop_bar_two(reader, "way-1")
    reader.keyboard.press("p")
    reader.wait_for_function("lit.length > 1")
    reader.locator("#way-1").get_by_role("button", name="The next chain").click()
    expect(reader.locator("#way-2 .fp-play")).to_have_text("Stop")
    assert reader.locator(".fp-fit-chain[open] figure").evaluate_all("all => all.map(one => one.id)") == ["way-2"]
    assert kept_of(reader, "way-2") == ("155", "true", 1)
    reader.locator("#way-2").get_by_role("button", name="The next chain").click()
    expect(reader.locator("#way-3 .fp-play")).to_have_text("Stop")
    assert kept_of(reader, "way-3") == ("155", "true", 1)
    expect(reader.locator("#way-3").get_by_role("button", name="The next chain")).to_have_count(0)
    expect(reader.locator("#way-3 .fp-play")).to_be_focused()


def test_the_chains_of_a_fit_are_gone_through_by_key_at_rest(reader, tmp_path):
    show_fit(reader, tmp_path)
    reader.locator("#way-1 .fp-play").focus()
    for key, reached in (("g", "way-2"), ("g", "way-3"), ("e", "way-2"), ("e", "way-1")):
        reader.keyboard.press(key)
        assert reader.locator(".fp-fit-chain[open] figure").evaluate_all("all => all.map(one => one.id)") == [reached]
        assert reader.evaluate("document.activeElement.closest('figure').id") == reached
    expect(reader.locator("#way-1").get_by_role("button", name="The chain before")).to_have_count(0)
