"""A run of the player, heard sample by sample: in an offline context, where a pump stands in for the timer.

The banks here are not a banjo's: a single sample, a steady level or a slow wave show a misplaced, doubled or
torn-off note where a plucked string would hide it.
"""

from fractions import Fraction
from math import floor
from pathlib import Path

import numpy as np
import pytest
from playwright.sync_api import Browser, Page

from fifthpeg.exports.note_script import note_script
from fifthpeg.sound.mix import mix, sounds_needed
from fifthpeg.sound.render import RATE_HZ, render_bank
from tests.browser.stage import SLUICE_TAG, Tab, tab_of, write_page

LEAD_FRAMES = 662
"""30 ms at 22 050 a second, up to a whole frame: where a run begins."""
LOUD = 0.25
EVEN = "tempo: 200\n---\nM1 I2 T3 M1 T4 I3 M1 T4 | I3 T4 M1 I3 T4 I2 T5 M1"
ONE_STRING = "tempo: 200\n---\nT3 I3:2 T3 I3:3 T3 I3 T3:2 I3"
SOUNDS = {
    "a single sample": lambda frames: np.where(np.arange(frames) == 0, 0.5, 0.0),
    "a steady level": lambda frames: 0.2 * np.minimum(1, np.arange(frames) / 200),
    "a slow wave": lambda frames: 0.2 * np.minimum(1, np.arange(frames) / 400) * np.sin(2 * np.pi * 60 * np.arange(frames) / RATE_HZ),
}
RUN = """async ([data, wish, seconds, moves, answer]) => {
    const { tab: tabs, bank, run: runs } = fifthpeg;
    const tab = tabs(data, {read: () => ({}), write: () => true});
    Object.assign(tab.state, wish.state);
    tab.base = {beats: wish.beats, pass: 0};
    const names = [...new Set([data, ...(data.stems || [])].flatMap(part => part.notes.map(note => note.sound)).filter(Boolean))];
    const { buffers, says } = await bank.load('media/bank/abc/', names, data.rate);
    if (says) throw new Error(says);
    const context = new OfflineAudioContext(1, Math.round(seconds * data.rate), data.rate);
    const run = runs(context, {data, scoreAt: tab.scoreAt, buffers, from: wish.from, counted: wish.counted, onEnd() {},
                               wishes: () => tabs.wishes(tab), levels: () => tabs.levels(tab)});
    const waiting = [...moves];
    const pass = () => { const place = run.placeAt(context.currentTime); return place ? place.stretch.pass : 0; };
    for (let at = 0.1; at < seconds; at += 0.1) context.suspend(at).then(() => {
        while (waiting.length && waiting[0].at <= at + 1e-6) {
            const move = waiting.shift();
            Object.assign(tab.state, move.state);
            if (move.beats) tab.base = {beats: move.beats, pass: pass()};
            if (move.stop) run.stop();
            else { run.setLevels(); run.change(Boolean(move.jump)); }
        }
        run.pump();
        context.resume();
    });
    const samples = (await context.startRendering()).getChannelData(0);
    if (answer === 'samples') return [...samples];
    return [...samples.keys()].filter(i => Math.abs(samples[i]) > answer);
}"""


@pytest.fixture
def reader(chromium: Browser) -> Page:
    page = chromium.new_page()
    yield page
    page.close()


def open_with(reader: Page, folder: Path, tab: Tab, sound: str) -> None:
    """A page whose every bank note is the sound named."""
    page = write_page(folder, tab)
    for script in (folder / "media/bank/abc").glob("*.js"):
        script.write_text(note_script(script.stem, SOUNDS[sound](2 * RATE_HZ), RATE_HZ))
    reader.goto(page.as_uri())


def run(reader: Page, tab: Tab, seconds: float, moves=(), answer="samples", beats=200, start=(0, 1), counted=False,
        data=None, **state):
    wish = {"state": state, "beats": beats, "from": list(start), "counted": counted}
    return np.array(reader.evaluate(RUN, [data or tab.data, wish, seconds, list(moves), answer]))


def frame_of(quarters: Fraction, tempo: Fraction) -> int:
    return floor(quarters * 60 * RATE_HZ / tempo + Fraction(1, 2))


def test_two_hundred_notes_fall_on_their_exact_frames_over_thirteen_turns_of_a_loop(reader, tmp_path):
    """The frame rule, in Python's own fractions; at 137 a minute no eighth falls on a whole frame."""
    tab, tempo, turns = tab_of(EVEN), Fraction(137), 13
    open_with(reader, tmp_path, tab, "a single sample")
    found = run(reader, tab, 47, answer=LOUD, beats=137, looping=True)
    turn = frame_of(Fraction(8), tempo)
    expected = [LEAD_FRAMES + n * turn + frame_of(note.start, tempo) for n in range(turns) for note in tab.performance.notes]
    assert len(expected) >= 200
    assert found[:len(expected)].tolist() == expected


def test_a_loop_of_some_slots_falls_on_exact_frames_too(reader, tmp_path):
    tab, tempo = tab_of(EVEN), Fraction(137)
    open_with(reader, tmp_path, tab, "a single sample")
    found = run(reader, tab, 12, answer=LOUD, beats=137, start=(3, 2), looping=True, first=3, last=9)
    start = frame_of(Fraction(3, 2), tempo)
    turn = frame_of(Fraction(5), tempo) - start
    expected = [LEAD_FRAMES + n * turn + frame_of(Fraction(slot, 2), tempo) - start for n in range(5) for slot in range(3, 10)]
    assert found[:len(expected)].tolist() == expected


def test_a_climb_is_exact_at_each_of_its_tempos(reader, tmp_path):
    tab = tab_of(EVEN)
    open_with(reader, tmp_path, tab, "a single sample")
    found = run(reader, tab, 10, answer=LOUD, beats=150, looping=True, climbing=True, step=30, passes=1, goal=210)
    expected, begin = [], LEAD_FRAMES
    for tempo in map(Fraction, (150, 180, 210)):
        expected += [begin + frame_of(note.start, tempo) for note in tab.performance.notes]
        begin += frame_of(Fraction(8), tempo)
    assert found[:len(expected)].tolist() == expected


def test_after_a_counted_bar_the_lick_begins_on_the_frame(reader, tmp_path):
    tab = tab_of(EVEN)
    open_with(reader, tmp_path, tab, "a single sample")
    samples = run(reader, tab, 4, counted=True)
    begin = LEAD_FRAMES + frame_of(Fraction(4), Fraction(200))
    heard = np.flatnonzero(np.abs(samples) > 0.35)
    assert heard[0] == begin
    beats = [LEAD_FRAMES + frame_of(Fraction(beat), Fraction(200)) for beat in range(4)]
    for beat in beats:
        assert not samples[beat - 400:beat].any()
        assert np.abs(samples[beat:beat + 400]).max() > 0.05
    assert np.abs(samples[beats[0]:beats[1]]).max() > np.abs(samples[beats[1]:beats[2]]).max()


CHANGES = [
    {"at": 0.7, "beats": 140}, {"at": 1.1, "beats": 300}, {"at": 1.3, "beats": 299}, {"at": 1.4, "beats": 120},
    {"at": 2.0, "beats": 260}, {"at": 2.1, "beats": 60}, {"at": 2.2, "beats": 300},
    {"at": 2.6, "state": {"looping": True, "first": 8, "last": 11}, "jump": True},
    {"at": 3.4, "state": {"first": 0, "last": 3}, "jump": True},
    {"at": 4.2, "state": {"last": 15}, "jump": True}, {"at": 4.3, "beats": 97},
    {"at": 4.9, "state": {"click": True}}, {"at": 5.2, "state": {"click": False}},
]


def test_notes_keep_their_distance_through_changes_of_tempo(reader, tmp_path):
    """None lost, none doubled: between two neighbours lies an eighth at the one tempo, the other, or some of each."""
    tab = tab_of(EVEN)
    open_with(reader, tmp_path, tab, "a single sample")
    tempos = [200, 140, 300, 299, 120, 260, 60, 300]
    found = run(reader, tab, 4.5, moves=CHANGES[:7], answer=LOUD, beats=200, looping=True)
    eighths = [60 * RATE_HZ / tempo / 2 for tempo in tempos]
    gaps = np.diff(found)
    assert len(found) > 20
    assert gaps.min() >= min(eighths) - 1
    assert gaps.max() <= max(eighths) + 1
    steady = [gap for gap in gaps if abs(gap - eighths[0]) <= 1]
    assert len(steady) >= 4, "before the first change"


def test_a_string_never_sounds_twice_at_once_whatever_is_changed(reader, tmp_path):
    """Every note holds one level: two on the one string would stand twice as high."""
    tab = tab_of(ONE_STRING)
    open_with(reader, tmp_path, tab, "a steady level")
    plain = run(reader, tab, 6, looping=True)
    moved = run(reader, tab, 6, looping=True, moves=[
        {**move, "state": {name: min(value, 7) if name in ("first", "last") else value
                           for name, value in move.get("state", {}).items() if name != "click"}} for move in CHANGES])
    assert plain.max() > 0.1
    assert moved.max() <= 1.02 * plain.max()


def test_nothing_clicks_when_tempo_loop_level_and_lick_are_changed(reader, tmp_path):
    """The largest step between neighbouring samples of a slow wave is bounded; a note torn off would show tenfold."""
    tab = tab_of(EVEN)
    open_with(reader, tmp_path, tab, "a slow wave")
    data = tab.data | {"stems": [{"name": "guitar", "gain": 1, "notes": tab.data["notes"][::4]}]}
    plain = run(reader, tab, 6, looping=True, beats=300, data=data, backing=True)
    moves = [move for move in CHANGES if "click" not in move.get("state", {})] + [
        {"at": 5.0, "state": {"muted": True}}, {"at": 5.2, "state": {"muted": False}},
        {"at": 5.3, "state": {"guitarLevel": 10}}, {"at": 5.4, "state": {"backing": False}}, {"at": 5.8, "stop": True}]
    moved = run(reader, tab, 6.5, moves=moves, data=data, looping=True, backing=True)
    step = np.abs(np.diff(plain)).max()
    assert np.abs(np.diff(moved)).max() <= 1.5 * step
    assert not moved[int(5.9 * RATE_HZ):].any(), "stopped"
    torn = plain.copy()
    torn[np.abs(plain).argmax() + 1:] = 0
    assert np.abs(np.diff(torn)).max() > 3 * step, "the measure sees a note torn off"


def test_a_loop_asked_for_while_the_last_note_rings_begins_at_once_at_its_beginning(reader, tmp_path):
    tab, asked, tempo = tab_of(EVEN), Fraction(26, 10), Fraction(200)
    open_with(reader, tmp_path, tab, "a single sample")
    found = run(reader, tab, 4, answer=LOUD, moves=[{"at": float(asked), "state": {"looping": True, "first": 4, "last": 7}}])
    again = found[found > asked * RATE_HZ]
    starts = [frame_of(Fraction(slot, 2), tempo) for slot in (4, 5, 6, 7)]
    assert (again[:4] - again[0]).tolist() == [start - starts[0] for start in starts]
    assert 0 < again[0] - asked * RATE_HZ < 2 * LEAD_FRAMES


def test_the_lick_left_out_leaves_the_backing(reader, tmp_path):
    tab = tab_of(EVEN)
    open_with(reader, tmp_path, tab, "a single sample")
    data = tab.data | {"stems": [{"name": "guitar", "gain": 1, "notes": tab.data["notes"][::4]}]}
    found = run(reader, tab, 2, answer=0.1, data=data, muted=True, backing=True)
    starts = [note.start for note in tab.performance.notes[::4]]
    expected = [LEAD_FRAMES + frame_of(start, Fraction(200)) for start in starts]
    assert found.tolist() == [frame for frame in expected if frame < 2 * RATE_HZ]


def test_one_turn_is_the_recordings_own_mix(reader, tmp_path):
    """Sample against sample: both mixers at one tempo, the level set alike for both."""
    tab, tempo = tab_of(SLUICE_TAG), Fraction(208)
    reader.goto(write_page(tmp_path, tab).as_uri())
    expected = mix(tab.performance, tab.lick.capo, render_bank(sounds_needed(tab.performance, tab.lick.capo)), tempo, RATE_HZ)
    seconds = (LEAD_FRAMES + len(expected)) / RATE_HZ
    found = run(reader, tab, seconds, beats=208)[LEAD_FRAMES:LEAD_FRAMES + len(expected)]
    assert np.abs(expected).max() > 0.02
    assert np.abs(found - tab.data["gain"] * expected[:len(found)]).max() < 4e-5


def test_changing_over_to_a_variant_goes_on_at_the_frame_and_silences_what_it_leaves(reader, tmp_path):
    tab = tab_of(EVEN)
    open_with(reader, tmp_path, tab, "a single sample")
    found = reader.evaluate("""async data => {
        const { tab: tabs, bank, run: runs } = fifthpeg;
        const names = [...new Set(data.notes.map(note => note.sound))];
        const { buffers } = await bank.load('media/bank/abc/', names, data.rate);
        const context = new OfflineAudioContext(1, 4 * data.rate, data.rate);
        const one = tabs(data, {read: () => ({}), write: () => true});
        one.base = {beats: 200, pass: 0};
        const parts = from => ({data, scoreAt: one.scoreAt, buffers, from, counted: false, onEnd() {},
                                wishes: () => tabs.wishes(one), levels: () => tabs.levels(one)});
        let playing = runs(context, parts([0, 1]));
        for (let at = 0.1; at < 4; at += 0.1) context.suspend(at).then(() => {
            if (Math.abs(at - 1) < 1e-6) {
                const left = playing.leave();
                playing = runs(context, {...parts(left.from), joining: left.joining});
            }
            playing.pump();
            context.resume();
        });
        const samples = (await context.startRendering()).getChannelData(0);
        return [...samples.keys()].filter(i => Math.abs(samples[i]) > 0.25);
    }""", tab.data)
    assert found == [LEAD_FRAMES + frame_of(note.start, Fraction(200)) for note in tab.performance.notes][:len(found)]
    assert len(found) >= 13


def test_no_note_is_late_while_the_page_is_busy_200_ms_at_a_time(reader, tmp_path):
    """In real time: each source's moment against the context's clock as it is handed over."""
    reader.add_init_script("""
        window.handed = [];
        const plainStart = AudioBufferSourceNode.prototype.start;
        AudioBufferSourceNode.prototype.start = function (when) {
            if (this.context instanceof AudioContext) handed.push(when - this.context.currentTime);
            return plainStart.call(this, when);
        };
        window.busy = () => setInterval(() => { const end = performance.now() + 200; while (performance.now() < end); }, 210);""")
    tab = tab_of(EVEN)
    reader.goto(write_page(tmp_path, tab).as_uri())
    reader.locator(".fp-loop").click()
    reader.locator(".fp-play").click()
    reader.wait_for_function("handed.length > 3")
    reader.evaluate("busy()")
    reader.wait_for_function("handed.length > 60", timeout=60_000)
    ahead = reader.evaluate("handed")
    assert min(ahead) > 0
    assert max(ahead) < 0.6, "more was queued than look-ahead asks for"


@pytest.mark.parametrize("tempo", [Fraction(63), Fraction(311)])
def test_the_pitch_is_the_same_at_any_tempo(reader, tmp_path, tempo):
    """The bank's first note alone: its samples are the same until something damps it."""
    tab = tab_of("tempo: 208\n---\nT3 - I2 - M1 - T4 -")
    reader.goto(write_page(tmp_path, tab).as_uri())
    full, other = (run(reader, tab, 1, beats=beats)[LEAD_FRAMES:LEAD_FRAMES + 2000] for beats in (208, int(tempo)))
    assert np.abs(full).max() > 0.01
    assert np.array_equal(full, other)
