"""The tuner met in a browser, from a web server and from a double-clicked folder: by mouse, by keyboard, without scripts."""

import threading
from collections.abc import Callable, Iterator
from functools import partial
from http.server import ThreadingHTTPServer
from pathlib import Path

import numpy as np
import pytest
from playwright.sync_api import Browser, Page

from fifthpeg.model.pitch import frequency_hz
from tests.browser.test_player import Quiet
from tests.browser.test_site import NARROW, watched
from tests.sites import ONE_LICK, build_pages
from tests.sound.measure import cents, phase_advance_hz

STRING_3, PLUCKED_3 = "String 3, G3, 196.0 Hz", "String 3, G3, 196.0 Hz, plucked"
STRING_1 = "String 1, D4, 293.7 Hz"
RECORD = """
(() => {
  window.sources = [];
  const start = AudioBufferSourceNode.prototype.start, stop = AudioBufferSourceNode.prototype.stop;
  AudioBufferSourceNode.prototype.start = function (...when) { sources.push(this); this.sounding = true; start.apply(this, when); };
  AudioBufferSourceNode.prototype.stop = function (...when) { this.sounding = false; stop.apply(this, when); };
  window.sounding = () => sources.filter((source) => source.sounding);
})();
"""
"""Every source that is started is noted, so that what loops can be counted and looked at."""
LOUD = 0.02


@pytest.fixture(scope="module")
def site(tmp_path_factory) -> Path:
    return build_pages(tmp_path_factory.mktemp("course"), {"index.md": ONE_LICK}).site


@pytest.fixture(scope="module", params=["http", "file"])
def address(request: pytest.FixtureRequest, site: Path) -> Iterator[str]:
    if request.param == "file":
        yield (site / "tuner/index.html").as_uri()
        return
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Quiet, directory=str(site)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}/tuner/"
    server.shutdown()
    server.server_close()


@pytest.fixture
def tuner(chromium: Browser, address: str) -> Iterator[Page]:
    context = chromium.new_context()
    page = watched(context.new_page())
    page.add_init_script(RECORD)
    page.goto(address)
    yield page
    assert page.complaints == []
    context.close()


def button(page: Page, name: str):
    return page.get_by_role("button", name=name, exact=True).first


def pressed(page: Page) -> list[str]:
    return page.eval_on_selector_all(".fp-tuner [aria-pressed=true]", "all => all.map((one) => one.getAttribute('aria-label'))")


def test_a_press_starts_a_tone_and_a_second_ends_it(tuner):
    button(tuner, STRING_3).click()
    tuner.wait_for_function("sounding().length === 1")
    tuner.wait_for_function(f"loudest() > {LOUD}")
    assert pressed(tuner) == [STRING_3]
    button(tuner, STRING_3).click()
    assert tuner.evaluate("sounding().length") == 0 and pressed(tuner) == []


def test_one_string_at_a_time(tuner):
    for name in (STRING_3, STRING_1, PLUCKED_3):
        button(tuner, name).click()
        tuner.wait_for_function("sounding().length === 1")
        assert pressed(tuner) == [name]


def test_quick_presses_leave_the_last_one_sounding(tuner):
    for name in (STRING_3, STRING_1, STRING_3, PLUCKED_3):
        button(tuner, name).click()
    tuner.wait_for_function("sounding().length === 1")
    tuner.wait_for_timeout(300)
    assert tuner.evaluate("sounding().length") == 1 and pressed(tuner) == [PLUCKED_3]


def test_it_goes_by_keyboard_alone_and_escape_ends_it(tuner):
    button(tuner, STRING_1).focus()
    tuner.keyboard.press("Enter")
    tuner.wait_for_function("sounding().length === 1")
    tuner.keyboard.press("Tab")
    tuner.keyboard.press("Space")
    tuner.wait_for_function("sounding().length === 1 && sources.length === 2")
    assert pressed(tuner) == [f"{STRING_1}, plucked"]
    tuner.keyboard.press("Escape")
    assert tuner.evaluate("sounding().length") == 0 and pressed(tuner) == []


def test_what_loops_in_the_browser_is_in_tune_for_ever(tuner):
    """The buffer as decoded, laid end to end: within a tenth of a cent of equal temperament."""
    button(tuner, STRING_3).click()
    tuner.wait_for_function("sounding().length === 1")
    loop, rate_hz, loops = tuner.evaluate("[[...sounding()[0].buffer.getChannelData(0)], sounding()[0].buffer.sampleRate, sounding()[0].loop]")
    turns = np.tile(loop, 20)
    near_hz = phase_advance_hz(turns, rate_hz, frequency_hz(55))
    far_hz = phase_advance_hz(turns[5 * int(rate_hz):], int(rate_hz), near_hz, apart_seconds=10.0)
    assert loops and abs(cents(far_hz, frequency_hz(55))) <= 0.1


def test_no_sound_starts_or_is_fetched_by_itself(tuner):
    tuner.wait_for_timeout(300)
    assert tuner.evaluate("sources.length") == 0
    assert [url for url in tuner.asked if "media/tuner" in url] == []


def test_a_missing_sound_gives_the_recording_back(chromium, address):
    context = chromium.new_context()
    page = context.new_page()
    page.route("**/tone-55.js", lambda route: route.abort())
    page.goto(address)
    button(page, STRING_3).click()
    page.get_by_text("One sound is missing").wait_for()
    assert page.locator(f"audio[aria-label='{STRING_3}']").is_visible()
    assert pressed(page) == []
    context.close()


def test_without_scripts_the_recordings_are_there_and_load(chromium, address):
    context = chromium.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(address)
    assert page.locator(".fp-tuner audio").count() == 10 and page.locator(".fp-tuner button").count() == 0
    assert page.locator(".fp-tuner audio").first.is_visible()
    context.close()


def test_a_recording_takes_over_from_a_tone(tuner):
    """One of the recordings given back after a fault, or an author's own."""
    tuner.evaluate("document.querySelector('article').insertAdjacentHTML('beforeend', '<audio id=x muted></audio>')")
    button(tuner, STRING_3).click()
    tuner.wait_for_function("sounding().length === 1")
    tuner.evaluate("document.getElementById('x').dispatchEvent(new Event('play'))")
    assert tuner.evaluate("sounding().length") == 0


@pytest.mark.parametrize("scripts", [True, False])
def test_nothing_scrolls_sideways_on_the_narrowest_screen_and_targets_are_large(chromium, address, scripts):
    """WCAG 2.2, 1.4.10 and 2.5.8."""
    context = chromium.new_context(viewport=NARROW, java_script_enabled=scripts)
    page = context.new_page()
    page.goto(address)
    widest = max(box["x"] + box["width"] for box in (row.bounding_box() for row in page.locator("[data-fp-sound] > *").all()))
    sizes = [box for box in (each.bounding_box() for each in page.locator(".fp-tuner button").all())]
    assert widest <= NARROW["width"]
    assert all(box["width"] >= 24 and box["height"] >= 24 for box in sizes)
    context.close()
