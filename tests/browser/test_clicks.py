"""Click and counted bar in the player: each at a level of its own, heard sample by sample, and never too loud together."""

import json
import wave
from fractions import Fraction
from io import BytesIO
from itertools import product
from math import ceil

import numpy as np
import pytest
from playwright.sync_api import Browser, Page, expect

from fifthpeg.compiled import Options
from fifthpeg.pipeline import bank_scripts, compile_lick
from fifthpeg.sound.render import RATE_HZ
from tests.browser.stage import Tab, tab_of, write_page
from tests.browser.test_backing import BACKED
from tests.browser.test_player import open_practice
from tests.browser.test_run import LEAD_FRAMES, frame_of, open_with, run

PICKED_UP = "meter: 6/8\ntempo: 100\npickup: 2\n---\nT4 I3 | [G] T3:2 I2 M1 T5 I2 M1 | [D7] T4 I3:2 M1 T5 I2:1 M1"
EVEN = "tempo: 200\n---\nM1 I2 T3 M1 T4 I3 M1 T4 | I3 T4 M1 I3 T4 I2 T5 M1"
TEMPO = Fraction(200)
PEAK = 0.3
"""Of a tick at 100 per cent, by which all is lowered."""
LEVELS = """([data, choices]) => choices.map(([muted, guitarLevel, bassLevel, clickLevel]) =>
    fifthpeg.tab.levels({data, state: {muted, guitarLevel, bassLevel, clickLevel, click: true, backing: true, countLevel: 100}}))"""
SINGLE = 1e-6
"""Single precision, and the order of sums."""


@pytest.fixture
def reader(chromium: Browser) -> Page:
    page = chromium.new_page()
    yield page
    page.close()


def backed(reader: Page, folder) -> Tab:
    tab = tab_of(BACKED, backing_gain=0.5)
    reader.goto(write_page(folder, tab).as_uri())
    return tab


@pytest.mark.parametrize("percent", [0, 50, 200])
def test_the_level_of_the_click_is_a_share_of_its_own(reader, tmp_path, percent):
    tab = backed(reader, tmp_path)
    bare, plain = run(reader, tab, 3), (1 + PEAK) * run(reader, tab, 3, click=True)
    heard = (1 + percent / 100 * PEAK) * run(reader, tab, 3, click=True, clickLevel=percent)
    ticks = plain - bare
    assert np.abs(ticks).max() > 0.2
    assert np.abs(heard - bare - percent / 100 * ticks).max() < SINGLE


@pytest.mark.parametrize("percent", [0, 50, 200])
def test_the_level_of_the_counted_bar_is_a_share_of_its_own_and_the_lick_s_is_as_ever(reader, tmp_path, percent):
    tab = backed(reader, tmp_path)
    begin = LEAD_FRAMES + frame_of(Fraction(4), TEMPO)
    plain, heard = (run(reader, tab, 3, counted=True, countLevel=level) for level in (100, percent))
    assert 0.2 < np.abs(plain[:begin]).max() < PEAK
    assert np.abs(heard[:begin] - percent / 100 * plain[:begin]).max() < SINGLE
    lick = run(reader, tab, 3)[LEAD_FRAMES:]
    assert np.abs(heard[begin:] - lick[:len(heard) - begin]).max() < SINGLE


def test_guitar_and_bass_are_each_turned_by_their_own(reader, tmp_path):
    tab = backed(reader, tmp_path)
    lick = run(reader, tab, 3, backing=False)
    guitar, bass = (run(reader, tab, 3, **{other: 0}) - lick for other in ("bassLevel", "guitarLevel"))
    assert min(np.abs(guitar).max(), np.abs(bass).max()) > 0.01
    heard = run(reader, tab, 3, guitarLevel=30, bassLevel=160)
    assert np.abs(1.6 * heard - (lick + 0.3 * guitar + 1.6 * bass)).max() < SINGLE


def test_no_choice_of_levels_overloads(reader, tmp_path):
    """As loud as a page may be: the lick with its backing reaches full scale. Then every choice of every level."""
    tab = backed(reader, tmp_path)
    height = np.abs(run(reader, tab, 4)).max()
    data = tab.data | {"gain": tab.data["gain"] / height}
    lick = run(reader, tab, 4, data=data, backing=False)
    guitar, bass = (run(reader, tab, 4, data=data, muted=True, **{other: 0}) for other in ("bassLevel", "guitarLevel"))
    ticks = (1 + PEAK) * run(reader, tab, 4, data=data, muted=True, backing=False, click=True)
    assert np.abs(lick + guitar + bass).max() == pytest.approx(1, abs=1e-4)
    choices = list(product((True, False), (0, 100, 200), (0, 100, 200), (0, 100, 200)))
    levels = reader.evaluate(LEVELS, [data, choices])
    for choice, level in zip(choices, levels, strict=True):
        stems = guitar * level["guitar"] / 0.5 + bass * level["bass"] / 0.5
        assert np.abs(level["all"] * (level["lick"] * lick + stems + level["click"] * ticks)).max() < 1 + 1e-4, choice
    everything = {"countLevel": 200, "click": True, "clickLevel": 200, "guitarLevel": 200, "bassLevel": 200}
    assert run(reader, tab, 5, data=data, counted=True, answer=1, **everything).size == 0


@pytest.mark.parametrize("beats", [200, 300])
def test_the_last_tick_of_a_count_into_the_middle_of_a_beat_is_over_when_the_lick_begins(reader, tmp_path, beats):
    """A sixteenth after the beat at 300 is 50 ms, a thirty-second 25: shorter than a tick."""
    tab = backed(reader, tmp_path)
    start = (1, 8)
    counted = run(reader, tab, 3, counted=True, countLevel=200, start=start, beats=beats)
    bare = run(reader, tab, 3, start=start, beats=beats)[LEAD_FRAMES:]
    begin = LEAD_FRAMES + frame_of(Fraction(4), Fraction(beats)) + frame_of(Fraction(*start), Fraction(beats))
    assert np.abs(counted[begin - 400:begin]).max() > 0.05, "a tick sounds shortly before"
    assert abs(counted[begin - 1]) < SINGLE
    assert np.abs(counted[begin:] - bare[:len(counted) - begin]).max() < SINGLE


def test_a_click_turned_up_from_nought_is_heard_from_the_next_beat(reader, tmp_path):
    """Beats come every 0.3 s; at 1.0 s those up to 1.23 s have been handed over, silent."""
    tab = backed(reader, tmp_path)
    moves = [{"at": 1.0, "state": {"clickLevel": 100}}, {"at": 2.0, "state": {"clickLevel": 0}}]
    turned = run(reader, tab, 3, click=True, clickLevel=0, muted=True, backing=False, moves=moves)
    ticks = run(reader, tab, 3, click=True, muted=True, backing=False)
    beats = [LEAD_FRAMES + frame_of(Fraction(beat), TEMPO) for beat in range(9)]
    for beat in beats:
        heard, whole = (np.abs(samples[beat:beat + 400]).max() for samples in (turned, ticks))
        assert whole > 0.1
        assert heard == pytest.approx(whole if 1.0 < beat / RATE_HZ < 2.0 else 0, abs=0.03 * whole), beat / RATE_HZ


def test_nothing_clicks_but_the_click_when_levels_are_changed(reader, tmp_path):
    """A slow wave's largest step is bounded, and a tick at its own level adds no more than itself."""
    tab = tab_of("[G] " + EVEN.split("---\n")[1], backing_gain=1.0)
    open_with(reader, tmp_path, tab, "a slow wave")
    moves = [{"at": 0.5, "state": {"clickLevel": 0}}, {"at": 0.9, "state": {"guitarLevel": 0}},
             {"at": 1.4, "state": {"clickLevel": 100}}, {"at": 1.7, "state": {"clickLevel": 30}},
             {"at": 2.3, "state": {"guitarLevel": 100, "clickLevel": 0}}, {"at": 2.7, "state": {"bassLevel": 0}}]
    plain = run(reader, tab, 4, looping=True, click=True)
    moved = run(reader, tab, 4, looping=True, click=True, moves=moves)
    step = np.abs(np.diff((1 + PEAK) * plain)).max()
    assert np.abs(np.diff(moved)).max() <= step
    quiet = slice(int(2.8 * RATE_HZ), None)
    still = run(reader, tab, 4, looping=True)
    assert np.abs(np.diff(moved[quiet])).max() <= 1.5 * np.abs(np.diff(still)).max(), "no tick is left"


def test_a_tick_of_the_count_does_not_ring_into_the_tab_changed_over_to(reader, tmp_path):
    """The count at 200 a minute ticks at 330 ms; 10 ms later the change is asked for, and 30 ms after that it comes."""
    tab = tab_of(EVEN)
    open_with(reader, tmp_path, tab, "a single sample")
    found = np.array(reader.evaluate("""async data => {
        const { tab: tabs, bank, run: runs } = fifthpeg;
        const names = [...new Set(data.notes.map(note => note.sound))];
        const { buffers } = await bank.load('media/bank/abc/', names, data.rate);
        const context = new OfflineAudioContext(1, data.rate, data.rate);
        const one = tabs(data, {read: () => ({}), write: () => true});
        one.base = {beats: 200, pass: 0};
        const parts = (from, counted) => ({data, scoreAt: one.scoreAt, buffers, from, counted, onEnd() {},
                                           wishes: () => tabs.wishes(one), levels: () => tabs.levels(one)});
        let playing = runs(context, parts([0, 1], true));
        for (const at of [0.1, 0.2, 0.32, 0.4, 0.6]) context.suspend(at).then(() => {
            if (at === 0.32) {
                const left = playing.leave();
                playing = runs(context, {...parts(left.from, false), joining: left.joining});
            }
            playing.pump();
            context.resume();
        });
        return [...(await context.startRendering()).getChannelData(0)];
    }""", tab.data))
    change = np.flatnonzero(np.abs(found) > 0.35)[0]
    assert 0.35 * RATE_HZ <= change < 0.36 * RATE_HZ
    assert np.abs(found[change - 300:change]).max() > 0.01, "it was ringing"
    note = 3  # a single sample, and the hand's shade two after it
    assert not np.abs(found[change + note:change + 2000]).max() > SINGLE


def test_count_and_click_have_their_switches_and_levels(reader, tmp_path):
    reader.goto(write_page(tmp_path, tab_of("id: even\ntitle: Even\n" + EVEN)).as_uri())
    group = open_practice(reader).get_by_role("group", name="Count and click")
    for switch, level in (("Count one bar first", "Level of the counted bar"), ("Click", "Level of the click")):
        expect(group.get_by_label(switch, exact=True)).not_to_be_checked()
        expect(group.get_by_label(level)).to_have_attribute("aria-valuetext", "100 %")
        group.get_by_label(level).press("ArrowLeft")
        expect(group.get_by_label(level)).to_have_attribute("aria-valuetext", "90 %")
        expect(group.get_by_label(switch, exact=True)).not_to_be_checked()


@pytest.mark.parametrize(("source", "rate_hz"), [(BACKED, 22_050), (BACKED, 44_100), (PICKED_UP, 22_050)],
                         ids=["three bars", "at 44,100 a second", "a pick-up in 6/8"])
def test_a_counted_and_clicked_recording_is_what_the_player_plays_with_both_on(reader, tmp_path, source, rate_hz):
    """Sample against sample, made softer so that no limiter is at work: the player louder by one factor throughout.

    16-bit steps (1.5e-5 for the recording, as much for each of the bank's sounds) and the order of sums are all there is.
    """
    options = Options(rate_hz=rate_hz, loudness_lufs=-30.0, click_in_recordings=True, click_level=60,
                      count_in_recordings=True, count_level=150)
    tab = tab_of(source, backing_gain=0.5)
    made = compile_lick(tab.lick, "mill-lane", options)
    (full,) = (tempo for tempo in json.loads(made.files[".json"])["tempos"] if tempo["name"] == "full")
    page = write_page(tmp_path, tab)
    for name, script in bank_scripts(made.facts.bank, options):
        (tmp_path / f"media/bank/abc/{name}.js").write_text(script)
    reader.goto(page.as_uri())
    with wave.open(BytesIO(made.files["-full.wav"])) as file:
        expected = np.frombuffer(file.readframes(file.getnframes()), "<i2") / 32768
    data, lead = json.loads(made.player), ceil(0.03 * rate_hz)
    found = run(reader, tab, (lead + len(expected)) / rate_hz, data=data, beats=int(tab.lick.tempo), click=True, counted=True,
                clickLevel=60, countLevel=150)[lead:]
    louder = full["gain"] / data["gain"] * (1 + 0.6 * PEAK)
    assert full["limited_db"] == 0
    assert full["count_frames"] > rate_hz
    assert np.abs(expected[:full["count_frames"]]).max() > 0.05
    assert np.abs(expected).max() > 0.1
    assert np.abs(louder * found - expected[:len(found)]).max() < 4e-5
