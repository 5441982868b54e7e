"""The player under a tab, as a reader meets it: from a web server and from a double-clicked folder."""

import re
import threading
from collections.abc import Callable, Iterator
from fractions import Fraction
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect

from fifthpeg.sound.render import RATE_HZ
from fifthpeg.sound.voices import voices
from tests.browser.stage import SLUICE_TAG, WEIR_RUN, tab_of, write_page

SILENCE = 1e-4
LISTEN = """
window.heard = [];
const plainConnect = AudioNode.prototype.connect;
AudioNode.prototype.connect = function (to, ...rest) {
  if (to === this.context.destination && this.context instanceof AudioContext) {
    if (!window.ear) {
      window.ear = new AnalyserNode(this.context, { fftSize: 2048 });
      window.player = this.context;
    }
    plainConnect.call(this, window.ear);
  }
  return plainConnect.call(this, to, ...rest);
};
window.loudest = () => {
  const samples = new Float32Array(window.ear.fftSize);
  window.ear.getFloatTimeDomainData(samples);
  return Math.max(...samples.map(Math.abs));
};
"""
"""An ear on whatever goes to the loudspeaker; the player knows nothing of it."""
FOLLOW = """
window.lit = [];
new MutationObserver(() => {
  const marks = [...document.querySelectorAll('[data-sounding]')].map(g => g.dataset.mark).join('+');
  if (marks && marks !== window.lit[window.lit.length - 1]) window.lit.push(marks);
}).observe(document, { subtree: true, attributes: true, attributeFilter: ['data-sounding'] });
"""

PALETTES = {
    "light": {"--md-default-fg-color": "#000000de", "--md-default-bg-color": "#fff"},
    "dark": {"--md-default-fg-color": "hsla(232, 15%, 90%, 0.82)", "--md-default-bg-color": "hsla(232, 15%, 14%, 1)"},
}
"""The theme's own ink and paper, from the style sheets of its version 9.8."""


class Quiet(SimpleHTTPRequestHandler):
    def log_message(self, *_args: object) -> None:
        pass


@pytest.fixture(params=["http", "file"])
def address_of(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Callable[[Path], str]]:
    """From a page's path to its address, by either road."""
    if request.param == "file":
        yield lambda page: page.as_uri()
        return
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Quiet, directory=str(tmp_path)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield lambda page: f"http://127.0.0.1:{server.server_port}/{page.relative_to(tmp_path).as_posix()}"
    server.shutdown()
    server.server_close()


@pytest.fixture
def reader(chromium: Browser) -> Iterator[Page]:
    """A fresh page with an ear and an eye; what it complains of or asks for is kept in its lists."""
    context = chromium.new_context()
    page = context.new_page()
    page.complaints, page.asked = [], []
    page.on("console", lambda message: page.complaints.append(message.text) if message.type == "error" else None)
    page.on("pageerror", lambda error: page.complaints.append(str(error)))
    page.on("request", lambda request: page.asked.append(request.url))
    page.add_init_script(LISTEN)
    page.add_init_script(FOLLOW)
    yield page
    context.close()


def play_button(page: Page, nth: int = 0):
    return page.locator(".fp-play").nth(nth)


def open_practice(page: Page, nth: int = 0):
    """The fold with everything beyond play, tempo and loop."""
    fold = page.locator(".fp-practice").nth(nth)
    if fold.get_attribute("open") is None:
        fold.locator("summary", has_text="Practice").click()
    return fold


def choose_tempo(page: Page, name: str):
    open_practice(page).get_by_role("button", name=name).click()


def test_a_press_starts_sound(reader, address_of, tmp_path):
    reader.goto(address_of(write_page(tmp_path, tab_of(WEIR_RUN))))
    play_button(reader).click()
    reader.wait_for_function("window.player && player.state === 'running'")
    reader.wait_for_function(f"loudest() > {SILENCE}")
    assert reader.complaints == []


def test_nothing_is_asked_of_anyone_outside_the_folder(reader, address_of, tmp_path):
    address = address_of(write_page(tmp_path, tab_of(WEIR_RUN)))
    reader.goto(address)
    play_button(reader).click()
    reader.wait_for_function("lit.length > 2")
    home = address.rsplit("/", 1)[0]
    assert [url for url in reader.asked if not url.startswith((home, "data:"))] == []


def test_nothing_is_fetched_for_sound_before_the_reader_comes_near(reader, address_of, tmp_path):
    reader.goto(address_of(write_page(tmp_path, tab_of(WEIR_RUN))))
    assert [url for url in reader.asked if "/bank/" in url] == []


MISSED_ON_A_BUSY_MACHINE = 2
"""Notes the cursor may pass over when the page gets no time to draw; that none is left out of the reckoning itself is
held by the cursor's own tests, which bring their own clock."""


def test_the_cursor_goes_through_the_notes_in_order_from_first_to_last(reader, address_of, tmp_path):
    tab = tab_of(SLUICE_TAG)
    reader.goto(address_of(write_page(tmp_path, tab)))
    choose_tempo(reader, "slow 104")
    play_button(reader).click()
    expect(play_button(reader)).to_have_text("Stop")
    expect(play_button(reader)).to_have_text("Play", timeout=20_000)
    lit, expected = reader.evaluate("lit"), expected_marks(tab)
    waiting = iter(expected)
    assert all(mark in waiting for mark in lit), "never back, never a note that is not there"
    assert (lit[0], lit[-1]) == (expected[0], expected[-1])
    assert len(lit) >= len(expected) - MISSED_ON_A_BUSY_MACHINE


def test_stop_silences(reader, address_of, tmp_path):
    reader.goto(address_of(write_page(tmp_path, tab_of(SLUICE_TAG))))
    play_button(reader).click()
    reader.wait_for_function(f"window.ear && loudest() > {SILENCE}")
    play_button(reader).click()
    expect(play_button(reader)).to_have_text("Play")
    reader.wait_for_function("loudest() === 0")
    assert reader.locator("[data-sounding]").count() == 0


def test_escape_stops(reader, tmp_path):
    reader.goto(write_page(tmp_path, tab_of(SLUICE_TAG)).as_uri())
    play_button(reader).click()
    reader.wait_for_function("lit.length > 1")
    reader.keyboard.press("Escape")
    expect(play_button(reader)).to_have_text("Play")


def test_the_keyboard_plays_and_stops(reader, tmp_path):
    reader.goto(write_page(tmp_path, tab_of(SLUICE_TAG)).as_uri())
    play_button(reader).focus()
    reader.keyboard.press("Enter")
    expect(play_button(reader)).to_have_text("Stop")
    reader.keyboard.press("Space")
    expect(play_button(reader)).to_have_text("Play")


def test_a_second_tab_takes_over_from_the_first(reader, tmp_path):
    reader.goto(write_page(tmp_path, tab_of(SLUICE_TAG), tab_of(WEIR_RUN)).as_uri())
    play_button(reader, 0).click()
    reader.wait_for_function("lit.length > 1")
    play_button(reader, 1).click()
    expect(play_button(reader, 0)).to_have_text("Play")
    expect(play_button(reader, 1)).to_have_text("Stop")
    assert reader.locator("#sluice-tag [data-sounding]").count() == 0


def test_a_press_on_a_note_plays_from_there(reader, tmp_path):
    tab = tab_of(WEIR_RUN)
    reader.goto(write_page(tmp_path, tab).as_uri())
    reader.locator("g[data-mark=p9]").click()
    expect(play_button(reader)).to_have_text("Stop")
    reader.wait_for_function("lit.length > 1")
    assert reader.evaluate("lit")[0] == "p9"


def test_a_press_beside_a_number_means_it(reader, tmp_path):
    reader.goto(write_page(tmp_path, tab_of(WEIR_RUN)).as_uri())
    box = reader.locator("g[data-mark=p10]").bounding_box()
    reader.mouse.click(box["x"] + box["width"] / 2, box["y"] + box["height"] + 10)
    reader.wait_for_function("lit.length > 0")
    assert reader.evaluate("lit")[0] == "p10"


def test_a_bar_chosen_by_keyboard_is_where_play_begins(reader, tmp_path):
    tab = tab_of(WEIR_RUN)
    reader.goto(write_page(tmp_path, tab).as_uri())
    reader.get_by_label("Place in the tab").focus()
    reader.keyboard.press("PageUp")
    reader.keyboard.press("Enter")
    reader.wait_for_function("lit.length > 0")
    assert reader.evaluate("lit")[0] == next(note.mark for note in tab.performance.notes if note.bar == 2)


def test_another_tempo_goes_on_from_the_same_place(reader, tmp_path):
    tab = tab_of(WEIR_RUN)
    reader.goto(write_page(tmp_path, tab).as_uri())
    choose_tempo(reader, "slow 104")
    play_button(reader).click()
    reader.wait_for_function("lit.length >= 4")
    choose_tempo(reader, "medium 156")
    reader.wait_for_function("lit.length >= 8")
    marks = reader.evaluate("lit")
    assert marks == expected_marks(tab)[:len(marks)]


def test_three_tempos_are_offered_in_beats_a_minute(reader, tmp_path):
    reader.goto(write_page(tmp_path, tab_of(WEIR_RUN)).as_uri())
    assert named_tempos(reader) == ["slow 104", "medium 156", "full 208"]


def test_the_tempos_are_those_of_the_licks_own_recordings(reader, tmp_path):
    reader.goto(write_page(tmp_path, tab_of("tempo: 200\ntempos: [90, 60%, 200]\n---\nT3 I2 M1 T5 I2 M1 T3 M1")).as_uri())
    assert named_tempos(reader) == ["slow 90", "medium 120", "full 200"]


def named_tempos(page: Page) -> list[str]:
    return open_practice(page).get_by_role("group", name="Tempo").get_by_role("button").all_inner_texts()


def test_a_missing_sound_gives_a_sentence_and_opens_the_recordings(reader, address_of, tmp_path):
    page = write_page(tmp_path, tab_of(WEIR_RUN))
    next((tmp_path / "media/bank/abc").glob("3-57-2-pick.js")).unlink()
    reader.goto(address_of(page))
    play_button(reader).click()
    expect(reader.get_by_role("status")).to_have_text(
        "One sound is missing (string 3, fret 2). The recordings below still play.")
    expect(play_button(reader)).to_have_text("Play")
    expect(reader.locator(".fp-recordings audio").first).to_be_visible()


def test_without_recordings_nobody_is_sent_to_them(reader, tmp_path):
    page = write_page(tmp_path, tab_of(WEIR_RUN))
    page.write_text(re.sub(r'<details class="fp-fold fp-heard">.*?</details>', "", page.read_text()))
    next((tmp_path / "media/bank/abc").glob("3-57-2-pick.js")).unlink()
    reader.goto(page.as_uri())
    expect(reader.locator("summary", has_text="Recordings")).to_have_count(0)
    play_button(reader).click()
    expect(reader.get_by_role("status")).to_have_text("One sound is missing (string 3, fret 2).")
    expect(play_button(reader)).to_have_text("Play")


@pytest.mark.parametrize("damage", ["fifthpeg.bank.take('3-57-2-pick', 'AAAA');", "", "fifthpeg.bank.take('3-57-2-p"],
                         ids=["no FLAC", "empty", "half written"])
def test_a_damaged_sound_gives_a_sentence(reader, tmp_path, damage):
    page = write_page(tmp_path, tab_of(WEIR_RUN))
    (tmp_path / "media/bank/abc/3-57-2-pick.js").write_text(damage)
    reader.goto(page.as_uri())
    play_button(reader).click()
    expect(reader.get_by_role("status")).to_have_text(
        "One sound is damaged (string 3, fret 2). The recordings below still play.")


def test_a_sound_that_was_missing_is_asked_for_again_at_the_next_press(reader, tmp_path):
    page = write_page(tmp_path, tab_of(WEIR_RUN))
    sound = tmp_path / "media/bank/abc/3-57-2-pick.js"
    text = sound.read_text()
    sound.unlink()
    reader.goto(page.as_uri())
    play_button(reader).click()
    expect(reader.get_by_role("status")).to_contain_text("missing")
    sound.write_text(text)
    play_button(reader).click()
    reader.wait_for_function("lit.length > 1")
    expect(reader.get_by_role("status")).to_have_text("")


@pytest.mark.parametrize("refusal", [
    "window.AudioContext = class { constructor() { throw new Error('refused') } };",
    "AudioContext.prototype.resume = () => Promise.reject(new Error('refused'));"
    " Object.defineProperty(AudioContext.prototype, 'state', { get: () => 'suspended' });",
    "AudioContext.prototype.resume = () => new Promise(() => {});"
    " Object.defineProperty(AudioContext.prototype, 'state', { get: () => 'suspended' });",
], ids=["cannot be made", "will not wake", "never answers"])
def test_a_browser_that_refuses_sound_gives_a_sentence(reader, tmp_path, refusal):
    reader.add_init_script(refusal)
    reader.goto(write_page(tmp_path, tab_of(WEIR_RUN)).as_uri())
    play_button(reader).click()
    expect(reader.get_by_role("status")).to_have_text(
        "This browser would not start its sound. The recordings below still play.", timeout=10_000)
    assert reader.complaints == []


def test_loaded_twice_it_is_still_one_player(reader, tmp_path):
    page = write_page(tmp_path, tab_of(WEIR_RUN))
    text = page.read_text()
    scripts = text[text.index('<script src="time.js"'):text.index("</body>")]
    page.write_text(text.replace("</body>", f"{scripts}</body>"))
    reader.goto(page.as_uri())
    reader.evaluate("fifthpeg.player.start(document)")
    assert reader.locator(".fp-play").count() == 1
    play_button(reader).click()
    expect(play_button(reader)).to_have_text("Stop")
    assert reader.complaints == []


def test_with_scripts_off_the_recordings_stand_open_and_no_player_shows(chromium, tmp_path):
    context = chromium.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(write_page(tmp_path, tab_of(WEIR_RUN)).as_uri())
    expect(page.locator(".fp-recordings audio").first).to_be_visible()
    expect(page.locator(".fp-player")).to_be_hidden()
    context.close()


def test_damaged_page_data_leaves_the_page_as_written(reader, tmp_path):
    page = write_page(tmp_path, tab_of(WEIR_RUN))
    page.write_text(page.read_text().replace('{"id"', '{"id', 1))
    reader.goto(page.as_uri())
    expect(reader.locator(".fp-player")).to_be_hidden()
    expect(reader.locator(".fp-recordings audio").first).to_be_visible()
    assert reader.complaints == []


def test_live_sources_are_handed_over_in_time_at_the_recordings_frames(reader, tmp_path):
    tab = tab_of(SLUICE_TAG)
    reader.add_init_script("""
        window.handed = [];
        const plainStart = AudioBufferSourceNode.prototype.start;
        AudioBufferSourceNode.prototype.start = function (when) {
          window.handed.push({ when, now: this.context.currentTime });
          return plainStart.call(this, when);
        };""")
    reader.goto(write_page(tmp_path, tab).as_uri())
    play_button(reader).click()
    expected = sorted(voice.start_frame for voice in voices(tab.performance, 0, Fraction(208), RATE_HZ))
    reader.wait_for_function(f"handed.length === {len(expected)}")
    handed = reader.evaluate("handed")
    first = handed[0]["when"] * RATE_HZ
    assert [round(one["when"] * RATE_HZ - first, 3) for one in handed] == expected
    assert all(one["when"] - one["now"] < 0.6 for one in handed), "more was queued than look-ahead asks for"


def test_it_fits_a_narrow_phone_without_sideways_scroll(chromium, tmp_path):
    page = chromium.new_page(viewport={"width": 320, "height": 640})
    page.goto(write_page(tmp_path, tab_of(WEIR_RUN), tab_of(SLUICE_TAG)).as_uri())
    for fold in page.locator("summary").all():
        fold.click()
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    page.close()


def test_everything_that_can_be_pressed_is_at_least_24_pixels_each_way(reader, tmp_path):
    """WCAG 2.2, 2.5.8."""
    reader.goto(write_page(tmp_path, tab_of(WEIR_RUN)).as_uri())
    open_practice(reader).get_by_text("Keys", exact=True).click()
    small = reader.evaluate("""[...document.querySelectorAll(
        'button, input:not([type=checkbox]), .fp-switch, summary, .fp-downloads a')].map(e => e.getBoundingClientRect())
        .filter(box => box.width < 24 || box.height < 24).length""")
    assert small == 0


def test_the_sound_card_may_sleep_once_nothing_has_played_for_a_while(reader, tmp_path):
    reader.clock.install()
    reader.goto(write_page(tmp_path, tab_of(WEIR_RUN)).as_uri())
    play_button(reader).click()
    reader.wait_for_function("window.player && player.state === 'running'")
    play_button(reader).click()
    reader.clock.run_for(30_000)
    reader.wait_for_function("player.state === 'suspended'")
    play_button(reader).click()
    reader.wait_for_function("player.state === 'running'")


def test_a_recording_and_the_player_do_not_sound_together(reader, tmp_path):
    reader.goto(write_page(tmp_path, tab_of(SLUICE_TAG)).as_uri())
    play_button(reader).click()
    reader.wait_for_function("lit.length > 1")
    reader.evaluate("document.querySelector('audio').dispatchEvent(new Event('play'))")
    expect(play_button(reader)).to_have_text("Play")


@pytest.mark.parametrize("palette", PALETTES)
@pytest.mark.parametrize("playing", [False, True], ids=["at rest", "playing"])
def test_accessible_in_both_palettes_by_axe(reader, tmp_path, palette, playing):
    """axe-core's rules for WCAG 2.2 A and AA, names and contrast among them."""
    style = "".join(f"{name}: {value};" for name, value in PALETTES[palette].items())
    reader.goto(write_page(tmp_path, tab_of(SLUICE_TAG), extra_head=(
        f"<style>body {{ {style} background: var(--md-default-bg-color); color: var(--md-default-fg-color) }}"
        " a { color: inherit }</style>")).as_uri())
    reader.locator("summary", has_text="Recordings").click()
    open_practice(reader).get_by_text("Keys", exact=True).click()
    reader.locator(".fp-loop").click()
    if playing:
        play_button(reader).click()
        reader.wait_for_function("lit.length > 1")
    found = Axe().run(reader, options={"runOnly": ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa"]})
    assert [(fault["id"], [node["html"] for node in fault["nodes"]]) for fault in found.response["violations"]] == []


def expected_marks(tab) -> list[str]:
    """Marks lit one after another: at each start, the notes whose written length covers it."""
    notes = tab.performance.notes
    lit = []
    for start in sorted({note.start for note in notes} | {note.start + note.length for note in notes}):
        marks = "+".join(note.mark for note in notes if note.start <= start < note.start + note.length)
        if marks and marks != (lit[-1] if lit else None):
            lit.append(marks)
    return lit
