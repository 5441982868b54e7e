"""The backing in the player: the recordings' own, switched and levelled by itself, and never waited for."""

import json
import wave
from fractions import Fraction
from io import BytesIO
from math import ceil
from pathlib import Path

import numpy as np
import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page, expect

from fifthpeg.compiled import Options
from fifthpeg.pipeline import bank_scripts, compile_lick
from fifthpeg.sound.render import RATE_HZ
from tests.browser.stage import Tab, tab_of, write_page
from tests.browser.test_player import LISTEN, PALETTES, open_practice, play_button
from tests.browser.test_run import LEAD_FRAMES, frame_of, open_with, run

BACKED = """
id: mill-lane
title: Mill lane
tempo: 200
bounce: 58
---
[G] T3:2s4 I2 M1 T5 I2:3p0 M1 T4 M1 | [C] T4:2 I3 M1:2 T5 I2:1~ M1:2 T3 - | [D7] T4 I3:2 M1 T5 I2:1 M1 T3:2 -
"""
EVEN = "tempo: 200\n---\n[G] M1 I2 T3 M1 T4 I3 M1 T4 | [C] I3 T4 M1 I3 T4 I2 T5 M1"
SILENCE = 1e-4


@pytest.fixture
def reader(chromium: Browser) -> Page:
    context = chromium.new_context()
    page = context.new_page()
    page.complaints, page.asked = [], []
    page.on("console", lambda message: page.complaints.append(message.text) if message.type == "error" else None)
    page.on("pageerror", lambda error: page.complaints.append(str(error)))
    page.on("request", lambda request: page.asked.append(request.url))
    page.add_init_script(LISTEN)
    yield page
    context.close()


def backed(gain: float = 0.5) -> Tab:
    return tab_of(BACKED, backing_gain=gain)


@pytest.mark.parametrize("rate_hz", [22_050, 44_100])
def test_one_turn_is_the_published_recording(reader, tmp_path, rate_hz):
    """Sample against sample with the WAV as it is published: 16-bit steps (1.5e-5) and the order of sums are all there is."""
    options, tab = Options(rate_hz=rate_hz), backed()
    made = compile_lick(tab.lick, "mill-lane", options)
    page = write_page(tmp_path, tab)
    for name, script in bank_scripts(made.facts.bank, options):
        (tmp_path / f"media/bank/abc/{name}.js").write_text(script)
    reader.goto(page.as_uri())
    with wave.open(BytesIO(made.files["-full.wav"])) as file:
        expected = np.frombuffer(file.readframes(file.getnframes()), "<i2") / 32768
    lead = ceil(0.03 * rate_hz)
    found = run(reader, tab, (lead + len(expected)) / rate_hz, data=json.loads(made.player))[lead:lead + len(expected)]
    assert np.abs(expected).max() > 0.3
    assert np.abs(found - expected[:len(found)]).max() < 4e-5


def test_without_its_backing_it_is_the_recording_without(reader, tmp_path):
    """At the same gain: the lick does not become louder when the backing goes."""
    tab = backed()
    reader.goto(write_page(tmp_path, tab).as_uri())
    with_it = run(reader, tab, 3)
    without = run(reader, tab, 3, backing=False)
    bare = run(reader, tab, 3, data=tab.data | {"stems": None})
    assert np.abs(without - bare).max() < 1e-6
    assert np.abs(with_it - without).max() > 0.01


def test_muting_the_lick_leaves_what_the_backing_adds(reader, tmp_path):
    tab = backed()
    reader.goto(write_page(tmp_path, tab).as_uri())
    both, lick, backing = (run(reader, tab, 3, **state) for state in ({}, {"backing": False}, {"muted": True}))
    assert np.abs(both - lick - backing).max() < 1e-6


@pytest.mark.parametrize("level", [0, 50, 100])
def test_the_level_is_a_share_of_the_recordings_own(reader, tmp_path, level):
    tab = backed()
    reader.goto(write_page(tmp_path, tab).as_uri())
    whole, part = (run(reader, tab, 3, muted=True, guitarLevel=percent, bassLevel=percent) for percent in (100, level))
    assert np.abs(part - level / 100 * whole).max() < 1e-6


def test_twice_as_loud_a_backing_turns_all_down_alike(reader, tmp_path):
    """So that nothing can be cut off: lick and backing together stay at or below the recordings' height."""
    tab = backed()
    reader.goto(write_page(tmp_path, tab).as_uri())
    lick, doubled = run(reader, tab, 3, backing=False), run(reader, tab, 3, guitarLevel=200, bassLevel=200)
    backing = run(reader, tab, 3, muted=True)
    assert np.abs(doubled - (lick / 2 + backing)).max() < 1e-6


def test_every_note_of_the_backing_falls_on_its_frame_once_through_a_loop(reader, tmp_path):
    """Single samples: none lost, none doubled, turn after turn."""
    tab, tempo = tab_of(EVEN, backing_gain=1.0), Fraction(137)
    open_with(reader, tmp_path, tab, "a single sample")
    data = tab.data | {"stems": tab.data["stems"][:1]}
    found = run(reader, tab, 30, answer=0.2, beats=137, looping=True, muted=True, data=data)
    turn = frame_of(Fraction(8), tempo)
    starts = [note.start for note in tab.stems[0].notes]
    expected = [LEAD_FRAMES + n * turn + frame_of(start, tempo) for n in range(8) for start in starts]
    assert found[:len(expected)].tolist() == expected


def test_a_line_of_the_backing_never_sounds_twice_at_once_whatever_is_changed(reader, tmp_path):
    """Every note holds one level: two on one line would stand twice as high. The bass alone: one line."""
    tab = tab_of(EVEN, backing_gain=1.0)
    open_with(reader, tmp_path, tab, "a steady level")
    data = tab.data | {"stems": tab.data["stems"][1:]}
    plain = run(reader, tab, 6, looping=True, muted=True, data=data)
    moves = [{"at": 0.7, "beats": 140}, {"at": 1.1, "beats": 300}, {"at": 1.4, "beats": 120}, {"at": 2.0, "beats": 260},
             {"at": 2.6, "state": {"first": 8, "last": 11}, "jump": True}, {"at": 3.4, "state": {"first": 0}, "jump": True},
             {"at": 4.2, "state": {"backing": False}}, {"at": 4.3, "state": {"backing": True}}]
    moved = run(reader, tab, 6, looping=True, muted=True, data=data, moves=moves)
    assert plain.max() > 0.1
    assert moved.max() <= 1.02 * plain.max()


def test_nothing_clicks_when_the_backing_comes_goes_and_changes_its_level(reader, tmp_path):
    """The largest step between neighbouring samples of a slow wave is bounded; a note torn off would show tenfold."""
    tab = tab_of(EVEN, backing_gain=1.0)
    open_with(reader, tmp_path, tab, "a slow wave")
    plain = run(reader, tab, 5, looping=True)
    moves = [{"at": 0.5, "state": {"backing": False}}, {"at": 1.0, "state": {"backing": True}},
             {"at": 1.3, "state": {"guitarLevel": 20}}, {"at": 1.6, "state": {"bassLevel": 0}},
             {"at": 1.9, "state": {"guitarLevel": 200}}, {"at": 2.2, "state": {"bassLevel": 140}},
             {"at": 2.5, "state": {"muted": True}}, {"at": 3.0, "state": {"muted": False}}, {"at": 4.0, "stop": True}]
    moved = run(reader, tab, 5, looping=True, moves=moves)
    step = np.abs(np.diff(plain)).max()
    assert np.abs(np.diff(moved)).max() <= 1.5 * step
    torn = plain.copy()
    torn[np.abs(plain).argmax() + 1:] = 0
    assert np.abs(np.diff(torn)).max() > 3 * step, "the measure sees a note torn off"


def controls(page: Page):
    return open_practice(page).get_by_role("group", name="Backing")


def test_a_tab_with_chords_has_the_backing_s_controls_and_one_without_has_none(reader, tmp_path):
    reader.goto(write_page(tmp_path, backed(), tab_of("id: bare\ntitle: Bare\n---\nT3 I2 M1 T5 I2 M1 T3 M1", 0.5)).as_uri())
    group = controls(reader)
    expect(group.get_by_label("Guitar and bass")).to_be_checked()
    for name in ("Level of the guitar", "Level of the bass"):
        expect(group.get_by_label(name)).to_have_value("100")
        expect(group.get_by_label(name)).to_have_attribute("aria-valuetext", "100 %")
    expect(group.get_by_label("Leave the lick out")).not_to_be_checked()
    expect(group.get_by_text("100 %")).to_have_count(2)
    other = open_practice(reader, 1)
    expect(other.get_by_role("group", name="Backing")).to_have_count(0)
    assert reader.complaints == []


def test_the_backing_is_heard_when_the_lick_is_left_out_and_not_when_it_is_off(reader, tmp_path):
    """In real time, by an ear at the loudspeaker."""
    reader.goto(write_page(tmp_path, backed()).as_uri())
    group = controls(reader)
    group.get_by_label("Leave the lick out").check()
    reader.locator(".fp-loop").click()
    play_button(reader).click()
    reader.wait_for_function(f"window.ear && loudest() > {SILENCE}")
    group.get_by_label("Guitar and bass").uncheck()
    reader.wait_for_function("loudest() < 1e-6")
    group.get_by_label("Guitar and bass").check()
    reader.wait_for_function(f"loudest() > {SILENCE}")
    for name in ("guitar", "bass"):
        reader.wait_for_function(f"loudest() > {SILENCE}")
        group.get_by_label(f"Level of the {name}").fill("0")
    reader.wait_for_function("loudest() < 1e-6")
    assert reader.complaints == []


@pytest.mark.parametrize("palette", PALETTES)
@pytest.mark.parametrize("width", [320, 1280])
def test_the_backing_s_controls_are_found_and_read_by_everyone(chromium, tmp_path, palette, width):
    """WCAG 2.2 AA by axe-core; no sideways scrolling at 320 pixels; targets of 24 pixels."""
    page = chromium.new_page(viewport={"width": width, "height": 800})
    ink = "".join(f"{name}: {value};" for name, value in PALETTES[palette].items())
    page.goto(write_page(tmp_path, backed(), extra_head=f"<style>:root {{ {ink} }} body {{ background: "
                         f"{PALETTES[palette]['--md-default-bg-color']}; }}</style>").as_uri())
    open_practice(page)
    found = Axe().run(page, ".fp-practice", {"runOnly": ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa"]})
    assert [(fault["id"], fault["nodes"][0]["html"]) for fault in found.response["violations"]] == []
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    small = page.evaluate("""[...document.querySelectorAll('.fp-level input, .fp-switch')].map(e => e.getBoundingClientRect())
        .filter(box => box.width < 24 || box.height < 24).length""")
    assert small == 0
    page.close()


def test_each_level_is_kept_for_the_next_visit(reader, tmp_path):
    address = write_page(tmp_path, backed()).as_uri()
    kept = {"guitar": "60", "bass": "140", "click": "0", "counted bar": "200"}
    reader.goto(address)
    fold = open_practice(reader)
    for name, percent in kept.items():
        fold.get_by_label(f"Level of the {name}").fill(percent)
    controls(reader).get_by_label("Guitar and bass").uncheck()
    reader.goto(address)
    for name, percent in kept.items():
        expect(open_practice(reader).get_by_label(f"Level of the {name}")).to_have_value(percent)
    expect(controls(reader).get_by_label("Guitar and bass")).not_to_be_checked()


def test_one_level_kept_for_both_by_an_earlier_visit_is_each_one_s(reader, tmp_path):
    address = write_page(tmp_path, backed()).as_uri()
    reader.goto(address)
    controls(reader).get_by_label("Guitar and bass").uncheck()
    reader.evaluate("""() => {
        const [name] = Object.keys(localStorage).filter(key => key.endsWith('/settings'));
        const { guitarLevel, bassLevel, ...others } = JSON.parse(localStorage.getItem(name));
        localStorage.setItem(name, JSON.stringify({ ...others, level: 60 }));
    }""")
    reader.goto(address)
    for name in ("guitar", "bass"):
        expect(controls(reader).get_by_label(f"Level of the {name}")).to_have_value("60")
    expect(controls(reader).get_by_label("Guitar and bass")).not_to_be_checked()


def test_the_lick_does_not_wait_for_the_backing(reader, tmp_path):
    """Its sounds are held up for good: the lick is heard all the same."""
    reader.route("**/bank/abc/guitar-*.js", lambda route: None)
    reader.route("**/bank/abc/bass-*.js", lambda route: None)
    reader.goto(write_page(tmp_path, backed()).as_uri())
    play_button(reader).click()
    reader.wait_for_function(f"window.ear && loudest() > {SILENCE}")
    banjo = [url.rsplit("/", 1)[1] for url in reader.asked if "/bank/" in url]
    first_of_backing = next(i for i, name in enumerate(banjo) if name.startswith(("guitar", "bass")))
    assert not any(name[0].isdigit() for name in banjo[first_of_backing:]), "the lick's own sounds come first"


def test_a_backing_at_hand_comes_in_with_the_first_note(reader, tmp_path):
    """Guitar and bass are handed over for the very moment of the lick's first note."""
    reader.add_init_script("""
        window.handed = [];
        const plainStart = AudioBufferSourceNode.prototype.start;
        AudioBufferSourceNode.prototype.start = function (when) {
            handed.push(when);
            return plainStart.call(this, when);
        };""")
    tab = backed()
    reader.goto(write_page(tmp_path, tab).as_uri())
    names = sorted({note.sound.name for stem in tab.stems for note in stem.notes})
    reader.evaluate("([names, rate]) => fifthpeg.bank.load('media/bank/abc/', names, rate).then(() => 0)", [names, RATE_HZ])
    play_button(reader).click()
    reader.wait_for_function("handed.length > 4")
    handed = reader.evaluate("handed")
    assert handed.count(min(handed)) == 3


def test_a_missing_sound_of_the_backing_is_told_and_the_lick_plays_on(reader, tmp_path):
    page = write_page(tmp_path, backed())
    next(Path(tmp_path / "media/bank/abc").glob("guitar-50-*.js")).unlink()
    reader.goto(page.as_uri())
    play_button(reader).click()
    expect(reader.get_by_role("status")).to_contain_text("One sound is missing (the backing's guitar)")
    expect(play_button(reader)).to_have_text("Stop")


def test_the_backing_is_fetched_after_the_lick_when_a_reader_comes_near(reader, tmp_path):
    reader.goto(write_page(tmp_path, backed()).as_uri())
    with reader.expect_request(lambda request: "/bass-" in request.url):
        reader.locator(".fp-player").first.hover()
    names = [url.rsplit("/", 1)[1] for url in reader.asked if "/bank/" in url]
    assert [name[0].isdigit() for name in names] == sorted((name[0].isdigit() for name in names), reverse=True)


def test_the_backing_turned_off_is_not_fetched(reader, tmp_path):
    reader.goto(write_page(tmp_path, backed()).as_uri())
    controls(reader).get_by_label("Guitar and bass").uncheck()
    play_button(reader).click()
    reader.wait_for_function(f"window.ear && loudest() > {SILENCE}")
    assert [url for url in reader.asked if "/guitar-" in url or "/bass-" in url] == []


def test_an_instrument_at_nought_is_not_fetched_until_it_is_turned_up(reader, tmp_path):
    reader.goto(write_page(tmp_path, backed()).as_uri())
    controls(reader).get_by_label("Level of the guitar").fill("0")
    with reader.expect_request(lambda request: "/bass-" in request.url):
        play_button(reader).click()
    reader.wait_for_function(f"window.ear && loudest() > {SILENCE}")
    assert [url for url in reader.asked if "/guitar-" in url] == []
    reader.locator(".fp-loop").click()
    with reader.expect_request(lambda request: "/guitar-" in request.url):
        controls(reader).get_by_label("Level of the guitar").fill("50")
