"""What a student may ask of a tab by mouse, finger and keyboard, and what the browser keeps of it."""

from itertools import pairwise

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from fifthpeg.sound.render import RATE_HZ
from tests.browser.stage import SLUICE_TAG, Tab, tab_of, write_page
from tests.browser.test_player import FOLLOW, LISTEN, open_practice, play_button
from tests.browser.test_run import frame_of

STEADY = "id: steady\ntitle: Steady\ntempo: 240\n---\n[G] M1 I2 T3 M1 T4 I3 M1 T4 | [C] I3 T4 M1 I3 T4 I2 T5 M1"
HANDED = """
window.handed = [];
const plainStart = AudioBufferSourceNode.prototype.start;
AudioBufferSourceNode.prototype.start = function (when) {
  this.told = { when, long: this.buffer.duration, now: this.context.currentTime, takenBack: false };
  window.handed.push(this.told);
  window.card = this.context;
  return plainStart.call(this, when);
};
const plainDisconnect = AudioBufferSourceNode.prototype.disconnect;
AudioBufferSourceNode.prototype.disconnect = function () {
  this.told.takenBack = this.context.currentTime < this.told.when;
  return plainDisconnect.call(this);
};
"""
A_CLICK_SECONDS = 0.06
"""No longer than this is a click of the player's, and every note is longer."""
UNKEPT = "This browser keeps nothing for this page: what you choose lasts until you leave it."


@pytest.fixture
def reader(chromium: Browser) -> Page:
    context = chromium.new_context(has_touch=True)
    page = context.new_page()
    page.complaints = []
    page.on("pageerror", lambda error: page.complaints.append(str(error)))
    for script in (LISTEN, FOLLOW, HANDED):
        page.add_init_script(script)
    yield page
    context.close()
    assert page.complaints == []


def show(reader: Page, folder, *tabs: Tab) -> str:
    address = write_page(folder, *tabs).as_uri()
    reader.goto(address)
    return address


def spot_of(reader: Page, mark: str) -> tuple[float, float]:
    """The middle of a note on the screen."""
    box = reader.locator(f"g[data-mark={mark}] rect").bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def loop_said(reader: Page) -> str:
    return open_practice(reader).get_by_role("group", name="Loop").locator("p").first.inner_text()


def drawn_by_mouse(reader: Page, start: str, end: str) -> None:
    reader.mouse.move(*spot_of(reader, start))
    reader.mouse.down()
    reader.mouse.move(*spot_of(reader, end), steps=5)
    reader.mouse.up()


def drawn_by_finger(reader: Page, start: str, end: str) -> None:
    """A touch of the browser's own, as a phone sends it."""
    send = reader.context.new_cdp_session(reader).send
    (x, y), (far_x, far_y) = spot_of(reader, start), spot_of(reader, end)
    send("Input.dispatchTouchEvent", {"type": "touchStart", "touchPoints": [{"x": x, "y": y}]})
    for step in range(1, 6):
        point = {"x": x + (far_x - x) * step / 5, "y": y + (far_y - y) * step / 5}
        send("Input.dispatchTouchEvent", {"type": "touchMove", "touchPoints": [point]})
    send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})


@pytest.mark.parametrize("draw", [drawn_by_mouse, drawn_by_finger])
@pytest.mark.parametrize(("start", "end"), [("p3", "p6"), ("p6", "p3")], ids=["onwards", "backwards"])
def test_a_run_of_slots_drawn_on_the_tab_is_the_loop(reader, tmp_path, draw, start, end):
    show(reader, tmp_path, tab_of(STEADY))
    draw(reader, start, end)
    expect(reader.locator(".fp-loop")).to_have_attribute("aria-pressed", "true")
    assert loop_said(reader) == "From bar 1, beat 2 up to and including bar 1, the and of beat 3."
    expect(play_button(reader)).to_have_text("Play")
    play_button(reader).click()
    reader.wait_for_function("lit.length >= 9")
    lit = reader.evaluate("lit")
    assert set(lit) == {"p3", "p4", "p5", "p6"} and lit[0] == "p3"


def test_a_loop_may_reach_over_a_barline(reader, tmp_path):
    show(reader, tmp_path, tab_of(STEADY))
    drawn_by_mouse(reader, "p7", "p10")
    assert loop_said(reader) == "From bar 1, beat 4 up to and including bar 2, the and of beat 1."


def test_a_run_of_slots_is_chosen_by_keyboard(reader, tmp_path):
    show(reader, tmp_path, tab_of(STEADY))
    reader.get_by_label("Place in the tab").focus()
    for key in ("ArrowRight", "ArrowRight", "f", "ArrowRight", "ArrowRight", "ArrowRight", "u"):
        reader.keyboard.press(key)
    assert loop_said(reader) == "From bar 1, beat 2 up to and including bar 1, the and of beat 3."


def test_a_short_press_on_a_note_is_no_loop(reader, tmp_path):
    show(reader, tmp_path, tab_of(STEADY))
    reader.mouse.click(*spot_of(reader, "p4"))
    expect(play_button(reader)).to_have_text("Stop")
    expect(reader.locator(".fp-loop")).to_have_attribute("aria-pressed", "false")


def test_a_loop_drawn_while_it_plays_doubles_no_note(reader, tmp_path):
    """No two strings are plucked at once here, so that no two sources that are left to sound bear the same time. Where
    the drawing has taken until the loop is behind, play goes back into it at once: one step may be shorter."""
    show(reader, tmp_path, tab_of(STEADY))
    play_button(reader).click()
    reader.wait_for_function("lit.length > 2")
    drawn_by_mouse(reader, "p9", "p12")
    reader.wait_for_function("lit.slice(-6).every(mark => ['p9', 'p10', 'p11', 'p12'].includes(mark)) && lit.length > 10")
    times = reader.evaluate(f"handed.filter(one => !one.takenBack).map(one => Math.round(one.when * {RATE_HZ}))")
    assert len(times) > 10 and len(set(times)) == len(times)
    steps = [later - earlier for earlier, later in pairwise(sorted(times))]
    half_beat = RATE_HZ * 60 / 240 / 2
    assert sum(step < 0.9 * half_beat for step in steps) <= 1


def test_one_bar_is_counted_on_the_beat_before_the_first_note(reader, tmp_path):
    tab = tab_of(STEADY)
    show(reader, tmp_path, tab)
    play_button(reader).focus()
    reader.keyboard.press("n")
    reader.keyboard.press("Enter")
    expect(reader.locator(".fp-now")).to_have_text("Counting one bar in …")
    reader.wait_for_function(f"handed.filter(one => one.long > {A_CLICK_SECONDS}).length > 3")
    handed = reader.evaluate("handed")
    clicks = [round(one["when"] * RATE_HZ) for one in handed if one["long"] <= A_CLICK_SECONDS]
    notes = [round(one["when"] * RATE_HZ) for one in handed if one["long"] > A_CLICK_SECONDS]
    assert [click - clicks[0] for click in clicks] == [frame_of(beat, 240) for beat in range(4)]
    assert notes[0] - clicks[0] == frame_of(4, 240)


def test_the_click_goes_with_every_beat_and_stops_when_told(reader, tmp_path):
    show(reader, tmp_path, tab_of(STEADY))
    play_button(reader).focus()
    for key in ("l", "c", "Enter"):
        reader.keyboard.press(key)
    reader.wait_for_function(f"handed.filter(one => one.long <= {A_CLICK_SECONDS}).length >= 4")
    clicks = [one["when"] for one in reader.evaluate("handed") if one["long"] <= A_CLICK_SECONDS]
    beat_frames = RATE_HZ * 60 / 240
    gaps = [(later - earlier) * RATE_HZ - beat_frames for earlier, later in zip(clicks, clicks[1:], strict=False)]
    assert {round(gap) for gap in gaps} <= {0, 1, -1}
    reader.keyboard.press("c")
    reader.evaluate("handed.length = 0")
    reader.wait_for_function("handed.length > 12")
    assert [one for one in reader.evaluate("handed") if one["long"] <= A_CLICK_SECONDS] == []


def test_a_climb_raises_the_tempo_pass_by_pass_to_its_goal(reader, tmp_path):
    show(reader, tmp_path, tab_of(STEADY))
    group = open_practice(reader).get_by_role("group", name="Climb")
    for label, value in (("From", "240"), ("by", "40"), ("after every", "1"), ("passes, up to", "300")):
        group.get_by_label(label, exact=True).fill(value)
        group.get_by_label(label, exact=True).blur()
    drawn_by_mouse(reader, "p1", "p2")
    group.get_by_label("Raise the tempo pass by pass").check()
    reader.evaluate("""window.tempos = []; new MutationObserver(() => {
        const beats = document.querySelector('.fp-beats strong').textContent;
        if (tempos[tempos.length - 1] !== beats) tempos.push(beats);
    }).observe(document.querySelector('.fp-beats'), { subtree: true, childList: true, characterData: true })""")
    play_button(reader).click()
    reader.wait_for_function("tempos.includes('300')")
    reader.wait_for_function("document.querySelector('.fp-now').textContent.startsWith('pass 6')")
    assert [tempo for tempo in reader.evaluate("tempos") if tempo != "240"] == ["280", "300"]


def bounds_of(slider: Locator) -> tuple[str, str]:
    return slider.get_attribute("min"), slider.get_attribute("max")


def test_the_tempo_reaches_from_30_to_150_percent_by_slider_and_by_key(reader, tmp_path):
    show(reader, tmp_path, tab_of(STEADY))
    tempo = reader.get_by_label("Tempo", exact=True)
    assert bounds_of(tempo) == ("72", "360")
    tempo.focus()
    reader.keyboard.press("Home")
    expect(tempo).to_have_attribute("aria-valuetext", "72 beats a minute, 30 % of full tempo")
    for key, beats in (("+", "77"), ("-", "72"), ("-", "72")):
        reader.keyboard.press(key)
        expect(tempo).to_have_value(beats)


SWITCH_KEYS = {"n": "Count one bar first", "c": "Click", "a": "Guitar and bass", "m": "Leave the lick out",
               "r": "Raise the tempo pass by pass", "h": "Right-hand letters", "v": "Keep the cursor in view"}


def test_every_key_of_the_list_does_what_the_list_says(reader, tmp_path):
    show(reader, tmp_path, tab_of(STEADY, backing_gain=0.5))
    play_button(reader).focus()
    reader.keyboard.press("k")
    keys = reader.locator(".fp-keys")
    expect(keys).to_have_attribute("open", "")
    listed = keys.locator("kbd").all_inner_texts()
    assert {key.upper() for key in SWITCH_KEYS} | {"P", "+", "-", "L", "F", "U", "B", "W", "K"} | {"← →", "Page Up, Page Down",
           "Enter", "Escape"} == set(listed)
    for key, name in SWITCH_KEYS.items():
        box = reader.locator(".fp-practice").get_by_label(name, exact=True)
        before = box.is_checked()
        reader.keyboard.press(key)
        assert box.is_checked() is not before, name
    for key, said in (("b", "From bar 1, beat 1 up to and including bar 1, the and of beat 4."), ("w", "The whole goes round."),
                      ("l", "No loop: the tab plays to its end.")):
        reader.keyboard.press(key)
        assert loop_said(reader) == said
    reader.keyboard.press("p")
    expect(play_button(reader)).to_have_text("Stop")
    reader.keyboard.press("Escape")
    expect(play_button(reader)).to_have_text("Play")


@pytest.mark.parametrize(("label", "typed", "taken"), [
    ("after every", "", "2"), ("after every", "0", "1"), ("after every", "400", "99"), ("From", "5", "72"), ("by", "4.6", "5")])
def test_a_number_that_no_climb_can_have_gives_way_to_the_nearest_that_it_can(reader, tmp_path, label, typed, taken):
    """Of the steady tab's 240 beats a minute, 30 per cent are the least; an emptied field has what stood there again."""
    show(reader, tmp_path, tab_of(STEADY))
    field = open_practice(reader).get_by_label(label, exact=True)
    field.fill(typed)
    field.blur()
    expect(field).to_have_value(taken)
    reader.get_by_label("Raise the tempo pass by pass").check()
    play_button(reader).click()
    reader.wait_for_function("lit.length > 8")


def test_after_a_press_on_the_drawing_the_keys_act_at_once(reader, tmp_path):
    show(reader, tmp_path, tab_of(STEADY))
    reader.mouse.click(*spot_of(reader, "p4"))
    expect(play_button(reader)).to_have_text("Stop")
    reader.keyboard.press("p")
    expect(play_button(reader)).to_have_text("Play")
    drawn_by_mouse(reader, "p3", "p6")
    reader.keyboard.press("l")
    assert loop_said(reader) == "No loop: the tab plays to its end."


def test_a_key_of_the_tabs_pressed_beside_a_player_reaches_nothing_else(reader, tmp_path):
    """WCAG 2.2, 2.1.4: a theme's own letters turn the page. What is typed into a field still arrives."""
    show(reader, tmp_path, tab_of(STEADY))
    reader.evaluate("""() => { window.strayed = []; addEventListener("keydown", ({ key }) => strayed.push(key));
      document.body.append(document.createElement("input")); }""")
    for key in ("p", "n", "F", "s", "Control+p"):
        reader.keyboard.press(key)
    assert reader.evaluate("strayed") == ["s", "Control", "p"]
    reader.locator("body > input").focus()
    reader.keyboard.type("pen")
    expect(reader.locator("body > input")).to_have_value("pen")
    assert reader.evaluate("strayed.slice(3)") == ["p", "e", "n"]


def test_where_the_loop_lies_is_said_to_who_chose_it(reader, tmp_path):
    """WCAG 2.2, 4.1.3: by key or finger, with the fold that also says it shut."""
    show(reader, tmp_path, tab_of(STEADY))
    drawn_by_finger(reader, "p3", "p6")
    expect(reader.get_by_role("status")).to_have_text("From bar 1, beat 2 up to and including bar 1, the and of beat 3.")
    play_button(reader).focus()
    for key, said in (("w", "The whole goes round."), ("l", "No loop: the tab plays to its end.")):
        reader.keyboard.press(key)
        expect(reader.get_by_role("status")).to_have_text(said)


def test_a_number_typed_into_the_climb_is_no_key(reader, tmp_path):
    show(reader, tmp_path, tab_of(STEADY))
    open_practice(reader).get_by_label("From", exact=True).focus()
    reader.keyboard.press("p")
    reader.keyboard.press("-")
    expect(play_button(reader)).to_have_text("Play")
    expect(reader.get_by_label("Tempo", exact=True)).to_have_value("240")


def test_what_was_chosen_and_reached_is_there_at_the_next_visit(reader, tmp_path):
    address = show(reader, tmp_path, tab_of(STEADY))
    play_button(reader).focus()
    for key in ("+", "h", "c", "p"):
        reader.keyboard.press(key)
    expect(play_button(reader)).to_have_text("Play", timeout=20_000)
    reader.get_by_label("Place in the tab").focus()
    reader.keyboard.press("PageUp")
    reader.keyboard.press("b")
    reader.goto(address)
    expect(reader.get_by_label("Tempo", exact=True)).to_have_value("245")
    assert loop_said(reader) == "From bar 2, beat 1 up to and including bar 2, the and of beat 4."
    fold = open_practice(reader)
    expect(fold.get_by_text("Fastest played through so far: 245 beats a minute.")).to_be_visible()
    expect(fold.get_by_label("Click", exact=True)).to_be_checked()
    expect(fold.get_by_label("Right-hand letters")).not_to_be_checked()
    expect(reader.locator("figure.fp-tab")).to_have_attribute("data-letters-hidden", "")


@pytest.mark.parametrize("refusal", [
    "Object.defineProperty(window, 'localStorage', { get() { throw new DOMException('no', 'SecurityError'); } });",
    "Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError'); };",
], ids=["forbidden", "full"])
def test_a_browser_that_keeps_nothing_says_so_once_and_plays_on(reader, tmp_path, refusal):
    reader.add_init_script(refusal)
    show(reader, tmp_path, tab_of(STEADY))
    play_button(reader).focus()
    reader.keyboard.press("+")
    expect(reader.get_by_role("status")).to_have_text(UNKEPT)
    reader.keyboard.press("c")
    expect(reader.get_by_role("status")).to_have_text("Click on.")
    play_button(reader).click()
    reader.wait_for_function("lit.length > 2")
    reader.locator("summary", has_text="Recordings").click()
    expect(reader.locator(".fp-recordings audio").first).to_be_visible()


@pytest.mark.parametrize("key", ["c", "l"])
def test_that_nothing_is_kept_is_said_whatever_is_chosen_first(reader, tmp_path, key):
    reader.add_init_script("Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError'); };")
    show(reader, tmp_path, tab_of(STEADY))
    play_button(reader).focus()
    reader.keyboard.press(key)
    expect(reader.get_by_role("status")).to_have_text(UNKEPT)


def test_a_title_is_text_and_never_runs(reader, tmp_path):
    tab = tab_of(STEADY)
    hostile = "</script><img src=x onerror=\"window.harmed=1\">"
    tab.data["title"], tab.data["links"] = hostile, [{"start": [0, 1], "title": hostile}]
    page = write_page(tmp_path, tab)
    page.write_text(page.read_text().replace(hostile.replace('"', '\\"'), hostile.replace('"', '\\"').replace("<", "\\u003c")))
    reader.goto(page.as_uri())
    play_button(reader).click()
    expect(reader.locator(".fp-now")).to_contain_text("link 1 of 1, </script><img src=x")
    expect(reader.get_by_role("group", name="Player: </script><img")).to_be_visible()
    assert reader.locator("img").count() == 0
    assert reader.evaluate("window.harmed") is None


def test_with_its_sounds_loaded_the_first_note_is_handed_over_before_any_timer_and_30_ms_ahead(reader, tmp_path):
    """In the audio's own time: a press to a woken sound card is heard at most two blocks after 30 ms, well under 100 ms."""
    show(reader, tmp_path, tab_of(SLUICE_TAG, backing_gain=0.5))
    play_button(reader).click()
    reader.wait_for_function("lit.length > 1 && document.querySelector('.fp-said').textContent === ''")
    play_button(reader).click()
    first = reader.evaluate("""async () => {
        handed.length = 0;
        const pressed = card.currentTime; // the sound card's clock may go on by a block before the note is handed over
        document.querySelector('.fp-play').click();
        await new Promise(resolve => { const { port1, port2 } = new MessageChannel(); port1.onmessage = resolve; port2.postMessage(0); });
        return handed[0] ? { ...handed[0], pressed } : null;
    }""")
    assert first is not None
    assert first["when"] - first["pressed"] >= 0.03
    assert first["when"] - first["now"] <= 0.03 + 2 * 128 / RATE_HZ
