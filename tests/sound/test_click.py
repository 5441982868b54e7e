"""Click and counted bar in recordings: on their frames, as loud beside the lick as asked, and all of it at one loudness."""

from fractions import Fraction
from itertools import product

import numpy as np
import pyloudnorm
import pytest
from scipy.signal import resample_poly

from fifthpeg.model.beats import CLICK, COUNT, TickStem, clicked_beats, counted_beats
from fifthpeg.sound.backing import arrange
from fifthpeg.sound.backing_sounds import render_backing
from fifthpeg.sound.click import LENGTH_MS, count_frames, tick, with_ticks
from fifthpeg.sound.desk import Desk, mix_whole, with_backing_at
from fifthpeg.sound.frames import frame_of, frames_in
from fifthpeg.sound.mix import sounds_needed
from fifthpeg.sound.perform import perform
from fifthpeg.sound.render import RATE_HZ, render_bank
from fifthpeg.sound.session import record
from fifthpeg.sound.stems import backing_sounds_needed
from tests.written import lick

LINE = "[G] T3 I2 M1 T5 I2 M1 T3 M1 | [C] T4:2 I3 M1:2 T5 I3 M1:2 T4:2 M1:2"
SOURCES = {"two bars": f"tempo: 200\n---\n{LINE}", "a pick-up": f"tempo: 200\npickup: 3\n---\nT4 I2 M1 | {LINE}",
           "a sixteenth's pick-up": "tempo: 200\ngrid: 16\npickup: 1\nmeter: 2/4\n---\nM1 | [G] T3 - I2 - M1 - T5 -",
           "a waltz": "tempo: 200\nmeter: 3/4\n---\n[G] T3 - I2 - M1 - | [D7] T4 - I2:1 - M1 -"}
TEMPO = Fraction(1000, 7)
TICK_FRAMES = frames_in(LENGTH_MS, RATE_HZ)
LOUD = -21.0
SOFT = -30.0
"""No limiter is needed there."""


@pytest.fixture(scope="module", params=SOURCES.values(), ids=SOURCES)
def played(request) -> tuple:
    """(lick, performance, stems, bank)"""
    made = lick(request.param)
    performance = perform(made, {})
    stems = arrange(made, performance)
    backing = {sound: render_backing(sound, RATE_HZ) for sound in backing_sounds_needed(stems)}
    return made, performance, stems, render_bank(sounds_needed(performance, 0)) | backing


def ticks_of(played: tuple, count: float | None = 1.0, click: float | None = 1.0) -> tuple[TickStem, ...]:
    """With these levels; none of what has None."""
    made, performance, *_ = played
    stems = (TickStem(COUNT, counted_beats(made, performance), count or 0),
             TickStem(CLICK, clicked_beats(made, performance), click or 0))
    return tuple(stem for stem, level in zip(stems, (count, click), strict=True) if level is not None)


def recorded(played: tuple, ticks: tuple[TickStem, ...], lufs: float, stereo: bool = False, tempo: Fraction = TEMPO):
    _, performance, stems, bank = played
    session = record(performance, 0, stems, bank, {"one": tempo}, Desk(RATE_HZ, lufs, stereo=stereo), ticks)
    return session, session.recordings["one"]


def test_every_tick_is_on_its_frame_once_and_nothing_else_is_added(played):
    ticks = ticks_of(played, count=0.5, click=2.0)
    made = with_ticks(np.zeros(20 * RATE_HZ), ticks, TEMPO, RATE_HZ, 0.25)
    begin = count_frames(ticks, TEMPO, RATE_HZ)
    for stem in ticks:
        for beat in stem.beats:
            at = begin + frame_of(beat.at, TEMPO, RATE_HZ)
            frames = min(TICK_FRAMES, begin - at) if stem.name == COUNT else TICK_FRAMES
            made[at:at + frames] -= stem.level / 0.25 * tick(beat.first, RATE_HZ, frames)
    assert len(made) == 20 * RATE_HZ + begin
    assert not made.any()


def test_with_a_counted_bar_a_recording_is_so_much_longer_and_the_rest_of_it_is_the_lick(played):
    made, performance, stems, bank = played
    ticks = ticks_of(played, click=None)
    (_, plain), (session, counted) = recorded(played, (), SOFT), recorded(played, ticks, SOFT)
    bar = made.meter.quarters
    begin = -frame_of(-bar if not made.pickup else performance.bar_map[0].barline - 2 * bar, TEMPO, RATE_HZ)
    assert count_frames(ticks, TEMPO, RATE_HZ) == begin
    assert len(counted.samples) == len(plain.samples) + begin
    music = mix_whole(performance, 0, stems, with_backing_at(session.backing_gain, bank), TEMPO, Desk(RATE_HZ))
    assert (plain.reduction_db, counted.reduction_db) == (0, 0)
    assert np.abs(counted.samples[begin:] - counted.gain * music).max() < 1e-12
    assert np.abs(plain.samples - plain.gain * music).max() < 1e-12


@pytest.mark.parametrize("level", [0.0, 0.4, 2.0])
def test_ticks_stand_to_the_music_as_in_a_player_at_its_gain(played, level):
    """A player plays gain · music + level · tick."""
    ticks = ticks_of(played, count=level, click=level)
    session, made = recorded(played, ticks, SOFT)
    _, performance, stems, bank = played
    music = mix_whole(performance, 0, stems, with_backing_at(session.backing_gain, bank), TEMPO, Desk(RATE_HZ))
    begin = count_frames(ticks, TEMPO, RATE_HZ)
    alone = with_ticks(np.zeros_like(music), ticks, TEMPO, RATE_HZ, 1.0)
    player = alone + np.concatenate([np.zeros(begin), session.player_gain * music])
    assert np.abs(made.samples * session.player_gain / made.gain - player).max() < 1e-12


def test_the_gains_a_player_is_told_do_not_depend_on_ticks(played):
    (with_them, _), (without, _) = recorded(played, ticks_of(played), LOUD), recorded(played, (), LOUD)
    assert (with_them.player_gain, with_them.backing_gain) == (without.player_gain, without.backing_gain)


@pytest.mark.parametrize(("count", "click"), [each for each in product((None, 1.0, 2.0), repeat=2) if any(each)])
def test_the_whole_is_as_loud_as_any_recording_and_under_the_ceiling(played, count, click):
    """Loudness by pyloudnorm; true peak by four-fold oversampling of scipy's own filter (BS.1770-4, Annex 2)."""
    for stereo in (False, True):
        _, made = recorded(played, ticks_of(played, count, click), LOUD, stereo)
        heard = pyloudnorm.Meter(RATE_HZ, filter_class="DeMan").integrated_loudness(made.samples.T)
        assert heard == pytest.approx(LOUD, abs=0.5)
        assert 20 * np.log10(np.abs(resample_poly(made.samples, 4, 1, axis=-1)).max()) <= -1


def test_in_stereo_ticks_stand_in_the_middle(played):
    ticks = ticks_of(played)
    left, right = with_ticks(np.zeros((2, 20 * RATE_HZ)), ticks, TEMPO, RATE_HZ, 1.0)
    assert left.any() and np.array_equal(left, right)


def test_the_count_is_over_when_the_lick_begins_however_short_the_last_beat(played):
    """Before a sixteenth at 400 a minute 37 ms are left of a tick's 50."""
    ticks, tempo = ticks_of(played, click=None), Fraction(400)
    begin = count_frames(ticks, tempo, RATE_HZ)
    made = with_ticks(np.ones(RATE_HZ), ticks, tempo, RATE_HZ, 1.0)
    assert np.array_equal(made[begin:], np.ones(RATE_HZ))
    assert made[begin - 1] == 0
    assert np.abs(made[:begin]).max() > 0.2


def test_a_tick_that_outlasts_the_recording_ends_with_it(played):
    ticks = ticks_of(played, count=None)
    frames = frame_of(ticks[0].beats[-1].at, TEMPO, RATE_HZ) + 100
    assert len(with_ticks(np.zeros(frames), ticks, TEMPO, RATE_HZ, 1.0)) == frames
